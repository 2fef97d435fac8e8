"""The room that one needs to serve a machine or a board, and what stands in it. Meters."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from spec.job.node import Node, Open
from spec.place import plan
from spec.place.air import machines
from spec.place.plan import Footprint

if TYPE_CHECKING:
    from spec.place import Places

_CLOSED = ("filler", "panel")
"""Pieces that do not open by themselves."""
_BOARD = 0.37
"""[m] Width of a board that does not say it, 14-1/2 in between two studs. Common practice."""
_STEPS = 8
"""Places to each side that are tried for the space before a board."""


def kept_clear(places: Places, room: Node) -> Iterator[tuple[Node, Node, Footprint]]:
    """What a room's cooling keeps clear to serve its machines.

    The leaf that says how much, the cover or machine that it is before, and the clear space: below
    what is in the ceiling, before what hangs on a wall at the height of the machine.
    """
    service = room.find("cooling.service")
    if service is None or not service.known:
        return
    below, before = service.find("clear_below"), service.find("clear_front")
    if below is not None and service.has("clear_below"):
        for name in service.words("through", ()):
            thing = places.job.thing(name)
            if thing is None or not thing.surface.endswith(".ceiling"):
                continue
            top = places.room(room.key).height
            for outline in places.plan(thing).outlines:
                yield below, thing, Footprint(thing, outline, top - service.si("clear_below"), top)
    if before is not None and service.has("clear_front"):
        for machine in machines(places, room):
            wall = places.wall_of(machine.node)
            if wall is not None:
                deep = service.si("clear_front")
                zone = _before(places, wall, machine.node, deep)
                yield before, machine.node, zone


def _before(places: Places, wall: Node, thing: Node, deep: float) -> Footprint:
    on = places.rect(thing)
    far = (on.depth or 0.0) + deep
    outline = plan.on_floor(places, wall, on.rect.left, on.rect.right, far)
    return Footprint(thing, outline, on.rect.bottom, on.rect.top)


def in_the_clear(zone: Footprint, standing: Sequence[Footprint]) -> Iterator[Node]:
    """What stands in a space that is kept clear, but for the thing itself."""
    for thing in standing:
        if thing.node is not zone.node and thing.meets(zone):
            yield thing.node


def working_spaces(
    places: Places, board: Node, deep: float, wide: float, high: float
) -> list[Footprint]:
    """Where the space to work in before a panelboard may lie [m]; nowhere where it is on no wall.

    The board lies within its width, not always in its middle, which comes first. As deep, wide and
    high as the board says itself, where that is more; raises `Open`.
    """
    wall = places.wall_of(board)
    if wall is None:
        return []
    rect = places.rect(board).rect
    own = max(rect.width, _BOARD)
    wide = max(wide, own, board.si("clear_width", 0.0))
    deep = max(deep, board.si("clear_in_front", 0.0))
    high = max(high, board.si("clear_height", 0.0), rect.top)
    spare = (wide - own) / 2
    lefts = [rect.center - wide / 2 + spare * step / _STEPS for step in range(-_STEPS, _STEPS + 1)]
    lefts.sort(key=lambda left: abs(left + wide / 2 - rect.center))
    return [
        Footprint(board, plan.on_floor(places, wall, left, left + wide, deep), 0.0, high)
        for left in lefts
    ]


def outside(places: Places, zone: Footprint) -> float:
    """How far a space reaches past the walls or the ceiling of its room [m]."""
    room = places.room(zone.node.room)
    return max(plan.past(room.corners, zone.outline, whole=True), zone.top - room.height, 0.0)


def closed_in(places: Places, thing: Node) -> Node | None:
    """The piece that a thing is inside of, where it neither opens nor comes off."""
    piece = places.job.thing(thing.word("inside", ""))
    if piece is None or piece.kind not in _CLOSED:
        return None
    try:
        opens = any(piece.given(key) for key in ("removable", "opens", "comes_off"))
    except Open:
        return None
    return None if opens else piece
