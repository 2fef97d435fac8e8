"""The way in, what is there now, finishes and appliances, against hand numbers."""

from __future__ import annotations

import math

import pytest

from spec.derive.figure import Facts
from spec.derive.sheets.access import longest_round
from tests.derive.sheets.worked import FOOT, INCH, facts_of, figure_of, parts, value

_WAY = """
job: {units: imperial}
access:
  doors: {front: {clear: 30 in x 80 in}}
  corridors: {hall: {clear: 40 in, height: 96 in, turn_to: 36 in}}
  lift: {car: 40 in x 84 in x 50 in, door: 36 in x 80 in}
rooms:
  bar_room:
    taped: {to: finish}
    height: 8 ft
    stacks:
      bar: {bottom_to_top: {lower: {is: cabinets, height: 34 in, depth: 26 in}}}
    walls_clockwise:
      TA:
        length: 10 ft
        millwork:
          lower:
            left: 0
            width: 84 in
            left_to_right: {B1: {is: cabinet, width: 72 in}, B2: {is: filler, width: 12 in}}
        existing:
          X1: {is: receptacle, center: 2 ft, aff: 16 in, action: remove}
          X2: {is: hose_pipe, center: 2 ft, aff: 50 in, action: remove}
      TB: {length: 10 ft}
      TC: {length: 10 ft}
      TD: {length: 10 ft}
    floor: {existing: {X3: {is: vinyl_tile, covers: all, action: remove}}}
"""


@pytest.fixture(scope="module")
def way() -> Facts:
    return facts_of(_WAY)


def test_the_largest_piece_goes_end_on_through_a_door(way: Facts) -> None:
    # B1 is 72 x 34 x 26: 26 across of 30 leaves 4; the filler is cut on site
    found = figure_of(way, "access.door_play@access.doors.front")
    assert found.value == pytest.approx(4 * INCH)
    assert [p.label for p in found.parts] == ["B1"]


def test_round_a_corner_by_the_formula_of_the_ladder(way: Facts) -> None:
    # a thin thing goes round if it is no longer than (a^⅔ + b^⅔)^1.5
    thin = (40 ** (2 / 3) + 36 ** (2 / 3)) ** 1.5
    assert longest_round(40, 36, 0) == pytest.approx(thin, rel=1e-4)
    # upright, 26 x 34 in plan; on its back 26 x 72: only upright does it turn
    upright = min(
        (40 * math.cos(a) + 36 * math.sin(a) - 26) / (math.sin(a) * math.cos(a))
        for a in (i / 2000 * math.pi / 2 for i in range(1, 2000))
    )
    found = value(way, "access.turn_play@access.corridors.hall")
    assert found == pytest.approx((upright - 34) * INCH, abs=0.002)


def test_in_the_lift_it_stands(way: Facts) -> None:
    # 26 x 34 stands in 40 x 50 and 72 under 84; through the door 36 x 80: 26 in 36 leaves 10
    assert value(way, "access.lift_play@access.lift") == pytest.approx(10 * INCH)


def test_what_new_work_covers_is_found_by_place(way: Facts) -> None:
    assert parts(way, "existing.covered_by@X1") == {"B1": 1.0}
    # nothing tells the size of X2: its middle lies above the cabinet
    assert value(way, "existing.covered_by@X2") == 0


def test_a_whole_floor_comes_out(way: Facts) -> None:
    assert value(way, "existing.area@X3") == pytest.approx(100 * FOOT**2)


_FINISHED = """
job: {units: imperial}
finishes:
  F1: {is: plaster, weight: 5 psf, waste: 20 %}
  F2: {is: paint, coats: 2}
  F3: {is: tile, size: 12 in x 24 in, joint: 1/8 in, spare: 6}
rooms:
  bar_room:
    finishes: {walls: F1, ceiling: F2, floor: F3}
    base: {height: 6 in, thickness: 3/4 in, profile: square}
    taped: {to: finish}
    height: 8 ft
    stacks: {bar: {bottom_to_top: {lower: {is: cabinets, height: 34 in, depth: 24 in}}}}
    walls_clockwise:
      TA:
        length: 12 ft
        finish: F2
        millwork: {lower: {left: 0, width: 5 ft, left_to_right: {B1: {is: cabinet, width: 5 ft}}}}
      TB:
        length: 10 ft
        openings: {O1: {is: arch, left: 1 ft, width: 4 ft, spring_aff: 6 ft, rise: 1 ft}}
      TC: {length: 12 ft}
      TD: {length: 10 ft}
    ceiling: {faces: attic}
    floor: {faces: ground}
"""


@pytest.fixture(scope="module")
def finished() -> Facts:
    return facts_of(_FINISHED)


def test_areas_by_finish_are_net_of_openings_and_with_their_waste(finished: Facts) -> None:
    # TB 80 - 4 x 7, TC 96, TD 80; its own waste of 20 %
    plaster = (80 - 28 + 96 + 80) * FOOT**2
    assert value(finished, "finishes.plaster_area@F1") == pytest.approx(plaster * 1.2)
    pounds = (80 - 28 + 96 + 80) * 5 * 0.45359237
    assert value(finished, "finishes.weight@F1") == pytest.approx(pounds)
    # TA is painted, as it says itself, and the ceiling; paint.waste of the house 10 %
    assert value(finished, "finishes.paint_area@F2") == pytest.approx((96 + 120) * FOOT**2 * 1.1)


def test_tiles_are_counted_with_their_joints(finished: Facts) -> None:
    each = 12.125 * 24.125 / 144
    laid = math.ceil(120 * 1.12 / each)  # tile.waste of the house 12 %
    assert value(finished, "finishes.tiles@F3") == laid + 6


def test_base_runs_where_nothing_stands(finished: Facts) -> None:
    walls = {"TA": 12 - 5, "TB": 10 - 4, "TC": 12, "TD": 10}
    expected = {wall: feet * FOOT for wall, feet in walls.items()}
    assert parts(finished, "finishes.base_length@bar_room") == pytest.approx(expected)
    assert value(finished, "finishes.base_length@bar_room") == pytest.approx(35 * FOOT * 1.1)


def test_an_appliance_and_its_bay(garden: Facts, flat: Facts) -> None:
    # a bay 24 in wide through toe 4 and lower 30-1/2, 24 deep; cut-out 24 x 34-1/2 x 24
    for side in ("width", "height", "depth"):
        assert value(garden, f"appliances.{side}_left@RF1") == pytest.approx(0, abs=1e-9)
    assert value(garden, "appliances.panel_reserve@RF1") == pytest.approx(1 - 14 / 22)
    # 600 x 820 x 580 against 600 x 820 x 570 mm
    assert value(flat, "appliances.depth_left@U1") == pytest.approx(0.010)
    assert value(flat, "appliances.weight@U1") == pytest.approx(98)
    assert value(flat, "access.carriers@U1") == math.ceil(47 / (51 * 0.45359237))
