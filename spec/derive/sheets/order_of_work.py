"""Dates: when each visit can begin, what is critical, when wine may come in."""

from __future__ import annotations

from datetime import date, timedelta

from spec.derive.figure import Facts, Part, Worked, figure
from spec.derive.formulas import order_of_work as formulas
from spec.derive.formulas.range import NotCovered
from spec.derive.sheets import kinds
from spec.derive.sheets.calendars import (
    as_day,
    calendar_of,
    dated,
    in_days,
    last_day_of,
    visits_of,
)
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


def _network(facts: Facts) -> dict[str, formulas.Work]:
    """Visits, and the inspections and approvals that they wait for, as pieces of work."""
    works: dict[str, formulas.Work] = {}
    known = {v.address: v for v in dated(facts.job)}
    waiting = list(known.values())
    while waiting:
        node = waiting.pop()
        if node.address in works:
            continue
        after = []
        for other in _before(facts, node):
            dries = in_days(other.si("dries", 0.0)) if other.kind == "visit" else 0
            # A lag is counted from the morning after; a wait from the last day itself.
            lag = max(_waits(node), dries, 1) - 1
            after.append(formulas.After(other.address, lag))
            waiting.append(other)
        days = node.count("days", 1) if node.kind == "visit" else 0
        begins = None
        if node.kind == "visit" and kinds.says(node, "not_before"):
            begins = node.date("not_before")
        elif node.kind == "visit" and not after and kinds.says(node, "starts"):
            begins = node.date("starts")
        elif node.kind != "visit" and not after:
            begins = _clear(facts, node, 0)
        works[node.address] = formulas.Work(days, tuple(after), begins)
    order = [n.address for n in facts.job.everything if n.address in works]
    return {name: works[name] for name in order}


def _schedule(facts: Facts, until: date | None) -> dict[str, formulas.Dates]:
    works = _network(facts)
    starts = [visit.date("starts") for visit in dated(facts.job)]
    return formulas.schedule(works, min(starts), calendar_of(facts.job), until)


def _end(facts: Facts) -> date:
    return max(last_day_of(facts.job, visit) for visit in dated(facts.job))


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
    if not dated(facts.job):
        raise NotCovered("no visit has a day yet")
    return as_day(_end(facts))


@figure(
    "schedule.critical",
    title="Visits on the critical path",
    dimension="count",
    formula="visits whose late start is their early start; the whole as early as it can end",
    source="Hendrickson, Project Management for Construction, ch. 10.3",
    holds="visits that come after nothing begin on their own day",
    per=kinds.whole("calendar"),
)
def critical(facts: Facts, calendar: Node) -> Worked:
    """How many visits the earliest end hangs on; the parts name them in order."""
    if not dated(facts.job):
        raise NotCovered("no visit has a day yet")
    spans = _schedule(facts, None)
    visits = {visit.address for visit in dated(facts.job)}
    tight = [name for name, span in spans.items() if span.critical and name in visits]
    return Worked(float(len(tight)), tuple(Part(name, 1.0, name) for name in tight))


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
    span = _schedule(facts, _end(facts))[visit.address]
    slips = calendar_of(facts.job).between(visit.date("starts"), span.late_start)
    return Worked(
        float(slips),
        given=(
            ("early start", float(span.early_start.toordinal()), "day"),
            ("late start", float(span.late_start.toordinal()), "day"),
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
