"""Slides of drawers and rolling shelves: what lies on them against what they carry."""

from __future__ import annotations

from spec.derive.figure import COMMON_PRACTICE, Facts, Worked, figure
from spec.derive.formulas.range import positive
from spec.derive.sheets import counting, kinds
from spec.derive.sheets.bottles import case_holds
from spec.job.job import Job
from spec.job.node import Node, Open


def slide_of(piece: Node) -> Node | None:
    """The leaf that names the slide of a piece's drawers or rolling shelves."""
    for path in ("drawers.slide", "slide"):
        leaf = piece.find(path)
        if leaf is not None and leaf.value is not None:
            return leaf
    return None


def _rated(job: Job, piece: Node) -> Node | None:
    leaf = slide_of(piece)
    product = job.thing(str(leaf.value)) if leaf is not None else None
    return product if product is not None and kinds.says(product, "carries") else None


def _sliding(job: Job) -> list[Node]:
    return [
        piece
        for piece in kinds.pieces(job)
        if counting.stores(piece) and _rated(job, piece) is not None
    ]


@figure(
    "millwork.slide_reserve",
    title="Reserve of the slides, full",
    dimension="percent",
    formula="rating / (bottles on one slide x weight of each x (1 + share of the wood)) - 1",
    source=f"{COMMON_PRACTICE}; share of the wood as for racks, of the house standards",
    holds="one pair of slides for each drawer or shelf",
    per=_sliding,
    trades=("millwork",),
)
def slide_reserve(facts: Facts, piece: Node) -> Worked:
    """How much more a slide of a piece carries than lies on it, as a share."""
    rated = _rated(facts.job, piece)
    if rated is None:
        raise Open(f"{piece.address}.slide")
    count, each = _on_one(facts, piece), counting.bottle_of(facts, piece).si("full")
    own, most = facts.job.limit("rack.own_weight"), rated.si("carries")
    load = positive(count * each * (1.0 + own), "load on a slide", "kg")
    given = (
        ("rating", most, "mass"),
        ("bottles on one slide", count, "number"),
        ("weight of each", each, "mass"),
        ("share of the wood", own, "percent"),
        ("load", load, "mass"),
    )
    return Worked(most / load - 1.0, given=given)


def _on_one(facts: Facts, piece: Node) -> float:
    """Bottles on one slide of a piece."""
    count = counting.bottles(facts, piece)
    if piece.kind == "case_shelf":
        return count / max(piece.count("shelves"), 1)
    drawers = counting.drawer_count(piece)
    return count / drawers if drawers else float(case_holds(facts.job))
