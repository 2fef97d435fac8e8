"""The underside of a room: flat, or with slopes that rise from walls. Meters throughout."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from spec.place.shapes import Line, Point, area_of


class Slope(NamedTuple):
    """A sloped part: `low` [m] above the floor along a line, rising `rise` [m/m] square off it."""

    line: Line
    low: float
    rise: float

    def height(self, point: Point) -> float:
        """Height of the slope above the finished floor at a point in plan [m]."""
        return self.low + self.rise * self.line.distance(point)


class Ceiling(NamedTuple):
    """A flat ceiling at `flat` [m] above the finished floor, cut by slopes that do not overlap."""

    flat: float
    slopes: tuple[Slope, ...] = ()

    def height(self, point: Point) -> float:
        """Clear height at a point in plan [m]."""
        return min([self.flat, *(slope.height(point) for slope in self.slopes)])

    def profile(self, start: Point, end: Point) -> tuple[tuple[float, float], ...]:
        """Height along a wall: pairs of (distance from its left corner, height) [m]."""
        length = ((end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2) ** 0.5
        stops = {0.0, length}
        for slope in self.slopes:
            first, last = slope.height(start) - self.flat, slope.height(end) - self.flat
            if first * last < 0:
                stops.add(length * first / (first - last))
        return tuple((s, self.height(_along(start, end, s / length))) for s in sorted(stops))

    def volume(self, corners: Sequence[Point]) -> float:
        """Volume under the ceiling over a floor [m³]."""
        total = self.flat * area_of(corners)
        for slope in self.slopes:
            below = _clipped(corners, slope, self.flat)
            if len(below) >= 3:
                total -= area_of(below) * (self.flat - slope.height(_centroid(below)))
        return total


def _along(start: Point, end: Point, share: float) -> Point:
    return (start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share)


def _clipped(corners: Sequence[Point], slope: Slope, flat: float) -> list[Point]:
    """The part of a floor over which a slope is lower than the flat ceiling."""
    kept: list[Point] = []
    for i, point in enumerate(corners):
        following = corners[(i + 1) % len(corners)]
        here, there = slope.height(point) - flat, slope.height(following) - flat
        if here <= 0:  # a corner at which the slope just reaches the flat part bounds it too
            kept.append(point)
        if here * there < 0:
            kept.append(_along(point, following, here / (here - there)))
    return kept


def _centroid(corners: Sequence[Point]) -> Point:
    cx = cy = twice = 0.0
    for i, (x, y) in enumerate(corners):
        x2, y2 = corners[(i + 1) % len(corners)]
        cross = x * y2 - x2 * y
        twice += cross
        cx += (x + x2) * cross
        cy += (y + y2) * cross
    return (cx / (3 * twice), cy / (3 * twice))
