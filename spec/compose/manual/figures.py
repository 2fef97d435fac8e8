"""The manual's entries for figures: what follows from a job, and how."""

from __future__ import annotations

import inspect
from functools import cache

from spec.compose.formula import spoken
from spec.compose.manual.entry import Entry, listed, paragraphs, plain
from spec.derive.figure import Definition, definitions
from spec.derive.notation import NotationError, cases
from spec.job.trades import OWN
from spec.quantity.dimensions import DIMENSIONS

_WITHOUT_UNIT = {"number": "a number without a unit", "day": "a day"}


@cache
def figures() -> dict[str, Entry]:
    """An entry for every figure that the sheets declare."""
    return {name: _entry(made) for name, made in definitions().items()}


def _entry(made: Definition) -> Entry:
    formulas = cases(made.formula)
    return Entry(
        "figure",
        made.name,
        made.title,
        made.subject,
        "Figures",
        paragraphs(inspect.getdoc(made.work) or ""),
        (
            ("Unit", _unit(made.dimension)),
            *(("Spoken", said) for said in map(_said, formulas) if said),
            ("Source", made.source),
            ("Holds for", made.holds or "no limits are stated"),
            ("Stated to", listed(tuple(map(_trade, made.trades))) or "the engineer only"),
            ("Address", f"{made.name}@ and the address of the thing"),
        ),
        formulas=formulas,
    )


def _trade(trade: str) -> str:
    return "the trade that the thing belongs to" if trade == OWN else plain(trade)


def _said(case: str) -> str:
    try:
        return spoken(case)
    except NotationError:
        return ""


def _unit(dimension: str) -> str:
    if dimension in _WITHOUT_UNIT:
        return _WITHOUT_UNIT[dimension]
    about = DIMENSIONS[dimension]
    return about.title + ("" if about.si == "1" else f", in {about.si}; printed in the job's units")
