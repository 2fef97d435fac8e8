"""Three heights of one tape: the smallest goes between two walls, the largest is covered."""

from __future__ import annotations

import pytest

from spec.derive.figure import Facts
from tests.resolved import facts_of

ROOM = """
rooms:
  room_one:
    taped: {to: finish}
    height: [2.5 m, 2.4 m, 2.6 m]
    finishes: {walls: F1}
    walls_clockwise:
      WA: {length: [3 m, 3.02 m, 2.98 m]}
      WB: {length: 2 m}
      WC: {length: [3 m, 3.02 m, 2.98 m]}
      WD: {length: 2 m}
finishes: {F1: {is: plaster, thickness: 1 cm}}
"""
WITHIN = """
as_found:
  flat:
    taped: {to: finish}
    height: [2.5 m, 2.4 m, 2.6 m]
    walls_clockwise:
      FA: {length: [3 m, 3.02 m, 2.98 m]}
      FB: {length: 2 m}
      FC: {length: [3 m, 3.02 m, 2.98 m]}
      FD: {length: 2 m}
rooms:
  room_one:
    within: flat
    walls_clockwise: {WA: {on: FA}, WB: {on: FB}, WC: {on: FC}, WD: {on: FD}}
"""


def value(facts: Facts, name: str, mark: str) -> float:
    thing = facts.job.thing(mark)
    assert thing is not None
    return facts.figures.value(name, thing)


@pytest.mark.parametrize("text", [ROOM, WITHIN])
def test_the_smallest_between_two_walls_and_the_largest_for_what_covers(text: str) -> None:
    facts = facts_of(text)
    fits, covers = facts.places.room("room_one"), facts.places.covered("room_one")
    assert (fits.length("WA"), fits.height) == pytest.approx((2.98, 2.4))
    assert (covers.length("WA"), covers.height) == pytest.approx((3.02, 2.6))
    assert value(facts, "area.wall", "WA") == pytest.approx(3.02 * 2.6)
    assert value(facts, "area.floor", "room_one") == pytest.approx(3.02 * 2)
    assert facts.places.length(facts.job.walls[0]) == pytest.approx(2.98)


def test_plaster_is_bought_for_the_largest() -> None:
    facts = facts_of(ROOM)
    thing = facts.job.thing("F1")
    assert thing is not None
    plaster = facts.figures.get("finishes.plaster_area", thing)
    assert sum(part.value for part in plaster.parts) == pytest.approx(2 * (3.02 + 2) * 2.6)
    assert {"WA.length", "room_one.height"} <= plaster.inputs


def test_one_reading_covers_what_it_fits() -> None:
    text = ROOM.replace("[3 m, 3.02 m, 2.98 m]", "3 m").replace("[2.5 m, 2.4 m, 2.6 m]", "2.5 m")
    facts = facts_of(text)
    assert facts.places.covered("room_one") is facts.places.room("room_one")
