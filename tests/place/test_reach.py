"""What is got at from the door with a clear aisle, and which doors bring one in."""

from __future__ import annotations

import pytest

from spec.job.node import Node
from spec.place import entries, reach
from tests.place.test_moving import BAR, INCH, hall
from tests.resolved import facts_of


def shut(standing: str, aisle: float = 36) -> dict[tuple[str, str], tuple[float, list[str]]]:
    bar = BAR.replace("left: 24 in, width: 48 in", "left: 0, width: 48 in").replace(
        "OPENS", "doors: 2"
    )
    facts, room = hall(bar, standing=standing)
    found = reach.shut_off(facts.places, room, aisle * INCH, facts.places.standing(room))
    return {
        (s.sides[0].key, s.sides[1].key): (s.width / INCH, [t.key for t in s.things]) for s in found
    }


def wall(off: int, left: int, right: int) -> str:
    """A case stack that stands across the hall, off WA, from one side to the other."""
    middle, wide = (left + right) / 2, right - left
    return (
        f"millwork: {{CS1: {{is: case_stack, center: {{WA: {off} in, WD: {middle} in}}, "
        f"extent: {{WA: {wide} in, WD: 12 in}}, height: 40 in}}}}"
    )


def test_all_is_reached_in_an_empty_hall() -> None:
    assert not shut("")


@pytest.mark.parametrize(("gap", "told"), [(30, True), (35, True), (37, False)])
def test_the_narrowest_place_is_named_with_its_sides(gap: int, told: bool) -> None:
    found = shut(wall(70, 0, 160 - gap))
    assert bool(found) == told
    if told:
        ((sides, (width, things)),) = found.items()
        assert set(sides) == {"CS1", "WB"}
        assert width == pytest.approx(gap)
        assert things == ["B1", "B2"]


def test_a_way_round_the_other_side_is_a_way() -> None:
    assert not shut(wall(70, 40, 160))


def test_what_stands_right_before_a_front() -> None:
    found = shut(wall(50, 0, 160))
    assert ("B1", "CS1") in found
    assert found["B1", "CS1"][0] == pytest.approx(20)


@pytest.mark.parametrize(("high", "told"), [(20, False), (40, True)])
def test_over_what_is_low_one_gets_at_what_is_high(high: int, told: bool) -> None:
    found = shut(wall(50, 0, 160).replace("40 in", f"{high} in"))
    assert (("B1", "CS1") in found) == told


BEHIND = """
rooms:
  hall:
    taped: {to: finish}
    height: 96 in
    walls_clockwise:
      WA: {length: 160 in, faces: cell, openings: {D2: {is: door, center: 40 in,
          leaf: {width: 32 in, height: 80 in}}}}
      WB: {length: 120 in, faces: street, openings: {D1: {is: door, center: 60 in,
          leaf: {width: 32 in, height: 80 in}}}}
      WC: {length: 160 in}
      WD: {length: 120 in}
  cell:
    taped: {to: finish}
    height: 96 in
    walls_clockwise:
      VA: {length: 160 in}
      VB: {length: 80 in}
      VC: {length: 160 in, back_of: WA, lines_up: {D2: 120 in}}
      VD: {length: 80 in}
surroundings: {street: {summer: {temperature: 24 °C}}}
"""


def ways_into(room: str) -> list[tuple[str, int, int]]:
    facts = facts_of(BEHIND)
    node = facts.job.thing(room)
    assert isinstance(node, Node)
    return [
        (e.wall.key, round((e.left + e.right) / 2 / INCH), len(e.beyond))
        for e in entries.entries(facts.places, node)
    ]


def test_a_door_to_a_room_behind_brings_nobody_in() -> None:
    assert ways_into("hall") == [("WB", 60, 0)]
    assert ways_into("cell") == [("VC", 120, 1)]
