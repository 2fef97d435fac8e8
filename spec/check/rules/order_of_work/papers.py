"""Papers that must be there before work starts, and days that have passed."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from spec.check.rule import Facts, Node, Said, rule, said
from spec.derive.sheets import visits
from spec.finding import Level
from spec.job.stage import first_day

_PAPERS = ("approvals", "permits", "inspections")
_PERMITS = {
    "demolition_permit": ("demolition",),
    "electrical_permit": ("electrical",),
    "mechanical_permit": ("refrigeration",),
    "plumbing_permit": ("plumbing",),
    "heating_permit": ("heating",),
    "building_permit": ("demolition", "framing"),
}
"""The trades that do not start without a permit of each kind. Common practice."""
_NEEDED = """
job: {revision: {date: 2026-04-01}}
people: {lead: {name: Ada Quist}}
permits: {PM1: {is: electrical_permit, who: lead, when: {open: lead, due: DAY}}}
trades: {electrical: {visits: {rough: {starts: 2026-05-04, days: 3 NEEDS}}}}
"""


@rule(
    "order_of_work.needed-too-early",
    level=Level.ERROR,
    trades=(),
    why="Work that starts without the paper it needs is stopped, or done twice.",
    each=("visit",),
    bad=_NEEDED.replace("NEEDS", ", needs: PM1").replace("DAY", "2026-05-18"),
    good=_NEEDED.replace("NEEDS", ", needs: PM1").replace("DAY", "2026-04-20"),
)
def needed_too_early(facts: Facts, visit: Node) -> Iterator[Said]:
    """A visit needs or follows a paper, or a decision, that is due after the visit starts."""
    day = first_day(visit)
    if day is None:
        return
    for key in ("needs", "after"):
        leaf = visit.find(key)
        for thing in visits.linked(facts.job, leaf) if leaf is not None else ():
            there = _there(thing, key)
            if leaf is not None and there is not None and there[1] > day:
                yield said(
                    leaf,
                    f"{visit.address} starts on {day.isoformat()} and needs {thing.address}, "
                    "which is "
                    f"due on {there[1].isoformat()}",
                    f"get {thing.address} earlier, or start {visit.address} after it",
                    there[0],
                )


def _there(thing: Node, key: str) -> tuple[Node, date] | None:
    if thing.container in _PAPERS:
        inspected = key == "after" and thing.container == "inspections"
        return None if inspected else visits.there_on(thing)
    due = visits.due_of(thing) if key == "needs" and thing.container != "purchases" else None
    return (thing, due) if due is not None else None


@rule(
    "order_of_work.no-permit-yet",
    level=Level.ERROR,
    trades=(),
    why="Who starts without the permit opens his work again for the inspector, at his own cost.",
    bad=_NEEDED.replace("NEEDS", "").replace("DAY", "2026-05-18"),
    good=_NEEDED.replace("NEEDS", "").replace("DAY", "2026-04-20"),
)
def no_permit_yet(facts: Facts) -> Iterator[Said]:
    """A trade's first visit starts before the permit for its work is expected."""
    for permit in visits.permits(facts.job):
        there = visits.there_on(permit)
        for trade in _PERMITS.get(permit.kind, ()):
            first = next(iter(visits.visits_of(facts.job, trade)), None)
            day = first_day(first) if first is not None else None
            if there is None or first is None or day is None or there[1] <= day:
                continue
            if permit.key in visits.links(first.find("needs")):
                continue  # said by order_of_work.needed-too-early
            yield said(
                first.at("starts"),
                f"{first.address} starts on {day.isoformat()}, but {permit.key} "
                f"({permit.kind.replace('_', ' ')}) is due on {there[1].isoformat()}",
                f"get {permit.key} earlier, or start {first.address} after it",
                there[0],
            )


@rule(
    "order_of_work.overdue",
    level=Level.WARNING,
    trades=(),
    why="A day that has passed without an answer moves everything that waits for it, and nobody "
    "has said so.",
    bad="""
job: {revision: {date: 2026-05-04}}
people: {client: {name: Ada Quist}}
approvals: {AP1: {of: client, when: {open: client, due: 2026-05-01}}}
""",
    good="""
job: {revision: {date: 2026-05-04}}
people: {client: {name: Ada Quist}}
approvals: {AP1: {of: client, when: {open: client, due: 2026-05-11}}}
""",
)
def overdue(facts: Facts) -> Iterator[Said]:
    """A decision is still open, or a paper still missing, after the day on which it was due."""
    today = facts.job.day
    if today is None:
        return
    for node in facts.job.tree.walk():
        due = visits.due_of(node) if node.state is not None else None
        if node.state is not None and due is not None and due < today:
            yield said(
                node,
                f"{node.address} was due on {due.isoformat()} and is still {node.state.kind}; "
                "today is "
                f"{today.isoformat()}",
                f"ask {node.state.who or 'for it'} again and write the answer, or a new day",
            )
    for paper in facts.job.everything:
        due_leaf = paper.find("due") if paper.container in _PAPERS else None
        day = due_leaf.value if due_leaf is not None else None
        if due_leaf is None or not isinstance(day, date) or day >= today or paper.find("when"):
            continue
        yield said(
            due_leaf,
            f"{paper.key} was due on {day.isoformat()} and nothing says that it is done; today is "
            f"{today.isoformat()}",
            "write `when`, or a new day",
        )
