"""Which placed things take the same place: on a wall, on a ceiling, on a floor. Meters throughout.

Every thing takes up its outline on the surface and a stretch square to it (`spec.place.parts`; on a
floor its height). Two things collide where both overlap, unless one names the other as
what it is inside, over, behind, along, for or fed through; unless a hole lies wholly within what
hangs before it: it is that thing's own; and unless a strip lies along something.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING, NamedTuple

from spec.job.node import Node
from spec.place import parts, plan
from spec.place.parts import Part
from spec.place.shapes import Point, bounds_apart, bounds_of, line_between

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


class Collision(NamedTuple):
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
    return _gathered(_pairs(wall, list(parts.on_wall(places, wall)), _told_elsewhere))


def on_ceiling(places: Places, ceiling: Node) -> list[Collision]:
    """What collides on a ceiling."""
    found = _pairs(ceiling, list(parts.on_ceiling(places, ceiling)), _nowhere_else)
    return [_off_walls(places, hit) for hit in _gathered(found)]


def on_floor(places: Places, room: Node, standing: Sequence[plan.Footprint]) -> list[Collision]:
    """What of all that stands or hangs in a room collides, but for runs of millwork by themselves.

    `standing` is what `Places.standing` gives of the room.
    """
    floor = room.find("floor") or room
    bodies = [Part(s.node, s.outline, s.bottom, s.top) for s in standing]
    found = _pairs(floor, bodies, _both_on_walls)
    return [_off_walls(places, hit) for hit in _gathered(found)]


# ------------------------------------------------------------------ pairs

Told = Callable[[Node, Node], bool]
"""Says whether a pair is not to be asked for: another rule speaks of it."""


def _pairs(surface: Node, all_parts: list[Part], told: Told) -> Iterator[Collision]:
    bounds = [bounds_of(part.outline) for part in all_parts]
    for i, one in enumerate(all_parts):
        for j in range(i + 1, len(all_parts)):
            other = all_parts[j]
            if bounds_apart(bounds[i], bounds[j]) > -LEAST or one.node is other.node:
                continue
            if not _meet(one, other):
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
                found.update(word.strip(",.;:()") for word in value.split())
    return found


def _collision(surface: Node, one: Part, other: Part) -> Collision:
    first, second = (part.node.key_place for part in (one, other))
    if (second.line, second.column) < (first.line, first.column):
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
    return hit._replace(at_one=at[0], at_other=at[1], off=walls)


def _gathered(found: Iterator[Collision]) -> list[Collision]:
    """One collision for each pair; what belongs to a thing that is met is said with it."""
    pairs: dict[tuple[str, str], Collision] = {}
    for hit in found:
        pairs.setdefault((hit.one.address, hit.other.address), hit)
    kept: list[Collision] = []
    for hit in pairs.values():
        also = tuple(less for other in pairs.values() if (less := _of(other, hit)) is not None)
        if not any(_of(hit, whole) is not None for whole in pairs.values()):
            kept.append(hit._replace(also=also))
    return kept


def _of(hit: Collision, whole: Collision) -> Node | None:
    """What of `hit` only carries or covers what the same thing meets in `whole`."""
    for thing, lesser in ((hit.one, hit.other), (hit.other, hit.one)):
        if lesser.heading != "backing" and lesser.kind != "cover":
            continue
        for same, larger in ((whole.one, whole.other), (whole.other, whole.one)):
            carried = larger.heading != "backing" and larger.kind != "cover"
            if same is thing and carried and larger.key in _named(lesser):
                return lesser
    return None
