"""Marks on paper and the little geometry that keeps them apart.

All lengths are millimeters of paper; x runs right and y up, as in the scene.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, hypot, radians, sin
from typing import Literal

from spec.draw.scene import Fill, Pen, Point
from spec.render import fonts

POINT = 25.4 / 72
SMALLEST = 6 * POINT
"""Smallest letter size on paper: 6 pt."""


@dataclass(frozen=True, slots=True)
class Stroke:
    """An open or closed line."""

    points: tuple[Point, ...]
    pen: Pen
    closed: bool = False
    fill: Fill = "none"


@dataclass(frozen=True, slots=True)
class Disk:
    """A circle."""

    center: Point
    radius: float
    pen: Pen
    fill: Fill


@dataclass(frozen=True, slots=True)
class Words:
    """One line of text; `at` is the middle of its capitals' height at its anchor."""

    at: Point
    text: str
    size: float
    anchor: Literal["start", "middle", "end"]
    angle: float
    strong: bool = False


Mark = Stroke | Disk | Words
Box = tuple[Point, Point, Point, Point]


def times(point: Point, scale: float) -> Point:
    """A point at another scale."""
    return (point[0] * scale, point[1] * scale)


def moved(point: Point, direction: Point, length: float) -> Point:
    """A point a length along a direction of unit length."""
    return (point[0] + direction[0] * length, point[1] + direction[1] * length)


def around(a: Point, b: Point, half: float) -> Box:
    """A rectangle along a line, `half` to each side."""
    length = hypot(b[0] - a[0], b[1] - a[1]) or 1.0
    n = (-(b[1] - a[1]) / length, (b[0] - a[0]) / length)
    return (moved(a, n, half), moved(b, n, half), moved(b, n, -half), moved(a, n, -half))


def box(words: Words) -> Box:
    """Corners of a line of text, with room for accents and descenders."""
    wide = fonts.width(words.text, words.size, "bold" if words.strong else "regular")
    start = {"start": 0.0, "middle": -wide / 2, "end": -wide}[words.anchor]
    along = (cos(radians(words.angle)), sin(radians(words.angle)))
    above = (-along[1], along[0])
    left = moved(words.at, along, start)
    right = moved(left, along, wide)
    half = words.size * 0.45
    return (
        moved(left, above, half),
        moved(right, above, half),
        moved(right, above, -half),
        moved(left, above, -half),
    )


def overlap(one: Box, other: Box) -> bool:
    """Whether two rectangles share area: no side of either parts them."""
    for box in (one, other):
        for (ax, ay), (bx, by) in ((box[0], box[1]), (box[1], box[2])):
            axis = (by - ay, ax - bx)
            mine = [x * axis[0] + y * axis[1] for x, y in one]
            theirs = [x * axis[0] + y * axis[1] for x, y in other]
            if max(mine) <= min(theirs) or max(theirs) <= min(mine):
                return False
    return True
