"""Bottles, weights, shelves, tops, ladder and hardware, against hand counts and numbers."""

from __future__ import annotations

import math

import pytest

from spec.derive.figure import Facts
from tests.derive.sheets.worked import INCH, POUND, facts_of, figure_of, parts, value

_G = 9.80665


def test_cells_bins_and_cases_of_the_garden_store(garden: Facts) -> None:
    # upper: courses of 6 and 6 rows and one display row; lower: 8 rows, 2 deep
    expected = {
        "R1": 4 * 10,
        "R2": 3 * 12,  # three shelves of one case, twelve in a case
        "R3": 4 * 13,
        "R4": 12 * 8 * 2,
        "R5": 4 * 5 * 1,  # magnums: their own rows, one deep
        "R7": 16 * 8 * 2,
        "R9": 12 * (6 + 1 + 6),
        "R10": 4 * (4 + 1 + 4),  # magnums: four rows in each course
        "R12": 7 * (7 + 1 + 7),  # half bottles
        "R15": 8 * 6,  # the arch takes the low course and the display
    }
    found = {mark: value(garden, f"storage.piece@{mark}") for mark in expected}
    assert found == expected
    sizes = {mark: figure_of(garden, f"storage.piece@{mark}").remark for mark in expected}
    assert sizes["R10"] == sizes["R5"] == "magnum" and sizes["R12"] == "half"


def test_a_room_is_the_sum_of_its_pieces_by_size(garden: Facts) -> None:
    found = figure_of(garden, "storage.bottles@wine_room")
    pieces = [n for n in garden.job.things("racks", "curved_corner") if n.room == "wine_room"]
    assert pieces
    assert parts(garden, found.address)["magnum"] == 20 + 36
    assert parts(garden, found.address)["half"] == 105
    assert found.value == sum(parts(garden, found.address).values())
    assert found.value == value(garden, "job.capacity@job.asked_for")
    asked = garden.job.tree.count("job.asked_for.bottles")
    assert value(garden, "job.over_asked@job.asked_for") == found.value - asked
    assert value(garden, "job.size_over_asked@job.asked_for.of_which.magnum") == 56 - 50
    assert value(garden, "job.size_over_asked@job.asked_for.of_which.half") == 105 - 100


def test_pegs_drawers_and_the_refrigerator_of_the_flat(flat: Facts) -> None:
    assert value(flat, "storage.piece@R1b") == 6 * 19 * 2
    assert value(flat, "storage.piece@R1c") == 2 * 14 * 2
    assert value(flat, "storage.piece@M4b") == 3 * 12
    walk_in = 2 * (18 + 18 + 18 + 15 + 12) + 2 * 36
    assert value(flat, "storage.bottles@walk_in") == walk_in
    whole = 228 + 56 + walk_in
    assert value(flat, "job.capacity@job.asked_for") == whole
    assert value(flat, "job.with_appliances@job.asked_for") == whole + 38
    # sparkling bottles 88 mm on rows 110 mm apart; top row 160 + 17 x 110 under 100 + 1980
    assert value(flat, "storage.peg_play@R2a") == pytest.approx(0.022)
    assert value(flat, "storage.peg_room@R2a") == pytest.approx(2.080 - 2.030)


def test_the_pitch_of_cells(garden: Facts) -> None:
    assert value(garden, "storage.column_pitch@R9") == pytest.approx(49.5 / 12 * INCH)
    assert value(garden, "storage.column_pitch@R12") == pytest.approx(24 / 7 * INCH)
    assert value(garden, "storage.row_pitch@R4") == pytest.approx(33 / 8 * INCH)
    assert value(garden, "storage.row_pitch@R9") == pytest.approx(24.75 / 6 * INCH)
    # R13 turns 33 in and is 14 in deep: its front is a quarter of a 19 in circle
    assert value(garden, "storage.corner_pitch@R13") == pytest.approx(math.pi / 2 * 19 / 7 * INCH)


def test_a_tilted_bottle_takes_its_rectangle(garden: Facts) -> None:
    a = math.radians(15)
    high = 12 * math.sin(a) + 3.125 * math.cos(a)
    assert value(garden, "storage.display_height@racks.upper.display") == pytest.approx(high * INCH)


def test_full_racks_on_the_floor(garden: Facts) -> None:
    # R4 with R11 and a sliver of R12's neighbors over it: same widths, so just R11
    own = 1.15  # racks weigh 15 % of their bottles
    mass = (192 + 156) * 1.5 * own
    pressure = mass * _G / (49.5 * 26 * INCH**2)
    assert parts(garden, "millwork.floor_pressure@WC.lower")["R4"] == pytest.approx(pressure)
    assert value(garden, "millwork.floor_pressure@WC.lower") == pytest.approx(pressure)
    allowable = 150 * POUND * _G / 0.3048**2
    assert value(garden, "millwork.floor_used@WC.lower") == pytest.approx(
        pressure / allowable, rel=1e-6
    )
    assert value(garden, "millwork.loaded_weight@WC.lower") == pytest.approx(
        (192 * 1.5 + 20 * 2.9 + 32 * 1.5) * own
    )


_SHELF = """
job: {units: imperial}
rooms:
  bar_room:
    climate: {temperature: 55 °F, humidity: 60 %}
    taped: {to: finish}
    height: 8 ft
    stacks:
      bar:
        species: white_oak
        moisture: 8 %
        hardware:
          knob: {is: pull, per: {door: 1, drawer: 2}, spare: 1}
        bottom_to_top:
          lower: {is: cabinets, height: 30 in, depth: 12 in}
          top:
            is: top
            over: lower
            height: 1 in
            depth: 13 in
            material: white_oak
            weight: 4 psf
    walls_clockwise:
      TA:
        length: 10 ft
        millwork:
          lower:
            width: 75 in
            left: 0
            left_to_right:
              B1:
                is: cabinet
                width: 50 in
                doors: 2
                shelves: {count: 1, thickness: 1 in, load: 40 psf}
              B2: {is: cabinet, width: 25 in, drawers: {heights: [6 in, 10 in, 14 in]}}
      TB: {length: 10 ft}
      TC: {length: 10 ft}
      TD: {length: 10 ft}
"""


@pytest.fixture(scope="module")
def bar() -> Facts:
    return facts_of(_SHELF.replace("moisture: 8 %", "moisture: 8 % to 8.5 %"))


def test_a_shelf_sags_by_the_beam_formula(bar: Facts) -> None:
    # in pounds and inches: E 1.78 Mpsi, 40 psf and its own .68 x 1.12 x 62.43 pcf, 12 in deep
    pressure = 40 / 144 + 0.68 * 1.12 * 62.428 / 1728 * 1.0
    load = pressure * 12  # lb/in
    span = 50 - 2 * 0.019 / INCH
    sag = 5 * load * span**4 / (384 * 1.78e6 * 12 * 1.0**3 / 12)
    assert value(bar, "millwork.shelf_sag@B1") == pytest.approx(1.5 * sag * INCH, rel=2e-3)
    assert value(bar, "millwork.shelf_sag_most@B1") == pytest.approx(span / 384 * INCH)


def test_a_top_swells_to_the_moisture_of_its_room(bar: Facts) -> None:
    # 55 °F and 60 %: 11.2 %; white oak .00365 tangential; from 8 %
    assert value(bar, "millwork.movement@bar.top") == pytest.approx(
        13 * 0.00365 * (11.2 - 8.0) * INCH, rel=0.02
    )


def test_hardware_and_tops_are_counted(bar: Facts) -> None:
    assert value(bar, "millwork.hardware@bar.knob") == 2 * 1 + 3 * 2 + 1
    assert value(bar, "millwork.top_area@bar.top") == pytest.approx(75 * 13 * INCH**2)
    weight = 75 * 13 / 144 * 4 * POUND
    assert value(bar, "millwork.top_weight@bar.top") == pytest.approx(weight)
    assert value(bar, "millwork.tier_length@bar.top") == pytest.approx(75 * 1.1 * INCH)
    assert value(bar, "millwork.run_left@TA.lower") == 0
    assert value(bar, "millwork.stack_left@bar") == pytest.approx((96 - 31) * INCH)


def test_a_top_round_corners_counts_them_once(garden: Facts) -> None:
    # 108 + 108 + 132 in along three walls, 27 in deep, two corners
    area = (348 * 27 - 2 * 27**2) * INCH**2
    assert value(garden, "millwork.top_area@racks.table") == pytest.approx(area, rel=1e-3)


def test_the_ladder_of_the_garden_store(garden: Facts) -> None:
    found = figure_of(garden, "millwork.ladder_length@LD1")
    foot = value(garden, "millwork.ladder_foot@LD1")
    assert found.value == pytest.approx(math.hypot(84 * INCH, foot))
    # the top of the table at 38-1/2 in stands 13 in out from the uppers; stand-off 4 in
    free = 4 * INCH + foot * (1 - 38.5 / 84) - 13 * INCH
    assert parts(garden, "millwork.ladder_clear@LD1")["table"] == pytest.approx(free)
    # the foot at a quarter of the length; 300 lb at the rail push as foot to height
    assert found.value == pytest.approx(4.0 * foot)
    push = 300 * POUND * foot / (84 * INCH)
    assert value(garden, "millwork.ladder_push@LD1") == pytest.approx(push)


def test_the_longest_shelf_sags_by_what_is_allowed(garden: Facts) -> None:
    # B2: the sag grows with the fourth power of the span, what is allowed with the first
    sag, most = (value(garden, f"millwork.{name}@B2") for name in ("shelf_sag", "shelf_sag_most"))
    span = most * 384  # 1/32 in per ft
    longest = span * (most / sag) ** (1 / 3)
    assert value(garden, "millwork.shelf_span_most@B2") == pytest.approx(longest)


def test_the_house_allows_a_sag_between_the_eye_and_the_woodwork_industry(garden: Facts) -> None:
    allowed = garden.job.range_of("shelf.sag")
    assert allowed is not None
    assert 1 / allowed.low.si == pytest.approx(600)
    assert 1 / allowed.high.si == pytest.approx(144)
