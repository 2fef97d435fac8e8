"""Pulls: their holes lie in the leaf."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.finding import Level
from spec.quantity import show

_DOOR = """
rooms: {hall: {walls_clockwise: {WA: {openings: {D1: {is: door,
  leaf: {width: 36 in, height: 80 in, gap: {bottom: 3/8 in}},
  pull: {centers: 40 in, lower_hole_aff: LOW, from_edge: 2 in}}}}}}}
"""


@rule(
    "openings.pull-beyond-leaf",
    level=Level.ERROR,
    trades=("doors", "glazing", "metalwork"),
    why="Tempered glass takes no hole afterward, and a leaf of wood shows the one that was wrong.",
    each=("door",),
    bad=_DOOR.replace("LOW", "60 in"),
    good=_DOOR.replace("LOW", "24 in"),
)
def pull_beyond_leaf(facts: Facts, door: Node) -> Iterator[Said]:
    """The upper hole of a pull lies over the top of the leaf."""
    if not all(map(door.given, ("pull.lower_hole_aff", "pull.centers", "leaf.height"))):
        return
    upper = door.si("pull.lower_hole_aff") + door.si("pull.centers")
    bottom = door.si("leaf.gap.bottom") if door.given("leaf.gap.bottom") else 0.0
    top = bottom + door.si("leaf.height")
    if upper >= top:
        system = facts.job.system
        yield said(
            door.at("pull.lower_hole_aff"),
            f"the upper hole of the pull of {door.key} is {show(upper, 'length', system)} over "
            f"the floor, the leaf ends at {show(top, 'length', system)}",
            "lower the pull, or take a shorter one",
            door.at("pull.centers"),
            door.at("leaf.height"),
        )
