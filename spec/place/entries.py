"""The doors through which one comes into a room. Meters throughout."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from spec.job.node import Node, Open
from spec.place import plan
from spec.quantity import Quantity

if TYPE_CHECKING:
    from spec.place import Places

_KINDS = ("door", "arch", "cased_opening")


class Entry(NamedTuple):
    """An opening that one passes, on a wall of a room: its left and right edge there [m]."""

    wall: Node
    left: float
    right: float
    beyond: frozenset[str]
    """The rooms of the job that it leads to; none where it leads out of them."""


def begins_at_floor(opening: Node) -> bool:
    """Whether one can walk through an opening: a hatch over a counter has its bottom higher."""
    bottom = opening.find("bottom")
    return bottom is None or not isinstance(bottom.value, Quantity) or bottom.value.si <= 0.0


def entries(places: Places, room: Node) -> list[Entry]:
    """The doors that bring one into a room from outside: not those to rooms that lie behind it.

    Every door where no room of the job has one that leads outside.
    """
    own, behind = _passed(places, room), _behind(places)
    here = behind.get(room.key)
    if here is None:
        return own
    return [e for e in own if min((behind.get(b, here) for b in e.beyond), default=-1) < here]


def _passed(places: Places, room: Node) -> list[Entry]:
    """All openings of a room that one passes; what is still open is left out."""
    found = []
    for opening in places.job.things(*_KINDS):
        if opening.heading == "openings" and begins_at_floor(opening):
            try:
                found += [e for e in _sides(places, opening) if e.wall.room == room.key]
            except Open:
                continue
    return found


def _sides(places: Places, opening: Node) -> Iterator[Entry]:
    """An opening as an entry into each room that it is in; raises `Open`."""
    own = places.wall_of(opening)
    sides = list(plan.sides(places, opening))
    for wall in places.job.walls:
        back = wall.find("back_of")
        if back is not None and own is not None and back.value == own.key:
            rect = places.mirrored(opening, wall).rect
            sides.append((wall, rect.left, rect.right))
    faces = own.find("faces") if own is not None else None
    there = places.job.thing(str(faces.value)) if faces is not None else None
    rooms = {wall.room for wall, _, _ in sides}
    if there is not None and there.kind == "room":
        rooms.add(there.key)
    for wall, left, right in sides:
        yield Entry(wall, left, right, frozenset(rooms - {wall.room}))


def _behind(places: Places) -> dict[str, int]:
    """How many rooms of the job one passes before each, for those that one gets to."""
    doors: dict[str, list[Entry]] = {}
    for room in places.job.rooms:
        try:
            doors[room.key] = _passed(places, room)
        except Open:
            continue
    found = {name: 0 for name, own in doors.items() if any(not door.beyond for door in own)}
    ahead = list(found)
    for name in ahead:
        for other, own in doors.items():
            if other not in found and any(name in door.beyond for door in own):
                found[other] = found[name] + 1
                ahead.append(other)
    return found
