"""The order of work beside networkx on random graphs, and the calendar beside numpy's."""

from __future__ import annotations

from datetime import date, timedelta

import networkx as nx
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spec.derive.formulas.order_of_work import (
    After,
    Calendar,
    Work,
    arrives,
    on_site_by,
    order_by,
    schedule,
)
from spec.derive.formulas.range import NotCovered, OutOfRange

START = date(2026, 11, 2)
HOLIDAYS = frozenset(
    date.fromisoformat(d)
    for d in ("2026-11-26", "2026-11-27", "2026-12-24", "2026-12-25", "2027-01-01")
)
CALENDAR = Calendar(holidays=HOLIDAYS)
EVERY_DAY = Calendar(frozenset(range(7)))
DATES = st.dates(date(2026, 10, 1), date(2027, 3, 1))


@st.composite
def networks(draw: st.DrawFn) -> dict[str, Work]:
    count = draw(st.integers(1, 12))
    works = {}
    for i in range(count):
        before = draw(st.lists(st.integers(0, i - 1), unique=True, max_size=3)) if i else []
        links = tuple(After(f"w{b}", draw(st.integers(0, 15))) for b in before)
        works[f"w{i}"] = Work(draw(st.integers(0, 9)), links)
    order = draw(st.permutations(list(works)))
    return {name: works[name] for name in order}


@settings(deadline=None)  # networkx on a busy machine
@given(networks())
def test_length_is_that_of_networkx_longest_path(works: dict[str, Work]) -> None:
    graph: nx.DiGraph[str] = nx.DiGraph()
    for name, work in works.items():
        graph.add_edge("start", name, weight=0)
        graph.add_edge(name, "end", weight=work.days)
        for a in work.after:
            graph.add_edge(a.work, name, weight=works[a.work].days + a.lag)
    longest = nx.dag_longest_path_length(graph)
    found = schedule(works, START, EVERY_DAY)
    assert any(dates.critical for dates in found.values())
    for name, dates in found.items():
        before = nx.dag_longest_path_length(graph.subgraph({*nx.ancestors(graph, name), name}))
        after = nx.dag_longest_path_length(graph.subgraph({name, *nx.descendants(graph, name)}))
        assert dates.early_start == START + timedelta(before)
        assert dates.late_start == START + timedelta(longest - after)
        assert dates.slack == longest - before - after
        assert dates.critical == (dates.slack == 0)


@settings(deadline=None)  # networkx on a busy machine
@given(networks(), st.integers(0, 60), st.integers(0, 30), st.integers(0, 9))
def test_an_order_is_due_at_the_late_start_less_the_way_back(
    works: dict[str, Work], lead: int, wait: int, reserve: int
) -> None:
    """An order in the network is late when the way back from its visit says so."""
    needs, *_ = works
    chain = {
        "order": Work(0),
        "delivery": Work(reserve, (After("order", lead),)),
    }
    visit = works[needs]
    after = (*visit.after, After("delivery", wait))
    whole = works | chain | {needs: visit._replace(after=after)}
    for calendar in (CALENDAR, EVERY_DAY):
        found = schedule(whole, START, calendar)
        on_site = on_site_by(found[needs].late_start, wait, reserve, calendar)
        assert found["delivery"].late_start == on_site
        assert found["order"].late_start == order_by(on_site, lead, calendar)


@settings(deadline=None)  # networkx on a busy machine
@given(networks())
def test_dates_keep_every_link_and_every_day_off(works: dict[str, Work]) -> None:
    found = schedule(works, START, CALENDAR)
    seen: list[str] = []
    for name, dates in found.items():
        work = works[name]
        for first, last in (
            (dates.early_start, dates.early_finish), (dates.late_start, dates.late_finish)
        ):  # fmt: skip
            assert CALENDAR.works(first)
            assert CALENDAR.works(last)
            one_more = timedelta(1 if work.days else 0)
            assert CALENDAR.between(first, last + one_more) == work.days
        assert dates.slack >= 0
        assert dates.late_start >= dates.early_start
        for a in work.after:
            assert a.work in seen  # an order in which the work can be done
            for ours, theirs in (
                (dates.early_start, found[a.work].early_finish),
                (dates.late_start, found[a.work].late_finish),
            ):
                ended = theirs + timedelta(1 if works[a.work].days else 0)
                assert ours >= ended + timedelta(a.lag)
        seen.append(name)
    assert any(dates.critical for dates in found.values())


@given(DATES, st.integers(1, 40))
def test_calendar_agrees_with_numpy(day: date, days: int) -> None:
    off = sorted(HOLIDAYS)
    forward = np.busday_offset(day, 0, roll="forward", holidays=off)
    assert CALENDAR.on_or_after(day) == forward.astype(object)
    last = np.busday_offset(forward, days - 1, holidays=off)
    assert CALENDAR.last_day(day, days) == last.astype(object)
    assert CALENDAR.first_day(last.astype(object), days) == forward.astype(object)
    back = np.busday_offset(day, 0, roll="backward", holidays=off)
    assert CALENDAR.on_or_before(day) == back.astype(object)


@given(DATES, DATES)
def test_working_days_between_agree_with_numpy(one: date, other: date) -> None:
    # numpy counts a negative span over (end, start], ours over [end, start)
    first, last = sorted((one, other))
    expected = int(np.busday_count(first, last, holidays=sorted(HOLIDAYS)))
    assert CALENDAR.between(first, last) == expected
    assert CALENDAR.between(last, first) == -expected


@given(DATES, st.integers(0, 120))
def test_what_is_ordered_in_time_is_there(needed: date, lead: int) -> None:
    ordered = order_by(needed, lead, CALENDAR)
    assert CALENDAR.works(ordered)
    assert ordered + timedelta(lead) <= needed
    next_day = CALENDAR.on_or_after(ordered + timedelta(1))
    assert next_day + timedelta(lead) > needed
    assert arrives(ordered, lead, CALENDAR) <= CALENDAR.on_or_after(needed)


def test_plaster_cures_over_the_weekend() -> None:
    works = {"plaster": Work(9), "paint": Work(3, (After("plaster", 14),))}
    found = schedule(works, date(2026, 12, 9), CALENDAR)
    assert found["plaster"].early_finish == date(2026, 12, 21)
    assert found["paint"].early_start == date(2027, 1, 5)


def test_a_day_before_which_nothing_may_start_makes_slack_before_it() -> None:
    works = {"racks": Work(2), "stocking": Work(1, (After("racks"),), date(2026, 11, 16))}
    found = schedule(works, START, CALENDAR)
    assert found["stocking"].early_start == date(2026, 11, 16)
    assert found["racks"].slack == 8
    assert not found["racks"].critical


def test_a_promised_end_that_cannot_be_kept_shows_negative_slack() -> None:
    found = schedule({"all": Work(5)}, START, CALENDAR, until=date(2026, 11, 4))
    assert found["all"].slack == -2
    assert found["all"].critical


def test_the_longest_of_two_waits_between_the_same_work_counts() -> None:
    works = {"a": Work(1), "b": Work(1, (After("a", 9), After("a", 2)))}
    assert schedule(works, START, EVERY_DAY)["b"].early_start == START + timedelta(10)


def test_a_circle_names_its_work() -> None:
    works = {"a": Work(1, (After("c"),)), "b": Work(1, (After("a"),)), "c": Work(1, (After("b"),))}
    with pytest.raises(NotCovered, match="waits for itself: a → b → c → a"):
        schedule(works, START, CALENDAR)


@pytest.mark.parametrize(
    ("works", "says"),
    [
        ({}, "no pieces of work"),
        ({"a": Work(1, (After("z"),))}, "a comes after z, which is no work here"),
        ({"a": Work(-1)}, "time for a is -1 days"),
        ({"a": Work(1), "b": Work(1, (After("a", -3),))}, "wait between a and b is -3 days"),
    ],
)
def test_networks_that_make_no_sense_are_refused(works: dict[str, Work], says: str) -> None:
    with pytest.raises(OutOfRange, match=says):
        schedule(works, START, CALENDAR)


def test_a_calendar_without_working_days_is_refused() -> None:
    with pytest.raises(NotCovered, match="no day of the week"):
        Calendar(frozenset())
    every_day = frozenset(START + timedelta(n) for n in range(500))
    with pytest.raises(NotCovered, match="no working day within a year"):
        Calendar(holidays=every_day).on_or_after(START)


def test_wood_waits_on_every_day_and_a_reserve_on_working_days() -> None:
    # Mon 2026-12-28 less 7 days of wood is Mon 21; five working days before it Mon 14
    assert on_site_by(date(2026, 12, 28), 7, 5, CALENDAR) == date(2026, 12, 14)
    # without the wood the 25th and the 24th are holidays: 23, 22, 21, 18, 17
    assert on_site_by(date(2026, 12, 28), 0, 5, CALENDAR) == date(2026, 12, 17)
    assert on_site_by(date(2026, 12, 28), 0, 0, CALENDAR) == date(2026, 12, 28)
    # 14 December less 70 days is Monday 5 October
    assert order_by(date(2026, 12, 14), 70, CALENDAR) == date(2026, 10, 5)


@pytest.mark.parametrize(("wait", "reserve"), [(-1, 0), (0, -1)])
def test_nothing_waits_for_less_than_no_time(wait: int, reserve: int) -> None:
    with pytest.raises(OutOfRange):
        on_site_by(START, wait, reserve, CALENDAR)


@given(DATES, st.integers(0, 120))
def test_what_is_ordered_comes_after_its_lead_time(ordered: date, lead: int) -> None:
    expected = np.busday_offset(
        ordered + timedelta(lead), 0, roll="forward", holidays=sorted(HOLIDAYS)
    )
    assert arrives(ordered, lead, CALENDAR) == expected.astype(object)


def test_weekdays_are_monday_to_sunday() -> None:
    assert Calendar(frozenset({6})).works(date(2026, 11, 1))  # a Sunday
    with pytest.raises(NotCovered, match="no day of the week"):
        Calendar(frozenset({7}))


@pytest.mark.parametrize("days", [0, -1])
def test_work_with_a_first_and_a_last_day_takes_a_day(days: int) -> None:
    for counted in (CALENDAR.last_day, CALENDAR.first_day):
        with pytest.raises(NotCovered, match="one day or more"):
            counted(START, days)


def test_a_break_of_just_a_year_is_got_over_and_a_longer_one_is_not() -> None:
    def closed(days: int) -> Calendar:
        every_day = frozenset(range(7))
        return Calendar(every_day, frozenset(START + timedelta(n) for n in range(days)))

    assert closed(365).on_or_after(START) == START + timedelta(365)
    with pytest.raises(NotCovered, match="within a year"):
        closed(367).on_or_after(START)


def test_a_day_of_slack_is_not_critical() -> None:
    works = {"long": Work(3), "short": Work(2)}
    found = schedule(works, START, CALENDAR)
    assert (found["short"].slack, found["short"].critical) == (1, False)
    assert found["long"].critical
