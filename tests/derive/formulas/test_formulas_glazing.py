"""Surfaces that sweat, and what glass and frame make together."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from spec.derive.formulas import air, glazing, insulating_glass
from spec.derive.formulas.insulating_glass import UNCOATED, Gap
from spec.derive.formulas.range import NotCovered, OutOfRange

WARM, COLD = st.floats(18.0, 38.0), st.floats(5.0, 16.0)
U_VALUES = st.floats(0.2, 6.0)


@given(U_VALUES, WARM, COLD)
def test_at_its_highest_humidity_a_surface_sits_on_the_dew_point(
    u_value: float, warm: float, cold: float
) -> None:
    humidity = glazing.highest_dry_humidity(u_value, 0.13, warm, cold)
    found = glazing.sweat(u_value, 0.13, warm, humidity, cold)
    assert found.margin == pytest.approx(0.0, abs=0.02)
    assert glazing.sweat(u_value, 0.13, warm, humidity * 0.98, cold).dry
    assert not glazing.sweat(u_value, 0.13, warm, min(1.0, humidity * 1.02), cold).dry


@given(WARM, st.floats(0.3, 0.95), COLD)
def test_the_u_that_would_do_just_does(warm: float, humidity: float, cold: float) -> None:
    limit = glazing.largest_dry_u(0.13, warm, humidity, cold)
    if math.isinf(limit):
        assert glazing.sweat(6.0, 0.13, warm, humidity, cold).dry
        return
    assume(limit > 0.01)
    assert glazing.sweat(limit * 0.99, 0.13, warm, humidity, cold).dry
    assert not glazing.sweat(min(limit * 1.01, 1 / 0.13), 0.13, warm, humidity, cold).dry


@given(U_VALUES, WARM, COLD)
def test_a_sheltered_surface_is_the_colder(u_value: float, warm: float, cold: float) -> None:
    assume(u_value < 4.0)
    free = glazing.surface_temperature(u_value, 0.13, warm, cold)
    assert glazing.surface_temperature(u_value, 0.25, warm, cold) < free


def test_single_glass_sweats_where_coated_double_glass_stays_dry() -> None:
    assert not glazing.sweat(5.8, 0.13, 26.0, 0.60, 12.0).dry
    assert glazing.sweat(1.0, 0.13, 26.0, 0.60, 12.0).dry


AREAS = st.lists(st.tuples(st.floats(0.1, 3.0), st.floats(0.5, 6.0)), min_size=1, max_size=3)


@given(AREAS, AREAS, st.floats(0.0, 12.0))
def test_a_door_lies_between_its_parts_and_edges_only_worsen_it(
    glass: list[tuple[float, float]], frame: list[tuple[float, float]], edge: float
) -> None:
    plain = glazing.assembled_u(glass, frame, [])
    u_values = [u for _, u in (*glass, *frame)]
    assert min(u_values) - 1e-9 <= plain <= max(u_values) + 1e-9
    assert glazing.assembled_u(glass, frame, [(edge, 0.08)]) >= plain


def test_window_by_iso_10077_1_computed_here() -> None:
    # 1 m² of glass U 1.1, .4 m² of frame U 1.4, 4 m of edge at .06: (1.1 + .56 + .24) / 1.4
    found = glazing.assembled_u([(1.0, 1.1)], [(0.4, 1.4)], [(4.0, 0.06)])
    assert found == pytest.approx(1.9 / 1.4)


@pytest.mark.parametrize("frame", ["wood", "metal_with_break", "metal"])
@pytest.mark.parametrize("coated", [False, True])
def test_a_warm_edge_loses_less_than_aluminum(frame: str, coated: bool) -> None:
    warm = glazing.edge_transmittance("warm_edge", frame, coated)
    assert warm < glazing.edge_transmittance("aluminum", frame, coated)


def test_an_unknown_spacer_is_refused() -> None:
    with pytest.raises(NotCovered, match="rope in wood"):
        glazing.edge_transmittance("rope", "wood", coated=True)


@given(st.floats(0.006, 0.020), st.floats(0.02, UNCOATED), st.sampled_from(["air", "argon"]))
def test_coating_gas_and_a_second_gap_each_lower_u(
    width: float, emissivity: float, gas: str
) -> None:
    coated = Gap(width, gas, 0.9, (emissivity, UNCOATED))
    one = insulating_glass.u_value([0.004] * 2, [coated])
    bare = insulating_glass.u_value([0.004] * 2, [Gap(width, gas, 0.9)])
    two = insulating_glass.u_value([0.004] * 3, [coated, coated])
    assert two < one <= bare
    if gas == "argon":
        aired = insulating_glass.u_value([0.004] * 2, [Gap(width, "air", 1.0, coated.emissivities)])
        assert one < aired


def test_triple_glass_with_two_coatings_and_argon_is_about_a_half() -> None:
    # computed here; 4/16/4/16/4 with emissivity .03 is sold as .5 to .6 W/m²K
    gap = Gap(0.016, "argon", 0.9, (0.03, UNCOATED))
    assert insulating_glass.u_value([0.004] * 3, [gap, gap]) == pytest.approx(0.58, abs=0.05)


def test_panes_and_gaps_must_alternate() -> None:
    with pytest.raises(NotCovered, match="one pane more"):
        insulating_glass.u_value([0.004], [Gap(0.012)])


@pytest.mark.parametrize(
    ("warm", "cold"), [(80.0, -40.0), (24.0, -40.0), (80.0, 24.0), (-40.0, -40.0)]
)
def test_air_from_40_below_to_80_above(warm: float, cold: float) -> None:
    assert cold <= glazing.surface_temperature(1.0, 0.13, warm, cold) <= warm
    assert glazing.largest_dry_u(0.13, warm, 0.5, cold) > 0.0
    for outside in ((80.5, cold), (warm, -40.5), (-40.5, -40.6), (20.0, 20.1)):
        with pytest.raises(OutOfRange, match="air"):
            glazing.surface_temperature(1.0, 0.13, *outside)
        with pytest.raises(OutOfRange, match="air"):
            glazing.largest_dry_u(0.13, outside[0], 0.5, outside[1])


def test_no_u_is_more_than_its_film_lets_through() -> None:
    # at 1/film the surface is as cold as the air beyond; the least U leaves it nearly warm
    assert glazing.surface_temperature(1.0 / 0.13, 0.13, 24.0, 12.0) == pytest.approx(12.0)
    assert glazing.surface_temperature(0.01, 0.13, 24.0, 12.0) == pytest.approx(24.0, abs=0.02)
    with pytest.raises(OutOfRange, match=r"U-value .* from 0 W/m²K to 7\.69231 W/m²K"):
        glazing.surface_temperature(1.02 / 0.13, 0.13, 24.0, 12.0)


@pytest.mark.parametrize("temperature", [-10.0, 0.0, 12.0, 24.0])
def test_saturated_air_is_on_its_dew_point_and_nothing_in_it_stays_dry(temperature: float) -> None:
    # air at 100 % is on its own dew point: a surface as warm as the air is just not above it
    found = glazing.sweat(1.0, 0.13, temperature, 1.0, temperature)
    assert found.margin == 0.0
    assert not found.dry
    assert found.u_that_would_do == 0.0
    assert glazing.largest_dry_u(0.13, temperature, 1.0, temperature - 5.0) == 0.0


def test_where_the_cold_air_is_just_on_the_dew_point_the_film_is_the_limit() -> None:
    # at U = 1/film the surface is as cold as the air beyond, which is the dew point itself
    dew = air.dew_point(24.0, 0.6)
    assert glazing.largest_dry_u(0.13, 24.0, 0.6, dew) == pytest.approx(1.0 / 0.13, rel=1e-12)
    assert math.isinf(glazing.largest_dry_u(0.13, 24.0, 0.6, dew + 1e-6))


@pytest.mark.parametrize("outside", [-42.0, 82.0])
def test_warm_air_that_is_refused_is_named_with_its_own_range(outside: float) -> None:
    for formula, given_ in (
        (glazing.surface_temperature, {"u_value": 1.0}),
        (glazing.largest_dry_u, {"humidity": 0.5}),
    ):
        with pytest.raises(
            OutOfRange, match=r"the warm air is .*; this holds from -40 °C to 80 °C"
        ):
            formula(film=0.13, warm=outside, cold=-40.0, **given_)


@pytest.mark.parametrize("count", [1, 2, 3, 6])
def test_equal_gaps_share_the_difference_equally(count: int) -> None:
    # EN 673: 15 K over all gaps together; films 23 and 8 W/m²K, glass 1 W/mK
    gap = Gap(0.016, "argon", 0.9, (0.03, UNCOATED))
    one = 1.0 / insulating_glass.conductance(gap, 15.0 / count)
    expected = 1.0 / (1.0 / 23.0 + 1.0 / 8.0 + (count + 1) * 0.004 + count * one)
    assert insulating_glass.u_value([0.004] * (count + 1), [gap] * count) == pytest.approx(expected)


def test_three_gaps_are_settled_only_when_all_are() -> None:
    """Each gap has its own share, found here by halving the heat flow, not share by share.

    The middle gap is chosen so that its share of the first round is the even third, and stays.
    """
    narrow, wide = Gap(0.006), Gap(0.030, "argon", 1.0, (0.05, UNCOATED))
    even = sum(1.0 / insulating_glass.conductance(gap, 5.0) for gap in (narrow, wide)) / 2.0
    low, high = 0.001, 0.012
    for _ in range(60):
        middle = Gap((low + high) / 2.0, "argon", 1.0, (0.05, UNCOATED))
        thin = 1.0 / insulating_glass.conductance(middle, 5.0) < even
        low, high = (middle.width, high) if thin else (low, middle.width)
    assert 1.0 / insulating_glass.conductance(middle, 5.0) == pytest.approx(even, rel=1e-12)
    gaps = [narrow, middle, wide]

    def share(gap: Gap, flow: float) -> float:
        cold, hot = 1e-6, 60.0
        for _ in range(60):
            between = (cold + hot) / 2.0
            less = insulating_glass.conductance(gap, between) * between < flow
            cold, hot = (between, hot) if less else (cold, between)
        return cold

    low, high = 1.0, 100.0
    for _ in range(60):
        flow = (low + high) / 2.0
        low, high = (flow, high) if sum(share(g, flow) for g in gaps) < 15.0 else (low, flow)
    expected = 1.0 / (1.0 / 23.0 + 1.0 / 8.0 + 0.016 + 15.0 / flow)
    assert insulating_glass.u_value([0.004] * 4, gaps) == pytest.approx(expected, rel=1e-7)
