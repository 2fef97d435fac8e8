"""Room to work before a panelboard."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.finding import Level
from spec.place import service

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
    "electrical.working-space-blocked",
    level=Level.ERROR,
    trades=("electrical", "millwork"),
    why="Who works at a live board must be able to step back from it; nothing may stand there, not "
    "even low.",
    source="NEC 110.26(A) and (B); cited from memory, check the adopted edition",
    each=("panelboard",),
    bad=_BOARD.replace("PLACE", "2 ft"),
    good=_BOARD.replace("PLACE", "8 ft"),
)
def working_space_blocked(facts: Facts, board: Node) -> Iterator[Said]:
    """Something stands in the working space before a panelboard on a wall of the job."""
    limits = (facts.job.limit(f"panelboard.{side}") for side in ("clear", "width", "height"))
    zone = service.working_space(facts.places, board, *limits)
    room = facts.job.thing(board.room)
    if zone is None or room is None:
        return
    for thing in service.in_the_clear(zone, facts.places.standing(room)):
        yield said(
            board,
            f"{thing.key} stands in the working space before {board.key}",
            f"move {board.key} to a wall that stays free",
            thing,
        )
