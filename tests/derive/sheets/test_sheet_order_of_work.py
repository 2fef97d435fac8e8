"""Dates, the critical path and order-by days, against the calendar and a published network."""

from __future__ import annotations

from datetime import date

import pytest

from spec.derive.figure import Facts
from tests.derive.sheets.worked import facts_of, figure_of, value

# Hendrickson, table 10-2, in working days from Monday 2026-06-01
_NETWORK = {
    "a": (4, ""),
    "b": (3, ""),
    "c": (8, "a"),
    "d": (7, "a"),
    "e": (9, "b c"),
    "f": (12, "b c"),
    "g": (2, "d e"),
    "h": (5, "d e"),
    "i": (6, "f g"),
}


def _trades(visits: str) -> str:
    calendar = "calendar: {working_days: Monday to Friday}"
    return f"{calendar}\ntrades: {{framing: {{visits: {{{visits}}}}}}}"


@pytest.fixture(scope="module")
def network() -> Facts:
    written = []
    for name, (days, after) in _NETWORK.items():
        links = ", ".join(f"framing.{other}" for other in after.split())
        then = f", after: [{links}]" if links else ""
        written.append(f"{name}: {{starts: 2026-06-01, days: {days}{then}}}")
    return facts_of(_trades(", ".join(written)))


def test_the_critical_path_is_the_published_one(network: Facts) -> None:
    found = figure_of(network, "schedule.critical@calendar")
    assert [part.label for part in found.parts] == [f"framing.{n}" for n in "acfi"]


def _day(facts: Facts, address: str) -> date:
    return date.fromordinal(int(value(facts, address)))


def test_working_days_run_over_weekends_and_holidays() -> None:
    facts = facts_of("""
calendar: {working_days: Monday to Friday, holidays: [2026-12-24, 2026-12-25]}
trades:
  plaster: {visits: {coat: {starts: 2026-12-21, days: 5, dries: 14 days}}}
  painting: {visits: {paint: {starts: 2027-01-11, days: 2, after: plaster.coat}}}
""")
    # Mon 21, Tue 22, Wed 23, Mon 28, Tue 29
    assert _day(facts, "order_of_work.last_day@plaster.coat") == date(2026, 12, 29)
    # 14 days after the 29th
    assert _day(facts, "order_of_work.can_start@painting.paint") == date(2027, 1, 12)
    assert value(facts, "order_of_work.in_hand@painting.paint") == -1
    assert _day(facts, "schedule.last_day@calendar") == date(2027, 1, 12)


def test_float_is_counted_from_the_dated_start() -> None:
    facts = facts_of("""
calendar: {working_days: Monday to Friday}
trades:
  framing: {visits: {frame: {starts: 2026-06-01, days: 2}}}
  board: {visits: {hang: {starts: 2026-06-08, days: 3, after: framing.frame}}}
""")
    # the last day is Wed 10; hanging may not slip; framing may begin Thu 4 at the latest
    assert value(facts, "schedule.float@board.hang") == 0
    assert value(facts, "schedule.float@framing.frame") == 3


def test_wine_waits_for_the_run_in(garden: Facts) -> None:
    # commissioning 8 and 9 March, seven days
    assert _day(garden, "order_of_work.wine_from@wine_room") == date(2027, 3, 16)


def test_holidays_may_be_written_as_a_span(flat: Facts) -> None:
    # 2026-12-18 is the last working day before 2027-01-04
    assert _day(flat, "order_of_work.last_day@painting.paint") == date(2026, 12, 18)
    tiles = _day(flat, "order_of_work.last_day@flooring.tiles")
    assert tiles.year == 2027
