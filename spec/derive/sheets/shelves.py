"""Shelves: how far they sag, and how long they may be."""

from __future__ import annotations

from typing import NamedTuple

from spec.derive.figure import Facts, Worked, figure
from spec.derive.formulas import shelves, weights, wood
from spec.derive.formulas.constants import GRAVITY
from spec.derive.sheets import kinds
from spec.derive.sheets.dividing import over
from spec.derive.sheets.kinds import stack_of_piece
from spec.job.job import Job
from spec.job.node import Node, Open

_SIDE = 0.019
"""[m] Side of a cabinet, 3/4 in. Common practice."""
_WOOD = "E of the Wood Handbook FPL-GTR-282 table 5-3; creep 1.5 common practice"
_CLEAR = (
    "clear between the sides, 3/4 in (19 mm) each; spans of five thicknesses to 10 m; evenly "
    "loaded; solid wood"
)


def _shelved(job: Job) -> list[Node]:
    return [
        p
        for p in kinds.pieces(job)
        if kinds.says(p, "shelves.thickness") and stack_of_piece(job, p) is not None
    ]


class _Shelf(NamedTuple):
    """A shelf: clear span, depth, thickness [m], E [Pa], load and own weight by area [Pa]."""

    span: float
    depth: float
    thickness: float
    stiffness: float
    load: float
    own: float

    @property
    def pressure(self) -> float:
        """Load and own weight together [Pa]."""
        return self.load + self.own


def _shelf(facts: Facts, piece: Node) -> _Shelf:
    placed, stack = facts.places.piece(piece), stack_of_piece(facts.job, piece)
    if placed is None or stack is None or placed.depth is None:
        raise Open(f"{piece.address}.depth")
    species = wood.species(piece.word("shelves.material", "") or stack.word("species"))
    load = (
        piece.si("shelves.load")
        if kinds.says(piece, "shelves.load")
        else facts.job.limit("shelf.load")
    )
    thick = piece.si("shelves.thickness")
    own = weights.wood_density(species.gravity) * thick * GRAVITY
    return _Shelf(_span(facts, piece), placed.depth, thick, species.stiffness, load, own)


def _span(facts: Facts, piece: Node) -> float:
    placed = facts.places.piece(piece)
    if placed is None:
        raise Open(f"{piece.address}.width")
    return placed.width - 2.0 * _SIDE


@figure(
    "millwork.shelf_sag",
    title="Sag of the shelf after years",
    dimension="length",
    formula="1.5 x 5 w L^4 / (384 E I); w the load and own weight by length, I = b t^3 / 12",
    source=f"beam on two supports; {_WOOD}",
    holds=_CLEAR,
    per=_shelved,
    trades=("millwork",),
)
def shelf_sag(facts: Facts, piece: Node) -> Worked:
    """Sag in the middle of a piece's shelves."""
    it = _shelf(facts, piece)
    along = it.pressure * it.depth
    once = shelves.sag(it.span, it.depth, it.thickness, it.stiffness, along)
    return Worked(
        once * shelves.CREEP,
        given=(
            ("L", it.span, "length"),
            ("w", along, "N/m"),
            ("I", it.depth * it.thickness**3 / 12.0, "m⁴"),
            ("load", it.load, "area_load"),
            ("own weight", it.own, "area_load"),
            ("E", it.stiffness, "pressure"),
        ),
    )


@figure(
    "millwork.shelf_sag_most",
    title="Sag that is allowed",
    dimension="length",
    formula="L s; L the clear span, s the sag by length that the house allows",
    source="house standards; the eye notices L/600, the woodwork industry allows L/144 "
    "(Architectural Woodwork Standards, 2009)",
    per=_shelved,
    ranged=True,
)
def shelf_sag_most(facts: Facts, piece: Node) -> Worked:
    """Allowed sag of a piece's shelves."""
    span, allowed = _span(facts, piece), facts.job.limit("shelf.sag")
    return Worked(span * allowed, given=(("L", span, "length"), ("s", allowed, "number")))


@figure(
    "millwork.shelf_span_most",
    title="Longest span that such a shelf may have",
    dimension="length",
    formula="t (384 E s / (60 x 1.5 p))^(1/3); p load and own weight by area, s the sag by length "
    "that the house allows",
    source=f"the sag, solved for the span; {_WOOD}",
    holds=_CLEAR,
    per=_shelved,
    trades=("millwork",),
    ranged=True,
)
def shelf_span_most(facts: Facts, piece: Node) -> Worked:
    """How far a shelf of this wood and thickness may reach under its load."""
    it, allowed = _shelf(facts, piece), facts.job.limit("shelf.sag")
    limit = over(1.0, allowed, "sag of a shelf", "")
    most = shelves.longest_span(it.thickness, it.stiffness, it.pressure, limit, shelves.CREEP)
    given = (
        ("t", it.thickness, "length"),
        ("E", it.stiffness, "pressure"),
        ("s", allowed, "number"),
        ("p", it.pressure, "area_load"),
    )
    return Worked(most, given=given)
