"""The space before a panelboard: 30 in wide with the board anywhere in it, 36 in deep."""

from __future__ import annotations

import pytest

from tests.check.test_rules import said_of

RULE = "electrical.working-space-blocked"
_ROOM = """
rooms:
  tasting_room:
    taped: {to: finish}
    height: HIGH
    stacks: {bar: {bottom_to_top: {lower: {is: cabinets, height: 36 in, depth: 24 in}}}}
    walls_clockwise:
      TA:
        length: 12 ft
        millwork: {lower: {left: 0, width: 4 ft, left_to_right: {B1: {is: cabinet, width: 4 ft}}}}
        devices: {PN1: {is: panelboard, center: PLACE, aff: 60 in}}
      TB: {length: DEEP}
      TC: {length: 12 ft}
      TD: {length: DEEP}
"""


def room(place: str, high: str = "8 ft", deep: str = "8 ft") -> str:
    return _ROOM.replace("PLACE", place).replace("HIGH", high).replace("DEEP", deep)


@pytest.mark.parametrize("place", ["4 ft", "50 in", "12 in"])
def test_a_cabinet_before_the_board_blocks_it(place: str) -> None:
    assert {s.address for f in said_of(room(place), RULE) for s in f.spots} == {"PN1", "B1"}


@pytest.mark.parametrize("place", ["57 in", "8 ft", "136 in"])
def test_a_board_beside_a_cabinet_or_near_a_corner_may_stand_at_the_edge_of_its_space(
    place: str,
) -> None:
    assert not said_of(room(place), RULE)


@pytest.mark.parametrize(("high", "deep"), [("6 ft", "8 ft"), ("8 ft", "30 in")])
def test_a_room_too_low_or_too_narrow_has_no_space_for_a_board(high: str, deep: str) -> None:
    found = said_of(room("8 ft", high, deep), RULE)
    assert [f.address for f in found] == ["PN1"] and "leaves no space" in found[0].message
