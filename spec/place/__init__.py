"""All geometry of a job: finished rooms, runs, and where every thing sits. Meters throughout.

What an answer rests on is recorded for whoever asks; what is not decided raises `Open`.
"""

from __future__ import annotations

from collections.abc import Iterator

from spec.job.job import Job
from spec.job.node import Node, Open, largest
from spec.job.record import Kept
from spec.place.divided import Division
from spec.place.plan import Footprint
from spec.place.rooms import Room, finished, finished_within, taped_plan, thrice_taped
from spec.place.runs import (
    Piece,
    Run,
    Tier,
    height_for,
    runs_of,
    side_by_side,
    stands_free,
    tiers,
)
from spec.place.shapes import Point, Rect
from spec.place.standing import standing
from spec.place.taping import Plan
from spec.place.things import OnPlan, OnWall, is_placed, on_plan, on_wall

__all__ = [
    "OnPlan",
    "OnWall",
    "Piece",
    "Places",
    "Point",
    "Rect",
    "Room",
    "Run",
    "Tier",
    "place",
    "tiers",
]

_ON_WALL = (
    "openings",
    "holes",
    "existing",
    "devices",
    "lights",
    "equipment",
    "backing",
    "millwork",
    "appliances",
    "fixtures",
)


class Places:
    """Where everything is, worked out when first asked for and kept."""

    def __init__(self, job: Job) -> None:
        self.job = job
        self._rooms: Kept[Room] = Kept()
        self._covered: Kept[Room] = Kept()
        self._rects: Kept[OnWall] = Kept()
        self._plans: Kept[OnPlan] = Kept()
        self._tapings: Kept[Plan] = Kept()
        self._divisions: Kept[Division] = Kept()
        self._runs: Kept[tuple[Run, ...]] = Kept()
        self._standing: Kept[tuple[Footprint, ...]] = Kept()
        self._under_way: set[str] = set()

    # ------------------------------------------------------------------ rooms and walls

    def room(self, name: str) -> Room:
        """A finished room by its name."""
        node = self.job.thing(name)
        if node is None:
            raise Open(name)
        return self._rooms.get(name, lambda: self._finished(node), Open)

    def covered(self, name: str) -> Room:
        """The same room as what covers it meets it: of three heights taped the largest governs."""
        node = self.job.thing(name)
        if node is None or not thrice_taped(node, self._space(node)):
            return self.room(name)
        with largest():
            return self._covered.get(name, lambda: self._finished(node), Open)

    def _finished(self, room: Node) -> Room:
        space = self._space(room)
        if space is None:
            return finished(self.job, room)
        thrice = thrice_taped(space)
        division = Division(self.job, space) if thrice else self.division(space)
        return finished_within(self.job, room, space, division.line)

    def _space(self, room: Node) -> Node | None:
        """The taped space that a room is cut out of."""
        within = room.word("within", "")
        return self.job.thing(within) if within else None

    def division(self, space: Node) -> Division:
        """The lines of all walls of the rooms within a taped space."""
        return self._divisions.get(space.address, lambda: Division(self.job, space), Open)

    def room_of(self, thing: Node) -> Room:
        """The room that a thing or wall is in."""
        return self.room(thing.room)

    def length(self, wall: Node) -> float:
        """Finished length of a wall [m]."""
        return self.room(wall.room).length(wall.key)

    def height(self, wall: Node) -> float:
        """Lowest finished height of a wall [m]."""
        return min(height for _, height in self.room(wall.room).profile(wall.key))

    def net_area(self, wall: Node) -> float:
        """Area of a wall without its openings [m²]."""
        gross = self.room(wall.room).wall_area(wall.key)
        return gross - sum(self.opening_area(o) for o in self.openings(wall))

    def openings(self, wall: Node) -> tuple[Node, ...]:
        """The openings of a wall, those of the wall whose back it is too; no gates in others."""
        written = self.written_wall(wall)
        return tuple(
            o for o in written.group("openings") if o.kind != "gate" and o.find("inside") is None
        )

    def written_wall(self, wall: Node) -> Node:
        """The wall under which a shared wall is written: the other side of a `back_of`."""
        other = wall.find("back_of")
        found = self.job.thing(str(other.value)) if other is not None else None
        return found if found is not None else wall

    def opening_area(self, opening: Node) -> float:
        """Area of an opening [m²]."""
        return self.rect(opening).rect.area

    def taping(self, space: Node) -> Plan:
        """How the tapes of a room or an as-found space close."""
        return self._tapings.get(space.address, lambda: taped_plan(space), Open)

    # ------------------------------------------------------------------ things on walls

    def rect(self, thing: Node) -> OnWall:
        """The rectangle of a thing on the wall that it is written under."""
        return self._rects.get(_own_address(thing), lambda: self._once(thing), Open)

    def _once(self, thing: Node) -> OnWall:
        """Place a thing; one that is placed by itself through others has no place."""
        if thing.address in self._under_way:
            raise Open(thing.address)
        self._under_way.add(thing.address)
        try:
            return self._on_wall(thing)
        finally:
            self._under_way.discard(thing.address)

    def _on_wall(self, thing: Node) -> OnWall:
        wall = self.wall_of(thing)
        if wall is None:
            raise Open(f"{thing.address}.left")
        piece = self.piece(thing)
        if piece is not None:
            rect = Rect(piece.left, piece.bottom, piece.width, piece.height)
            return OnWall(thing, wall.key, rect, piece.depth)
        whole = self._whole_of(thing)
        if whole is not None and whole.heading == "openings":
            return OnWall(thing, wall.key, self._part_of(thing, whole))
        if whole is not None:
            return OnWall(thing, wall.key, self.rect(whole).rect)
        if thing.find("along") is not None and not is_placed(thing):
            return OnWall(thing, wall.key, self._along(thing))
        rect = on_wall(self.job, thing, self.length(wall), self.height(wall), self._finder(wall))
        depth = thing.si("depth") if thing.given("depth") else None
        return OnWall(thing, wall.key, rect, depth)

    @staticmethod
    def _whole_of(thing: Node) -> Node | None:
        """The plate in which a device sits, or the glass front of which a thing is a part."""
        upper = thing.parent
        if upper is not None and upper.key == "left_to_right" and upper.parent is not None:
            return upper.parent if upper.parent.heading in ("devices", "openings") else None
        return None

    def _part_of(self, part: Node, front: Node) -> Rect:
        """A part of a glass front: its parts stand side by side, `rest` shares what is left."""
        outer = self.rect(front).rect
        parts = front.group("left_to_right")
        widths = [None if _rests(p) else p.si("width") for p in parts]
        left = outer.left
        for node, wide in zip(parts, side_by_side(widths, outer.width), strict=True):
            if node is part:
                return Rect(left, outer.bottom, wide, outer.height)
            left += wide
        raise Open(part.address)

    def _along(self, thing: Node) -> Rect:
        rects = []
        for name in thing.words("along"):
            other = self.job.thing(name)
            if other is not None and self.wall_of(other) is self.wall_of(thing):
                rects.append(self.rect(other).rect)
        if not rects:
            raise Open(f"{thing.address}.along")
        left, right = min(r.left for r in rects), max(r.right for r in rects)
        bottom, top = min(r.bottom for r in rects), max(r.top for r in rects)
        if thing.given("tier"):
            first = self.job.thing(thing.words("along")[0])
            tier = self.tier_at(first, thing.word("tier")) if first is not None else None
            if tier is not None:
                bottom, top = tier.bottom, tier.top
        if thing.given("rail_aff"):
            bottom, top = 0.0, thing.si("rail_aff")
        return Rect(left, bottom, right - left, top - bottom)

    def _finder(self, wall: Node) -> _Finder:
        return _Finder(self, wall)

    def wall_of(self, thing: Node) -> Node | None:
        """The wall that a thing is written under, None on ceilings, floors and elsewhere."""
        surface = self.job.find(thing.surface) if thing.surface else None
        return surface if surface is not None and surface.kind == "wall" else None

    def on(self, wall: Node) -> Iterator[OnWall]:
        """Everything on a wall that has a place there; what is still open is left out."""
        for key in _ON_WALL:
            heading = wall.find(key)
            if heading is None:
                continue
            for thing in _things_under(heading):
                try:
                    yield self.rect(thing)
                except Open:
                    continue

    def seen_from(self, wall: Node) -> Iterator[OnWall]:
        """Everything on a wall, with the openings of the wall whose back it is, mirrored."""
        yield from self.on(wall)
        written = self.written_wall(wall)
        if written is wall:
            return
        for opening in self.openings(wall):
            try:
                yield self.mirrored(opening, wall)
            except Open:
                continue

    def mirrored(self, opening: Node, back: Node) -> OnWall:
        """An opening of a shared wall as seen from its other side.

        The two sides are brought together by `lines_up` where it names the opening, else by
        their middles.
        """
        own = self.rect(opening)
        front = self.wall_of(opening)
        given = back.find(f"lines_up.{opening.key}")
        if given is not None and given.value is not None:
            left = back.si(f"lines_up.{opening.key}") - own.rect.width / 2
        elif front is not None:
            left = self.length(back) / 2 - (own.rect.center - self.length(front) / 2)
            left -= own.rect.width / 2
        else:
            raise Open(f"{back.address}.lines_up")
        rect = Rect(left, own.rect.bottom, own.rect.width, own.rect.height)
        return OnWall(opening, back.key, rect, own.depth)

    # ------------------------------------------------------------------ millwork

    def runs(self, wall: Node) -> tuple[Run, ...]:
        """The runs of a wall, tier by tier."""
        return self._runs.get(
            wall.address,
            lambda: tuple(
                runs_of(
                    self.job,
                    wall,
                    self.length(wall),
                    self.room(wall.room).height,
                    lambda tier: self._turned(wall, tier),
                )
            ),
            Open,
        )

    def _turned(self, wall: Node, tier: str) -> tuple[Node, float] | None:
        """What comes round the left corner of a wall from the run of the wall before."""
        room = self.job.thing(wall.room)
        walls = room.group("walls_clockwise") if room is not None else ()
        for i, other in enumerate(walls):
            if other is wall:
                heading = walls[i - 1].find("millwork")
                run = heading.find(tier) if heading is not None else None
                pieces = run.group("left_to_right") if run is not None else ()
                if pieces and pieces[-1].given("turns"):
                    return pieces[-1], pieces[-1].si("turns")
        return None

    def piece(self, thing: Node) -> Piece | None:
        """The piece of a run that a thing is, on its own wall."""
        upper = thing.parent
        if thing.heading != "millwork" or upper is None or upper.key != "left_to_right":
            return None
        wall = self.wall_of(thing)
        if wall is None:
            return None
        for run in self.runs(wall):
            for piece in run.pieces:
                if piece.node is thing and not piece.turned:
                    return piece
        return None

    def tier_at(self, piece: Node, name: str) -> Tier | None:
        """A tier of the stack that a piece stands in."""
        run = piece.parent.parent if piece.parent is not None else None
        wall = self.wall_of(piece)
        if run is None or wall is None:
            return None
        for own in self.runs(wall):
            if own.node is run:
                stack = _stack_above(own.tier.node)
                height = self.room(wall.room).height
                return tiers(stack, height).get(name) if stack is not None else None
        return None

    def stack_left_over(self, stack: Node) -> float | None:
        """What a stack leaves free below ceiling or soffit [m]; None where it need not reach it.

        A stack with a tier of height `rest`, and one on a wall under a slope, fits by itself; one
        of islands only need not reach it.
        """
        room = self.room(stack.room)
        levels = tiers(stack, room.height)
        if not levels or room.ceiling.slopes or any(t.rest for t in levels.values()):
            return None
        if stands_free(self.job, stack):
            return None
        height = height_for(self.job, stack, room.height)
        return height - max(tier.top for tier in levels.values())

    def how_many(self, thing: Node) -> int:
        """How many of itself a mark stands for: the places of a grid, or a count."""
        grid = thing.find("centers")
        if grid is not None and grid.known:
            if thing.surface and self.wall_of(thing) is None:
                return len(self.plan(thing).outlines)
            return len(thing.words("centers"))
        return thing.count("count", 1) if thing.find("count") is not None else 1

    # ------------------------------------------------------------------ ceilings and floors

    def plan(self, thing: Node) -> OnPlan:
        """The outlines of a thing on a ceiling or floor."""
        return self._plans.get(_own_address(thing), lambda: self._on_plan(thing), Open)

    def _on_plan(self, thing: Node) -> OnPlan:
        room = self.room(thing.room)
        bottom = thing.si("bottom") if thing.given("bottom") else None
        return OnPlan(thing, thing.surface, on_plan(self.job, thing, room), bottom)

    def standing(self, room: Node) -> tuple[Footprint, ...]:
        """Everything that has a body in a room: along walls, free, overhead."""
        return self._standing.get(room.address, lambda: tuple(standing(self, room)), Open)

    def on_surface(self, surface: Node) -> Iterator[OnPlan]:
        """Everything on a ceiling or floor that has a place there."""
        for heading in surface.children.values():
            if not heading.shape.heading:
                continue
            for thing in heading.entries():
                try:
                    yield self.plan(thing)
                except Open:
                    continue


class _Finder:
    """Finds the rectangle of another thing on the same wall by its mark."""

    def __init__(self, places: Places, wall: Node) -> None:
        self.places = places
        self.wall = wall

    def __call__(self, name: str) -> Rect | None:
        other = self.places.job.thing(name)
        if other is None or self.places.wall_of(other) is not self.wall:
            return None
        return self.places.rect(other).rect


def _own_address(thing: Node) -> str:
    """Its address; what cannot be read, a second thing of one mark, has no place of its own."""
    if thing.state is not None and thing.state.kind == "unreadable":
        raise Open(thing.address)
    return thing.address


def _rests(part: Node) -> bool:
    width = part.find("width")
    return width is None or width.value == "rest"


def _stack_above(tier: Node) -> Node | None:
    node: Node | None = tier
    while node is not None and node.kind != "stack":
        node = node.parent
    return node


def _things_under(heading: Node) -> Iterator[Node]:
    for child in heading.entries():
        pieces = child.group("left_to_right")
        if heading.key == "millwork" and pieces:
            yield from pieces
        else:
            yield child


def place(job: Job) -> Places:
    """The places of a job."""
    return Places(job)
