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


def working_space(
    places: Places, board: Node, deep: float, wide: float, high: float
) -> Footprint | None:
    """The space to work in before a panelboard on a wall [m]; None where it stands on none.

    As deep and wide as it says itself, where that is more; raises `Open`.
    """
    wall = places.wall_of(board)
    if wall is None:
        return None
    rect = places.rect(board).rect
    wide = max(wide, rect.width, board.si("clear_width", 0.0))
    deep = max(deep, board.si("clear_in_front", 0.0))
    left = rect.center - wide / 2
    outline = plan.on_floor(places, wall, left, left + wide, deep)
    return Footprint(board, outline, 0.0, high)


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
