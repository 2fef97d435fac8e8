"""What of the existing things is there when all is done, and where it has gone. Meters."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from spec.job.job import Job
from spec.job.node import Node
from spec.place.shapes import Point, Rect
from spec.place.sizes import size_of
from spec.place.things import on_plan, set_out

if TYPE_CHECKING:
    from spec.place import Places

_GOES = frozenset({"remove", "dispose", "store", "return", "move", "close", "block", "cap", "cut"})
_BACK = frozenset({"reinstall", "keep"})
_NO_BODY = ("reinforcement", "cable", "stud_wall", "rafters", "molding")
"""Kinds that lie in a surface or run along it and take no place on it."""


def stays(thing: Node) -> bool:
    """Whether a thing is at its place when all is done: new, kept, or put back there."""
    if thing.kind in _NO_BODY or thing.find("to") is not None:
        return False
    action = thing.find("action")
    if action is None or action.value is None:
        return True
    said = set(action.value) if isinstance(action.value, tuple) else {action.value}
    return bool(said & _BACK) or not said & _GOES


def comes_back(job: Job, surface: Node) -> Iterator[Node]:
    """The existing things that are moved to this wall, ceiling or floor."""
    for thing in job.everything:
        to = thing.find("to") if thing.container == "existing" else None
        if to is None:
            continue
        for key in ("wall", "surface"):
            place = to.find(key)
            if place is not None and place.value in (surface.key, surface.address):
                yield thing


def moved_on_wall(places: Places, thing: Node, wall: Node) -> Rect:
    """The rectangle of a thing on the wall that it is moved to; raises `Open`."""
    wide, high = size_of(places.job, thing)
    return set_out(thing.at("to"), wide, high, places.length(wall), places.height(wall))


def moved_on_plan(places: Places, thing: Node) -> tuple[tuple[Point, ...], ...]:
    """The outlines of a thing on the ceiling or floor that it is moved to; raises `Open`."""
    name = thing.at("to").word("surface").partition(".")[0]
    return on_plan(places.job, thing, places.room(name), thing.at("to"))
