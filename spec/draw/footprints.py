"""What stands along the walls, seen from above: lower pieces solid, upper ones dashed."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, pi, sin

from spec.check.rule import Facts
from spec.draw.label import Wish
from spec.draw.on_plan import around
from spec.draw.outline import MM
from spec.draw.paper import Box, Paper
from spec.draw.plan_walls import Side, Walls
from spec.draw.scene import Pen, Point, Polygon, Polyline, Shape
from spec.job.node import Node, Open
from spec.place import Piece

UPPER = 0.6
"""A run that starts higher than this above the floor [m] hangs over what stands on it."""
_STEPS = 12


def named(node: Node, middle: Point, own: bool, paper: Paper) -> Wish:
    """The mark of a thing at its middle."""
    half = paper.real(4)
    x, y = middle
    box = (x - half, y - half, x + half, y + half)
    return Wish(node.key, box, frozenset({node.address}), own)


def footprints(facts: Facts, walls: Walls, paper: Paper, wishes: list[Wish]) -> Iterator[Shape]:
    """The pieces of all runs, and machines and fixtures that say how deep they are."""
    pieces = [(side, p, upper) for side in walls.sides for p, upper in _pieces(facts, side)]
    for side, piece, upper in sorted(pieces, key=lambda found: found[2]):
        node = piece.node
        own = node.address in walls.wanted
        cites = frozenset({node.address})
        edge = _front(side, piece)
        if upper:
            yield Polyline(edge, _pen(own or walls.finished, hidden=True), cites)
            continue
        back = [side.at(piece.left * MM, 0), side.at((piece.left + piece.width) * MM, 0)]
        if node.has("turns"):
            back.append(side.at((piece.left + piece.width) * MM, node.si("turns") * MM))
        pen = _pen(own or walls.finished, hidden=False)
        yield Polygon((*back, *reversed(edge)), pen, "light", cites)
        if node.kind != "filler":
            wishes.append(named(node, _middle(side, piece), own, paper))
    for side in walls.sides:
        yield from _against(facts, side, walls, paper, wishes)


def _pieces(facts: Facts, side: Side) -> Iterator[tuple[Piece, bool]]:
    try:
        runs = facts.places.runs(side.node)
    except Open:
        return
    for run in runs:
        for piece in run.pieces:
            if piece.depth and not piece.turned:
                yield piece, run.tier.bottom > UPPER


def _front(side: Side, piece: Piece) -> tuple[Point, ...]:
    """The front edge from left to right; a corner piece's turns, in a quarter circle if curved."""
    left, right = piece.left * MM, (piece.left + piece.width) * MM
    depth = (piece.depth or 0.0) * MM
    node = piece.node
    if not node.has("turns"):
        return side.at(left, depth), side.at(right, depth)
    turns = node.si("turns") * MM
    if node.kind != "curved_corner":
        corner = side.at(right - depth, depth)
        return side.at(left, depth), corner, side.at(right - depth, turns), side.at(right, turns)
    wide, deep = right - depth - left, turns - depth
    curve = [
        side.at(left + wide * sin(t), turns - deep * cos(t))
        for t in (pi / 2 * k / _STEPS for k in range(_STEPS + 1))
    ]
    return (*curve, side.at(right, turns))


def _middle(side: Side, piece: Piece) -> Point:
    depth = (piece.depth or 0.0) * MM
    if piece.node.has("turns"):
        return side.at((piece.left + piece.width) * MM - depth / 2, depth / 2)
    return side.at((piece.left + piece.width / 2) * MM, depth / 2)


def _against(
    facts: Facts, side: Side, walls: Walls, paper: Paper, wishes: list[Wish]
) -> Iterator[Shape]:
    """Machines and fixtures on a wall that say how deep they are."""
    for thing in facts.places.on(side.node):
        node = thing.node
        deep = thing.depth is not None and thing.depth > 0
        if node.heading not in ("fixtures", "appliances", "equipment") or not deep:
            continue
        if node.find("along") is not None:
            continue
        r, depth = thing.rect, (thing.depth or 0.0) * MM
        own = node.address in walls.wanted
        points = side.box(r.left * MM, r.right * MM, 0, depth)
        pen = _pen(own or walls.finished, hidden=r.bottom > UPPER)
        yield Polygon(points, pen, "none", frozenset({node.address}))
        wishes.append(named(node, side.at(r.center * MM, depth / 2), own, paper))


def strip_lines(facts: Facts, walls: Walls, room: Node, wishes: list[Wish]) -> Iterator[Shape]:
    """Strips of the ceiling that run along pieces: a line over each piece, over half its depth."""
    surface = room.find("ceiling")
    group = surface.find("lights") if surface is not None else None
    for node in group.entries() if group is not None else ():
        if node.kind != "strip" or not node.has("along"):
            continue
        own = node.address in walls.wanted
        cites = frozenset({node.address})
        first: Box | None = None
        for name in node.words("along"):
            line = _over(facts, walls, name)
            if line:
                yield Polyline(line, "axis" if own or walls.finished else "quiet_hidden", cites)
                first = first or around(line)
        if first is not None:
            wishes.append(Wish(node.key, first, cites, own, own, inside=False))


def _over(facts: Facts, walls: Walls, name: str) -> tuple[Point, ...]:
    node = facts.job.thing(name)
    wall = facts.places.wall_of(node) if node is not None else None
    side = next((s for s in walls.sides if s.node is wall), None)
    if node is None or side is None:
        return ()
    try:
        piece = facts.places.piece(node)
    except Open:
        return ()
    if piece is None or not piece.depth:
        return ()
    off, right = piece.depth * MM / 2, (piece.left + piece.width) * MM
    if node.has("turns"):
        turns = node.si("turns") * MM
        return side.at(piece.left * MM, off), side.at(right - off, off), side.at(right - off, turns)
    return side.at(piece.left * MM, off), side.at(right, off)


def _pen(own: bool, *, hidden: bool) -> Pen:
    if hidden:
        return "hidden" if own else "quiet_hidden"
    return "outline" if own else "quiet"
