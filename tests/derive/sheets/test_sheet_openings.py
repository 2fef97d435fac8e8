"""Doors, gates, arches and glass, against hand numbers."""

from __future__ import annotations

import math

import pytest

from spec.check.rule import rules
from spec.check.run import speak
from spec.derive.figure import Facts
from tests.derive.sheets.worked import INCH, POUND, facts_of, figure_of, parts, value


def test_the_rough_opening_is_the_sum_of_what_stands_in_it(garden: Facts) -> None:
    # jambs 1-1/4, gaps 1/8, leaf 32, two mullions 1-1/2, two lights 14, shims 1/4
    wide = 2 * 1.25 + 2 * 0.125 + 32 + 2 * 1.5 + 2 * 14 + 2 * 0.25
    high = 80 + 0.125 + 0.375 + 1.25 + 0.25
    assert value(garden, "openings.rough_width@D1") == pytest.approx(wide * INCH)
    assert value(garden, "openings.rough_height@D1") == pytest.approx(high * INCH)


def test_the_jamb_is_as_deep_as_the_wall_with_both_finishes(garden: Facts) -> None:
    # board 5/8, studs 5-1/2, board 1/2, plaster 3/8 on the tasting room's side
    deep = 0.625 + 5.5 + 0.5 + 0.375
    assert value(garden, "openings.jamb_depth@D1") == pytest.approx(deep * INCH)


def test_gate_leaves_fill_their_arch(garden: Facts) -> None:
    assert value(garden, "openings.gate_leaf@G1") == pytest.approx((48 - 0.75 - 0.25) / 2 * INCH)
    # chord 48, rise 12: R = 48²/96 + 6 = 30; half angle asin(24/30)
    assert value(garden, "openings.arch_radius@O1") == pytest.approx(30 * INCH)
    assert value(garden, "openings.arch_curve@O1") == pytest.approx(60 * math.asin(0.8) * INCH)


def _door(leaf: str, more: str = "") -> Facts:
    return facts_of(f"""
job: {{units: imperial}}
rooms:
  wine_room:
    use: wine_storage
    climate: {{temperature: 55 °F, humidity: 60 %}}
    taped: {{to: finish}}
    height: 9 ft
    walls_clockwise:
      WA:
        length: 10 ft
        faces: hall
        openings: {{D1: {{is: door, center: wall, leaf: {{{leaf}}}{more}}}}}
      WB: {{length: 10 ft}}
      WC: {{length: 10 ft}}
      WD: {{length: 10 ft}}
surroundings: {{hall: {{summer: {{temperature: 75 °F, humidity: 55 %}}}}}}
""")


def test_a_leaf_weighs_its_wood_and_its_glass() -> None:
    build = "build: {stiles: 5 in, top_rail: 5 in, bottom_rail: 12 in}"
    facts = _door(
        f"width: 32 in, height: 80 in, thickness: 2 in, material: white_oak, core: solid, {build}",
        ", glazing: {panes: 2}, hinges: {count: 3, leaf_most: 150 lb}",
    )
    # white oak .68 x 1.12 x 1000 kg/m³; glass 22 x 63 in, 2 x 6 mm, 2.5 kg/m² per mm; 5 % more
    glass = 22 * 63 * INCH**2
    wood = (32 * 80 * INCH**2 - glass) * 2 * INCH * 762
    weight = (wood + glass * 12 * 2.5) * 1.05
    assert value(facts, "openings.leaf_weight@D1") == pytest.approx(weight, rel=2e-3)
    assert value(facts, "openings.hinge_reserve@D1") == pytest.approx(
        150 * POUND / weight - 1, abs=3e-3
    )
    assert value(facts, "openings.hinges_needed@D1") == 3  # 80 in: one for each 30 begun
    assert value(facts, "access.leaf_carriers@D1") == math.ceil(weight / POUND / 51)


def test_the_gate_follows_its_arch(garden: Facts) -> None:
    # 48 in wide, 12 in of rise: 30 in; a gap of half an inch under it
    assert value(garden, "openings.gate_radius@G1") == pytest.approx(29.5 * INCH)


def test_a_written_weight_goes_before_a_reckoned_one() -> None:
    facts = _door("width: 32 in, height: 60 in, weight: 100 lb", ", hinges: {count: 2}")
    assert value(facts, "openings.leaf_weight@D1") == pytest.approx(100 * POUND)
    assert value(facts, "openings.hinges_needed@D1") == 2  # 60 in is exactly two thirties


def _magnus(celsius: float) -> float:
    """Saturation pressure over water [Pa], WMO: independent of psychrolib."""
    return 611.2 * math.exp(17.62 * celsius / (243.12 + celsius))


_EDGE = 0.27 * 5.678263 + 0.06 / 0.0635
"""U beside the spacer: glass .27 Btu/h ft² °F, Ψ .06 W/mK laid to a band of 63.5 mm."""


def test_the_coldest_part_is_found_among_glass_edge_frame_and_leaf(garden: Facts) -> None:
    # 74 °F beside 55 °F; film .13; leaf and frame 2-1/4 in of white oak, .17 W/mK
    warm, cold = (74 - 32) / 1.8, (55 - 32) / 1.8
    oak = 1 / (0.26 + 2.25 * INCH / 0.17)
    expected = {
        "middle of the glass": 0.27 * 5.678263,
        "edge of the glass": _EDGE,
        "frame": oak,
        "leaf": oak,
    }
    found = parts(garden, "openings.surface@D1")
    assert found == pytest.approx(
        {name: warm - u * 0.13 * (warm - cold) for name, u in expected.items()}, abs=1e-3
    )
    assert found["leaf"] < found["middle of the glass"]
    coldest = figure_of(garden, "openings.surface@D1")
    assert coldest.remark == "edge of the glass"
    assert coldest.value == min(found.values())


def test_an_opening_stays_dry_up_to_the_humidity_that_its_coldest_part_saturates(
    garden: Facts,
) -> None:
    warm, cold = (74 - 32) / 1.8, (55 - 32) / 1.8
    face = warm - _EDGE * 0.13 * (warm - cold)
    dry = _magnus(face) / _magnus(warm)
    assert value(garden, "openings.dry_up_to@D1") == pytest.approx(dry, abs=0.003)
    assert figure_of(garden, "openings.dry_up_to@D1").remark == "edge of the glass"
    assert "client" in figure_of(garden, "openings.dry_up_to@D1").definition.trades


def test_a_u_that_stays_dry_says_where_it_is_only_the_cap(garden: Facts, flat: Facts) -> None:
    capped = figure_of(garden, "openings.u_that_stays_dry@D1")
    assert capped.value == pytest.approx(1 / 0.13)
    assert "the cap" in capped.remark
    assert figure_of(flat, "openings.u_that_stays_dry@G1").remark == ""


def test_a_promise_to_stay_dry_is_worked_at_the_promised_air(garden: Facts) -> None:
    # PR6: up to 75 °F and 55 %
    warm, cold = (75 - 32) / 1.8, (55 - 32) / 1.8
    face = warm - _EDGE * 0.13 * (warm - cold)
    x = math.log(0.55) + 17.62 * warm / (243.12 + warm)
    dew = 243.12 * x / (17.62 - x)
    assert value(garden, "openings.promise_margin@PR6") == pytest.approx(face - dew, abs=0.1)


@pytest.mark.parametrize(
    ("frame", "u_value"),
    [("aluminum", 5.9), ("aluminum, thermal_break: 20 mm", 3.0), ("white_oak", None)],
)
def test_a_metal_frame_without_a_break_is_the_coldest(frame: str, u_value: float | None) -> None:
    facts = _door(
        "width: 32 in, height: 80 in, thickness: 2 in, material: white_oak, core: solid",
        f", frame: {{material: {frame}}}, glazing: {{panes: 2, u_value: 1.1 W/m²K}}",
    )
    warm, cold = (75 - 32) / 1.8, (55 - 32) / 1.8
    expected = u_value or 1 / (0.26 + 2 * INCH / 0.17)
    at = parts(facts, "openings.surface@D1")["frame"]
    assert at == pytest.approx(warm - expected * 0.13 * (warm - cold), abs=1e-3)


@pytest.mark.parametrize(
    ("glass", "published", "within"),
    [
        # EN 673 as quoted by makers: single 6 mm 5.7; gap 12.7 mm between the columns of 12 and 15
        ("panes: 1", 5.7, 0.05),
        ("panes: 2, gas: air", 2.85, 0.16),
        ("panes: 2, gas: argon", 2.65, 0.16),
        ("panes: 2, gas: argon, coating: low-e on face 3", 1.68, 0.16),
    ],
)
def test_glass_without_a_u_value_has_that_of_its_panes(
    glass: str, published: float, within: float
) -> None:
    facts = _door("width: 32 in, height: 80 in", f", glazing: {{{glass}}}")
    assert value(facts, "openings.glass_u@D1.glazing") == pytest.approx(published, abs=within)
    middle = parts(facts, "openings.surface@D1")["middle of the glass"]
    warm, cold = (75 - 32) / 1.8, (55 - 32) / 1.8
    assert middle == pytest.approx(warm - published * 0.13 * (warm - cold), abs=within * 1.5)


@pytest.mark.parametrize(
    ("glass", "belongs"),
    [
        ("panes: 1, u_value: 0.27 Btu/h ft2 F", False),
        ("panes: 1, u_value: 5.8 W/m²K", True),
        ("panes: 2, u_value: 0.27 Btu/h ft2 F", True),
        ("panes: 2, u_value: 1.0 W/m²K, gas: argon, coating: low-e on face 3", True),
        ("panes: 2, u_value: 1.0 W/m²K, gas: air, coating: none", False),
        ("panes: 2, u_value: 0.5 W/m²K", False),
        ("panes: 3, u_value: 0.5 W/m²K", True),
        ("panes: 3, u_value: 5.6 W/m²K", False),
    ],
)
def test_a_written_u_value_belongs_to_its_panes_or_not(glass: str, belongs: bool) -> None:
    facts = _door("width: 32 in, height: 80 in", f", glazing: {{{glass}}}")
    said = list(speak(rules()["openings.glass-not-of-its-panes"], facts))
    assert bool(said) is not belongs


def test_u_of_a_door_is_that_of_glass_frame_and_edge(garden: Facts) -> None:
    whole = 66.25 * 82 * INCH**2
    glass = (22 * 63 + 2 * 14 * 80) * INCH**2
    edge = 2 * (22 + 63 + 2 * (14 + 80)) * INCH
    wood = 1 / (0.26 + 2.25 * INCH / 0.17)
    heat = glass * 0.27 * 5.678263 + (whole - glass) * wood + edge * 0.06
    assert value(garden, "openings.u_value@D1") == pytest.approx(heat / whole, rel=1e-3)


def test_a_door_within_a_glass_front_is_no_opening_of_its_own(flat: Facts) -> None:
    glass = figure_of(flat, "openings.u_value@G1")
    assert "D2" not in [n.key for n in glass.definition.per(flat.job)]
    assert glass.value is not None and glass.value > 1.0
