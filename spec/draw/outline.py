"""The few shapes from which everything on a wall is drawn."""

from __future__ import annotations

from collections.abc import Iterator

from spec.draw.paper import Box
from spec.draw.scene import Pen, Point, Polygon, Polyline, Shape

MM = 1000.0
"""Millimeters in a meter: places are in meters, scenes in millimeters."""


def rectangle(box: Box) -> tuple[Point, ...]:
    """The corners of a box."""
    x1, y1, x2, y2 = box
    return (x1, y1), (x2, y1), (x2, y2), (x1, y2)


def line(pen: Pen, *points: Point) -> Polyline:
    """An open line through points."""
    return Polyline(points, pen)


def leaf_front(box: Box, hinges: str, pen: Pen) -> Iterator[Shape]:
    """A leaf: its outline, and dashed lines that meet on its hinge side."""
    x1, y1, x2, y2 = box
    at, far = (x1, x2) if hinges == "left" else (x2, x1)
    hidden: Pen = "quiet_hidden" if pen == "quiet" else "hidden"
    yield Polygon(rectangle(box), pen)
    yield Polyline(((far, y2), (at, (y1 + y2) / 2), (far, y1)), hidden)


def hatched(box: Box, step: float, pen: Pen, cites: frozenset[str]) -> Iterator[Shape]:
    """Lines at 45 degrees across a box."""
    x1, y1, x2, y2 = box
    high = y2 - y1
    k = step / 2
    while k < (x2 - x1) + high:
        start: Point = (x1 + k, y1) if x1 + k <= x2 else (x2, y1 + k - (x2 - x1))
        end: Point = (x1 + k - high, y2) if k >= high else (x1, y1 + k)
        yield Polyline((start, end), pen, cites)
        k += step
