"""Rooms cut from a taped space: less linings and partitions they come out at what was decided."""

from __future__ import annotations

from functools import cache

import pytest

from spec import files
from spec.derive.figure import Facts
from spec.job.node import Open
from spec.place import place
from tests.resolved import facts_of, starter


@cache
def city_flat() -> Facts:
    """The starter whose rooms are cut from one space."""
    job = starter(files.templates() / "jobs" / "city_flat" / "job.yaml")
    return Facts(job, place(job))


@pytest.mark.parametrize(
    ("room", "wall", "millimeters"),
    [("wine_wall", "WE", 560), ("walk_in", "KN", 1720), ("walk_in", "KE", 1700)],
)
def test_sizes_that_were_decided_come_out(room: str, wall: str, millimeters: float) -> None:
    assert city_flat().places.room(room).length(wall) * 1000 == pytest.approx(millimeters, abs=0.5)


def test_both_faces_of_a_partition_are_its_thickness_apart() -> None:
    """Along FN: wine wall, partition, walk-in and linings fill the space from FW to FE."""
    places = city_flat().places
    space = places.taping(next(iter(city_flat().job.things("as_found"))))
    as_found = space.corners[1][0] - space.corners[0][0]
    rooms = places.room("wine_wall").length("WN") + places.room("walk_in").length("KN")
    assert 0 < as_found - rooms < 0.6


SPACE = """
assemblies:
  AL:
    from_room_outward:
      board: {material: gypsum_board, thickness: 13 mm}
      void: {material: air, thickness: 37 mm, role: structure, state: existing}
  AP:
    from_room_outward:
      a: {material: gypsum_board, thickness: 13 mm}
      s: {material: mineral_wool, thickness: 74 mm, role: structure}
      b: {material: gypsum_board, thickness: 13 mm}
partitions:
  PA1: {assembly: AP, seen_from: left_room}
as_found:
  flat:
    taped: {to: structure}
    height: 2600 mm
    walls_clockwise:
      FN: {length: 6000 mm}
      FE: {length: 4000 mm}
      FS: {length: 6000 mm}
      FW: {length: 4000 mm}
rooms:
  left_room:
    within: flat
    walls_clockwise:
      AN: {on: FN, LEFT}
      AE: {partition: PA1}
      AS: {on: FS}
      AW: {on: FW, assembly: AL}
  right_room:
    within: flat
    walls_clockwise:
      BN: {on: FN}
      BE: {on: FE}
      BS: {on: FS}
      BW: {partition: PA1}
"""


def test_a_decided_length_fixes_the_partition_and_the_room_behind_it() -> None:
    facts = facts_of(SPACE.replace("LEFT", "length: 2500 mm"))
    assert not facts.job.findings, facts.job.findings[0].message
    left, right = facts.places.room("left_room"), facts.places.room("right_room")
    assert left.length("AN") == pytest.approx(2.5)
    assert right.length("BN") == pytest.approx(6.0 - 0.013 - 2.5 - 0.1)
    assert left.length("AE") == pytest.approx(4.0) == right.length("BW")
    assert left.area + right.area + 4.0 * (0.013 + 0.1) == pytest.approx(24.0)


@pytest.mark.parametrize(
    ("edge", "left"),
    [("{FW: 2600 mm}", 2.6 - 0.013 - 0.013), ("{FE: 3000 mm}", 6.0 - 3.0 - 0.074 - 2 * 0.013)],
)
def test_a_partition_stands_so_far_off_an_as_found_wall_to_its_structure(
    edge: str, left: float
) -> None:
    text = SPACE.replace(", LEFT", "").replace(
        "seen_from: left_room", f"seen_from: left_room, edge: {edge}"
    )
    facts = facts_of(text)
    assert not facts.job.findings, facts.job.findings[0].message
    one, other = facts.places.room("left_room"), facts.places.room("right_room")
    assert one.length("AN") == pytest.approx(left)
    assert one.length("AN") + other.length("BN") == pytest.approx(6.0 - 0.013 - 0.1)


def test_an_open_place_of_a_partition_is_waited_for_by_name() -> None:
    text = SPACE.replace(", LEFT", "").replace(
        "seen_from: left_room", "seen_from: left_room, edge: {FW: TBD}"
    )
    with pytest.raises(Open) as waiting:
        facts_of(text).places.room("left_room")
    assert waiting.value.address.startswith("PA1.edge")


def test_a_partition_that_nothing_fixes_is_waited_for() -> None:
    facts = facts_of(SPACE.replace(", LEFT", ""))
    for room in ("left_room", "right_room"):
        with pytest.raises(Open):
            facts.places.room(room)


def test_an_open_length_is_waited_for_by_name() -> None:
    facts = facts_of(SPACE.replace("LEFT", "length: TBD"))
    with pytest.raises(Open) as waiting:
        facts.places.room("left_room")
    assert waiting.value.address == "AN.length"


def test_one_open_lining_leaves_the_other_room_where_it_is() -> None:
    text = SPACE.replace("LEFT", "length: TBD").replace(
        "AW: {on: FW, assembly: AL}", "AW: {on: FW, assembly: TBD}"
    )
    text = text.replace("BN: {on: FN}", "BN: {on: FN, length: 3000 mm}")
    facts = facts_of(text)
    assert facts.places.room("right_room").length("BN") == pytest.approx(3.0)
    with pytest.raises(Open):
        facts.places.room("left_room")
