"""Answers that come after the day on which a trade orders or starts what rests on them."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from spec.check.rule import Facts, Node, Said, rule, said
from spec.derive.figure import Part
from spec.derive.sheets import visits
from spec.derive.sheets.deciding import first_to_wait, undecided
from spec.finding import Level

_COUNTER = """
job: {revision: {date: TODAY}}
calendar: {working_days: Monday to Friday}
trades:
  doors: {lead_time: 10 weeks, visits: {hang: {starts: 2026-06-01, days: 1, stage: fit}}}
rooms: {hall: {walls_clockwise: {WA: {openings: {D1: {
  is: door, leaf: {width: {open: client, due: DAY, meanwhile: 32 in}}}}}}}}
"""


def _last_days(facts: Facts) -> Iterator[tuple[Node, Part, date]]:
    """Every undecided thing, the trade that needs it first, and the last day for it."""
    for node in undecided(facts.job):
        waiting = first_to_wait(facts, node)
        if waiting is not None:
            yield node, waiting[1], waiting[0]


@rule(
    "order_of_work.answer-due-too-late",
    level=Level.WARNING,
    trades=(),
    why="A trade orders on the last day that its lead time leaves; an answer that is due after it "
    "moves the whole job.",
    bad=_COUNTER.replace("TODAY", "2026-02-02").replace("DAY", "2026-04-01"),
    good=_COUNTER.replace("TODAY", "2026-02-02").replace("DAY", "2026-03-02"),
)
def answer_due_too_late(facts: Facts) -> Iterator[Said]:
    """The day on which an answer is due lies after the last day to order what rests on it."""
    for node, first, last in _last_days(facts):
        due = visits.due_of(node)
        shelf = node.decision.gate == "material" and _is_visit(facts, first)
        if due is None or due <= last or shelf:
            continue
        yield said(
            node,
            f"{node.address} is due on {due.isoformat()}, but {first.label} needs it by "
            f"{last.isoformat()}",
            f"ask for it by {last.isoformat()}, or move the {first.label} work",
            first.address,
        )


@rule(
    "order_of_work.last-day-to-decide-passed",
    level=Level.WARNING,
    trades=(),
    why="From this day on the order is late, and every day without the answer moves the trade.",
    bad=_COUNTER.replace("TODAY", "2026-03-30").replace("DAY", "2026-04-01"),
    good=_COUNTER.replace("TODAY", "2026-02-02").replace("DAY", "2026-03-02"),
)
def last_day_to_decide_passed(facts: Facts) -> Iterator[Said]:
    """Something is still open after the last day on which it could be decided in time."""
    today = facts.job.day
    for node, first, last in _last_days(facts) if today is not None else ():
        if today is not None and today > last:
            yield said(
                node,
                f"{node.address} was to be decided by {last.isoformat()}; {first.label} waits "
                f"for it, and today is {today.isoformat()}",
                f"decide it now, or move the {first.label} work",
                first.address,
            )


def _is_visit(facts: Facts, part: Part) -> bool:
    node = facts.job.find(part.address)
    return node is not None and node.kind == "visit"
