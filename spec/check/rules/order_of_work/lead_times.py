"""What has a lead time: measured, approved and ordered in time for the visit that needs it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from spec.check.rule import Facts, Node, Said, rule, said
from spec.derive.sheets import bought, network, visits
from spec.derive.sheets.bought import Step
from spec.finding import Level
from spec.job.trades import thing_of

_LEAD = """
job: {revision: {date: DAY}}
rooms: {wine_room: {walls_clockwise: {WA: {openings: {D1: {is: door, lead_time: 8 weeks}}}}}}
trades:
  doors: {visits: {door: {starts: 2026-05-11, days: 2, stage: fit}}}
"""
_APPROVED = """
job: {revision: {date: 2026-02-02}}
people: {client: {name: Ada Quist}}
approvals: {AP1: {of: D1, who: client, due: DAY, when: {open: client, due: DAY}}}
rooms: {wine_room: {walls_clockwise: {WA: {openings: {D1: {is: door, lead_time: 8 weeks}}}}}}
trades: {doors: {visits: {door: {starts: 2026-05-11, days: 2, stage: fit}}}}
"""
_MEASURED = """
trades:
  millwork:
    lead_time: {from_final_measure: 4 weeks}
    visits: {racks: {starts: 2026-05-11, days: 5, stage: fit}}
inspections: {I1: {is: final_measure, before: millwork.racks, who: lead, due: DAY}}
people: {lead: {name: Ada Quist}}
"""
_IN_HAND = (
    _LEAD + "  cleaning: {visits: {cleaning: {starts: 2026-06-01, days: 1, after: doors.door}}}\n"
)


def _steps(facts: Facts, name: str = "") -> Iterator[tuple[Step, date, date | None]]:
    """The steps of a name with their last days: for the visit as dated, and for the job's end."""
    for step in bought.steps(facts):
        dated = bought.day_of(step, bought.as_dated(facts, step.item))
        last = network.latest_known(facts, step.item)
        if dated is not None and name in ("", step.name):
            yield step, dated, bought.day_of(step, last) if last is not None else None


def _clock(step: Step) -> Node:
    """The lead time that a step is counted by."""
    names = ("from_order", *bought.MEASURED)
    clocks = names[1:] if step.name == "measure" else names
    return next(c[0] for n in clocks if (c := visits.lead_days(step.item.thing, n)) is not None)


def _takes(step: Step) -> str:
    """`millwork takes 5 weeks from the final measure, for millwork.racks on 2026-05-11`."""
    clock, visit = _clock(step), step.item.visit
    since = "" if clock.key in ("lead_time", "from_order") else f" from the {_since(clock)}"
    begins = visit.date("starts").isoformat()
    return f"{step.item.thing.key} takes {clock.written}{since}, for {visit.address} on {begins}"


def _since(clock: Node) -> str:
    return clock.key.removeprefix("from_").replace("_", " ")


def _so_far(step: Step) -> str:
    """When the step is taken, in words."""
    day = step.day.isoformat()
    if step.name != "order":
        return f"{thing_of(step.at).key} is due on {day}"
    return f"it is ordered on {day}" if step.item.purchase else f"on {day} it is not ordered"


def _late(facts: Facts, name: str, step_in_words: str) -> Iterator[Said]:
    """Every step of a name that is taken after the day that keeps the last day of the job."""
    for step, dated, latest in _steps(facts, name):
        if latest is None or step.day <= latest:
            continue
        visit = step.item.visit
        kept = f" ({dated.isoformat()} for that day)" if dated < latest else ""
        yield said(
            _clock(step) if name != "approve" else step.at,
            f"{_takes(step)}: it has to be {step_in_words} by {latest.isoformat()} at the latest"
            f"{kept} to keep the last day of the job; {_so_far(step)}",
            f"have it {step_in_words} by {dated.isoformat()}, find a quicker maker, or move "
            f"{visit.address} and what comes after it",
            _clock(step) if name == "approve" else thing_of(step.at),
            visit,
        )


@rule(
    "order_of_work.ordered-too-late",
    level=Level.ERROR,
    trades=(),
    why="A maker's weeks run from the order; nobody makes them up on site.",
    bad=_LEAD.replace("DAY", "2026-04-06"),
    good=_LEAD.replace("DAY", "2026-03-02"),
)
def ordered_too_late(facts: Facts) -> Iterator[Said]:
    """Something is ordered, or still not, after the last day that keeps the job's last day."""
    yield from _late(facts, "order", "ordered")


@rule(
    "order_of_work.approved-too-late",
    level=Level.ERROR,
    trades=(),
    why="What waits for a signature is not ordered; the maker's weeks begin when it is there.",
    bad=_APPROVED.replace("DAY", "2026-04-01"),
    good=_APPROVED.replace("DAY", "2026-02-16"),
)
def approved_too_late(facts: Facts) -> Iterator[Said]:
    """An approval is due after the last day to order that keeps the job's last day."""
    yield from _late(facts, "approve", "approved and ordered")


@rule(
    "order_of_work.approved-at-the-last-hour",
    level=Level.NOTE,
    trades=(),
    why="A client who wants to see the sample once more takes the days that nobody kept for it.",
    bad=_APPROVED.replace("DAY", "2026-03-05"),
    good=_APPROVED.replace("DAY", "2026-02-16"),
)
def approved_at_the_last_hour(facts: Facts) -> Iterator[Said]:
    """An approval is due fewer working days before its order than the house keeps."""
    keeps = int(facts.job.limit("approval.reserve"))
    for step, dated, _ in _steps(facts, "approve"):
        left = visits.calendar(facts.job).between(step.day, dated)
        if step.day <= dated and left < keeps:
            yield said(
                step.at,
                f"{_takes(step)}: it is ordered by {dated.isoformat()}, {left} working days after "
                f"{thing_of(step.at).key}; the house keeps {keeps}",
                "ask for it earlier, or watch it",
                _clock(step),
                "approval.reserve",
            )


@rule(
    "order_of_work.measured-too-late",
    level=Level.ERROR,
    trades=("millwork", "glazing", "stone"),
    why="A lead time has two clocks; the second starts with the final measure and is the one that "
    "is forgotten.",
    bad=_MEASURED.replace("DAY", "2026-04-27"),
    good=_MEASURED.replace("DAY", "2026-04-06"),
)
def measured_too_late(facts: Facts) -> Iterator[Said]:
    """The final measure is later than the maker's time before the job's last day allows."""
    yield from _late(facts, "measure", "measured")


@rule(
    "order_of_work.visit-begins-late",
    level=Level.WARNING,
    trades=(),
    why="A crew that is booked for a day on which its material is not there goes elsewhere, and "
    "what the job has in hand is gone before it has begun.",
    bad=_IN_HAND.replace("DAY", "2026-03-16"),
    good=_IN_HAND.replace("DAY", "2026-03-02"),
)
def visit_begins_late(facts: Facts) -> Iterator[Said]:
    """A measure, an approval or an order comes too late for the visit as dated."""
    for step, dated, latest in _steps(facts):
        if step.day <= dated or (latest is not None and step.day > latest):
            continue
        visit = step.item.visit
        moves = f"; after {latest.isoformat()} the last day of the job moves too" if latest else ""
        yield said(
            step.at,
            f"{_takes(step)}: the last day to {step.name} it is {dated.isoformat()}, with the "
            f"house's reserve, and {_so_far(step)}{moves}",
            f"find a quicker maker, or begin {visit.address} later",
            visit,
        )
