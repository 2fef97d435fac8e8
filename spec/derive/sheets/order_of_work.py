"""Dates: when each visit can begin, what is critical, when wine may come in."""

from __future__ import annotations

from datetime import date, timedelta

from spec.derive.figure import Facts, Part, Worked, figure
from spec.derive.sheets import kinds, network
from spec.derive.sheets.calendars import (
    as_day,
    calendar_of,
    dated,
    in_days,
    last_day_of,
    visits_of,
)
from spec.derive.sheets.network import end_as_dated
from spec.job.job import Job
from spec.job.node import Node, Open


@figure(
    "order_of_work.last_day",
    title="Last day of the visit",
    dimension="day",
    formula="first day + its working days",
    source="the job's calendar",
    per=dated,
)
def last_day(facts: Facts, visit: Node) -> Worked:
    """The last working day of a visit as it is dated."""
    return as_day(last_day_of(facts.job, visit))


def _before(facts: Facts, work: Node) -> list[Node]:
    """What a visit or inspection says that it comes after."""
    if not kinds.says(work, "after"):
        return []
    return [n for n in (facts.job.find(name) for name in work.words("after")) if n is not None]


def _clear(facts: Facts, work: Node, waits: int) -> date:
    """The first day on which a visit may follow what it comes after.

    The day after it; `waits` [calendar days] or its drying time after its last day where that is
    later; an approval's own day.
    """
    if work.kind == "visit":
        lag = max(1, waits, in_days(work.si("dries", 0.0)))
        return last_day_of(facts.job, work) + timedelta(days=lag)
    for key in ("when", "due"):
        if kinds.says(work, key):
            lag = max(waits, 0 if work.kind == "approval" else 1)
            return work.date(key) + timedelta(days=lag)
    raise Open(f"{work.address}.due")


def _waits(work: Node) -> int:
    return in_days(work.si("waits", 0.0)) if work.kind == "visit" else 0


@figure(
    "order_of_work.can_start",
    title="First day on which the visit can begin",
    dimension="day",
    formula="latest end of what it comes after + drying and waiting",
    source="the job's dates and calendar",
    per=lambda job: [v for v in dated(job) if kinds.says(v, "after")],
    trades=(),
)
def can_start(facts: Facts, visit: Node) -> Worked:
    """The first working day after all that a visit waits for, by the dates in the job."""
    waits = _waits(visit)
    ends = {work.address: _clear(facts, work, waits) for work in _before(facts, visit)}
    if not ends:
        raise Open(visit.at("after").address)
    found = calendar_of(facts.job).on_or_after(max(ends.values()))
    parts = tuple(Part(name, float(day.toordinal()), name) for name, day in ends.items())
    return as_day(found, *parts)


@figure(
    "order_of_work.in_hand",
    title="Working days between the earliest and the dated start",
    dimension="number",
    formula="dated start - first day on which it can begin",
    source="the job's dates and calendar; below 0 it begins too early",
    per=lambda job: [v for v in dated(job) if kinds.says(v, "after")],
)
def slack(facts: Facts, visit: Node) -> float:
    """Working days that a dated visit has in hand against what it comes after."""
    ready = date.fromordinal(int(facts.figures.value("order_of_work.can_start", visit)))
    return float(calendar_of(facts.job).between(ready, visit.date("starts")))


@figure(
    "schedule.last_day",
    title="Last day of the work",
    dimension="day",
    formula="latest last day of all visits",
    source="the job's dates and calendar",
    per=kinds.whole("calendar"),
    trades=("client",),
)
def schedule_last_day(facts: Facts, calendar: Node) -> Worked:
    """The last working day of the job as it is dated."""
    return as_day(end_as_dated(facts))


@figure(
    "schedule.critical",
    title="On the critical path",
    dimension="count",
    formula="pieces of work whose late start is their early start; visits, papers, orders and "
    "deliveries, the whole as early as it can end",
    source="Hendrickson, Project Management for Construction, ch. 10.3",
    holds="visits that come after nothing begin on their own day; what is not ordered is ordered "
    "on the day of the job",
    per=kinds.whole("calendar"),
)
def critical(facts: Facts, calendar: Node) -> Worked:
    """On how much the earliest end hangs; the parts name it in the order of its days."""
    spans = network.early(facts)
    tight = sorted((span.early_start, name) for name, span in spans.items() if span.critical)
    return Worked(float(len(tight)), tuple(Part(name, 1.0, _thing(name)) for _, name in tight))


def _thing(name: str) -> str:
    """The address in the name of a piece of work: of `order of D1` that of D1."""
    return name.rpartition(" ")[2]


@figure(
    "schedule.float",
    title="Float",
    dimension="number",
    formula="late start - dated start; in working days",
    source="Hendrickson, Project Management for Construction, ch. 10.3",
    holds="against the last day of the job as it is dated; below 0 it begins too late for that",
    per=dated,
)
def floating(facts: Facts, visit: Node) -> Worked:
    """Working days by which a visit may slip before the last day moves."""
    span = network.late(facts)[visit.address]
    slips = calendar_of(facts.job).between(visit.date("starts"), span.late_start)
    return Worked(
        float(slips),
        given=(
            ("late start", float(span.late_start.toordinal()), "day"),
            ("starts", float(visit.date("starts").toordinal()), "day"),
        ),
    )


@figure(
    "order_of_work.wine_from",
    title="Wine may come in from",
    dimension="day",
    formula="last day of commissioning + run-in",
    source="run-in of the job, else of the house standards",
    per=lambda job: [r for r in kinds.cooled_rooms(job) if _commissions(job)],
    trades=("client", "refrigeration"),
)
def wine_from(facts: Facts, room: Node) -> Worked:
    """The first day after the empty room has run in."""
    ends = [last_day_of(facts.job, visit) for visit in _commissions(facts.job)]
    run_in = (
        room.si("cooling.run_in")
        if kinds.says(room, "cooling.run_in")
        else facts.job.limit("run_in.empty")
    )
    return as_day(
        max(ends) + timedelta(days=max(1, in_days(run_in))), given=(("run-in", run_in, "duration"),)
    )


def _commissions(job: Job) -> list[Node]:
    found = []
    for visit in visits_of(job, "refrigeration"):
        stage = visit.find("stage")
        if stage is not None and stage.value == "commission":
            found.append(visit)
    return found
