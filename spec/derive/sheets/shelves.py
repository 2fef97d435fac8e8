"""Shelves that sag and tops that move with the moisture of the air."""

from __future__ import annotations

from spec.derive.figure import Facts, Worked, figure
from spec.derive.formulas import shelves, weights, wood
from spec.derive.formulas.constants import GRAVITY
from spec.derive.sheets import kinds
from spec.derive.sheets.kinds import stack_of_piece, stack_of_tier
from spec.derive.sheets.surroundings import weather
from spec.job.job import Job
from spec.job.node import Node, Open
from spec.quantity import Range

_SIDE = 0.019
"""[m] Side of a cabinet, 3/4 in. Common practice."""


def _shelved(job: Job) -> list[Node]:
    return [
        p
        for p in kinds.pieces(job)
        if kinds.says(p, "shelves.thickness") and stack_of_piece(job, p) is not None
    ]


@figure(
    "millwork.shelf_sag",
    title="Sag of the shelf after years",
    dimension="length",
    formula="1.5 x 5 w L^4 / (384 E I); w the load and own weight by length in N/m, I in m⁴",
    source="beam on two supports; E of the Wood Handbook FPL-GTR-282 table 5-3; creep 1.5 common "
    "practice",
    holds="clear between the sides, 3/4 in (19 mm) each; evenly loaded; solid wood",
    per=_shelved,
    trades=("millwork",),
)
def shelf_sag(facts: Facts, piece: Node) -> Worked:
    """Sag in the middle of a piece's shelves."""
    placed, stack = facts.places.piece(piece), stack_of_piece(facts.job, piece)
    if placed is None or stack is None or placed.depth is None:
        raise Open(f"{piece.address}.depth")
    species = piece.word("shelves.material", "") or stack.word("species")
    stiffness = wood.species(species).stiffness
    load = (
        piece.si("shelves.load")
        if kinds.says(piece, "shelves.load")
        else facts.job.limit("shelf.load")
    )
    span = placed.width - 2.0 * _SIDE
    thick = piece.si("shelves.thickness")
    density = weights.wood_density(wood.species(species).gravity)
    own = density * thick * GRAVITY
    once = shelves.sag(span, placed.depth, thick, stiffness, (load + own) * placed.depth)
    return Worked(
        once * shelves.CREEP,
        given=(
            ("L", span, "length"),
            ("w", (load + own) * placed.depth, "number"),
            ("I", placed.depth * thick**3 / 12.0, "number"),
            ("load", load, "area_load"),
            ("own weight", own, "area_load"),
            ("E", stiffness, "pressure"),
        ),
    )


@figure(
    "millwork.shelf_sag_most",
    title="Sag that is allowed",
    dimension="length",
    formula="span x sag by length of the house standards",
    source="house standards",
    per=_shelved,
)
def shelf_sag_most(facts: Facts, piece: Node) -> float:
    """Allowed sag of a piece's shelves."""
    placed = facts.places.piece(piece)
    if placed is None:
        raise Open(f"{piece.address}.width")
    return (placed.width - 2.0 * _SIDE) * facts.job.limit("shelf.sag")


def _wooden_tops(job: Job) -> list[Node]:
    found = []
    for stack in job.things("stack"):
        for tier in kinds.tiers_of(stack):
            material = tier.find("material")
            if tier.kind == "top" and material is not None and material.value in wood.SPECIES:
                found.append(tier)
    return found


@figure(
    "millwork.movement",
    title="Movement of the top across its grain",
    dimension="length",
    formula="depth x C x (moisture it settles at - moisture on arrival)",
    source="Wood Handbook FPL-GTR-282 ch. 13, eq. 4-5 for the moisture; flat-sawn",
    holds="6 to 14 % of moisture",
    per=_wooden_tops,
    trades=("millwork",),
)
def movement(facts: Facts, tier: Node) -> Worked:
    """How much wider or narrower a wooden top becomes in its room."""
    room, stack = facts.job.thing(tier.room), stack_of_tier(tier)
    if room is None or stack is None:
        raise Open(tier.address)
    arrives = _moisture(facts, stack)
    air = weather(facts, room, "summer")
    settles = wood.equilibrium_moisture(air.temperature, air.damp(f"{room.address}.climate"))
    name = tier.word("material")
    moved = {
        start: wood.movement(tier.si("depth"), name, "tangential", start, settles)
        for start in arrives
    }
    start, worst = max(moved.items(), key=lambda pair: abs(pair[1]))
    return Worked(
        abs(worst),
        given=(
            ("depth", tier.si("depth"), "length"),
            ("C", wood.species(name).tangential * 100.0, "number"),
            ("moisture on arrival", start / 100.0, "percent"),
            ("moisture it settles at", settles / 100.0, "percent"),
        ),
        remark="it swells" if worst > 0.0 else "it shrinks",
    )


def _moisture(facts: Facts, stack: Node) -> tuple[float, float]:
    """Moisture of the wood on arrival [%], from and to."""
    if kinds.says(stack, "moisture"):
        value = stack.quantity("moisture")
        if isinstance(value, Range):
            return value.low.si * 100.0, value.high.si * 100.0
    low, high = facts.job.limits("wood.moisture")
    return low * 100.0, high * 100.0
