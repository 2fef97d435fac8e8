"""A drawing before any file format: shapes and labels in millimeters of the real thing.

x runs right, y runs up. `scale` and pen widths are the renderer's business. Every
shape and label may carry the addresses that it states.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Point = tuple[float, float]
Pen = Literal["outline", "thin", "hidden", "dimension", "cut", "quiet", "quiet_hidden", "axis"]
"""`quiet` and `quiet_hidden` are what is not this reader's; `axis` is a center line."""
Fill = Literal["none", "paper", "light", "mid", "dark", "glass", "held"]


@dataclass(frozen=True, slots=True)
class Polygon:
    """A closed outline; the last point joins the first."""

    points: tuple[Point, ...]
    pen: Pen = "outline"
    fill: Fill = "none"
    cites: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Polyline:
    """An open line through points."""

    points: tuple[Point, ...]
    pen: Pen = "thin"
    cites: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle."""

    center: Point
    radius: float
    pen: Pen = "thin"
    fill: Fill = "none"
    cites: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Label:
    """Text at a point; `height` is the letters' height on paper in millimeters.

    The point is the middle of the letters' height; `angle` turns the text counterclockwise,
    in degrees. A newline starts another line.
    """

    at: Point
    text: str
    height: float = 2.5
    anchor: Literal["start", "middle", "end"] = "middle"
    angle: float = 0.0
    strong: bool = False
    cites: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Dimension:
    """A dimension between two points, its line moved square off by `offset` mm of the real thing.

    A positive offset moves the line to the left of the way from start to end: above, for a
    dimension that runs from left to right. One without a text has it among the labels.
    """

    start: Point
    end: Point
    text: str
    offset: float = 0.0
    cites: frozenset[str] = frozenset()


Shape = Polygon | Polyline | Circle | Label | Dimension


@dataclass(frozen=True, slots=True)
class Scene:
    """A drawing: what is in it, in the order of painting.

    `width_on_paper` is the wish in millimeters; a renderer may make it smaller, never larger.
    """

    shapes: tuple[Shape, ...]
    width_on_paper: float = 170.0

    @property
    def cites(self) -> frozenset[str]:
        """All addresses that the drawing states."""
        return frozenset().union(*(shape.cites for shape in self.shapes))
