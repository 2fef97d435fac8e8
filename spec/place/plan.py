"""What things take up in plan: footprint of millwork, sweep of a leaf. Meters throughout."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, NamedTuple

from spec.job.node import Node, Open
from spec.place.shapes import Point, line_between, within
from spec.place.way import closest

if TYPE_CHECKING:
    from spec.place import Places

_STEP = 15.0
"""[degrees] Between the corners by which the sweep of a leaf is drawn."""


class Footprint(NamedTuple):
    """What a thing takes up of a room: a convex outline in plan, from `bottom` to `top` [m]."""

    node: Node
    outline: tuple[Point, ...]
    bottom: float
    top: float

    def meets(self, other: Footprint, slack: float = 0.003) -> bool:
        """Whether two things share more than a face."""
        high = min(self.top, other.top) - max(self.bottom, other.bottom)
        return high > slack and overlap(self.outline, other.outline) > slack


def overlap(one: Sequence[Point], other: Sequence[Point]) -> float:
    """How far two convex outlines reach into each other [m], negative where they stand apart.

    By separating axes: the least overlap of their shadows square to any of their edges.
    """
    least = math.inf
    for outline in (one, other):
        for i, (x, y) in enumerate(outline):
            x2, y2 = outline[(i + 1) % len(outline)]
            length = math.hypot(x2 - x, y2 - y)
            if length < 1e-9:
                continue
            nx, ny = (y2 - y) / length, (x - x2) / length
            a = [px * nx + py * ny for px, py in one]
            b = [px * nx + py * ny for px, py in other]
            least = min(least, min(max(a), max(b)) - max(min(a), min(b)))
    return least


def on_floor(
    places: Places, wall: Node, left: float, right: float, depth: float
) -> tuple[Point, ...]:
    """The outline of what stands along a wall from `left` to `right`, `depth` into the room [m]."""
    start, end = places.room(wall.room).ends(wall.key)
    line = line_between(start, end)
    (x, y), (ux, uy) = start, line.along
    inward = (uy, -ux)
    return tuple(
        (x + ux * along + inward[0] * off, y + uy * along + inward[1] * off)
        for along, off in ((left, 0.0), (right, 0.0), (right, depth), (left, depth))
    )


def millwork(places: Places, room: Node) -> Iterator[Footprint]:
    """The footprints of all pieces of a room's runs; what is still open is left out."""
    for wall in room.group("walls_clockwise"):
        try:
            runs = places.runs(wall)
        except Open:
            continue
        for run in runs:
            for piece in run.pieces:
                if piece.turned or piece.depth is None or piece.width <= 0:
                    continue
                outline = on_floor(places, wall, piece.left, piece.left + piece.width, piece.depth)
                yield Footprint(piece.node, outline, piece.bottom, piece.bottom + piece.height)


def sweeps(places: Places, opening: Node) -> Iterator[Footprint]:
    """What the leaves of a door or gate sweep over when they open; raises `Open`."""
    found = _side(places, opening)
    if found is None:
        return
    wall, center, bottom = found
    count = opening.count("leaf.count", 1)
    width = opening.si("leaf.width")
    high = opening.si("leaf.height", 0.0) or places.rect(opening).rect.height
    half = width * count / 2
    hinges = opening.word("hinges_on", "left")
    angle = opening.si("opens_to", usual_swing(opening))
    if count > 1 or hinges == "left":
        yield _sweep(places, opening, wall, center - half, width, angle, bottom, high)
    if count > 1 or hinges == "right":
        yield _sweep(places, opening, wall, center + half, -width, angle, bottom, high)


def usual_swing(opening: Node) -> float:
    """How far a leaf opens of which nothing says it [degrees]: a door square, a gate, which no
    closer stops, to the wall. Common practice.
    """
    return 180.0 if opening.kind == "gate" else 90.0


def _side(places: Places, opening: Node) -> tuple[Node, float, float] | None:
    """The wall in the room that an opening opens into, its middle there, its bottom."""
    outer = places.job.thing(opening.word("inside", "")) or opening
    own = places.wall_of(outer)
    into = opening.word("opens_into")
    if own is None:
        return None
    for wall, left, right in sides(places, outer):
        if wall.room == into:
            return wall, (left + right) / 2, places.rect(outer).rect.bottom
    for wall in places.job.walls:
        back = wall.find("back_of")
        if wall.room == into and back is not None and back.value == own.key:
            rect = places.mirrored(outer, wall).rect
            return wall, rect.center, rect.bottom
    return None


def sides(places: Places, opening: Node) -> Iterator[tuple[Node, float, float]]:
    """Each wall that an opening is in, with its left and right edge there [m]; raises `Open`.

    The wall that it is written under, and the walls that share a partition with it, where both
    rooms are cut out of one taped space.
    """
    own = places.wall_of(opening)
    if own is None:
        return
    rect = places.rect(opening).rect
    yield own, rect.left, rect.right
    partition = own.find("partition")
    if partition is None:
        return
    start, end = places.room(own.room).ends(own.key)
    (ux, uy), (x, y) = line_between(start, end).along, start
    edges = [(x + ux * at, y + uy * at) for at in (rect.left, rect.right)]
    for wall in places.job.walls:
        other = wall.find("partition")
        if wall.room == own.room or other is None or other.value != partition.value:
            continue
        (sx, sy), far = places.room(wall.room).ends(wall.key)
        (vx, vy) = line_between((sx, sy), far).along
        along = sorted((px - sx) * vx + (py - sy) * vy for px, py in edges)
        length = math.dist((sx, sy), far)
        if -rect.width < along[0] and along[1] < length + rect.width:
            yield wall, along[0], along[1]


def _sweep(
    places: Places,
    opening: Node,
    wall: Node,
    hinge: float,
    width: float,
    angle: float,
    bottom: float,
    high: float,
) -> Footprint:
    outline = swept(places, wall, hinge, width, angle)
    return Footprint(opening, outline, bottom, bottom + high)


def swept(
    places: Places, wall: Node, hinge: float, width: float, angle: float, front: float = 0.0
) -> tuple[Point, ...]:
    """The floor that a leaf sweeps over: its hinge first, then its edge from shut to open [m].

    The hinge is `hinge` along the wall and `front` before it; a negative width lies to its left.
    """
    start, end = places.room(wall.room).ends(wall.key)
    line = line_between(start, end)
    (x, y), (ux, uy) = start, line.along
    px, py = x + ux * hinge + uy * front, y + uy * hinge - ux * front
    reach, side = abs(width), math.copysign(1.0, width)
    steps = max(1, math.ceil(angle / _STEP))
    points = [(px, py)]
    for i in range(steps + 1):
        turn = math.radians(angle * i / steps)
        along, off = side * reach * math.cos(turn), reach * math.sin(turn)
        points.append((px + ux * along + uy * off, py + uy * along - ux * off))
    return tuple(points)


def before(places: Places, opening: Node, wall: Node, clear: float) -> Footprint:
    """The floor right before an opening on a wall, `clear` deep [m]."""
    own = places.wall_of(opening)
    rect = (places.rect(opening) if own is wall else places.mirrored(opening, wall)).rect
    outline = on_floor(places, wall, rect.left, rect.right, clear)
    return Footprint(opening, outline, rect.bottom, rect.top)


def inside(outer: Sequence[Point], inner: Sequence[Point]) -> float:
    """How far an outline reaches past another on every side [m]; negative where it does not."""
    least, inner_point = math.inf, middle(outer)
    for i, corner in enumerate(outer):
        line = line_between(corner, outer[(i + 1) % len(outer)])
        sign = math.copysign(1.0, line.distance(inner_point))
        least = min(least, *(sign * line.distance(point) for point in inner))
    return least


def past(corners: Sequence[Point], outline: Sequence[Point], *, whole: bool) -> float:
    """How far a thing lies outside a room [m], 0 inside; its middle alone unless `whole`."""
    points = (*outline, middle(outline)) if whole else (middle(outline),)
    out = [point for point in points if not within(corners, point)]
    edges = [(corner, corners[(i + 1) % len(corners)]) for i, corner in enumerate(corners)]
    return max((min(closest((p,), edge)[0] for edge in edges) for p in out), default=0.0)


def middle(outline: Sequence[Point]) -> Point:
    """The middle of an outline."""
    x, y = (sum(c) / len(outline) for c in zip(*outline, strict=True))
    return x, y


def apart(one: Sequence[Point], other: Sequence[Point]) -> float:
    """Between the middles of two outlines [m]."""
    return math.dist(middle(one), middle(other))


def between(places: Places, one: Node, other: Node) -> float:
    """Between the nearest edges of two things on walls of one room, in plan [m]; raises `Open`.

    Without end where they stand in two rooms or on no wall.
    """
    walls = places.wall_of(one), places.wall_of(other)
    if walls[0] is None or walls[1] is None or walls[0].room != walls[1].room:
        return math.inf
    a, b = places.rect(one).rect, places.rect(other).rect
    if walls[0] is walls[1]:
        return max(a.left - b.right, b.left - a.right, 0.0)
    ends = on_floor(places, walls[0], a.left, a.right, 0.0)
    return min(
        math.dist(p, q) for p in ends for q in on_floor(places, walls[1], b.left, b.right, 0.0)
    )
