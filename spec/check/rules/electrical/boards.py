"""Room to work before a panelboard."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.finding import Level
from spec.place import service
from spec.quantity import Quantity, show

_TAPED = 0.015
"""[m] A working space taped by hand in a metric job: 900 mm are 36 in."""
_ELSEWHERE = """
elsewhere: {PN1: {is: panelboard, where: garage, clear_in_front: 36 in, clear_width: WIDE}}
"""
_BOARD = """
rooms:
  tasting_room:
    taped: {to: finish}
    height: 8 ft
    stacks: {bar: {bottom_to_top: {lower: {is: cabinets, height: 36 in, depth: 24 in}}}}
    walls_clockwise:
      TA:
        length: 12 ft
        millwork: {lower: {left: 0, width: 4 ft, left_to_right: {B1: {is: cabinet, width: 4 ft}}}}
        devices: {PN1: {is: panelboard, center: PLACE, aff: 60 in, clear_in_front: 36 in}}
      TB: {length: 8 ft}
      TC: {length: 12 ft}
      TD: {length: 8 ft}
"""


@rule(
    "electrical.no-room-at-board",
    level=Level.ERROR,
    trades=("electrical", "millwork"),
    why="Whoever works at a live board needs to step back from it.",
    source="NEC 110.26(A)(1) to (3); cited from memory, check the adopted edition",
    each=("panelboard",),
    bad=_ELSEWHERE.replace("WIDE", "24 in"),
    good=_ELSEWHERE.replace("WIDE", "30 in"),
)
def no_room_at_board(facts: Facts, board: Node) -> Iterator[Said]:
    """The space before a board is less deep, wide or high than the house keeps."""
    for key, side, words in (
        ("clear_in_front", "clear", "deep"),
        ("clear_width", "width", "wide"),
        ("clear_height", "height", "high"),
    ):
        clear, least = board.find(key), facts.job.threshold(f"panelboard.{side}")
        if clear is None or not isinstance(clear.value, Quantity):
            continue
        if clear.value.si < least.si - _TAPED:
            yield said(
                clear,
                f"the space before {board.key} is {clear.written} {words}; the house keeps "
                f"{least.written}",
                "clear the space, or move the board",
            )


@rule(
    "electrical.working-space-blocked",
    level=Level.ERROR,
    trades=("electrical", "millwork"),
    why="Who works at a live board must be able to step back from it; nothing may stand there, not "
    "even low.",
    source="NEC 110.26(A)(1) to (3) and (B); cited from memory, check the adopted edition",
    each=("panelboard",),
    bad=_BOARD.replace("PLACE", "2 ft"),
    good=_BOARD.replace("PLACE", "8 ft"),
)
def working_space_blocked(facts: Facts, board: Node) -> Iterator[Said]:
    """A panelboard on a wall of the job has no working space, or something stands in it."""
    sides = [facts.job.limit(f"panelboard.{side}") for side in ("clear", "width", "height")]
    zones = service.working_spaces(facts.places, board, *sides)
    room = facts.job.thing(board.room)
    if not zones or room is None:
        return
    free = [z for z in zones if service.outside(facts.places, z) < _TAPED]
    standing = facts.places.standing(room)
    blocked = [[*service.in_the_clear(zone, standing)] for zone in free]
    if not free:
        deep, wide, high = (show(side, "length", facts.job.system) for side in sides)
        yield said(
            board,
            f"{room.key.replace('_', ' ')} leaves no space {wide} wide, {deep} deep and {high} "
            f"high before {board.key}",
            f"move {board.key} to a wall with that much before it",
        )
    elif all(blocked):
        for thing in blocked[0]:
            yield said(
                board,
                f"{thing.key} stands in the working space before {board.key}",
                f"move {board.key} to a wall that stays free",
                thing,
            )
