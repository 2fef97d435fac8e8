"""Ladders: length, foot, room over a deep base, and the highest row of bottles."""

from __future__ import annotations

from spec.derive.figure import Facts, Given, Part, Worked, figure
from spec.derive.formulas import ladder
from spec.derive.formulas.constants import GRAVITY
from spec.derive.sheets import counting, kinds
from spec.derive.sheets.dividing import over
from spec.derive.sheets.kinds import stack_of_piece
from spec.job.node import Node, Open
from spec.place.runs import Piece

_RULE = "29 CFR 1926.1053(b)(5)(i): the foot at a quarter of the working length; geometry"
_LEANS = "rails up to 6 m (20 ft) up, 2 to 10 of length to one out"


def _slope(facts: Facts, thing: Node) -> float:
    return thing.si("angle") if kinds.says(thing, "angle") else facts.job.limit("ladder.angle")


def _lean(facts: Facts, thing: Node) -> ladder.Lean:
    return ladder.lean(thing.si("rail_aff"), _slope(facts, thing))


def _put_in(facts: Facts, thing: Node) -> Given:
    slope = _slope(facts, thing)
    return ("rail height", thing.si("rail_aff"), "length"), ("slope", slope, "number")


_LADDERS = kinds.of_kind("ladder", having="rail_aff")


@figure(
    "millwork.ladder_length",
    title="Length of the ladder to its rail",
    dimension="length",
    formula="rail height / sqrt(1 - 1 / slope^2)",
    source=_RULE,
    holds=_LEANS,
    per=_LADDERS,
    trades=("millwork",),
)
def ladder_length(facts: Facts, thing: Node) -> Worked:
    """Length along the stiles from the floor to the rail."""
    found = _lean(facts, thing)
    return Worked(found.length, given=(*_put_in(facts, thing), ("angle", found.angle, "angle")))


@figure(
    "millwork.ladder_foot",
    title="Foot of the ladder out from its rail",
    dimension="length",
    formula="rail height / sqrt(slope^2 - 1)",
    source=_RULE,
    holds=_LEANS,
    per=_LADDERS,
    trades=("millwork", "flooring"),
)
def ladder_foot(facts: Facts, thing: Node) -> Worked:
    """How far the foot stands out from under the rail."""
    return Worked(_lean(facts, thing).foot_out, given=_put_in(facts, thing))


@figure(
    "millwork.ladder_push",
    title="Push of the loaded ladder on its rail, as a weight",
    dimension="mass",
    formula="load x foot out / rail height",
    source="moment about the foot; level, at the rail, where its backing has to take it",
    holds="the load as high as the rail, its worst place; the ladder's own weight apart",
    per=lambda job: [t for t in _LADDERS(job) if kinds.says(t, "load")],
    trades=("millwork", "framing"),
)
def ladder_push(facts: Facts, thing: Node) -> Worked:
    """What the rail and its backing are pushed at by whoever stands at the top."""
    load, rail, out = thing.si("load"), thing.si("rail_aff"), _lean(facts, thing).foot_out
    given = ("load", load, "mass"), ("foot out", out, "length"), ("rail height", rail, "length")
    return Worked(ladder.push_on_rail(load, out, rail) / GRAVITY, given=given)


@figure(
    "millwork.ladder_clear",
    title="Room between the ladder and the deep base",
    dimension="offset",
    formula="stand-off + foot out x (1 - top height / rail height) - step out; the least of each "
    "tier that is deeper",
    source="geometry; below 0 they collide",
    per=lambda job: [t for t in _LADDERS(job) if kinds.says(t, "along")],
    trades=("millwork",),
)
def ladder_clear(facts: Facts, thing: Node) -> Worked:
    """Least level distance between the ladder's stiles and what is deeper than the uppers."""
    upper = _along(facts, thing)
    if upper.depth is None:
        raise Open(f"{upper.node.address}.depth")
    stack = stack_of_piece(facts.job, upper.node)
    if stack is None:
        raise Open(f"{thing.address}.along")
    found, rail, stand_off = _lean(facts, thing), thing.si("rail_aff"), thing.si("stand_off")
    parts = []
    for tier in kinds.tiers_of(stack):
        level = facts.places.tier_at(upper.node, tier.key)
        if level is None or level.depth is None or level.depth <= upper.depth or level.top > rail:
            continue
        step = level.depth - upper.depth
        free = ladder.clear_over_top(found.foot_out, rail, stand_off, step, level.top)
        here: Given = ("top height", level.top, "length"), ("step out", step, "length")
        parts.append(Part(tier.key, free, tier.address, here))
    if not parts:
        return Worked(stand_off, remark="nothing under it is deeper than the uppers")
    given = (
        ("stand-off", stand_off, "length"),
        ("foot out", found.foot_out, "length"),
        ("rail height", rail, "length"),
    )
    return Worked(min(p.value for p in parts), tuple(parts), given)


def _along(facts: Facts, thing: Node) -> Piece:
    for name in thing.words("along"):
        other = facts.job.thing(name)
        piece = facts.places.piece(other) if other is not None else None
        if piece is not None:
            return piece
    raise Open(f"{thing.address}.along")


@figure(
    "millwork.highest_row",
    title="Middle of the highest row",
    dimension="length",
    formula="top of the highest course - height of one row / 2 | first row + (rows - 1) x "
    "spacing; on pegs",
    source="geometry",
    per=lambda job: [
        p
        for p in counting.storing(job)
        if p.kind in ("racks", "peg_rack", "rack_arch") and kinds.says(p, "columns")
    ],
)
def highest_row(facts: Facts, piece: Node) -> Worked:
    """Height of the highest row of bottles above the floor."""
    highest = 0.0
    for course in counting.courses(facts, piece):
        tier = facts.places.tier_at(piece, course.tier.key)
        if tier is None:
            continue
        row = tier.top - over(tier.height, course.rows, "count of rows") / 2.0
        if kinds.says(piece, "first_row") and kinds.says(piece, "pitch"):
            row = piece.si("first_row") + (course.rows - 1) * piece.si("pitch")
        highest = max(highest, row)
    return Worked(highest)
