"""The walls of a room in plan: thickness, openings, swings of doors, marks, north."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import atan2, cos, hypot, pi, radians, sin

from spec.check.rule import Facts
from spec.draw.curves import swing
from spec.draw.fitting import Fitting
from spec.draw.openings import door_parts, hinge_side, panes
from spec.draw.outline import MM
from spec.draw.paper import Box, Paper, grown, meet
from spec.draw.scene import Circle, Fill, Label, Point, Polygon, Polyline, Shape
from spec.draw.seen import box_of, is_there
from spec.job.node import Node, Open
from spec.job.record import recording
from spec.place import Room
from spec.place.build_up import total_thickness
from spec.place.plan import usual_swing

_THIN_WALL = 60.0
"""A wall of unknown thickness is drawn this thick [mm]."""
_HOLES_NOW = ("door", "window")
_SHARES = (0.5, 0.12, 0.88, 0.3, 0.7, 0.0, 1.0)
_FURTHER = (0.0, 5.0)
"""Where along a wall its mark is tried, and how much farther out on paper [mm]."""
_CLEAR = ("window", "glass_front", "fixed")


@dataclass(frozen=True, slots=True)
class Side:
    """One wall in plan: from its left corner along it, and inward square off it [mm]."""

    node: Node
    start: Point
    along: Point
    long: float
    thick: float

    @property
    def body(self) -> Box:
        """The box around the wall itself."""
        ends = (self.at(0.0, 0.0), self.at(self.long, -self.thick))
        xs, ys = zip(*ends, strict=True)
        return min(xs), min(ys), max(xs), max(ys)

    @property
    def inward(self) -> Point:
        """Unit vector into the room: to the right of the way along it."""
        return self.along[1], -self.along[0]

    def at(self, along: float, inward: float) -> Point:
        """The point so far along the wall and so far into the room [mm]."""
        (ux, uy), (vx, vy) = self.along, self.inward
        x, y = self.start
        return x + ux * along + vx * inward, y + uy * along + vy * inward

    def box(self, left: float, right: float, near: float, far: float) -> tuple[Point, ...]:
        """The corners of a rectangle along the wall [mm]."""
        return self.at(left, near), self.at(right, near), self.at(right, far), self.at(left, far)

    def off(self, point: Point) -> float:
        """How far a point lies square off the wall, into the room [mm]."""
        (vx, vy), (x, y) = self.inward, self.start
        return (point[0] - x) * vx + (point[1] - y) * vy


@dataclass(frozen=True, slots=True)
class Opened:
    """An opening in a wall: its box along the wall [mm] and what its place rests on."""

    node: Node
    box: Box
    mirrored: bool
    own: bool
    cites: frozenset[str]


class Walls:
    """All walls of a room, finished, in millimeters."""

    def __init__(
        self, facts: Facts, node: Node, wanted: frozenset[str], *, finished: bool = False
    ) -> None:
        self.facts = facts
        self.node = node
        self.wanted = wanted
        self.finished = finished
        own = [t for t in facts.job.everything if t.address in wanted and t.room == node.key]
        self.as_found = bool(own) and all(t.heading == "existing" for t in own)
        """For a reader of existing things alone: nothing new stands yet."""
        with recording() as read:
            self.room: Room = facts.places.room(node.address)
        self.cites = frozenset(read)
        self.corners = tuple((x * MM, y * MM) for x, y in self.room.corners)
        walls = {wall.key: wall for wall in node.group("walls_clockwise")}
        self.sides = [self._side(i, walls[name]) for i, name in enumerate(self.room.walls)]
        self.openings = [list(self._opened(side)) for side in self.sides]

    def _side(self, i: int, wall: Node) -> Side:
        a, b = self.corners[i], self.corners[(i + 1) % len(self.corners)]
        long = hypot(b[0] - a[0], b[1] - a[1])
        try:
            written = self.facts.places.written_wall(wall)
            thick = total_thickness(self.facts.job, written) * MM
        except Open:
            thick = 0.0
        along = ((b[0] - a[0]) / long, (b[1] - a[1]) / long)
        return Side(wall, a, along, long, thick or _THIN_WALL)

    def _opened(self, side: Side) -> Iterator[Opened]:
        places = self.facts.places
        for thing in places.seen_from(side.node):
            node = thing.node
            if not self._is_gap(node):
                continue
            mirrored = places.wall_of(node) is not side.node
            with recording() as read:
                if mirrored:
                    places.mirrored(node, side.node)
                else:
                    places.rect(node)
            cites = frozenset(read) | {node.address}
            yield Opened(node, box_of(thing.rect), mirrored, node.address in self.wanted, cites)

    def _is_gap(self, node: Node) -> bool:
        """An opening through the wall; as found only those that are there now."""
        if self.as_found:
            return is_there(node) or (node.heading == "existing" and node.kind in _HOLES_NOW)
        return node.heading == "openings" and node.kind != "gate"

    @property
    def bounds(self) -> Box:
        """The room's box with its walls [mm]."""
        points = [*self.corners, *self._outer()]
        xs, ys = [x for x, _ in points], [y for _, y in points]
        return min(xs), min(ys), max(xs), max(ys)

    # ------------------------------------------------------------------ shapes

    def shell(self) -> Iterator[Shape]:
        """The walls with their thickness, then the room."""
        cites = frozenset(side.node.address for side in self.sides)
        yield Polygon(tuple(self._outer()), "thin", "mid", cites)
        yield Polygon(self.corners, "outline", "paper", self.cites)

    def _outer(self) -> list[Point]:
        """The walls' outer corners."""
        found = []
        for i, two in enumerate(self.sides):
            one = self.sides[i - 1]
            (ax, ay), (bx, by) = one.at(0, -one.thick), two.at(0, -two.thick)
            (ux, uy), (vx, vy) = one.along, two.along
            cross = ux * vy - uy * vx
            t = ((bx - ax) * vy - (by - ay) * vx) / cross if abs(cross) > 1e-6 else 0.0
            found.append((ax + ux * t, ay + uy * t) if abs(cross) > 1e-6 else (bx, by))
        return found

    def gaps(self) -> Iterator[Shape]:
        """The openings through the walls."""
        for side, openings in zip(self.sides, self.openings, strict=True):
            for opened in openings:
                fill: Fill = "glass" if opened.node.kind in _CLEAR else "paper"
                points = side.box(opened.box[0], opened.box[2], 0, -side.thick)
                yield Polygon(points, "thin", fill, frozenset({opened.node.address}))

    def swings(self, paper: Paper) -> Iterator[Shape]:
        """Leaf and arc of every leaf that turns."""
        for side, openings in zip(self.sides, self.openings, strict=True):
            for opened in openings:
                own = opened.own or self.finished
                it = Fitting(opened.node, opened.box, paper, own=own, mirrored=opened.mirrored)
                for node, leaf in _leaves(it):
                    yield from self._swing(side, it, node, leaf)

    def _swing(self, side: Side, it: Fitting, node: Node, leaf: Box) -> Iterator[Shape]:
        here = self.node.key
        try:
            hinges = hinge_side(node, here)
            inward = (node.word("opens_into") if node.has("opens_into") else here) == here
            angle = node.si("opens_to") if node.has("opens_to") else usual_swing(node)
            count = node.count("leaf.count") if node.has("leaf.count") else 1
        except Open:
            return
        level = 0.0 if inward else -side.thick
        cites = frozenset({node.address})
        for hinge, edge in _hinged(leaf, hinges, count):
            at, closed = side.at(hinge, level), side.at(edge, level)
            turn = -radians(angle) if (edge > hinge) == inward else radians(angle)
            arc = swing(at, closed, turn)
            yield Polyline(arc, it.fine, cites)
            yield Polyline((at, arc[-1]), it.pen, cites)

    def marks(
        self, paper: Paper, rows: list[int], row: float, taken: Sequence[Box] = ()
    ) -> Iterator[Shape]:
        """Each wall's mark in a circle, beyond its rows of dimensions and clear of its doors.

        In the corner of an angled room it stands clear of what the other walls have `taken` too.
        """
        radius = paper.real(3.2)
        full = [*taken, *(side.body for side in self.sides)]
        for side, openings, count in zip(self.sides, self.openings, rows, strict=True):
            blocked = [(o.box[0], o.box[2]) for o in openings if o.node.kind == "door"]
            off = side.thick + paper.real(row * (count + 0.6) + 0.8)
            shares = [s for s in _SHARES if not any(_over(side, s, b) for b in blocked)] or [0.5]
            places = [
                side.at(side.long * share, -off - paper.real(further))
                for further in _FURTHER
                for share in shares
            ]
            boxes = {at: grown((*at, *at), radius) for at in places}
            free = (at for at in places if not any(meet(boxes[at], box) for box in full))
            at = next(free, places[0])
            full.append(boxes[at])
            cites = frozenset({side.node.address})
            yield Circle(at, radius, "thin", "paper", cites)
            yield Label(at, side.node.key, 2.1, strong=True, cites=cites)

    # ------------------------------------------------------------------ north

    def north(self, at: Point, size: float) -> Iterator[Shape]:
        """An arrow to the north; nothing where the job does not tell which wall looks there."""
        direction = self._north()
        if direction is None:
            return
        (dx, dy), (x, y) = direction, at
        tip, tail = (x + dx * size, y + dy * size), (x - dx * size, y - dy * size)
        left = (x - dx * size * 0.2 - dy * size * 0.45, y - dy * size * 0.2 + dx * size * 0.45)
        cites = frozenset({"job.site.north"})
        yield Polyline((tail, tip), "outline", cites)
        yield Polygon((tip, left, at), "thin", "dark", cites)
        beyond = (x + dx * size * 1.5, y + dy * size * 1.5)
        yield Label(beyond, "N", 2.1, strong=True, cites=cites)

    def _north(self) -> Point | None:
        """Square out of the wall whose outside looks north, here or in a room beside this one."""
        said = self.facts.job.find("job.site.north")
        wall = self.facts.job.thing(str(said.value)) if said is not None else None
        if wall is None or wall.kind != "wall":
            return None
        for side in self.sides:
            if side.node is wall:
                return -side.inward[0], -side.inward[1]
        try:
            there = self.facts.places.room(wall.room)
        except Open:
            return None
        for side, name in self._shared(wall.room):
            turn = atan2(side.along[1], side.along[0]) - _heading(there, name) - pi
            outward = _heading(there, wall.key) + pi / 2 + turn
            return cos(outward), sin(outward)
        return None

    def _shared(self, room: str) -> Iterator[tuple[Side, str]]:
        """Walls shared with another room: ours, and the name of theirs."""
        other = self.facts.job.thing(room)
        theirs = other.group("walls_clockwise") if other is not None else ()
        written = self.facts.places.written_wall
        for side in self.sides:
            for wall in theirs:
                if written(side.node) is written(wall):
                    yield side, wall.key


def _leaves(it: Fitting) -> list[tuple[Node, Box]]:
    """What swings in an opening: the leaf of a door, the doors of a glass front."""
    if it.node.kind == "glass_front":
        return [(node, box) for node, box in panes(it) if node.kind == "door"]
    if it.node.kind != "door":
        return []
    try:
        return [(it.node, door_parts(it)[0])]
    except Open:
        return [(it.node, it.box)]


def _hinged(leaf: Box, hinges: str, count: int) -> list[tuple[float, float]]:
    """Hinge and free edge of each leaf along the wall."""
    left, right, middle = leaf[0], leaf[2], (leaf[0] + leaf[2]) / 2
    if count == 2 or hinges == "both":
        return [(left, middle), (right, middle)]
    return {"left": [(left, right)], "right": [(right, left)]}.get(hinges, [])


def _over(side: Side, share: float, between: tuple[float, float]) -> bool:
    margin = side.long * 0.06
    return between[0] - margin < side.long * share < between[1] + margin


def _heading(room: Room, wall: str) -> float:
    (ax, ay), (bx, by) = room.ends(wall)
    return atan2(by - ay, bx - ax)
