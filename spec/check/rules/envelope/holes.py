"""Holes: each has its place across its wall and its height."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.derive.sheets import kinds
from spec.finding import Level

_WALL = """
rooms:
  hall:
    walls_clockwise:
      WA: {length: 8 ft, holes: {H1: {PLACE, size: 4 in, passes: {cable: 1}}}}
"""
_ACROSS = ("left", "right", "center", "centers")
_UPWARD = ("aff", "bottom", "top", "edge", "extent", "where", "at", "follows")


@rule(
    "envelope.hole-without-height",
    level=Level.ERROR,
    silence=True,
    trades=("framing", "demolition"),
    why="A hole without a height is drilled where the drill is comfortable.",
    each=("wall", "as_found_wall"),
    bad=_WALL.replace("PLACE", "center: 4 ft"),
    good=_WALL.replace("PLACE", "center: 4 ft, aff: 84 in"),
)
def hole_without_height(facts: Facts, wall: Node) -> Iterator[Said]:
    """A hole in a wall says where it is across the wall and not how high."""
    for hole in wall.group("holes"):
        across = any(kinds.says(hole, key) for key in _ACROSS)
        if across and not any(hole.find(key) is not None for key in _UPWARD):
            yield said(
                hole,
                f"{hole.key} says where it is across {wall.key} and not how high (`aff`)",
                "write `aff`, `bottom` or `top`",
                f"{hole.address}.aff",
            )
