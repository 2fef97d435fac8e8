"""The stage of a job on a day: how far the visits have come."""

from __future__ import annotations

from datetime import date

from spec.job.job import Job
from spec.job.node import Node
from spec.job.schema import STAGES, root
from spec.job.trades import name_of_trade

_STAGE_OF_VISIT = {"commissioning": "commission", "trim": "fit", "set": "fit", "template": "fit"}
"""Visits whose usual names say their stage."""


def stage_of_visit(visit: Node) -> str:
    """The stage that a visit belongs to: its own word, else by its name, else by its trade."""
    own = visit.find("stage")
    if own is not None and isinstance(own.value, str):
        return own.value
    if visit.key in _STAGE_OF_VISIT:
        return _STAGE_OF_VISIT[visit.key]
    entry = visit.parent.parent if visit.parent is not None else None
    trades = root().below("trades")
    if entry is None or entry.container != "trades" or trades is None:
        return "fit"
    known = trades.below(name_of_trade(entry))
    return str(known.schema.get("stage", "fit")) if known is not None else "fit"


def first_day(visit: Node) -> date | None:
    """The day on which a visit starts, where it is written."""
    starts = visit.find("starts")
    return starts.value if starts is not None and isinstance(starts.value, date) else None


def stage(job: Job) -> str:
    """The stage on the job's day.

    Without a dated visit of a trade the job is at its first visit. Before the first trade
    starts, it is being measured until every room is taped, and material is being ordered from
    then on.
    """
    today = job.day
    visits = [v for v in job.things("visit") if first_day(v) is not None]
    if not any(v.parent and v.parent.parent and v.parent.parent.kind == "trade" for v in visits):
        return "first_visit"
    begun = [
        STAGES.index(stage_of_visit(visit))
        for visit in visits
        if today is not None and (day := first_day(visit)) is not None and day <= today
    ]
    begun.append(STAGES.index("order_material" if _taped(job) else "measure"))
    return STAGES[max(begun)]


def _taped(job: Job) -> bool:
    spaces = [*job.rooms, *job.things("as_found")]
    return all(s.find("taped") is not None or s.find("within") is not None for s in spaces)


def reached(needed_before: str, now: str) -> bool:
    """Whether a decision that must precede one stage is due at another."""
    return STAGES.index(needed_before) <= STAGES.index(now)
