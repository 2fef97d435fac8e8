"""Circuits, conductors, boxes, low voltage: phasors by cmath, sums by hand, strips in pieces."""

from __future__ import annotations

import cmath
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spec.derive.formulas import boxes, circuits, conductors, low_voltage
from spec.derive.formulas.range import NotCovered, OutOfRange


@given(
    st.floats(0.5, 16.0), st.floats(1.0, 30.0), st.floats(0.6, 1.0), st.sampled_from([1.5, 2.5, 4])
)
def test_drop_agrees_with_the_exact_phasor(
    amperes: float, length: float, power_factor: float, square_mm: float
) -> None:
    resistance = circuits.COPPER_IEC / (square_mm * 1e-6)
    found = circuits.voltage_drop(
        amperes, length, resistance, 230.0,
        power_factor=power_factor, reactance=circuits.REACTANCE_IEC,
    )  # fmt: skip
    current = cmath.rect(amperes, -math.acos(power_factor))
    loop = 2.0 * length * complex(resistance, circuits.REACTANCE_IEC)
    # the sending end is the receiving end and the drop: solve for a supply of 230 V
    receiving = 230.0
    for _ in range(50):
        receiving -= abs(receiving + current * loop) - 230.0
    exact = 230.0 - receiving
    # the formula takes what lies in phase; what lies across turns the phasor and shortens it by
    # 230 - sqrt(230^2 - across^2), at most 0.3 V here
    across = (current * loop).imag
    turned = 230.0 - math.sqrt(230.0**2 - across**2)
    assert found.volts + turned == pytest.approx(exact, abs=1e-6)


@pytest.mark.parametrize(("system", "ways"), [("single_phase", 2.0), ("three_phase", 3**0.5)])
def test_drop_of_a_reactive_cable_by_hand(system: circuits.System, ways: float) -> None:
    # power factor .8 has a sine of .6: .010 x .8 + .006 x .6 = .0116 ohm/m, over 50 m, 10 A
    found = circuits.voltage_drop(
        10.0, 50.0, 0.010, 400.0, power_factor=0.8, reactance=0.006, system=system
    )
    assert found.volts == pytest.approx(ways * 10.0 * 50.0 * 0.0116)
    # reactance alone counts for nothing at power factor 1, and is nothing unless given
    plain = circuits.voltage_drop(10.0, 50.0, 0.010, 400.0, power_factor=0.8)
    assert plain.volts == pytest.approx(2.0 * 10.0 * 50.0 * 0.008)


def test_current_by_its_power_factor_and_a_breaker_by_its_use() -> None:
    assert circuits.current(1840.0, 230.0, 0.8) == pytest.approx(10.0)
    assert circuits.load([(1200.0, False)], 120.0, 20.0).used == pytest.approx(0.5)
    assert circuits.coordinated(10.0, 14.0, 14.0)


@given(st.floats(1.0, 16.0), st.floats(0.002, 0.1), st.floats(0.01, 0.1))
def test_longest_run_loses_just_what_is_allowed(
    amperes: float, resistance: float, share: float
) -> None:
    for system in ("single_phase", "three_phase"):
        length = circuits.longest_run(amperes, resistance, 230.0, share, system)
        found = circuits.voltage_drop(amperes, length, resistance, 230.0, system=system)
        assert found.share == pytest.approx(share)
        assert found.arrives == pytest.approx(230.0 * (1.0 - share))


@given(st.lists(st.tuples(st.floats(0.0, 2000.0), st.booleans()), max_size=8))
def test_continuous_loads_weigh_a_quarter_more(loads: list[tuple[float, bool]]) -> None:
    found = circuits.load(loads, 120.0, 20.0)
    plain, weighted = sum(v for v, _ in loads), sum(v * (1.25 if c else 1.0) for v, c in loads)
    assert found.connected == pytest.approx(plain)
    assert found.weighted == pytest.approx(weighted / 120.0)
    assert found.fits == (weighted <= 2400.0 * (1 + 1e-9))
    turned = [(v, not c) for v, c in loads]
    other = circuits.load(turned, 120.0, 20.0)
    assert found.weighted + other.weighted == pytest.approx(2.25 * plain / 120.0)


def test_a_breaker_stands_between_its_load_and_its_cable() -> None:
    assert circuits.coordinated(10.0, 10.0, 14.0)
    assert not circuits.coordinated(10.1, 10.0, 14.0)
    assert not circuits.coordinated(4.0, 16.0, 14.0)


def test_three_phases_carry_the_root_of_three() -> None:
    one, three = (
        circuits.current(4000.0, 400.0),
        circuits.current(4000.0, 400.0, 1.0, "three_phase"),
    )
    assert one / three == pytest.approx(math.sqrt(3.0))


@given(st.integers(-3, 37))
def test_three_sizes_of_wire_are_half_the_copper(size: int) -> None:
    # AWG: 39 steps are a factor of 92 in diameter, so three are 1.26 and its square 2.005
    assert conductors.awg_section(size) / conductors.awg_section(size + 3) == pytest.approx(
        2.005, abs=0.001
    )


@pytest.mark.parametrize("square_mm", [1.0, 1.5, 2.5, 4.0, 6.0, 10.0, 16.0])
def test_metric_resistance_is_that_of_copper_and_a_little(square_mm: float) -> None:
    copper = 1.7241e-8 / (square_mm * 1e-6)  # IEC 60028
    found = conductors.metric_resistance(square_mm * 1e-6)
    assert copper < found < 1.09 * copper
    assert conductors.metric_resistance(square_mm * 1e-6, flexible=True) > found


def test_hot_places_and_bundles_lower_the_ampacity() -> None:
    attic = conductors.ampacity(12, 90, ambient=52.0)
    assert attic == pytest.approx(30.0 * 0.76)
    assert conductors.ampacity(12, 90, loaded=6) == pytest.approx(24.0)
    with pytest.raises(NotCovered, match="60 °C"):
        conductors.ampacity(12, 60, ambient=58.0)


@pytest.mark.parametrize("size", [14, 12, 10, 8, 6, 4, 3, 2, 1])
def test_a_breaker_is_standard_and_the_next_one(size: int) -> None:
    breaker = conductors.largest_breaker(size)
    assert breaker in conductors.STANDARD_BREAKERS
    assert size in (14, 12, 10) or breaker >= conductors.ampacity(size, 60)


@pytest.mark.parametrize("square_mm", [1.5, 2.5, 4.0, 6.0, 10.0])
def test_a_cable_buried_in_insulation_carries_least(square_mm: float) -> None:
    carries = [
        conductors.metric_ampacity(square_mm * 1e-6, m) for m in ("A2", "A1", "B2", "B1", "C")
    ]
    assert carries == sorted(carries)


def test_a_size_outside_the_tables_is_refused_with_those_inside() -> None:
    with pytest.raises(NotCovered, match=r"2 mm² is no size in the table; 0\.5, "):
        conductors.metric_resistance(2e-6)
    with pytest.raises(NotCovered, match="13 AWG"):
        conductors.ampacity(13)
    with pytest.raises(NotCovered, match="7 AWG"):
        boxes.allowance(7)


@given(
    st.dictionaries(st.sampled_from([14, 12, 10]), st.integers(0, 8), min_size=1),
    st.lists(st.sampled_from([14, 12]), max_size=3),
    st.integers(0, 8),
)
def test_a_box_needs_the_sum_of_its_parts_and_never_less_for_more(
    conductors_in: dict[int, int], devices: list[int], grounds: int
) -> None:
    found = boxes.fill(conductors_in, devices, {12: grounds}, clamps=True, fittings=1)
    assert found.needed == pytest.approx(sum(volume for _, volume in found.parts))
    more = boxes.fill(conductors_in, [*devices, 12], {12: grounds + 1}, clamps=True, fittings=1)
    assert more.needed > found.needed


def test_an_extension_ring_brings_a_box_to_a_thick_plaster() -> None:
    assert boxes.extension_ring(0.0095, combustible=False) == pytest.approx(0.0095)
    assert boxes.extension_ring(0.00635, combustible=False) == 0.0
    assert boxes.extension_ring(0.003, combustible=True) == pytest.approx(0.003)


@given(st.floats(0.5, 10.0), st.floats(2.0, 20.0), st.floats(0.01, 0.2))
def test_a_strip_in_a_thousand_pieces_loses_half_the_lumped_drop(
    length: float, watts: float, loop: float
) -> None:
    amperes = low_voltage.strip_load(length, watts) / 24.0
    pieces = 1000
    lost = sum(loop * length / pieces * amperes * (1.0 - (n + 0.5) / pieces) for n in range(pieces))
    assert low_voltage.strip_drop(amperes, length, loop) == pytest.approx(lost)


def test_a_strip_run_adds_cable_and_strip() -> None:
    found = low_voltage.run(
        5.0, 9.6, 24.0, loop_resistance=0.05, cable_length=11.0, cable_resistance=0.009
    )
    assert found.current == pytest.approx(2.0)
    assert found.in_cable == pytest.approx(0.396)
    assert found.in_strip == pytest.approx(0.25)
    assert found.arrives == pytest.approx(24.0 - 0.646)
    assert found.share == pytest.approx(0.646 / 24.0)


@given(st.floats(1.0, 20.0), st.floats(2.0, 20.0), st.floats(0.0, 0.4), st.floats(0.1, 1.0))
def test_the_tracks_of_a_strip_lose_at_its_longest_run_what_its_maker_says(
    longest: float, watts: float, share: float, part: float
) -> None:
    loop = low_voltage.loop_resistance(longest, watts, 24.0, share)
    alone = {"loop_resistance": loop, "cable_length": 0.0, "cable_resistance": 0.0}
    assert low_voltage.run(longest, watts, 24.0, **alone).share == pytest.approx(share)
    assert low_voltage.run(longest * part, watts, 24.0, **alone).share == pytest.approx(
        share * part**2
    )


def test_other_strips_in_the_cable_cost_a_strip_their_share_of_it() -> None:
    found = low_voltage.run(
        5.0, 9.6, 24.0, loop_resistance=0.0, cable_length=11.0, cable_resistance=0.009, beside=3.0
    )
    assert found.current == pytest.approx(2.0)
    assert found.in_cable == pytest.approx(0.99)


def test_a_supply_is_the_smallest_with_headroom() -> None:
    assert low_voltage.choose_supply(48.0, [96.0, 30.0, 60.0]) == 60.0
    assert low_voltage.choose_supply(48.1, [96.0, 30.0, 60.0]) == 96.0
    assert low_voltage.choose_supply(90.0, [96.0, 30.0, 60.0]) is None


def test_a_supply_draws_what_it_gives_and_what_it_loses() -> None:
    assert low_voltage.supply_input(80.0, 0.8) == pytest.approx(100.0)


def test_a_strip_without_drop_gets_the_whole_voltage() -> None:
    found = low_voltage.run(
        5.0, 9.6, 24.0, loop_resistance=0.0, cable_length=0.0, cable_resistance=0.009
    )
    assert (found.share, found.arrives) == (0.0, 24.0)


@given(st.floats(0.1, 4.0), st.floats(1.0, 30.0), st.floats(0.01, 0.1))
def test_the_smallest_section_loses_just_the_share(
    amperes: float, length: float, share: float
) -> None:
    section = low_voltage.smallest_section(amperes, length, 24.0, share)
    drop = circuits.voltage_drop(amperes, length, 0.0225e-6 / section, 24.0)
    assert drop.share == pytest.approx(share)


def test_a_cable_that_eats_the_whole_supply_is_refused() -> None:
    with pytest.raises(OutOfRange, match="voltage lost"):
        circuits.voltage_drop(20.0, 500.0, 0.02, 120.0)


def test_a_loss_of_more_than_the_supply_is_refused_from_none_to_all_of_it() -> None:
    with pytest.raises(OutOfRange, match="holds from 0 V to 120 V"):
        circuits.voltage_drop(20.0, 500.0, 0.02, 120.0)
    with pytest.raises(OutOfRange, match="holds from 0 V to 24 V"):
        low_voltage.run(
            5.0, 9.6, 24.0, loop_resistance=0.05, cable_length=1000.0, cable_resistance=0.009
        )


def test_air_too_hot_for_any_wire_is_refused_with_the_range_of_the_table() -> None:
    for column in (60, 75, 90):
        with pytest.raises(OutOfRange, match=r"air around the wire .* from -40 °C to 70 °C"):
            conductors.ampacity(12, column, ambient=71.0)
