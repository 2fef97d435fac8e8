"""Loads: conservation, signs, and enthalpy beside CoolProp."""

from __future__ import annotations

import math

import pytest
from CoolProp.HumidAirProp import HAPropsSI
from hypothesis import given
from hypothesis import strategies as st

from spec.derive.formulas import air, cooling
from spec.derive.formulas.cooling import Load
from spec.derive.formulas.range import NotCovered, OutOfRange

SEA = 101_325.0
ROOM = air.state(12.8, 0.60, SEA)
BEYOND = st.builds(air.state, st.floats(-10.0, 40.0), st.floats(0.2, 0.9), st.just(SEA))


@given(BEYOND, st.floats(5.0, 80.0), st.floats(0.0, 2.0))
def test_leaking_air_brings_its_enthalpy_and_its_water(
    beyond: air.Air, volume: float, changes: float
) -> None:
    found = cooling.infiltration(volume, changes, beyond, ROOM)
    dry_air = volume * changes / 3600.0 / ROOM.volume
    assert found.total == pytest.approx(dry_air * (beyond.enthalpy - ROOM.enthalpy), abs=1e-9)
    assert found.water == pytest.approx(
        dry_air * (beyond.humidity_ratio - ROOM.humidity_ratio), abs=1e-15
    )
    assert math.copysign(1.0, found.latent) == math.copysign(1.0, found.water)
    # sensible is what dry air and its own vapor bring by temperature alone
    heat = 1006.0 + 1860.0 * beyond.humidity_ratio
    by_temperature = dry_air * heat * (beyond.temperature - ROOM.temperature)
    assert found.sensible == pytest.approx(by_temperature, rel=1e-6, abs=1e-6)


def test_leaking_air_agrees_with_coolprop() -> None:
    beyond = air.state(34.0, 0.60, SEA)

    def h(t: float, r: float) -> float:
        return float(HAPropsSI("H", "T", t + 273.15, "R", r, "P", SEA))

    density = 1.0 / HAPropsSI("V", "T", 285.95, "R", 0.60, "P", SEA)
    expected = 30.0 * 0.5 / 3600.0 * density * (h(34.0, 0.60) - h(12.8, 0.60))
    found = cooling.infiltration(30.0, 0.5, beyond, ROOM)
    assert found.total == pytest.approx(expected, rel=0.004)


@given(BEYOND)
def test_a_doorway_takes_the_sign_of_what_is_beyond_and_grows_with_the_door(
    beyond: air.Air,
) -> None:
    small = cooling.doorway(0.8, 2.0, beyond, ROOM)
    tall = cooling.doorway(0.8, 2.2, beyond, ROOM)
    assert 0.0 <= small.flow <= tall.flow
    gain = beyond.enthalpy - ROOM.enthalpy
    assert small.while_open.total * gain >= 0.0
    assert 0.9 < small.density_factor <= 1.0


def test_a_doorway_between_equal_airs_exchanges_nothing() -> None:
    assert cooling.doorway(0.8, 2.0, ROOM, ROOM).while_open.total == 0.0


def test_a_door_between_two_altitudes_is_refused() -> None:
    high = air.state(24.0, 0.5, air.pressure_at(1500.0))
    with pytest.raises(NotCovered, match="one pressure"):
        cooling.doorway(0.8, 2.0, high, ROOM)


@given(st.floats(0.0, 500.0), st.floats(0.0, 500.0), st.floats(0.0, 1.0))
def test_loads_add_and_share(sensible: float, latent: float, share: float) -> None:
    one = Load(sensible, latent, latent / 2.5e6)
    both = one + one
    assert both.total == pytest.approx(2.0 * one.total)
    assert both.water == pytest.approx(2.0 * one.water)
    assert (Load(sensible).latent, Load(sensible).water) == (0.0, 0.0)
    assert both.times(share).total == pytest.approx(both.total * share)
    assert both.times(share).water == pytest.approx(both.water * share)


@given(st.floats(10.0, 3000.0), st.floats(0.0, 0.3), st.floats(8.0, 24.0))
def test_a_machine_of_the_needed_capacity_carries_the_day_in_its_hours(
    average: float, safety: float, hours: float
) -> None:
    needed = cooling.capacity_needed(average, safety, hours)
    assert needed * hours == pytest.approx(average * (1.0 + safety) * 24.0)
    assert cooling.capacity_needed(300.0, 0.0, 24.0) == 300.0


@given(st.floats(1.0, 400.0), st.floats(1.0, 400.0), st.floats(13.0, 30.0))
def test_heat_taken_out_over_the_time_is_the_heat_of_the_bottles(
    glass: float, wine: float, arriving: float
) -> None:
    heat = cooling.heat_of_bottles(glass, wine, arriving, 12.8, 4100.0)
    hours = 72.0
    power = cooling.pull_down(heat, hours * 3600.0).total
    assert cooling.pull_down_time(heat, power + 50.0, 50.0) == pytest.approx(hours * 3600.0)


def test_400_bottles_from_75_f_to_55_f_in_72_hours() -> None:
    # computed here: 400 x (.5 x 750 + .75 x .99 x 4100) J/K x 11.11 K / 259200 s
    heat = cooling.heat_of_bottles(
        400 * 0.5, 400 * 0.7425, (75 - 32) / 1.8, (55 - 32) / 1.8, 4100.0
    )
    assert cooling.pull_down(heat, 72 * 3600.0).total == pytest.approx(58.6, abs=0.2)


def test_a_unit_that_only_carries_the_rest_never_brings_the_wine_down() -> None:
    assert math.isinf(cooling.pull_down_time(1e6, 300.0, 300.0))


def test_wine_that_arrives_cold_is_no_load() -> None:
    assert cooling.heat_of_bottles(10.0, 10.0, 8.0, 12.8, 4100.0) == 0.0


def test_condensate_of_a_latent_load() -> None:
    beyond = air.state(34.0, 0.60, SEA)
    found = cooling.infiltration(30.0, 0.5, beyond, ROOM)
    by_latent = found.latent / (cooling.VAPORIZATION + cooling.VAPOR_HEAT * 12.8) * 86_400.0
    assert cooling.condensate_per_day(found) == pytest.approx(by_latent)


def test_more_than_a_day_open_is_refused() -> None:
    with pytest.raises(OutOfRange, match="share of the day"):
        cooling.open_share(1000, 100.0)


def test_a_colder_side_cools_the_room() -> None:
    assert cooling.transmission(10.0, 0.3, -5.0, 12.0).total == pytest.approx(-51.0)


def test_a_room_without_cooling_drifts_by_its_time_constant() -> None:
    # stepped by a minute: C dT = U A (Tb - T) dt
    capacity, conductance, temperature, seconds = 3.0e6, 12.0, 12.0, 0
    while temperature < 16.0:
        temperature += conductance * (24.0 - temperature) / capacity * 60.0
        seconds += 60
    found = cooling.hold_time(capacity, conductance, 12.0, 16.0, 24.0)
    assert found == pytest.approx(seconds, rel=0.002)
    assert math.isinf(cooling.hold_time(capacity, conductance, 12.0, 16.0, 16.0))


@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_a_door_lets_in_its_share(share: float, protection: float) -> None:
    exchange = cooling.doorway(0.9, 2.1, air.state(24.0, 0.5, SEA), ROOM)
    found = cooling.through_door(exchange, share, 11.2, protection)
    expected = exchange.while_open.total * share * 0.8 * (1.0 - protection)
    assert found.total == pytest.approx(expected, abs=1e-9)
    assert found.water == pytest.approx(exchange.while_open.water * share * 0.8 * (1 - protection))


def test_a_load_is_shared_over_no_more_than_all_of_the_time() -> None:
    for share in (-0.05, 1.05):
        with pytest.raises(OutOfRange, match="share of the time"):
            Load(100.0).times(share)


@pytest.mark.parametrize("water", [-0.95, 0.95])
def test_condensate_in_kilograms_a_second_up_to_one(water: float) -> None:
    assert cooling.condensate_per_day(Load(0.0, 0.0, water)) == pytest.approx(water * 24 * 3600)
    with pytest.raises(OutOfRange, match="water that comes in"):
        cooling.condensate_per_day(Load(0.0, 0.0, water * 1.1))
