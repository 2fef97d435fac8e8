"""What stands or hangs in a room, as footprints with a height: along walls, free, overhead."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from spec.job.node import Node, Open
from spec.place import plan
from spec.place.later import comes_back, moved_on_plan, stays
from spec.place.plan import Footprint
from spec.place.sizes import has_extent
from spec.quantity import Size

if TYPE_CHECKING:
    from spec.place import Places

SEAT = 0.45
"""[m] How high what stands on a floor is taken to be where nothing says it: a bench. Common
practice, no source."""
_HANGING = ("pendant", "chandelier")
_UPRIGHT = ("column", "chase", "chimney", "drain_stack")
"""Kinds that go from floor to ceiling."""


def standing(places: Places, room: Node) -> list[Footprint]:
    """Everything that has a body in a room, once; what is still open is left out.

    Pieces of runs; what stands on the floor, what is put back there; what hangs on a wall and says
    how deep it is; lights that hang from the ceiling.
    """
    found = list(plan.millwork(places, room))
    for wall in room.group("walls_clockwise"):
        found += _on_wall(places, wall)
    floor, ceiling = room.find("floor"), room.find("ceiling")
    if floor is not None:
        found += _on_floor(places, floor)
    if ceiling is not None:
        found += _hanging(places, ceiling)
    return found


def _on_wall(places: Places, wall: Node) -> Iterator[Footprint]:
    for heading in ("equipment", "fixtures"):
        for thing in wall.group(heading):
            try:
                deep = _depth(thing)
                if deep <= 0 or not stays(thing):
                    continue
                rect = places.rect(thing).rect
                outline = plan.on_floor(places, wall, rect.left, rect.right, deep)
            except Open:
                continue
            yield Footprint(thing, outline, rect.bottom, rect.top)


def _depth(thing: Node) -> float:
    """How far a thing on a wall stands into the room [m]; 0 where nothing says it."""
    for key in ("depth", "projection", "thickness"):
        if thing.given(key):
            return thing.si(key)
    size = thing.quantity("size", None) if thing.find("size") is not None else None
    if isinstance(size, Size) and len(size.sides) > 2:
        return size.sides[2].si
    return 0.0


def _on_floor(places: Places, floor: Node) -> Iterator[Footprint]:
    for placed in places.on_surface(floor):
        thing = placed.node
        if thing.heading == "holes" or not stays(thing) or not has_extent(thing):
            continue
        if thing.find("covers") is not None:
            continue
        for outline in placed.outlines:
            yield Footprint(thing, outline, 0.0, _top(places, thing))
    for thing in comes_back(places.job, floor):
        try:
            for outline in moved_on_plan(places, thing) if has_extent(thing) else ():
                yield Footprint(thing, outline, 0.0, _top(places, thing))
        except Open:
            continue


def _top(places: Places, thing: Node) -> float:
    """How high a thing on a floor is [m]."""
    if thing.kind in _UPRIGHT:
        return places.room(thing.room).height
    if thing.has("height"):
        return thing.si("height")
    size = thing.quantity("size", None) if thing.find("size") is not None else None
    if isinstance(size, Size) and len(size.sides) > 2:
        return size.sides[1].si
    return SEAT


def _hanging(places: Places, ceiling: Node) -> Iterator[Footprint]:
    for light in ceiling.group("lights"):
        if light.kind not in _HANGING or not light.has("bottom"):
            continue
        try:
            placed, top = places.plan(light), places.room(ceiling.room).height
        except Open:
            continue
        bottom = light.si("bottom")
        high = light.si("height") if light.has("height") else top - bottom
        for outline in placed.outlines:
            yield Footprint(light, outline, bottom, bottom + high)
