"""Where the air of a machine goes, and what stands in it. Meters throughout."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, NamedTuple

from spec.job.node import Node, Open
from spec.place import plan
from spec.place.later import stays
from spec.place.plan import Footprint
from spec.place.shapes import Point, line_between
from spec.place.sizes import has_extent
from spec.quantity import Size

if TYPE_CHECKING:
    from spec.place import Places

UNDER = 0.3
"""[m] How far below the ceiling, or below the machine, the air runs before it falls. Common
practice, no source."""
_USUAL_DEPTH = 0.3
"""[m] How far a machine on a wall stands out that does not say it. Common practice, no source."""
_PASSED = ("door", "gate", "arch", "cased_opening")
_PROUD = ("pendant", "chandelier", "spot", "smoke_alarm", "sprinkler_head", "evaporator")
"""What under a ceiling stands in the air or suffers by it; a recessed light does neither."""


class Machine(NamedTuple):
    """A machine that blows: its outline in plan, the stretch of height of its air, which way."""

    node: Node
    outline: tuple[Point, ...]
    bottom: float
    top: float
    way: Point


class Met(NamedTuple):
    """What stands in the air of a machine, and how far before it [m]."""

    machine: Machine
    thing: Node
    before: float


def named_wall(machine: Node) -> str:
    """The wall that a machine is said to blow toward; empty where it names none."""
    said = machine.word("blows")
    return said.removeprefix("toward ") if said.startswith("toward ") else ""


def machines(places: Places, room: Node) -> list[Machine]:
    """The machines of a room that blow along; those of which anything is open left out."""
    found = []
    ceiling = room.find("ceiling")
    for surface in (*room.group("walls_clockwise"), *((ceiling,) if ceiling is not None else ())):
        for node in surface.group("equipment"):
            if node.kind not in ("evaporator", "cooling_unit") or not node.has("blows"):
                continue
            try:
                machine = _machine(places, room, surface, node)
            except Open:
                continue
            if machine is not None:
                found.append(machine)
    return found


def near(places: Places, room: Node, thing: Node) -> Iterator[tuple[Node, float]]:
    """The machines of a room behind which a thing on a wall is not, and how far it is [m]."""
    wall = places.wall_of(thing)
    if wall is None:
        return
    rect = places.rect(thing).rect
    spot = plan.on_floor(places, wall, rect.left, rect.right, 0.0)
    for machine in machines(places, room):
        (x, y), (mx, my) = plan.middle(spot), plan.middle(machine.outline)
        if (x - mx) * machine.way[0] + (y - my) * machine.way[1] < 0.0:
            continue
        beside = max(-plan.overlap(machine.outline, spot), 0.0)
        below = max(machine.bottom - rect.top, rect.bottom - machine.top, 0.0)
        yield machine.node, math.hypot(beside, below)


def _machine(places: Places, room: Node, surface: Node, node: Node) -> Machine | None:
    if surface.kind != "wall":
        if not has_extent(node):
            return None
        outline, top = places.plan(node).outlines[0], places.room(room.key).height
        way = _toward(places, room, node)
        return None if way is None else Machine(node, outline, top - UNDER, top, way)
    on = places.rect(node)
    deep = on.depth or _third_side(node) or _USUAL_DEPTH
    outline = plan.on_floor(places, surface, on.rect.left, on.rect.right, deep)
    start, end = places.room(room.key).ends(surface.key)
    (ux, uy) = line_between(start, end).along
    said = {"right": (ux, uy), "left": (-ux, -uy), "away from the wall": (uy, -ux)}
    way = said.get(node.word("blows")) or _toward(places, room, node)
    return None if way is None else Machine(node, outline, on.rect.bottom, on.rect.top, way)


def _third_side(node: Node) -> float:
    size = node.quantity("size", None) if node.find("size") is not None else None
    return size.sides[2].si if isinstance(size, Size) and len(size.sides) > 2 else 0.0


def _toward(places: Places, room: Node, node: Node) -> Point | None:
    """Square at the wall that a machine blows toward; None where it is no wall of its room."""
    wall, finished = named_wall(node), places.room(room.key)
    if wall not in finished.walls:
        return None
    (ux, uy) = line_between(*finished.ends(wall)).along
    return (-uy, ux)


def at_each_other(found: Sequence[Machine]) -> Iterator[tuple[Machine, Machine, float]]:
    """Machines that blow into each other's face, however far apart [m]."""
    for i, one in enumerate(found):
        for other in found[i + 1 :]:
            facing = one.way[0] * other.way[0] + one.way[1] * other.way[1]
            if facing > -0.7 or not _same_height(one, other.bottom, other.top):
                continue
            ahead = _before(one, other.outline)
            if ahead is not None and _before(other, one.outline) is not None:
                yield one, other, ahead


def in_the_air(
    places: Places, room: Node, machine: Machine, standing: Sequence[Footprint], clear: float
) -> Iterator[Met]:
    """What stands nearer before a machine than `clear` [m], at the height of its air."""
    for thing in standing:
        if thing.node is not machine.node and _same_height(machine, thing.bottom, thing.top):
            yield from _met(machine, thing.node, thing.outline, clear)
    ceiling = room.find("ceiling")
    under = machine.top > places.room(room.key).height - UNDER
    for placed in places.on_surface(ceiling) if ceiling is not None and under else ():
        node = placed.node
        if node.kind in _PROUD and has_extent(node) and stays(node) and node is not machine.node:
            for outline in placed.outlines:
                yield from _met(machine, node, outline, clear)
    for wall in room.group("walls_clockwise"):
        yield from _walls(places, machine, wall, clear)


def _walls(places: Places, machine: Machine, wall: Node, clear: float) -> Iterator[Met]:
    """The wall itself, or the door in it, close before a machine."""
    for opening in places.seen_from(wall):
        rect = opening.rect
        if opening.node.kind in _PASSED and _same_height(machine, rect.bottom, rect.top):
            face = plan.on_floor(places, wall, rect.left, rect.right, 0.0)[:2]
            yield from _met(machine, opening.node, face, clear)
    face = plan.on_floor(places, wall, 0.0, places.length(wall), 0.0)[:2]
    yield from _met(machine, wall, face, clear)


def _met(machine: Machine, thing: Node, outline: Sequence[Point], clear: float) -> Iterator[Met]:
    ahead = _before(machine, outline)
    if ahead is not None and ahead < clear:
        yield Met(machine, thing, ahead)


def _same_height(machine: Machine, bottom: float, top: float) -> bool:
    return min(machine.top, top) - max(machine.bottom, bottom) > 0.01


def _before(machine: Machine, outline: Sequence[Point]) -> float | None:
    """How far before a machine's face an outline is [m]; None where it is beside or behind it."""
    (dx, dy) = machine.way
    own = [x * dy - y * dx for x, y in machine.outline]
    across = [x * dy - y * dx for x, y in outline]
    if min(max(own), max(across)) - max(min(own), min(across)) < 0.01:
        return None
    face = max(x * dx + y * dy for x, y in machine.outline)
    along = [x * dx + y * dy for x, y in outline]
    if max(along) <= face + 0.001 or math.isclose(max(along), face):
        return None
    return max(min(along) - face, 0.0)
