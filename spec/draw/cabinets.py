"""Bins, shelves and cabinets seen from the front: boards, doors with their swing, drawers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from spec.draw.outline import MM, leaf_front, line, rectangle
from spec.draw.piece import Front
from spec.draw.racks import Drawn
from spec.draw.scene import Pen, Polygon, Shape
from spec.job.node import Node
from spec.quantity import Quantity, Series


def _diamonds(piece: Front, pen: Pen, full: bool) -> Iterator[Shape]:
    x1, y1, x2, y2 = piece.box
    bins = max(piece.count("bins"), 1)
    columns = max(round((bins * (x2 - x1) / (y2 - y1)) ** 0.5), 1)
    rows = -(-bins // columns)
    if not full:
        return
    wide, high = (x2 - x1) / columns, (y2 - y1) / rows
    for k in range(bins):
        x, y = x1 + wide * (k % columns + 0.5), y1 + high * (k // columns + 0.5)
        points = ((x - wide / 2, y), (x, y - high / 2), (x + wide / 2, y), (x, y + high / 2))
        yield Polygon(points, pen)


def _crosses(piece: Front, pen: Pen, full: bool) -> Iterator[Shape]:
    x1, y1, x2, y2 = piece.box
    crosses = max(round(piece.count("bins") / 4), 1)
    if not full:
        return
    high = (y2 - y1) / crosses
    for k in range(crosses):
        low = y1 + high * k
        yield line(pen, (x1, low), (x2, low + high))
        yield line(pen, (x1, low + high), (x2, low))
        if k:
            yield line(pen, (x1, low), (x2, low))


def _shelves(piece: Front, pen: Pen, full: bool) -> Iterator[Shape]:
    """Case shelves: `shelves` boards, the lowest at the bottom."""
    x1, y1, x2, y2 = piece.box
    shelves = piece.count("shelves")
    for k in range(shelves if full else 0):
        y = y1 + (y2 - y1) * k / shelves
        yield Polygon(rectangle((x1, y, x2, y + 19)), pen, "mid")


def _open_shelves(piece: Front, pen: Pen, full: bool) -> Iterator[Shape]:
    node = piece.node
    x1, y1, x2, _ = piece.box
    if not full:
        return
    yield from _boards(piece, pen)
    if not node.has("stemware.rails"):
        return
    rails = node.count("stemware.rails")
    spacing = node.si("stemware.spacing") * MM if node.has("stemware.spacing") else 0.0
    spacing = spacing or (x2 - x1) / rails
    drop = node.si("stemware.drop") * MM if node.has("stemware.drop") else 30.0
    start = (x1 + x2) / 2 - spacing * (rails - 1) / 2
    for k in range(rails):
        x = start + spacing * k
        yield line(pen, (x, y1), (x, y1 - drop))
        yield line(pen, (x - spacing * 0.2, y1 - drop), (x + spacing * 0.2, y1 - drop))


def _boards(piece: Front, pen: Pen) -> Iterator[Shape]:
    node = piece.node
    x1, y1, x2, y2 = piece.box
    if not node.has("shelves.count"):
        return
    thick = node.si("shelves.thickness") * MM if node.has("shelves.thickness") else 19.0
    count = node.count("shelves.count")
    for k in range(1, count + 1):
        y = y1 + (y2 - y1) * k / (count + 1)
        yield Polygon(rectangle((x1, y - thick / 2, x2, y + thick / 2)), pen, "mid")


# ------------------------------------------------------------------ cabinets


def _cabinet(piece: Front, pen: Pen, full: bool) -> Iterator[Shape]:
    """Doors with their swing lines to the hinge side, or drawers with their heights."""
    node = piece.node
    if not full:
        return
    yield from _drawers(piece, pen)
    doors = piece.count("doors")
    x1, y1, x2, y2 = piece.box
    hinges = node.word("hinges_on") if node.has("hinges_on") else "left"
    for k in range(doors):
        left, right = x1 + (x2 - x1) * k / doors, x1 + (x2 - x1) * (k + 1) / doors
        side = hinges if doors == 1 else ("left" if k % 2 == 0 else "right")
        yield from leaf_front((left, y1, right, y2), side, pen)


def _drawers(piece: Front, pen: Pen) -> Iterator[Shape]:
    node = piece.node
    x1, y1, x2, y2 = piece.box
    y = y2
    for high in _drawer_heights(node, y2 - y1):
        box = (x1, max(y - high, y1), x2, y)
        yield Polygon(rectangle(box), pen)
        middle, mid = (x1 + x2) / 2, y - high / 2
        yield line(pen, (middle - 45, mid), (middle + 45, mid))
        y -= high


def _drawer_heights(node: Node, whole: float) -> Iterable[float]:
    if node.has("drawers.heights"):
        value = node.quantity("drawers.heights")
        values = value if isinstance(value, tuple) else getattr(value, "values", ())
        if isinstance(value, Series):
            values = value.values
        return [v.si * MM for v in values if isinstance(v, Quantity)]
    if node.has("drawers.count"):
        count = node.count("drawers.count")
        return [whole / count] * count
    return ()


def _bay(piece: Front, pen: Pen, full: bool) -> Iterator[Shape]:
    x1, y1, x2, y2 = piece.box
    yield line("hidden" if full else "quiet_hidden", (x1, y1), (x2, y2))
    yield line("hidden" if full else "quiet_hidden", (x1, y2), (x2, y1))


CABINETS: dict[str, Drawn] = {
    "diamond_bin": _diamonds,
    "x_bin": _crosses,
    "case_shelf": _shelves,
    "open_shelf": _open_shelves,
    "cabinet": _cabinet,
    "sink_base": _cabinet,
    "drawers": _cabinet,
    "appliance_bay": _bay,
}
