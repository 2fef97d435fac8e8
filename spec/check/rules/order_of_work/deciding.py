"""Answers that come after the day on which a trade orders or starts what rests on them."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.derive.sheets import visits
from spec.derive.sheets.deciding import Waiting, first_to_wait, undecided
from spec.finding import Level

_COUNTER = """
job: {revision: {date: TODAY}}
calendar: {working_days: Monday to Friday}
trades:
  doors: {lead_time: 10 weeks, visits: {hang: {starts: 2026-06-01, days: 1, stage: fit}}}
rooms: {hall: {walls_clockwise: {WA: {openings: {D1: {
  is: door, leaf: {width: {open: client, due: DAY, meanwhile: 32 in}}}}}}}}
"""


def _waiting(facts: Facts) -> Iterator[tuple[Node, Waiting]]:
    """Every undecided thing, and the trade that needs it first by the visits as dated."""
    for node in undecided(facts.job):
        waiting = first_to_wait(facts, node)
        if waiting is not None:
            yield node, waiting


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
    for node, first in _waiting(facts):
        due = visits.due_of(node)
        shelf = node.decision.gate == "material" and _is_visit(facts, first)
        if due is None or due <= first.dated or shelf:
            continue
        yield said(
            node,
            f"{node.address} is due on {due.isoformat()}, but {first.trade} needs it by "
            f"{first.dated.isoformat()}{_else_the_end(first)}",
            f"ask for it by {first.dated.isoformat()}, or move the {first.trade} work",
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
    for node, first in _waiting(facts) if today is not None else ():
        if today is not None and today > first.dated:
            yield said(
                node,
                f"{node.address} was to be decided by {first.dated.isoformat()}; {first.trade} "
                f"waits for it, and today is {today.isoformat()}{_else_the_end(first)}",
                f"decide it now, or move the {first.trade} work",
                first.address,
            )


def _else_the_end(waiting: Waiting) -> str:
    """From which day on the last day of the job moves too, where that is later."""
    if waiting.latest is None or waiting.latest <= waiting.dated:
        return ""
    return f"; after {waiting.latest.isoformat()} the last day of the job moves too"


def _is_visit(facts: Facts, waiting: Waiting) -> bool:
    node = facts.job.find(waiting.address)
    return node is not None and node.kind == "visit"
