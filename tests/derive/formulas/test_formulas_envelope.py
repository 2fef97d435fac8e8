"""Layers, framed and not."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spec.derive.formulas import envelope, steel_framing
from spec.derive.formulas.constants import R_IP
from spec.derive.formulas.envelope import Layer
from spec.derive.formulas.range import NotCovered, OutOfRange

RESISTANCES = st.floats(0.01, 8.0)
SHARES = st.floats(0.02, 0.4)
PLAIN = RESISTANCES.map(Layer)
FRAMED = st.builds(Layer, RESISTANCES, bridge=RESISTANCES, share=SHARES, frame=st.just("studs"))


@given(st.lists(PLAIN, min_size=1, max_size=6))
def test_without_framing_both_methods_are_the_plain_sum(layers: list[Layer]) -> None:
    found = envelope.transmittance(layers, 0.13, 0.04)
    plain = 0.17 + sum(layer.resistance for layer in layers)
    assert (found.upper, found.lower, found.resistance) == pytest.approx((plain,) * 3)
    assert found.parallel_path == pytest.approx(found.u_value)
    assert found.holds


@given(st.lists(PLAIN, max_size=4), FRAMED)
def test_limits_lie_either_side_of_the_mean_and_within_the_extremes(
    plain: list[Layer], framed: Layer
) -> None:
    found = envelope.transmittance([*plain, framed], 0.13, 0.13)
    around = 0.26 + sum(layer.resistance for layer in plain)
    low, high = sorted((framed.resistance, framed.bridge))
    assert around + low <= found.lower * (1 + 1e-9)
    assert found.lower <= found.resistance * (1 + 1e-9) <= found.upper * (1 + 1e-8)
    assert found.upper <= (around + high) * (1 + 1e-9)
    assert found.uncertainty >= -1e-12


@given(st.lists(PLAIN, min_size=1, max_size=4), FRAMED)
def test_the_order_of_layers_does_not_matter_to_u(plain: list[Layer], framed: Layer) -> None:
    one = envelope.transmittance([*plain, framed], 0.13, 0.04)
    other = envelope.transmittance([framed, *reversed(plain)], 0.13, 0.04)
    assert one.u_value == pytest.approx(other.u_value)


@given(RESISTANCES, RESISTANCES, RESISTANCES, RESISTANCES, SHARES)
def test_two_layers_between_one_pair_of_studs_make_two_paths(
    foam: float, wool: float, beside_foam: float, beside_wool: float, share: float
) -> None:
    layers = [Layer(foam, beside_foam, share, "2x6"), Layer(wool, beside_wool, share, "2x6")]
    found = envelope.transmittance(layers, 0.13, 0.04)
    through_studs, between = 0.17 + beside_foam + beside_wool, 0.17 + foam + wool
    assert found.parallel_path == pytest.approx(share / through_studs + (1 - share) / between)


@given(SHARES, SHARES)
def test_crossing_framings_make_four_paths(studs: float, battens: float) -> None:
    layers = [Layer(4.0, 1.2, studs, "studs"), Layer(1.0, 0.3, battens, "battens")]
    found = envelope.transmittance(layers, 0.13, 0.04)
    paths = [
        (a * b, 0.17 + r + q)
        for a, r in ((studs, 1.2), (1 - studs, 4.0))
        for b, q in ((battens, 0.3), (1 - battens, 1.0))
    ]
    assert found.parallel_path == pytest.approx(sum(share / r for share, r in paths))


def test_one_framing_with_two_shares_is_refused() -> None:
    with pytest.raises(NotCovered, match="two different shares"):
        envelope.transmittance([Layer(1, 1, 0.1, "s"), Layer(1, 1, 0.2, "s")], 0.13, 0.04)


def test_steel_as_a_plain_bridge_is_seen_to_be_outside_iso_6946() -> None:
    steel = envelope.resistance(0.089, 50.0)
    found = envelope.transmittance([Layer(2.4, bridge=steel, share=0.01)], 0.13, 0.04)
    assert not found.holds


@given(
    st.lists(st.floats(0.0, 5.0), min_size=1, max_size=8).filter(lambda rs: sum(rs) > 0.01),
    st.floats(-20.0, 45.0),
    st.floats(-20.0, 45.0),
)
def test_temperatures_run_one_way_from_air_to_air(
    path: list[float], start: float, end: float
) -> None:
    found = envelope.temperatures(path, start, end)
    assert len(found) == len(path) + 1
    assert (found[0], found[-1]) == pytest.approx((start, end), abs=1e-9)
    rising = list(found) if end >= start else list(reversed(found))
    assert all(b - a >= -1e-9 for a, b in pairwise(rising))


@given(st.floats(0.0, 0.3), st.floats(0.0, 0.3))
def test_a_wider_cavity_resists_no_less(one: float, other: float) -> None:
    thin, wide = sorted((one, other))
    for direction in ("up", "horizontal", "down"):
        narrow = envelope.cavity_resistance(thin, direction)
        assert narrow <= envelope.cavity_resistance(wide, direction) + 1e-12


def test_framing_of_2x6_at_16_in_with_three_plates_in_9_ft() -> None:
    share = envelope.framing_share(1.5 * 0.0254, 16 * 0.0254, 108 * 0.0254, 3)
    assert share == pytest.approx(4.5 / 108 + (1 - 4.5 / 108) * 1.5 / 16)


def test_sun_on_a_dark_wall_is_worth_many_degrees() -> None:
    assert envelope.sol_air_temperature(34.0, 600.0, 0.9) == pytest.approx(34.0 + 31.9, abs=0.1)
    assert envelope.sol_air_temperature(34.0, 0.0, 0.9) == 34.0


@pytest.mark.parametrize(
    ("nominal", "inches", "on_center", "effective"),
    [(13.0, 3.5, 16, 6.0), (19.0, 6.0, 16, 7.1), (13.0, 3.5, 24, 7.2), (21.0, 6.0, 24, 9.0)],
)
def test_steel_studs_cut_the_insulation_to_about_half(
    nominal: float, inches: float, on_center: int, effective: float
) -> None:
    # ASHRAE 90.1-2007 table A9.2B, effective R, from memory
    r = R_IP
    found = steel_framing.layer(nominal * r, inches * 0.0254, on_center * 0.0254)
    assert found.resistance / r == pytest.approx(effective, abs=0.1)  # factors have two digits


def test_a_metric_steel_partition_is_read_as_its_nearest_row() -> None:
    found = steel_framing.layer(0.095 / 0.040, 0.095, 0.400)
    assert (found.depth, found.spacing) == pytest.approx((0.0889, 0.4064))
    assert 0.43 <= found.factor <= 0.46


@pytest.mark.parametrize(("nominal", "depth"), [(6.0, 0.0889), (0.5, 0.0889), (3.3, 0.3)])
def test_steel_studs_outside_the_table_are_refused(nominal: float, depth: float) -> None:
    with pytest.raises(OutOfRange):
        steel_framing.layer(nominal, depth, 0.4064)


@pytest.mark.parametrize("share", [1.0, 1.05, -0.05, math.nan, math.inf])
def test_framing_that_takes_all_or_less_than_none_is_refused(share: float) -> None:
    with pytest.raises(OutOfRange):
        envelope.transmittance([Layer(4.0, 1.2, share, "studs")], 0.13, 0.04)


def test_framing_may_take_nearly_all() -> None:
    found = envelope.transmittance([Layer(4.0, 1.2, 0.95, "studs")], 0.13, 0.04)
    assert found.parallel_path == pytest.approx(0.95 / 1.37 + 0.05 / 4.17)


def test_framing_without_a_resistance_is_refused() -> None:
    with pytest.raises(OutOfRange, match="resistance through the framing"):
        envelope.transmittance([Layer(4.0, share=0.1)], 0.13, 0.04)


@pytest.mark.parametrize(("bridge", "holds"), [(0.157, True), (0.150, False)])
def test_iso_6946_holds_up_to_a_ratio_of_one_and_a_half(bridge: float, holds: bool) -> None:
    # a tenth of the area framed in a layer of R 4, films of .2: at a framing of R .153 the limits
    # are as 1.5 to 1, found by hand
    found = envelope.transmittance([Layer(4.0, bridge, 0.1, "studs")], 0.1, 0.1)
    upper = 1.0 / (0.1 / (0.2 + bridge) + 0.9 / 4.2)
    lower = 0.2 + 1.0 / (0.1 / bridge + 0.9 / 4.0)
    assert (found.upper, found.lower) == pytest.approx((upper, lower))
    assert (upper / lower <= 1.5) == holds == found.holds
    # the greatest error of the mean: half of what the limits are apart
    assert found.uncertainty == pytest.approx((upper - lower) / (upper + lower))


def test_plates_and_studs_leave_something_between_them() -> None:
    assert envelope.framing_share(0.04, 0.4, 2.4, 0) == pytest.approx(0.1)
    assert envelope.framing_share(0.04, 0.4) == pytest.approx(0.1)  # members that run through
    assert envelope.framing_share(0.04, 0.4, 0.8, 19) == pytest.approx(0.95 + 0.05 * 0.1)
    for spacing, plates in ((0.04, 3), (0.4, 20), (0.4, -1)):
        with pytest.raises(NotCovered):
            envelope.framing_share(0.04, spacing, 0.8, plates)


def test_a_flat_roof_radiates_to_the_sky() -> None:
    # ASHRAE Fundamentals ch. 18: 4 K (7 °F) off for a horizontal surface
    wall = envelope.sol_air_temperature(34.0, 600.0, 0.9)
    assert wall - envelope.sol_air_temperature(34.0, 600.0, 0.9, sky=4.0) == pytest.approx(4.0)
