"""The stage of a job on a day: how far the visits have come."""

from __future__ import annotations

from datetime import date

from spec.job.job import Job
from spec.job.node import Node
from spec.job.schema import STAGES

STAGE_OF_TRADE = {
    "demolition": "rough",
    "framing": "rough",
    "insulation": "close_in",
    "board": "close_in",
    "plaster": "finish",
    "electrical": "rough",
    "refrigeration": "rough",
    "plumbing": "rough",
    "heating": "rough",
    "painting": "finish",
    "flooring": "finish",
    "stone": "fit",
    "doors": "fit",
    "glazing": "fit",
    "millwork": "fit",
    "metalwork": "fit",
    "appliances": "fit",
    "cleaning": "hand_over",
}
"""The stage that a trade's first visit belongs to where the visit says none."""

_STAGE_OF_VISIT = {"commissioning": "commission", "trim": "fit", "set": "fit", "template": "fit"}


def stage_of_visit(visit: Node) -> str:
    """The stage that a visit belongs to: its own word, else by its name, else by its trade."""
    own = visit.find("stage")
    if own is not None and isinstance(own.value, str):
        return own.value
    if visit.key in _STAGE_OF_VISIT:
        return _STAGE_OF_VISIT[visit.key]
    trade = visit.parent.parent if visit.parent is not None else None
    of = trade.find("trade") if trade is not None else None
    name = str(of.value) if of is not None and of.value else (trade.key if trade else "")
    return STAGE_OF_TRADE.get(name, "fit")


def first_day(visit: Node) -> date | None:
    """The day on which a visit starts, where it is written."""
    starts = visit.find("starts")
    return starts.value if starts is not None and isinstance(starts.value, date) else None


def stage(job: Job) -> str:
    """The stage on the job's day.

    Without visits the job is at its first visit. Before the first visit starts, it is being
    measured until every room is taped, and material is being ordered from then on.
    """
    days = [(first_day(v), stage_of_visit(v)) for v in job.things("visit")]
    dated = [(day, name) for day, name in days if day is not None]
    if not dated:
        return "first_visit"
    today = job.day
    begun = [STAGES.index(name) for day, name in dated if today is not None and day <= today]
    if begun:
        return STAGES[max(begun)]
    taped = all(
        room.find("taped") is not None or room.find("walls_clockwise") is None for room in job.rooms
    )
    return "order_material" if taped else "measure"


def reached(needed_before: str, now: str) -> bool:
    """Whether a decision that must precede one stage is due at another."""
    return STAGES.index(needed_before) <= STAGES.index(now)
