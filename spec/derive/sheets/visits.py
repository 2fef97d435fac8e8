"""When trades come and papers are there, by the job's calendar. Declares no figure.

Only what is written counts: a day that nobody wrote is None, never guessed.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from spec.derive.formulas.order_of_work import Calendar
from spec.derive.sheets import calendars
from spec.derive.sheets.calendars import calendar_of, in_days
from spec.job.job import Job
from spec.job.node import Node
from spec.job.raw import State
from spec.job.schema import STAGES
from spec.job.stage import first_day, stage_of_visit
from spec.job.trades import name_of_trade, trade_of
from spec.quantity import Quantity

_FIT = STAGES.index("fit")
_WEEK = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_THERE = ("when", "received", "promised", "due")
"""Keys that say when a paper or a purchase is there, the surest first."""


def calendar(job: Job) -> Calendar:
    """The days on which work is done."""
    return calendar_of(job)


def weekday(day: date) -> str:
    """The name of a day's weekday."""
    return _WEEK[day.weekday()]


def days_of(node: Node | None) -> int:
    """A duration or a count of days in whole days, rounded up; 0 where nothing is written."""
    if node is None or node.value is None:
        return 0
    if isinstance(node.value, Quantity):
        return in_days(node.value.si)
    return int(node.value) if isinstance(node.value, int) else 0


def last_day(job: Job, visit: Node) -> date | None:
    """The last working day of a visit; None where its first day or its length is not written."""
    first, days = first_day(visit), days_of(visit.find("days"))
    return calendar(job).last_day(first, days) if first is not None and days else None


def dry_on(job: Job, visit: Node) -> date | None:
    """The first day on which what a visit leaves may be covered or walked on."""
    last = last_day(job, visit)
    if last is None:
        return None
    return last + timedelta(days=1 + days_of(visit.find("dries")))


def trade_of_visit(visit: Node) -> str:
    """The trade that comes; empty for the visits of a person."""
    entry = entry_of(visit)
    return name_of_trade(entry) if entry is not None else ""


def entry_of(visit: Node) -> Node | None:
    """The entry under `trades` that a visit belongs to."""
    node: Node | None = visit
    while node is not None and not (node.kind == "trade" and node.container == "trades"):
        node = node.parent
    return node


def visits_of(job: Job, trade: str) -> tuple[Node, ...]:
    """The dated visits of a trade, by their days."""
    dated = (
        (day, v)
        for v in job.things("visit")
        if trade_of_visit(v) == trade and (day := first_day(v)) is not None
    )
    return tuple(v for _, v in sorted(dated, key=lambda pair: pair[0]))


def fitting_visit(job: Job, thing: Node) -> Node | None:
    """The visit that needs a thing, or a firm's work; None where no dated visit of it is known.

    The first that needs a purchase of it, else the first of its trade at stage `fit` or later, a
    template left out, else the first.
    """
    bought = {p.key for p in purchases_of(job, thing)}
    for visit in job.things("visit"):
        if bought & set(links(visit.find("needs"))) and first_day(visit) is not None:
            return visit
    if thing.kind == "trade":
        ours = sorted((v for v in thing.group("visits") if first_day(v)), key=_first)
    else:
        ours = calendars.visits_of(job, trade_of(job, thing))
    late = (v for v in ours if v.key != "template" and STAGES.index(stage_of_visit(v)) >= _FIT)
    return next(late, ours[0] if ours else None)


def _first(visit: Node) -> date:
    return first_day(visit) or date.max


def templates(visit: Node) -> list[Node]:
    """The dated visits of the same firm that take the template for a later one."""
    entry, begins = entry_of(visit), _first(visit)
    ours = entry.group("visits") if entry is not None else ()
    return [v for v in ours if v.key == "template" and first_day(v) and _first(v) < begins]


def day_at(node: Node, key: str) -> date | None:
    """The day that is written under a key."""
    leaf = node.find(key)
    return leaf.value if leaf is not None and isinstance(leaf.value, date) else None


def links(node: Node | None) -> tuple[str, ...]:
    """Addresses under a key, one or several; empty where it says nothing."""
    if node is None or node.value is None:
        return ()
    return (
        tuple(str(v) for v in node.value) if isinstance(node.value, tuple) else (str(node.value),)
    )


def linked(job: Job, node: Node | None, kind: str = "") -> Iterator[Node]:
    """The things, of a kind, that a key names."""
    for name in links(node):
        found = job.find(name)
        if found is not None and (not kind or found.kind == kind):
            yield found


def state_of(node: Node) -> State | None:
    """The state that counts at a node: its own, else that of what it stands in."""
    at: Node | None = node
    while at is not None:
        if at.state is not None:
            return at.state
        at = at.parent
    return None


def due_of(node: Node) -> date | None:
    """By when an open or assumed decision is due; None where it is decided or has no day."""
    state = state_of(node)
    if state is None or not state.due:
        return None
    try:
        return date.fromisoformat(state.due)
    except ValueError:
        return None


def there_on(paper: Node) -> tuple[Node, date] | None:
    """When an inspection, approval, permit or purchase is there, and the leaf that says so.

    What is done counts before what is due; an open day counts by its `due`.
    """
    for key in _THERE:
        leaf = paper.find(key)
        if leaf is None:
            continue
        if isinstance(leaf.value, date):
            return leaf, leaf.value
        due = due_of(leaf) if leaf.state is not None else None
        if due is not None:
            return leaf, due
    due = due_of(paper) if paper.state is not None else None
    return (paper, due) if due is not None else None


def inspections(job: Job) -> tuple[Node, ...]:
    """Every inspection, of whatever kind."""
    return tuple(t for t in job.everything if t.container == "inspections")


def permits(job: Job) -> tuple[Node, ...]:
    """Every permit, of whatever kind."""
    return tuple(t for t in job.everything if t.container == "permits")


def purchases_of(job: Job, thing: Node) -> tuple[Node, ...]:
    """The purchases that are for a thing."""
    return tuple(p for p in job.things("purchase") if thing.key in links(p.find("for")))


def circle(job: Job) -> tuple[Node, ...]:
    """Visits and inspections that wait for each other, the first of them again at the end."""
    nodes = [*job.things("visit"), *inspections(job)]
    known: set[str] = set()
    for start in nodes:
        path: list[Node] = []
        found = _seek(job, start, path, known)
        if found:
            return found
    return ()


def _seek(job: Job, node: Node, path: list[Node], known: set[str]) -> tuple[Node, ...]:
    if node in path:
        return (*path[path.index(node) :], node)
    if node.address in known:
        return ()
    path.append(node)
    for before in linked(job, node.find("after")):
        found = _seek(job, before, path, known)
        if found:
            return found
    path.pop()
    known.add(node.address)
    return ()


def climate_visit(job: Job) -> Node | None:
    """The visit from which on the cooled rooms have their climate.

    The first of the refrigeration trade at stage `commission`; where none says so, its last.
    """
    visits = visits_of(job, "refrigeration")
    starts = (v for v in visits if stage_of_visit(v) == "commission")
    return next(starts, visits[-1] if visits else None)


def lead_days(thing: Node, clock: str = "from_order") -> tuple[Node, int] | None:
    """A lead time in calendar days with its leaf: one time from order, or the clock asked for."""
    leaf = thing.find("lead_time")
    if leaf is not None and leaf.mapped:
        leaf = leaf.find(clock)
    elif clock != "from_order":
        leaf = None
    if leaf is None or not isinstance(leaf.value, Quantity):
        return None
    return leaf, days_of(leaf)
