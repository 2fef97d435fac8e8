"""The fronts of all pieces of runs, each drawn by its kind."""

from __future__ import annotations

from collections.abc import Iterator

from spec.draw.cabinets import CABINETS
from spec.draw.piece import Front
from spec.draw.racks import RACKS
from spec.draw.scene import Circle, Pen, Polygon, Polyline, Shape
from spec.job.node import Open


def front(piece: Front, *, full: bool) -> Iterator[Shape]:
    """What is drawn within the outline of a piece; with `full` every bottle, door and drawer.

    A fact that is not decided leaves its lines out.
    """
    draw = (RACKS | CABINETS).get(piece.node.kind)
    if draw is None:
        return
    cites = frozenset({piece.node.address})
    pen: Pen = "thin" if full else "quiet"
    try:
        for shape in draw(piece, pen, full):
            yield _citing(shape, cites)
    except Open:
        return


def _citing(shape: Shape, cites: frozenset[str]) -> Shape:
    match shape:
        case Polygon():
            return Polygon(shape.points, shape.pen, shape.fill, cites)
        case Polyline():
            return Polyline(shape.points, shape.pen, cites)
        case Circle():
            return Circle(shape.center, shape.radius, shape.pen, shape.fill, cites)
    return shape
