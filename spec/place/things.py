"""Where each thing sits: a rectangle on a wall's elevation, or a footprint on ceiling or floor."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import NamedTuple

from spec.job.job import Job
from spec.job.node import Contradicted, Node, Open
from spec.place.rooms import Room
from spec.place.shapes import Line, Point, Rect, edges
from spec.place.sizes import SIGN, has_extent, height_of, size_of, usual_extent
from spec.quantity import Quantity, Size, show

PLACED = ("left", "right", "center", "centers", "edge", "inside", "bottom", "top", "aff")


class OnWall(NamedTuple):
    """A thing on a wall [m]. `depth` is how far it stands into the room, None where unknown."""

    node: Node
    wall: str
    rect: Rect
    depth: float | None = None


class OnPlan(NamedTuple):
    """A thing on a ceiling or a floor: its outlines in the room's plan [m], one per place."""

    node: Node
    surface: str
    outlines: tuple[tuple[Point, ...], ...]
    bottom: float | None = None


FindRect = Callable[[str], Rect | None]


def is_placed(thing: Node) -> bool:
    """Whether a thing says anything of where it is."""
    return any(thing.find(key) is not None for key in PLACED)


def on_wall(job: Job, thing: Node, length: float, height: float, find: FindRect) -> Rect:
    """The rectangle of a thing on a wall of this finished length and height [m].

    `find` gives the rectangle of another thing on the same wall. Raises `Open` where a place or
    a size is not decided.
    """
    if thing.given("inside") and thing.find("center") is None and thing.find("left") is None:
        outer = find(thing.word("inside"))
        if outer is not None:
            return outer
        raise Open(thing.at("inside").address)
    both = thing.given("left") and thing.given("right")
    wide, high = _size(job, thing, both)
    if both:
        wide = _between(job, thing, length)
    left = _left(thing, length, wide, find)
    bottom, high = _bottom(thing, high, height, find)
    return Rect(left, bottom, wide, high)


def set_out(place: Node, wide: float, high: float, length: float, height: float) -> Rect:
    """The rectangle of a thing of this size where a place by itself, `to`, puts it [m]."""
    left = _left(place, length, wide, lambda _: None)
    bottom, high = _bottom(place, high, height, lambda _: None)
    return Rect(left, bottom, wide, high)


def _size(job: Job, thing: Node, both: bool) -> tuple[float, float]:
    """The size of a thing; a side that follows from its place (`both` corners, top) may be 0."""
    upright = thing.given("bottom") and thing.given("top")
    try:
        return size_of(job, thing)
    except Open:
        if not both and not upright:
            raise
        wide = 0.0 if both else thing.si("width")
        return wide, 0.0 if upright else height_of(thing)


def _between(job: Job, thing: Node, length: float) -> float:
    """How wide a thing is that is set out from both corners [m]."""
    wide = length - thing.si("left") - thing.si("right")
    if wide <= 0:
        left, right = thing.at("left"), thing.at("right")
        raise Contradicted(
            left.address,
            f"{thing.key} is {left.written} from the left and {right.written} from the right "
            f"corner of a wall of {show(length, 'length', job.system)}: nothing is left of it",
            "correct one of the two, or write `width` in its place",
            right.address,
        )
    return wide


def _left(thing: Node, length: float, wide: float, find: FindRect) -> float:
    if thing.given("left"):
        return thing.si("left")
    if thing.given("right"):
        return length - thing.si("right") - wide
    if not thing.given("center"):
        raise Open(f"{thing.address}.left")
    center = thing.at("center")
    value = thing.quantity("center")
    if isinstance(value, Quantity):
        return value.si - wide / 2
    if value == "wall":
        return (length - wide) / 2
    other = find(str(value))
    if other is None:
        raise Open(center.address)
    return other.center - wide / 2


def _bottom(thing: Node, high: float, room_height: float, find: FindRect) -> tuple[float, float]:
    bottom = thing.si("bottom") if thing.given("bottom") else None
    top = thing.si("top") if thing.given("top") else None
    if bottom is not None and top is not None:
        if top <= bottom:
            low, high_edge = thing.at("bottom"), thing.at("top")
            raise Contradicted(
                low.address,
                f"the bottom of {thing.key}, {low.written}, is not below its top, "
                f"{high_edge.written}",
                "correct one of the two; both are measured up from the finished floor",
                high_edge.address,
            )
        return bottom, top - bottom
    if bottom is not None:
        return bottom, high
    if top is not None:
        return top - high, high
    if thing.given("aff"):
        return thing.si("aff") - high / 2, high
    if thing.heading == "openings" and thing.kind not in ("window", "niche"):
        return 0.0, high
    if thing.kind == "sink":
        return _rim(thing, find) - high, high
    if thing.given("rail_aff"):
        return 0.0, thing.si("rail_aff")
    if thing.find("covers") is not None:
        return 0.0, room_height
    raise Open(f"{thing.address}.aff")


def _rim(sink: Node, find: FindRect) -> float:
    """Where the rim of a sink is above the floor [m]: as said, else the top of its base."""
    if sink.given("rim_aff"):
        return sink.si("rim_aff")
    base = find(sink.word("over")) if sink.given("over") else None
    if base is None:
        raise Open(f"{sink.address}.rim_aff")
    return base.top


# ------------------------------------------------------------------ ceilings and floors


def on_plan(
    job: Job, thing: Node, room: Room, place: Node | None = None
) -> tuple[tuple[Point, ...], ...]:
    """The outlines of a thing on the ceiling or floor of a room [m]; raises `Open`.

    `place` is where it is set out from, where that is not written at the thing itself.
    """
    if thing.find("covers") is not None:
        return (room.corners,)
    return tuple(_outline(job, thing, room, center) for center in _centers(place or thing, room))


def _centers(thing: Node, room: Room) -> Iterator[Point]:
    grid = thing.find("centers")
    if grid is not None and grid.children:
        names = list(grid.children)
        if len(names) != 2:
            raise Open(grid.address)
        firsts, seconds = (_lengths(thing, f"centers.{name}") for name in names)
        for first in firsts:
            for second in seconds:
                yield _square_off(room, {names[0]: first, names[1]: second}, grid.address)
        return
    center = thing.find("center")
    if center is not None and center.children:
        offsets = {name: thing.si(f"center.{name}") for name in center.children}
        yield _square_off(room, offsets, center.address)
        return
    if center is not None and center.value == "room":
        thing.given("center")
        yield _middle(room.corners)
        return
    edge = thing.find("edge")
    if edge is not None and edge.children:
        offsets = {}
        for name in edge.children:
            offsets[name] = thing.si(f"edge.{name}") + _reach(thing, room, name) / 2
        yield _square_off(room, offsets, edge.address)
        return
    raise Open(f"{thing.address}.center")


def _lengths(thing: Node, path: str) -> tuple[float, ...]:
    value = thing.quantity(path)
    values = value if isinstance(value, tuple) else getattr(value, "values", (value,))
    return tuple(v.si for v in values)


def _line(room: Room, wall: str) -> Line | None:
    return edges(room.corners)[room.walls.index(wall)] if wall in room.walls else None


def _square_off(room: Room, offsets: dict[str, float], address: str) -> Point:
    """The point at these distances from two walls."""
    lines = [line.moved(off) for wall, off in offsets.items() if (line := _line(room, wall))]
    point = lines[0].meets(lines[1]) if len(lines) == 2 else None
    if point is None:
        if len(lines) < 2:
            raise Open(address)
        raise Contradicted(
            address,
            f"`{address}` names {' and '.join(offsets)}, which meet in no one corner: the place "
            "does not follow",
            "name two walls at an angle",
        )
    return point


def _middle(corners: tuple[Point, ...]) -> Point:
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


def _reach(thing: Node, room: Room, off_wall: str) -> float:
    """How far a thing reaches square off a wall [m]: its extent along the other named wall."""
    extent = thing.find("extent")
    if extent is None or not extent.children:
        if not has_extent(thing):
            raise Open(f"{thing.address}.extent")
        return _round_size(thing)
    for name in extent.children:
        if name != off_wall:
            return thing.si(f"extent.{name}")
    raise Open(extent.address)


def _round_size(thing: Node) -> float:
    """How far a thing reaches in every direction [m]; of a size in three, the lesser side, which
    it fills whichever way it is turned."""
    if thing.given("diameter"):
        return thing.si("diameter")
    if thing.given("width"):
        return thing.si("width")
    size = thing.quantity("size", None) if thing.find("size") is not None else None
    if isinstance(size, Size):
        return min(size.sides[0].si, size.sides[-1].si) if len(size.sides) > 2 else size.sides[0].si
    if isinstance(size, Quantity):
        return size.si
    return usual_extent(thing.kind) or SIGN


def _outline(job: Job, thing: Node, room: Room, center: Point) -> tuple[Point, ...]:
    extent = thing.find("extent")
    if extent is not None and len(extent.children) == 2:
        names = list(extent.children)
        halves = [(name, thing.si(f"extent.{name}") / 2) for name in names]
    else:
        half = _round_size(thing) / 2
        halves = [(room.walls[0], half), (room.walls[1], half)]
    (first, a), (second, b) = halves
    u, v = _line(room, first), _line(room, second)
    if u is None or v is None:
        raise Open(f"{thing.address}.extent")
    (ux, uy), (vx, vy) = u.along, v.along
    x, y = center
    return tuple(
        (x + ux * a * s + vx * b * t, y + uy * a * s + vy * b * t)
        for s, t in ((-1, -1), (1, -1), (1, 1), (-1, 1))
    )
