"""Things on a ceiling or a floor, as they are drawn in plan."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from spec.draw.fitting import Fitting
from spec.draw.fittings import goes, luminaire
from spec.draw.outline import MM
from spec.draw.paper import Box, Paper
from spec.draw.scene import Circle, Point, Polygon, Polyline, Shape
from spec.place import OnPlan

_ROUND = ("smoke_alarm", "sensor", "speaker", "sprinkler_head")


def around(points: Iterable[Point]) -> Box:
    """The box around points."""
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def shapes_of(thing: OnPlan, paper: Paper, *, own: bool) -> Iterator[Shape]:
    """A thing at each of its places."""
    for outline in thing.outlines:
        points = tuple((x * MM, y * MM) for x, y in outline)
        it = Fitting(thing.node, around(points), paper, own=own)
        yield from _drawn(it, points)


def _drawn(it: Fitting, points: tuple[Point, ...]) -> Iterator[Shape]:
    node, cites = it.node, it.cites
    x1, y1, x2, y2 = it.box
    middle = ((x1 + x2) / 2, (y1 + y2) / 2)
    if node.heading == "lights":
        yield from _lamp(it, middle, (x2 - x1) / 2)
    elif node.heading == "backing" or (node.heading == "existing" and goes(node)):
        yield Polygon(points, it.hidden, "none", cites)
    elif node.heading == "holes":
        yield Polygon(points, it.fine, "paper", cites)
        yield Polyline((points[0], points[2]), it.fine, cites)
        yield Polyline((points[1], points[3]), it.fine, cites)
    elif node.kind in _ROUND:
        yield Circle(middle, max((x2 - x1) / 2, it.paper.real(1.2)), it.pen, "light", cites)
    elif node.kind == "cover":
        yield Polygon(points, it.pen, "none", cites)
    else:
        yield Polygon(points, it.pen, "mid" if node.heading == "equipment" else "light", cites)


def _lamp(it: Fitting, middle: Point, radius: float) -> Iterator[Shape]:
    """A crossed circle; what hangs wide shows its whole width around a small one."""
    small = it.paper.real(1.4)
    if radius > it.paper.real(5):
        yield Circle(middle, radius, it.fine, "none", it.cites)
        yield from luminaire(middle, max(radius / 6, small), it)
        return
    yield from luminaire(middle, max(radius, small), it)
