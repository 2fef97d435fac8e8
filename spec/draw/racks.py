"""Racks seen from the front, to scale: cells with their bottles, display rows, arches, corners."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import pi, sin

from spec.draw.curves import arch_line
from spec.draw.outline import MM, line, rectangle
from spec.draw.paper import Box
from spec.draw.piece import Front, holds
from spec.draw.scene import Circle, Pen, Point, Polygon, Shape
from spec.job.node import Node

Drawn = Callable[[Front, Pen, bool], Iterator[Shape]]
"""Shapes of a piece with a pen; with the last argument every bottle, else its tiers only."""
_LYING = 2.2
"""In a cell this many diameters wide a bottle lies along the wall and shows its side."""


def _racks(piece: Front, pen: Pen, full: bool) -> Iterator[Shape]:
    x1, _, x2, _ = piece.box
    for tier, low, high in piece.parts:
        columns = piece.count("columns", tier)
        if tier.kind == "display_row" or piece.node.kind == "display_row":
            yield from _display(piece, tier, (x1, low, x2, high), columns, pen, full)
            continue
        yield from _cells(piece, tier, (x1, low, x2, high), columns, pen, full)


def _cells(
    piece: Front, tier: Node, box: Box, columns: int, pen: Pen, full: bool
) -> Iterator[Shape]:
    x1, y1, x2, y2 = box
    rows = piece.count("rows", tier)
    yield from _inner_edges(piece, box, pen)
    if not full or not columns:
        return
    wide = (x2 - x1) / columns
    for column in range(1, columns):
        x = x1 + wide * column
        yield line(pen, (x, y1), (x, y2))
    diameter, long = piece.bottle(tier)
    if not rows or not diameter:
        return
    for y in _row_middles(piece, tier, y1, y2, rows, diameter):
        for column in range(columns):
            x = x1 + wide * (column + 0.5)
            if long and wide > _LYING * diameter:
                yield Polygon(_lying((x, y), min(long, wide * 0.97), diameter), "thin")
            else:
                yield Circle((x, y), min(diameter, wide) / 2, "thin", "light")


def _inner_edges(piece: Front, box: Box, pen: Pen) -> Iterator[Shape]:
    """The bottom and the top of a tier, where they are not those of the piece."""
    x1, y1, x2, y2 = box
    for y in (y1, y2):
        if piece.box[1] + 1 < y < piece.box[3] - 1:
            yield line(pen, (x1, y), (x2, y))


def _row_middles(
    piece: Front, tier: Node, low: float, high: float, rows: int, diameter: float
) -> list[float]:
    """Height of each row's bottles [mm]: from the first row by its pitch, else evenly."""
    pitch = piece.length("pitch", tier)
    first = piece.length("first_row", tier)
    if not pitch:
        pitch = (high - low) / rows
        return [low + pitch * row + diameter / 2 for row in range(rows)]
    start = first if first > low else low + first
    return [y for row in range(rows) if (y := start + pitch * row) < high]


def _lying(at: Point, long: float, diameter: float) -> tuple[Point, ...]:
    """A bottle seen from its side, neck to the right."""
    x, y = at
    r, left = diameter / 2, x - long / 2
    body, neck = left + long * 0.62, left + long * 0.76
    n = diameter * 0.19
    return (
        *((left, y - r), (body, y - r), (neck, y - n), (left + long, y - n)),
        *((left + long, y + n), (neck, y + n), (body, y + r), (left, y + r)),
    )


def _display(
    piece: Front, tier: Node, box: Box, columns: int, pen: Pen, full: bool
) -> Iterator[Shape]:
    """One row of bottles tilted toward the room: bodies below, necks above, foreshortened."""
    x1, y1, x2, y2 = box
    yield from _inner_edges(piece, box, pen)
    diameter, long = piece.bottle(tier)
    if not full or not columns or not diameter or not long:
        return
    wide = (x2 - x1) / columns
    tall = min(long, (y2 - y1) * 0.92)
    for column in range(columns):
        x = x1 + wide * (column + 0.5)
        r, n = min(diameter, wide * 0.96) / 2, diameter * 0.19
        foot, shoulder, neck = y1 + (y2 - y1) * 0.04, y1 + tall * 0.6, y1 + tall * 0.74
        points = (
            *((x - r, foot), (x + r, foot), (x + r, shoulder), (x + n, neck)),
            *((x + n, y1 + tall), (x - n, y1 + tall), (x - n, neck), (x - r, shoulder)),
        )
        yield Polygon(points, "thin", "light")


def _arched(piece: Front, pen: Pen, full: bool) -> Iterator[Shape]:
    node = piece.node
    x1, y1, x2, y2 = piece.box
    middle, half = (x1 + x2) / 2, node.si("span") * MM / 2
    spring, rise = node.si("spring_aff") * MM, node.si("rise") * MM
    curve = arch_line((middle - half, spring), (middle + half, spring), rise)
    yield Polygon(((middle - half, y1), *curve, (middle + half, y1)), pen, "light")
    for tier in piece.tiers.values():
        if abs(tier.bottom * MM - y2) > 1 or not holds(tier.node):
            continue
        over = (x1, y2, x2, tier.top * MM)
        yield Polygon(rectangle(over), "outline" if full else "quiet", "paper")
        yield from _cells(piece, tier.node, over, piece.count("columns", tier.node), pen, full)


def _corner(piece: Front, pen: Pen, full: bool) -> Iterator[Shape]:
    """A curved front seen at an angle: columns close up toward the wall that it turns to."""
    x1, y1, x2, y2 = piece.box
    for tier, low, high in piece.parts:
        yield line(pen, (x1, low), (x2, low))
        yield line(pen, (x1, high), (x2, high))
        columns = piece.count("columns", tier)
        if not full or not columns:
            continue
        start, end = _curve_span(piece)
        for k in range(columns + 1):
            x = start + (end - start) * sin(pi / 2 * k / columns)
            yield line(pen, (x, low), (x, high))
        rows = piece.count("rows", tier)
        for row in range(1, rows):
            y = low + (high - low) * row / rows
            yield line(pen, (start, y), (end, y))
    if full and piece.depth:
        _, end = _curve_span(piece)
        yield line("hidden", (end, y1), (end, y2))


def _curve_span(piece: Front) -> tuple[float, float]:
    """From where the curve leaves this wall's front to where it meets the other's [mm].

    A piece that came round the corner curves from the right to the left.
    """
    x1, _, x2, _ = piece.box
    if piece.turned:
        return x2, min(x1 + piece.depth, x2)
    return x1, max(x2 - piece.depth, x1)


RACKS: dict[str, Drawn] = {
    "racks": _racks,
    "peg_rack": _racks,
    "display_row": _racks,
    "rack_arch": _arched,
    "curved_corner": _corner,
    "blind_corner": _corner,
}
