"""Plane geometry of rooms: rectangles on walls, lines and corners in plan. Meters throughout."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

Point = tuple[float, float]
CLOSE = 1e-6
"""Two edges nearer than this [m] touch."""


class Rect(NamedTuple):
    """A rectangle on a wall's elevation: from the left corner, up from the finished floor [m]."""

    left: float
    bottom: float
    width: float
    height: float

    @property
    def right(self) -> float:
        """Its right edge from the wall's left corner [m]."""
        return self.left + self.width

    @property
    def top(self) -> float:
        """Its top edge above the finished floor [m]."""
        return self.bottom + self.height

    @property
    def center(self) -> float:
        """Its middle from the wall's left corner [m]."""
        return self.left + self.width / 2

    @property
    def middle(self) -> float:
        """Its middle above the finished floor [m]."""
        return self.bottom + self.height / 2

    def beside(self, other: Rect, same: float = 0.005) -> bool:
        """Neither holds the other: they are moved against each other, across or upward.

        Edges on one side that lie within `same` [m] are meant to be one.
        """
        moved = (
            (self.left - other.left, self.right - other.right),
            (self.bottom - other.bottom, self.top - other.top),
        )
        return any(min(both) > same or max(both) < -same for both in moved)

    @property
    def area(self) -> float:
        """Its area [m²]."""
        return self.width * self.height

    def overlap(self, other: Rect) -> tuple[float, float]:
        """Width and height of what two rectangles share [m]; a negative one is the gap between."""
        wide = min(self.right, other.right) - max(self.left, other.left)
        high = min(self.top, other.top) - max(self.bottom, other.bottom)
        return wide, high

    def meets(self, other: Rect, slack: float = CLOSE) -> bool:
        """Whether they share more than an edge."""
        wide, high = self.overlap(other)
        return wide > slack and high > slack


class Line(NamedTuple):
    """A line in plan through a point along a unit direction."""

    through: Point
    along: Point

    def moved(self, inward: float) -> Line:
        """The same line moved to the right of its direction [m]: into a room walked clockwise."""
        x, y = self.through
        dx, dy = self.along
        return Line((x + dy * inward, y - dx * inward), self.along)

    def meets(self, other: Line) -> Point | None:
        """Where two lines cross; None where they run parallel."""
        (x1, y1), (dx1, dy1) = self.through, self.along
        (x2, y2), (dx2, dy2) = other.through, other.along
        cross = dx1 * dy2 - dy1 * dx2
        if abs(cross) < 1e-9:
            return None
        t = ((x2 - x1) * dy2 - (y2 - y1) * dx2) / cross
        return (x1 + t * dx1, y1 + t * dy1)

    def distance(self, point: Point) -> float:
        """How far a point lies to the right of the line [m]."""
        (x, y), (dx, dy) = self.through, self.along
        return (point[0] - x) * dy - (point[1] - y) * dx


def line_between(start: Point, end: Point) -> Line:
    """The line from one point to another; raises ValueError where they coincide."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = math.hypot(dx, dy)
    if length < CLOSE:
        raise ValueError("two corners coincide")
    return Line(start, (dx / length, dy / length))


def edges(corners: Sequence[Point]) -> list[Line]:
    """The lines of a closed polygon, from each corner to the next."""
    return [
        line_between(corner, corners[(i + 1) % len(corners)]) for i, corner in enumerate(corners)
    ]


def corners_of(lines: Sequence[Line]) -> list[Point]:
    """The corners in which consecutive lines meet: corner i is where line i starts.

    Raises ValueError where two neighbors run parallel without being one line.
    """
    found: list[Point] = []
    for i, line in enumerate(lines):
        before = lines[i - 1]
        point = before.meets(line)
        if point is None:
            if abs(before.distance(line.through)) > 1e-3:
                raise ValueError("two neighboring walls run parallel")
            point = line.through
        found.append(point)
    return found


def area_of(corners: Sequence[Point]) -> float:
    """Area of a simple polygon [m²], by the shoelace formula; positive either way round."""
    total = 0.0
    for i, (x, y) in enumerate(corners):
        x2, y2 = corners[(i + 1) % len(corners)]
        total += x * y2 - x2 * y
    return abs(total) / 2


def within(corners: Sequence[Point], point: Point) -> bool:
    """Whether a point lies within a simple polygon, by the crossings of a line out to one side."""
    x, y = point
    crossings = 0
    for i, (x1, y1) in enumerate(corners):
        x2, y2 = corners[(i + 1) % len(corners)]
        if (y1 > y) != (y2 > y) and x < x1 + (y - y1) / (y2 - y1) * (x2 - x1):
            crossings += 1
    return crossings % 2 == 1


Bounds = tuple[float, float, float, float]
"""The least x and y and the greatest x and y of an outline [m]."""


def bounds_of(outline: Sequence[Point]) -> Bounds:
    """The bounds of an outline."""
    xs, ys = zip(*outline, strict=True)
    return (min(xs), min(ys), max(xs), max(ys))


def bounds_apart(one: Bounds, other: Bounds) -> float:
    """No more than the distance between what is in two bounds [m]; negative where they share."""
    return max(one[0] - other[2], other[0] - one[2], one[1] - other[3], other[1] - one[3])


def distance(a: Point, b: Point) -> float:
    """Between two points [m]."""
    return math.hypot(b[0] - a[0], b[1] - a[1])
