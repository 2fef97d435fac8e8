"""Which placed things take the same place: on a wall, on a ceiling, on a floor. Meters throughout.

Every thing takes up its outline on the surface and a stretch square to it, from behind the finished
face (negative) into the room. Two things collide where both overlap, unless one names the other as
what it is inside, over, behind, along, for or fed through; unless a hole lies wholly within what
hangs before it: it is that thing's own; and unless a strip lies along something.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from spec.job.node import Node, Open
from spec.place import plan
from spec.place.later import comes_back, moved_on_plan, moved_on_wall, stays
from spec.place.shapes import Point, Rect, line_between
from spec.place.sizes import has_extent, usual_extent

if TYPE_CHECKING:
    from spec.place import Places

LEAST = 0.003
"""[m] What two things may share by rounding of the tape."""
_RELATES = frozenset(
    [
        "inside",
        "over",
        "behind",
        "along",
        "under",
        "contains",
        "for",
        "at",
        "hole",
        "covers",
        "hung_from",
        "stands_on",
        "reached",
        "back",
        "from",
        "to",
        "held_by",
        "fixing",
        "fixed",
    ]
)
"""Keys under which a thing names, as a mark or within a sentence, what shares its place."""
_PARTS = ("strip", "joint", "post", "fixed", "curtain", "shutters", "blind")
"""What lies along or before another thing by its nature."""
_SURFACE = ("pendant", "chandelier", "spot", "smoke_alarm", "sensor", "camera", "speaker")
"""What is mounted on a ceiling's face: under backing, not in it."""
_THIN = 0.02
"""[m] What a plate, a casing or a grille stands out. Common practice."""
_IN_WALL = 0.09
"""[m] How deep boxes, housings and timbers reach behind the face. Common practice."""


@dataclass(frozen=True, slots=True)
class Part:
    """What a thing takes up: an outline on its surface, and from where to where square to it."""

    node: Node
    outline: tuple[Point, ...]
    near: float
    far: float


@dataclass(frozen=True, slots=True)
class Collision:
    """Two things in one place of a surface, in the order of the file.

    `wide` and `high` are what they share along the surface and up it; in plan along the first wall
    of the room and square off it. `at_one` and `at_other` are their middles from the left corner
    and up from the floor; in plan off the two walls `off` [m]. `also` is what belongs to the second
    and lies there too: its backing, its cover.
    """

    one: Node
    other: Node
    surface: Node
    wide: float
    high: float
    at_one: Point
    at_other: Point
    off: tuple[str, str] = ("", "")
    also: tuple[Node, ...] = ()


def on_wall(places: Places, wall: Node) -> list[Collision]:
    """What collides on a wall, holes and openings of its other side taken in."""
    parts = [part for part in _wall_parts(places, wall) if part is not None]
    return _gathered(_pairs(wall, parts, _told_elsewhere))


def on_ceiling(places: Places, ceiling: Node) -> list[Collision]:
    """What collides on a ceiling."""
    found = _pairs(ceiling, list(_ceiling_parts(places, ceiling)), _nowhere_else)
    return [_off_walls(places, hit) for hit in _gathered(found)]


def on_floor(places: Places, room: Node, standing: Sequence[plan.Footprint]) -> list[Collision]:
    """What of all that stands or hangs in a room collides, but for runs of millwork by themselves.

    `standing` is what `spec.place.moving.standing` gives of the room.
    """
    floor = room.find("floor") or room
    parts = [Part(s.node, s.outline, s.bottom, s.top) for s in standing]
    found = _pairs(floor, parts, _both_on_walls)
    return [_off_walls(places, hit) for hit in _gathered(found)]


# ------------------------------------------------------------------ what each takes up


def _wall_parts(places: Places, wall: Node) -> Iterator[Part | None]:
    for thing in places.seen_from(wall):
        yield _wall_part(thing.node, thing.rect, thing.depth)
    written = places.written_wall(wall)
    if written is not wall:
        for hole in written.group("holes"):
            try:
                yield _wall_part(hole, places.mirrored(hole, wall).rect, None)
            except Open:
                continue
    for moved in comes_back(places.job, wall):
        try:
            rect = moved_on_wall(places, moved, wall)
        except Open:
            continue
        yield _wall_part(moved, rect, None, here=True)


def _wall_part(node: Node, rect: Rect, depth: float | None, *, here: bool = False) -> Part | None:
    """What a thing on a wall takes up; None where it is gone, a part of another or has no size."""
    if node.kind in _PARTS or not (here or stays(node)) or _in_another(node):
        return None
    if rect.width <= 0 or rect.height <= 0:
        extent = usual_extent(node.kind)
        if extent is None or rect.width > 0 or rect.height > 0:
            return None
        rect = Rect(rect.left - extent / 2, rect.bottom - extent / 2, extent, extent)
    near, far = {
        "openings": (-math.inf, _THIN),
        "holes": (-math.inf, _THIN),
        "backing": (-_IN_WALL, 0.0),
        "devices": (-_IN_WALL, _THIN),
        "existing": (-_IN_WALL, _THIN),
        "lights": (-_IN_WALL, _THIN),
    }.get(node.heading, (0.0, _THIN))
    corners = (
        (rect.left, rect.bottom),
        (rect.right, rect.bottom),
        (rect.right, rect.top),
        (rect.left, rect.top),
    )
    return Part(node, corners, near, max(far, depth or 0.0))


def _in_another(node: Node) -> bool:
    """A device in a plate, a part of a glass front, a gate in its arch, a ladder before its run."""
    upper = node.parent
    if upper is not None and upper.key == "left_to_right" and node.heading != "millwork":
        return True
    return node.kind in ("ladder", "gate")


def _ceiling_parts(places: Places, ceiling: Node) -> Iterator[Part]:
    for placed in places.on_surface(ceiling):
        node = placed.node
        if stays(node) and node.find("covers") is None and has_extent(node):
            for outline in placed.outlines:
                yield _ceiling_part(node, outline)
    for thing in comes_back(places.job, ceiling):
        try:
            outlines = moved_on_plan(places, thing)
        except Open:
            continue
        for outline in outlines if has_extent(thing) else ():
            yield _ceiling_part(thing, outline)


def _ceiling_part(node: Node, outline: tuple[Point, ...]) -> Part:
    if node.heading == "holes":
        return Part(node, outline, -math.inf, _THIN)
    if node.heading == "backing":
        return Part(node, outline, -_IN_WALL, 0.0)
    if node.kind in _SURFACE or node.kind == "cover" or node.heading == "millwork":
        return Part(node, outline, 0.0, _THIN)
    return Part(node, outline, -_IN_WALL, _THIN)


# ------------------------------------------------------------------ pairs

Told = Callable[[Node, Node], bool]
"""Says whether a pair is not to be asked for: another rule speaks of it."""


def _pairs(surface: Node, parts: list[Part], told: Told) -> Iterator[Collision]:
    for i, one in enumerate(parts):
        for other in parts[i + 1 :]:
            if one.node is other.node or not _meet(one, other):
                continue
            if _apart_by_kind(one, other, told) or related(one.node, other.node):
                continue
            yield _collision(surface, one, other)


def _meet(one: Part, other: Part) -> bool:
    square_to = min(one.far, other.far) - max(one.near, other.near)
    return square_to > 0.001 and plan.overlap(one.outline, other.outline) > LEAST


def _apart_by_kind(one: Part, other: Part, told: Told) -> bool:
    if told(one.node, other.node):
        return True
    kinds = {one.node.heading, other.node.heading}
    if "holes" in kinds and _own_hole(one, other):
        return True
    if "backing" in kinds and kinds != {"backing"}:
        backing = one.node if one.node.heading == "backing" else other.node
        return kinds & {"openings", "existing"} != set() or "plywood" in backing.text("member", "")
    return kinds == {"backing"}


def _own_hole(one: Part, other: Part) -> bool:
    """A hole lies wholly within what hangs before it; a machine in the ceiling hangs in it."""
    hole, before = (one, other) if one.node.heading == "holes" else (other, one)
    if before.node.heading in ("holes", "backing", "openings"):
        return False
    if before.node.heading == "equipment" and before.near < 0:
        return False
    return plan.inside(before.outline, hole.outline) > -LEAST


def _told_elsewhere(one: Node, other: Node) -> bool:
    """Pairs on a wall of which a rule of their own speaks, and those that may share a place.

    Devices among themselves, before openings and fixtures; what lies behind millwork; openings
    that millwork stands before; runs of millwork; holes, which pipes leave behind anything.
    """
    kinds = frozenset((one.heading, other.heading))
    if kinds in _OF_ANOTHER_RULE:
        return True
    if kinds == {"openings", "millwork"}:
        opening = one if one.heading == "openings" else other
        return opening.kind in ("door", "arch", "cased_opening")
    return False


_OF_ANOTHER_RULE = frozenset(
    frozenset(pair)
    for pair in (
        ("devices",),
        ("devices", "openings"),
        ("devices", "fixtures"),
        ("devices", "millwork"),
        ("existing", "millwork"),
        ("holes", "millwork"),
        ("backing", "millwork"),
        ("backing", "fixtures"),
        ("millwork",),
    )
)


def _nowhere_else(one: Node, other: Node) -> bool:
    return False


def _both_on_walls(one: Node, other: Node) -> bool:
    return one.surface != other.surface and _stands_on_wall(one) and _stands_on_wall(other)


def _stands_on_wall(node: Node) -> bool:
    return node.heading == "millwork" and not node.surface.endswith(".floor")


def related(one: Node, other: Node) -> bool:
    """Whether one of two things names the other as what shares its place."""
    return other.key in _named(one) or one.key in _named(other)


def _named(node: Node) -> set[str]:
    found: set[str] = set()
    for key in _RELATES:
        leaf = node.find(key)
        if leaf is None:
            continue
        values = leaf.value if isinstance(leaf.value, tuple) else (leaf.value,)
        for value in values:
            if isinstance(value, str):
                found.update(value.replace(",", " ").split())
    return found


def _collision(surface: Node, one: Part, other: Part) -> Collision:
    if other.node.key_place.line < one.node.key_place.line:
        one, other = other, one
    shared = [_overlap(one.outline, other.outline, axis) for axis in (0, 1)]
    at = [_middle(part.outline) for part in (one, other)]
    return Collision(one.node, other.node, surface, shared[0], shared[1], at[0], at[1])


def _overlap(one: Sequence[Point], other: Sequence[Point], axis: int) -> float:
    a, b = [p[axis] for p in one], [p[axis] for p in other]
    return min(max(a), max(b)) - max(min(a), min(b))


def _middle(outline: Sequence[Point]) -> Point:
    xs, ys = zip(*outline, strict=True)
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


def _off_walls(places: Places, hit: Collision) -> Collision:
    """A collision in plan with its middles off the first and the last wall of its room."""
    room = places.room(hit.surface.room or hit.surface.key)
    walls = (room.walls[0], room.walls[-1])
    lines = [line_between(*room.ends(wall)) for wall in walls]
    at = [(lines[0].distance(p), lines[1].distance(p)) for p in (hit.at_one, hit.at_other)]
    return replace(hit, at_one=at[0], at_other=at[1], off=walls)


def _gathered(found: Iterator[Collision]) -> list[Collision]:
    """One collision for each pair; what belongs to a thing that is met is said with it."""
    pairs: dict[tuple[str, str], Collision] = {}
    for hit in found:
        pairs.setdefault((hit.one.address, hit.other.address), hit)
    kept = list(pairs.values())
    for hit in pairs.values():
        for whole in pairs.values():
            thing, lesser = _belongs(hit, whole)
            if lesser is not None and thing is not None and hit in kept and whole in kept:
                kept[kept.index(whole)] = replace(whole, also=(*whole.also, lesser))
                kept.remove(hit)
                break
    return kept


def _belongs(hit: Collision, whole: Collision) -> tuple[Node | None, Node | None]:
    """The thing that both meet, and what of `hit` only carries or covers what `whole` meets."""
    for thing, lesser in ((hit.one, hit.other), (hit.other, hit.one)):
        if lesser.heading != "backing" and lesser.kind != "cover":
            continue
        for same, larger in ((whole.one, whole.other), (whole.other, whole.one)):
            if same is thing and larger is not lesser and larger.key in _named(lesser):
                return thing, lesser
    return None, None
