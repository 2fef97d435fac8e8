"""A scene laid out on paper at the largest scale that its wish and the paper allow."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import cos, radians, sin

from spec.draw.scene import Circle, Dimension, Label, Point, Polygon, Polyline, Scene
from spec.render import fonts
from spec.render.dimensions import dimension_line, dimensioned
from spec.render.marks import SMALLEST, Disk, Mark, Stroke, Words, box, times

LEADING = 1.25
MARGIN = 1.0
"""White around the drawing, in millimeters."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """The drawing on paper: `low` and `high` are its corners, `scale` paper per real length."""

    marks: tuple[Mark, ...]
    low: Point
    high: Point
    scale: float

    @property
    def width(self) -> float:
        """Width in millimeters."""
        return self.high[0] - self.low[0]

    @property
    def height(self) -> float:
        """Height in millimeters."""
        return self.high[1] - self.low[1]


def lay_out(scene: Scene, widest: float = 170.0, highest: float = 195.0) -> Sheet:
    """The scene as large as its wish and the room on paper allow; text keeps its size."""
    widest = min(widest, scene.width_on_paper)
    low, high = _extent(scene)
    across, up = high[0] - low[0], high[1] - low[1]
    scale = min(
        (room / length for room, length in ((widest, across), (highest, up)) if length > 0),
        default=1.0,
    )
    sheet = _at_scale(scene, scale)
    for _ in range(60):
        over = max(sheet.width - widest, sheet.height - highest)
        if over <= 0:
            break
        fit = [
            (room - (whole - scale * length)) / length
            for room, whole, length in (
                (widest, sheet.width, across),
                (highest, sheet.height, up),
            )
            if length > 0
        ]
        scale = min(max(min(fit, default=scale), scale * 0.7), scale * 0.995)
        sheet = _at_scale(scene, scale)
    return sheet


def _extent(scene: Scene) -> tuple[Point, Point]:
    """Corners of everything in the scene that grows with the scale."""
    points = [point for shape in scene.shapes for point in _real_points(shape)]
    if not points:
        return (0.0, 0.0), (0.0, 0.0)
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return (min(xs), min(ys)), (max(xs), max(ys))


def _real_points(shape: object) -> Iterable[Point]:
    match shape:
        case Polygon(points=points) | Polyline(points=points):
            return points
        case Circle(center=(x, y), radius=r):
            return ((x - r, y - r), (x + r, y + r))
        case Label(at=at):
            return (at,)
        case Dimension():
            return (shape.start, shape.end, *dimension_line(shape, 1.0))
    return ()


def _at_scale(scene: Scene, scale: float) -> Sheet:
    marks: list[Mark] = []
    dimensions: list[Dimension] = []
    for shape in scene.shapes:
        match shape:
            case Polygon():
                points = tuple(times(p, scale) for p in shape.points)
                marks.append(Stroke(points, shape.pen, True, shape.fill))
            case Polyline():
                marks.append(Stroke(tuple(times(p, scale) for p in shape.points), shape.pen))
            case Circle():
                center = times(shape.center, scale)
                marks.append(Disk(center, shape.radius * scale, shape.pen, shape.fill))
            case Label():
                marks.extend(_label(shape, scale))
            case Dimension():
                dimensions.append(shape)
    marks.extend(dimensioned(dimensions, [m for m in marks if isinstance(m, Words)], scale))
    corners = [corner for mark in marks for corner in _corners(mark)] or [(0.0, 0.0)]
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return Sheet(
        tuple(marks),
        (min(xs) - MARGIN, min(ys) - MARGIN),
        (max(xs) + MARGIN, max(ys) + MARGIN),
        scale,
    )


def _corners(mark: Mark) -> Iterable[Point]:
    match mark:
        case Stroke():
            return mark.points
        case Disk(center=(x, y), radius=r):
            return ((x - r, y - r), (x + r, y + r))
        case Words():
            return box(mark)


def _label(label: Label, scale: float) -> Iterator[Words]:
    """One mark for each line of the label, the block of lines centered on its point."""
    size = max(label.height / fonts.metrics().capital_height, SMALLEST)
    lines = label.text.split("\n")
    x, y = times(label.at, scale)
    down = (sin(radians(label.angle)), -cos(radians(label.angle)))
    for index, line in enumerate(lines):
        step = size * LEADING * (index - (len(lines) - 1) / 2)
        at = (x + down[0] * step, y + down[1] * step)
        yield Words(at, line, size, label.anchor, label.angle, label.strong)
