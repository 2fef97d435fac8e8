"""Dimensions on paper: lines, witness lines and ticks, and figures set clear of one another."""

from __future__ import annotations

from collections.abc import Iterator
from math import atan2, cos, degrees, hypot, radians, sin

from spec.draw.scene import Dimension, Point
from spec.render import fonts
from spec.render.marks import SMALLEST, Box, Mark, Stroke, Words, around, box, moved, overlap, times

FIGURE_HEIGHT = 2.0
"""Height of capitals in a dimension's text, in millimeters."""
GAP, BEYOND, TICK, CLEAR = 1.0, 1.4, 1.1, 0.7
"""Witness line's gap and overshoot, half a tick, clearance of a figure from its line."""
FROM_RIGHT = 100.0
"""Steepest way of a figure, in degrees; beyond it the figure is turned round. More than a right
angle, so that an upright line which leans a little still reads from the right."""
Leader = tuple[Point, Point] | None


def dimension_line(dimension: Dimension, scale: float) -> tuple[Point, Point]:
    """The ends of the line, moved square off."""
    (ax, ay), (bx, by) = times(dimension.start, scale), times(dimension.end, scale)
    length = hypot(bx - ax, by - ay) or 1.0
    nx, ny = -(by - ay) / length, (bx - ax) / length
    off = dimension.offset * scale
    return (ax + nx * off, ay + ny * off), (bx + nx * off, by + ny * off)


def dimensioned(dimensions: list[Dimension], labels: list[Words], scale: float) -> Iterator[Mark]:
    """Lines and ticks of all dimensions, then their figures, those with room first."""
    taken = [box(label) for label in labels]
    clear_of_leader = list(taken)
    lines = [dimension_line(d, scale) for d in dimensions]
    for dimension, (a, b) in zip(dimensions, lines, strict=True):
        yield Stroke((a, b), "dimension")
        yield from _witnesses(dimension, (a, b), scale)
        taken.append(around(a, b, 0.1))
    texts = [
        _Figure(d.text, a, b, d.offset)
        for d, (a, b) in zip(dimensions, lines, strict=True)
        if d.text
    ]
    for figure in sorted(texts, key=lambda figure: not figure.fits):
        words, leader = figure.placed(taken, clear_of_leader)
        taken.append(box(words))
        clear_of_leader.append(box(words))
        if leader is not None:
            taken.append(around(*leader, 0.1))
            clear_of_leader.append(around(*leader, 0.1))
            yield Stroke(leader, "dimension")
        yield words


def _witnesses(dimension: Dimension, line: tuple[Point, Point], scale: float) -> Iterator[Stroke]:
    (ax, ay), (bx, by) = line
    length = hypot(bx - ax, by - ay) or 1.0
    ux, uy = (bx - ax) / length, (by - ay) / length
    side = 1.0 if dimension.offset >= 0 else -1.0
    off = abs(dimension.offset) * scale
    for end, foot in ((line[0], dimension.start), (line[1], dimension.end)):
        fx, fy = times(foot, scale)
        if off > GAP + BEYOND:
            near = (fx - uy * side * GAP, fy + ux * side * GAP)
            yield Stroke((near, moved(end, (-uy * side, ux * side), BEYOND)), "dimension")
        slash = ((ux - uy) * TICK, (uy + ux) * TICK)
        yield Stroke(
            ((end[0] - slash[0], end[1] - slash[1]), (end[0] + slash[0], end[1] + slash[1])),
            "outline",
        )


class _Figure:
    """The text of one dimension looking for its place."""

    def __init__(self, text: str, a: Point, b: Point, offset: float) -> None:
        self.text, self.a, self.b = text, a, b
        self.middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        self.length = hypot(b[0] - a[0], b[1] - a[1])
        angle = degrees(atan2(b[1] - a[1], b[0] - a[0])) if self.length else 0.0
        turned = angle > FROM_RIGHT or angle <= FROM_RIGHT - 180
        self.angle = angle - 180 * (1 if angle > 0 else -1) if turned else angle
        self.along = (cos(radians(self.angle)), sin(radians(self.angle)))
        self.above = (-self.along[1], self.along[0])
        self.outward = (1 if offset >= 0 else -1) * (-1 if turned else 1)
        full = FIGURE_HEIGHT / fonts.metrics().capital_height
        room = max(self.length - 2 * CLEAR, 0.0)
        wide = fonts.width(text, 1.0) or 1.0
        self.size = max(min(full, room / wide), SMALLEST)
        self.fits = wide * self.size <= room + 1e-9
        if not self.fits:
            self.size = max(full * 0.85, SMALLEST)
        self.wide = wide * self.size
        self.tall = self.size * fonts.metrics().capital_height

    def placed(self, taken: list[Box], clear_of_leader: list[Box]) -> tuple[Words, Leader]:
        """The first place that is clear of everything taken, else the last one tried."""
        words, leader = self._words(self.middle), None
        for words, leader, needed in self._tries():
            if any(overlap(needed, other) for other in taken):
                continue
            if leader is None:
                return words, None
            line = around(*leader, 0.1)
            if not any(overlap(line, other) for other in clear_of_leader):
                return words, leader
        return words, leader

    def _tries(self) -> Iterator[tuple[Words, Leader, Box]]:
        """Text, its leader, and what must be clear: on the line, beyond it, then away from it."""
        step = CLEAR + self.tall / 2
        if self.fits:
            for side in (1, -1):
                words = self._words(moved(self.middle, self.above, side * step))
                yield words, None, box(words)
        else:
            for end, way in ((self.b, self._way(self.b)), (self.a, self._way(self.a))):
                beyond = moved(end, self.along, way * (self.wide / 2 + 1.5 * TICK))
                words = self._words(moved(beyond, self.above, step))
                foot = self._words(moved(beyond, self.above, 0.0))
                yield words, None, (*box(words)[:2], *box(foot)[2:])
        for row in range(1, 9):
            for slide in (0.0, 0.6, -0.6, 1.2, -1.2):
                away = self.outward * (step + row * (self.tall + 1.0))
                at = moved(moved(self.middle, self.above, away), self.along, slide * self.wide)
                words = self._words(at)
                foot_of_text = moved(at, self.above, -self.outward * (self.tall / 2 + 0.4))
                yield words, (self.middle, foot_of_text), box(words)

    def _way(self, end: Point) -> float:
        other = self.a if end == self.b else self.b
        dot = (end[0] - other[0]) * self.along[0] + (end[1] - other[1]) * self.along[1]
        return 1.0 if dot >= 0 else -1.0

    def _words(self, at: Point) -> Words:
        return Words(at, self.text, self.size, "middle", self.angle)
