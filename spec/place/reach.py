"""What of a room can be got at from its door with a clear aisle, and what is in the way. Meters.

A person is a disc as wide as the aisle. The floor is free where no wall and nothing that stands on
it or hangs lower than a head is. What is used stands in a front; one gets at it from any place
that is half an aisle before the front and within an arm's reach to its left or right.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, NamedTuple

from spec.job.node import Node, Open
from spec.place import plan
from spec.place.entries import Entry, entries
from spec.place.plan import Footprint
from spec.place.shapes import CLOSE, Point, distance, line_between, within
from spec.place.way import Gap, Outline, Ways, closest

if TYPE_CHECKING:
    from spec.place import Places

HEAD = 2.0
"""[m] What hangs lower is in the way of a head. Common practice."""
ARM = 0.75
"""[m] How far to a side one reaches from where one stands. Common practice."""
OVER = 0.3
"""[m] What stands so much higher than what is before it is got at over that. Common practice."""
_ASIDE = (0.0, 0.25, 0.5, ARM)
_ROUND = 0.0005
"""[m] Rounding of a typed sixteenth."""
_SHALLOW = 0.3
"""[m] What hangs on a wall no deeper takes no floor: one stands before it. Common practice."""
_SHUT = ("filler", "panel", "gap")


class Shut(NamedTuple):
    """Things that cannot be got at, the narrowest place before them and what is on its sides."""

    things: tuple[Node, ...]
    width: float
    sides: tuple[Node, Node]


class _Site(NamedTuple):
    """An obstacle: the things along it with their left and right edge on its wall [m]."""

    outline: Outline
    nodes: tuple[tuple[float, float, Node], ...]
    wall: Node | None = None
    depth: float = 0.0
    top: float = math.inf
    is_wall: bool = False

    def at(self, places: Places, point: Point) -> Node:
        """The thing of it that is at a point."""
        if self.wall is None or len(self.nodes) == 1:
            return self.nodes[0][2]
        (x, y), (ux, uy) = _axis(places, self.wall)
        along = (point[0] - x) * ux + (point[1] - y) * uy
        return min(self.nodes, key=lambda n: max(n[0] - along, along - n[1]))[2]


def shut_off(places: Places, room: Node, aisle: float, standing: Sequence[Footprint]) -> list[Shut]:
    """What of a room cannot be got at from its doors, one entry for each narrowest place.

    A room without a door of its own, or no wider by itself than the aisle, is not walked into:
    it is used from before its door.
    """
    ways_in = entries(places, room)
    if not ways_in or _wide(places, room) < aisle:
        return []
    sites = [*_walls(places, room, ways_in), *_things(places, room, standing)]
    ways = Ways([s.outline for s in sites], aisle - _ROUND, [s.is_wall for s in sites])
    doors = [_point(places, e.wall, (e.left + e.right) / 2, 0.0) for e in ways_in]
    found: dict[tuple[str, str], Shut] = {}
    for front in _fronts(places, room, sites):
        gap = _narrowest(places, ways, sites, doors, front, aisle)
        if gap is None:
            continue
        thing, one = front.node, sites[gap.one].at(places, gap.at_one)
        other = sites[gap.other].at(places, gap.at_other)
        known = found.get((one.address, other.address))
        things = (*(known.things if known else ()), thing)
        found[(one.address, other.address)] = Shut(
            tuple(dict.fromkeys(things)), gap.width, (one, other)
        )
    return list(found.values())


def _wide(places: Places, room: Node) -> float:
    """The least depth of a room square off one of its walls [m]."""
    finished = places.room(room.key)
    lines = [line_between(*finished.ends(wall)) for wall in finished.walls]
    return min(max(line.distance(corner) for corner in finished.corners) for line in lines)


def _axis(places: Places, wall: Node) -> tuple[Point, Point]:
    start, end = places.room(wall.room).ends(wall.key)
    return start, line_between(start, end).along


def _walls(places: Places, room: Node, cuts: Sequence[Entry]) -> Iterator[_Site]:
    """The walls of a room, cut where one comes in."""
    for wall in room.group("walls_clockwise"):
        length, at = places.length(wall), 0.0
        for left, right in sorted((e.left, e.right) for e in cuts if e.wall is wall):
            if left - at > CLOSE:
                yield _wall(places, wall, at, left)
            at = max(at, right)
        if length - at > CLOSE:
            yield _wall(places, wall, at, length)


def _wall(places: Places, wall: Node, left: float, right: float) -> _Site:
    outline = plan.on_floor(places, wall, left, right, 0.0)[:2]
    return _Site(outline, ((left, right, wall),), wall, is_wall=True)


def _things(places: Places, room: Node, standing: Sequence[Footprint]) -> Iterator[_Site]:
    """What stands in the way of a person; pieces of a run that are flush are one obstacle."""
    for wall in room.group("walls_clockwise"):
        yield from _run_sites(places, wall)
    for thing in standing:
        on_wall = places.wall_of(thing.node) is not None
        shallow = on_wall and distance(*thing.outline[1:3]) <= _SHALLOW
        in_a_run = on_wall and thing.node.heading == "millwork"
        if not (in_a_run or shallow) and thing.bottom < HEAD:
            yield _Site(thing.outline, ((0.0, 0.0, thing.node),), top=thing.top)


def _run_sites(places: Places, wall: Node) -> Iterator[_Site]:
    try:
        runs = places.runs(wall)
    except Open:
        return
    spans: dict[float, list[tuple[float, float, Node]]] = {}
    tops: dict[float, float] = {}
    for run in runs:
        for piece in run.pieces:
            if piece.depth and piece.width > 0 and piece.bottom < HEAD:
                right = piece.left + piece.width
                spans.setdefault(piece.depth, []).append((piece.left, right, piece.node))
                top = piece.bottom + piece.height
                tops[piece.depth] = max(tops.get(piece.depth, 0.0), top)
    taken: list[tuple[float, float]] = []
    for depth in sorted(spans, reverse=True):
        for left, right, nodes in _flush(spans[depth]):
            if any(a - CLOSE <= left and right <= b + CLOSE for a, b in taken):
                continue
            taken.append((left, right))
            outline = plan.on_floor(places, wall, left, right, depth)
            yield _Site(outline, nodes, wall, depth, tops[depth])


def _flush(
    spans: list[tuple[float, float, Node]],
) -> Iterator[tuple[float, float, tuple[tuple[float, float, Node], ...]]]:
    """Spans of one depth that touch, taken together."""
    together: list[tuple[float, float, Node]] = []
    end = 0.0
    for span in sorted(spans, key=lambda s: s[:2]):
        if together and span[0] > end + CLOSE:
            yield together[0][0], end, tuple(together)
            together = []
        end = max(end, span[1]) if together else span[1]
        together.append(span)
    if together:
        yield together[0][0], end, tuple(together)


class _Front(NamedTuple):
    """What one has to get at: its wall, its edges and its top there, how far out its front is."""

    node: Node
    wall: Node
    left: float
    right: float
    top: float
    depth: float
    site: int


def _fronts(places: Places, room: Node, sites: Sequence[_Site]) -> Iterator[_Front]:
    for i, site in enumerate(sites):
        if site.wall is not None and not site.is_wall:
            for left, right, node in site.nodes:
                corner = node.find("turns") is not None or node.kind in _SHUT
                if not corner and node.surface == site.wall.address:
                    yield _Front(node, site.wall, left, right, site.top, site.depth, i)
    for wall in room.group("walls_clockwise"):
        for heading in ("devices", "equipment"):
            for thing in wall.group(heading):
                try:
                    rect = places.rect(thing).rect
                except Open:
                    continue
                own = _stands_at(sites, wall, rect.center)
                if own is not None:
                    depth = sites[own].depth
                    yield _Front(thing, wall, rect.left, rect.right, rect.top, depth, own)


def _stands_at(sites: Sequence[_Site], wall: Node, along: float) -> int | None:
    """The deepest obstacle at a place along a wall, the wall itself where it is bare."""
    there = [
        (site.depth, i)
        for i, site in enumerate(sites)
        if site.wall is wall and any(left <= along <= right for left, right, _ in site.nodes)
    ]
    return max(there)[1] if there else None


def _point(places: Places, wall: Node, along: float, out: float) -> Point:
    """The point of a floor `along` a wall from its left corner and `out` before it [m]."""
    (x, y), (ux, uy) = _axis(places, wall)
    return (x + ux * along + uy * out, y + uy * along - ux * out)


def _narrowest(
    places: Places,
    ways: Ways,
    sites: Sequence[_Site],
    doors: Sequence[Point],
    front: _Front,
    aisle: float,
) -> Gap | None:
    """The narrowest place on the best way to a front; None where there is a way wide enough."""
    face = tuple(_point(places, front.wall, s, front.depth) for s in (front.left, front.right))
    best: Gap | None = None
    squeezed: Gap | None = None
    for aside in _ASIDE:
        for along in (front.right + aside, front.left - aside) if aside else (_mid(front),):
            stand = _point(places, front.wall, along, front.depth + aisle / 2)
            if not within(places.room(front.wall.room).corners, stand):
                continue
            free, nearest = ways.nearest(stand)
            if free >= aisle / 2 - _ROUND:
                gap = _from_a_door(ways, doors, stand)
            elif sites[nearest].top < front.top - OVER:
                gap = None
            else:
                if squeezed is None or sites[squeezed.other].is_wall:
                    squeezed = Gap(*_between(face, ways, front.site, nearest))
                continue
            if gap is None:
                return None
            if best is None or gap.width > best.width:
                best = gap
    return best or squeezed


def _mid(front: _Front) -> float:
    return (front.left + front.right) / 2


def _between(
    face: Outline, ways: Ways, own: int, obstacle: int
) -> tuple[float, int, int, Point, Point]:
    """What is free between the face of a front and what stands too near before it."""
    width, p, q = closest(face, ways.outlines[obstacle])
    return width, own, obstacle, p, q


def _from_a_door(ways: Ways, doors: Sequence[Point], stand: Point) -> Gap | None:
    """The narrowest place on the best way from any door; None where one is wide enough."""
    best: Gap | None = None
    for door in doors:
        gap = ways.narrowest(door, stand)
        if gap is None:
            return None
        if best is None or gap.width > best.width:
            best = gap
    return best
