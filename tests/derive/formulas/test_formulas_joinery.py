"""Doors, arches, ladders, shelves, wood, weights: geometry checked another way."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spec.derive.formulas import arches, doors, ladder, shelves, weights, wood
from spec.derive.formulas.range import NotCovered, OutOfRange

SPANS = st.floats(0.3, 3.0)
RISES = st.floats(0.02, 1.0)


@given(SPANS, RISES)
def test_an_arch_in_a_thousand_chords_has_its_length_and_area(span: float, share: float) -> None:
    rise = share * span / 2.0
    shape = arches.arch(span, rise)
    center = complex(0.0, -shape.center_below)
    half = math.radians(shape.angle) / 2.0
    n = 2000
    turns = [math.pi / 2 + half - 2.0 * half * i / n for i in range(n + 1)]
    points = [center + shape.radius * complex(math.cos(t), math.sin(t)) for t in turns]
    assert points[0] == pytest.approx(complex(-span / 2, 0.0), abs=1e-9)
    assert max(p.imag for p in points) == pytest.approx(rise)
    length = sum(abs(b - a) for a, b in pairwise(points))
    area = sum((b.real - a.real) * (a.imag + b.imag) / 2 for a, b in pairwise(points))
    assert shape.arc == pytest.approx(length, rel=1e-6)
    assert shape.area == pytest.approx(area, rel=1e-5)


def test_a_half_round_arch_is_centered_on_its_spring_line() -> None:
    shape = arches.arch(1.0, 0.5)
    assert (shape.radius, shape.center_below, shape.angle) == pytest.approx((0.5, 0.0, 180.0))
    assert shape.arc == pytest.approx(math.pi / 2)


def test_a_gate_follows_its_arch_at_an_even_gap() -> None:
    outer, leaf = arches.arch(1.2192, 0.3048), arches.inner(1.2192, 0.3048, 0.0127)
    assert outer.radius - leaf.radius == pytest.approx(0.0127)
    assert outer.center_below == pytest.approx(leaf.center_below)
    assert outer.rise - leaf.rise == pytest.approx(0.0127)


def test_a_stilted_arch_is_refused() -> None:
    with pytest.raises(
        OutOfRange, match=r"rise of the arch is 0\.7 m; this holds from 0 m to 0\.5 m"
    ):
        arches.arch(1.0, 0.7)


def test_a_ladder_against_a_deep_base() -> None:
    # rail 84 in up, 4 in off a 14 in upper; base 26 in, its top 27 in deep at 38-1/2 in
    inch = 0.0254
    at_top = ladder.clear_over_top(21 * inch, 84 * inch, 4 * inch, 13 * inch, 38.5 * inch)
    assert at_top == pytest.approx((4 + 21 * (1 - 38.5 / 84) - 13) * inch)


def test_a_top_at_the_floor_is_passed_at_the_foot_and_one_at_the_rail_at_the_rail() -> None:
    assert ladder.clear_over_top(0.5, 2.0, 0.1, 0.0, 0.0) == pytest.approx(0.6)
    assert ladder.clear_over_top(0.5, 2.0, 0.1, 0.0, 2.0) == pytest.approx(0.1)
    for outside in (-0.02, 2.02):
        with pytest.raises(OutOfRange, match="height of top"):
            ladder.clear_over_top(0.5, 2.0, 0.1, 0.0, outside)


def test_push_on_the_rail_is_a_quarter_of_the_weight() -> None:
    assert ladder.push_on_rail(120.0, 0.5, 2.0) == pytest.approx(120.0 * 9.80665 / 4.0)


@pytest.mark.parametrize(
    ("inches", "count"), [(28, 2), (60, 2), (61, 3), (80, 3), (90, 3), (91, 4)]
)
def test_a_hinge_for_each_30_inches_and_two_at_least(inches: float, count: int) -> None:
    assert doors.hinge_count(inches * 0.0254) == count


def test_an_opening_has_a_leaf() -> None:
    with pytest.raises(NotCovered, match="one leaf or more"):
        doors.leaf_width(1.0, 0, 0.005, 0.003)


def test_the_pull_of_a_leaf_by_moments() -> None:
    assert doors.hinge_pull(0.8, 60.0, 1.6) == pytest.approx(60.0 * 9.80665 * 0.4 / 1.6)


def test_a_rack_of_192_bottles_presses_by_its_weight() -> None:
    assert weights.pressure(192 * 1.5 + 40.0, 1.257 * 0.66) == pytest.approx(
        328.0 * 9.80665 / (1.257 * 0.66)
    )


def test_jamb_of_a_plastered_partition() -> None:
    inch = 0.0254
    layers = [n * inch for n in (0.5, 0.0, 5.5, 0.625)]
    assert doors.jamb_depth(layers, (0.375 * inch, 0.0)) == pytest.approx(7.0 * inch)


@given(st.floats(0.3, 1.5), st.floats(0.012, 0.04), st.floats(100.0, 3000.0))
def test_shelf_sag_by_double_integration(span: float, thickness: float, pressure: float) -> None:
    stiffness, depth, n = 1.0e10, 0.3, 400
    line, inertia = pressure * depth, depth * thickness**3 / 12.0
    found = shelves.sag(span, depth, thickness, stiffness, line)
    # virtual work: a unit load in the middle, moments multiplied and summed over both halves
    step = span / 2.0 / n
    total = 0.0
    for i in range(n):
        x = (i + 0.5) * step
        total += line * x * (span - x) / 2.0 * x / 2.0 * step
    assert found == pytest.approx(2.0 * total / (stiffness * inertia), rel=1e-4)


@given(st.floats(0.012, 0.04), st.floats(500.0, 3000.0), st.floats(50.0, 900.0), st.floats(1, 3))
def test_a_shelf_of_the_longest_span_sags_just_what_is_allowed(
    thickness: float, pressure: float, limit: float, creep: float
) -> None:
    span = shelves.longest_span(thickness, 1.0e10, pressure, limit, creep)
    at_once = shelves.sag(span, 0.3, thickness, 1.0e10, pressure * 0.3)
    assert at_once * creep == pytest.approx(span / limit)


def test_a_shelf_is_a_slender_beam_of_at_most_ten_meters() -> None:
    for span in (0.1, 10.0):
        shelves.sag(span, 0.3, 0.02, 1.0e10, 300.0)
    for span in (0.098, 10.2):
        with pytest.raises(OutOfRange, match="span"):
            shelves.sag(span, 0.3, 0.02, 1.0e10, 300.0)


@pytest.mark.parametrize("name", sorted(wood.SPECIES))
def test_wood_moves_more_across_a_flat_sawn_face(name: str) -> None:
    flat = wood.movement(0.3, name, "tangential", 7.0, 11.0)
    quarter = wood.movement(0.3, name, "radial", 7.0, 11.0)
    assert 0.0 < quarter < flat < 0.006
    assert wood.movement(0.3, name, "tangential", 11.0, 7.0) == pytest.approx(-flat)
    assert wood.species(name).source


@given(st.floats(5.0, 35.0), st.floats(0.1, 0.9), st.floats(0.1, 0.9))
def test_wetter_air_makes_wetter_wood(temperature: float, one: float, other: float) -> None:
    low, high = sorted((one, other))
    dry, wet = (wood.equilibrium_moisture(temperature, h) for h in (low, high))
    assert dry <= wet + 1e-9
    assert 1.0 < dry < 22.5


def test_wood_of_a_job_beyond_14_percent_is_refused() -> None:
    with pytest.raises(OutOfRange, match="moisture of the wood is 16 %"):
        wood.movement(0.1, "cherry", "radial", 8.0, 16.0)
    with pytest.raises(NotCovered, match="unobtainium"):
        wood.species("unobtainium")


def test_a_glazed_leaf_is_its_wood_and_its_glass() -> None:
    plain = weights.door_leaf(0.8, 2.0, 0.05, 700.0)
    glazed = weights.door_leaf(
        0.8, 2.0, 0.05, 700.0, glass_width=0.5, glass_height=1.5, panes=0.010
    )
    assert plain == pytest.approx(56.0)
    assert glazed == pytest.approx(56.0 - 0.75 * 35.0 + 0.75 * 25.0)


def test_hardware_is_carried_too_and_a_leaf_without_glass_has_none() -> None:
    assert weights.door_leaf(0.8, 2.0, 0.05, 700.0, hardware=4.5) == pytest.approx(60.5)
    # glass as large as the leaf leaves no wood; larger there is none
    for width, height in ((0.8, 2.0), (0.0, 0.0)):
        weights.door_leaf(
            0.8, 2.0, 0.05, 700.0, glass_width=width, glass_height=height, panes=0.006
        )
    for width, height in ((0.81, 1.0), (0.5, 2.01), (-0.02, 1.0), (0.5, -0.02)):
        with pytest.raises(OutOfRange, match="of the glass"):
            weights.door_leaf(
                0.8, 2.0, 0.05, 700.0, glass_width=width, glass_height=height, panes=0.006
            )


def test_a_window_without_panes_is_refused() -> None:
    with pytest.raises(OutOfRange, match="thickness of the panes"):
        weights.door_leaf(0.8, 2.0, 0.05, 700.0, glass_width=0.5, glass_height=1.0)


def test_dry_wine_weighs_what_it_weighs_from_memory() -> None:
    assert 988.0 <= weights.WINE_DENSITY <= 996.0


@given(st.floats(0.3, 3.0), st.integers(1, 3))
def test_leaves_and_gaps_fill_their_opening(opening: float, leaves: int) -> None:
    each = doors.leaf_width(opening, leaves, 0.005, 0.003)
    assert each * leaves + 0.010 + 0.003 * (leaves - 1) == pytest.approx(opening)


def test_one_measure_of_a_window_makes_none() -> None:
    # 1.5 m by nothing, or .4 m by nothing, is no area of glass
    solid = {"width": 0.8, "height": 2.0, "thickness": 0.05, "density": 700.0, "panes": 0.01}
    for one in ({"glass_width": 0.4}, {"glass_height": 1.5}):
        assert weights.door_leaf(**solid, **one) == pytest.approx(0.8 * 2.0 * 0.05 * 700.0)


def test_a_window_without_panes_is_refused_for_having_none() -> None:
    with pytest.raises(OutOfRange, match="the thickness of the panes is 0 m; it has to be more"):
        weights.door_leaf(0.8, 2.0, 0.05, 700.0, glass_width=0.4, glass_height=1.5)


def test_a_gap_higher_than_its_arch_is_refused_from_none_to_the_rise() -> None:
    with pytest.raises(OutOfRange, match=r"gap under the arch .* from 0 m to 0\.2 m"):
        arches.inner(1.2, 0.2, 0.21)
