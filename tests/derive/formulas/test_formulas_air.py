"""Moist air: properties, and CoolProp's HAPropsSI beside psychrolib."""

from __future__ import annotations

import math

import pytest
from CoolProp.HumidAirProp import HAPropsSI
from hypothesis import given
from hypothesis import strategies as st

from spec.derive.formulas import air
from spec.derive.formulas.range import OutOfRange

TEMPERATURES = st.floats(1.0, 45.0)
HUMIDITIES = st.floats(0.1, 0.99)
ELEVATIONS = st.floats(0.0, 3000.0)


@given(TEMPERATURES, HUMIDITIES, ELEVATIONS)
def test_agrees_with_coolprop(temperature: float, humidity: float, elevation: float) -> None:
    pressure = air.pressure_at(elevation)
    ours = air.state(temperature, humidity, pressure)
    at = ("T", temperature + 273.15, "R", humidity, "P", pressure)
    assert ours.humidity_ratio == pytest.approx(HAPropsSI("W", *at), rel=0.006)
    assert ours.dew_point == pytest.approx(HAPropsSI("D", *at) - 273.15, abs=0.1)
    # 0.4 %, and near 0 °C, where enthalpy is near zero, what .1 K is worth
    theirs = HAPropsSI("H", *at)
    assert ours.enthalpy == pytest.approx(theirs, abs=100.0 + 0.004 * abs(theirs))
    assert ours.volume == pytest.approx(HAPropsSI("V", *at), rel=0.001)


@pytest.mark.parametrize(("temperature", "humidity"), [(24.0, 0.5), (12.8, 0.6), (33.0, 0.6)])
def test_dew_points_of_the_trade_agree_with_coolprop_to_a_fiftieth_of_a_kelvin(
    temperature: float, humidity: float
) -> None:
    theirs = HAPropsSI("D", "T", temperature + 273.15, "R", humidity, "P", 101_325.0) - 273.15
    assert air.dew_point(temperature, humidity) == pytest.approx(theirs, abs=0.02)


@given(TEMPERATURES, HUMIDITIES)
def test_dew_point_stays_with_altitude_and_the_rest_moves(
    temperature: float, humidity: float
) -> None:
    low = air.state(temperature, humidity, air.pressure_at(0.0))
    high = air.state(temperature, humidity, air.pressure_at(2500.0))
    assert low.dew_point == high.dew_point
    assert high.humidity_ratio > low.humidity_ratio
    assert high.enthalpy > low.enthalpy
    assert high.density < low.density


@given(st.floats(-30.0, 60.0), HUMIDITIES)
def test_dew_point_gives_the_humidity_back(temperature: float, humidity: float) -> None:
    dew = air.dew_point(temperature, humidity)
    if dew >= air.COLDEST:
        found = air.humidity_from_dew_point(temperature, dew)
        assert found == pytest.approx(humidity, rel=2e-3)


@given(TEMPERATURES, HUMIDITIES)
def test_wet_bulb_gives_the_humidity_back(temperature: float, humidity: float) -> None:
    wet = air.wet_bulb(temperature, humidity, 101_325.0)
    assert air.dew_point(temperature, humidity) - 0.02 <= wet <= temperature + 1e-9
    back = air.humidity_from_wet_bulb(temperature, min(wet, temperature), 101_325.0)
    assert back == pytest.approx(humidity, abs=2e-3)


@given(st.floats(-30.0, 60.0), st.floats(0.01, 1.0), st.floats(0.01, 1.0))
def test_moister_air_has_the_higher_dew_point(temperature: float, one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert air.dew_point(temperature, low) <= air.dew_point(temperature, high) + 2e-3
    assert air.dew_point(temperature, high) <= temperature


def test_winter_air_dries_a_room_that_warms_it_and_summer_air_wets_one_that_cools_it() -> None:
    assert air.humidity_when_brought_to(-5.0, 0.86, 12.0) < 0.30
    assert air.humidity_when_brought_to(24.0, 0.60, 12.0) > 1.0


@pytest.mark.parametrize(("temperature", "humidity"), [(20.0, 0.0), (20.0, 1e-9), (-35.0, 1e-5)])
def test_air_without_a_dew_point_is_refused(temperature: float, humidity: float) -> None:
    with pytest.raises(OutOfRange, match="relative humidity"):
        air.dew_point(temperature, humidity)


def test_a_wet_bulb_drier_than_dry_air_is_refused() -> None:
    with pytest.raises(OutOfRange, match="wet-bulb"):
        air.humidity_from_wet_bulb(40.0, 5.0, 101_325.0)


@pytest.mark.parametrize(("dew_point", "holds"), [(-95.0, True), (-99.0, True), (-101.0, False)])
def test_dew_points_down_to_100_below_by_murphy_and_koop(dew_point: float, holds: bool) -> None:
    # vapor over ice, Murphy and Koop 2005 eq. 7, from memory
    kelvin = dew_point + 273.15
    vapor = math.exp(
        9.550426 - 5723.265 / kelvin + 3.53068 * math.log(kelvin) - 0.00728332 * kelvin
    )
    humidity = vapor / air.saturation_pressure(-40.0)
    if holds:
        assert air.dew_point(-40.0, humidity) == pytest.approx(dew_point, abs=0.5)
        return
    with pytest.raises(OutOfRange, match=r"this holds from 0\.001 to 1$"):
        air.dew_point(-40.0, humidity)


@pytest.mark.parametrize("temperature", [air.COLDEST, 0.0, air.WARMEST])
def test_what_the_refusal_of_dry_air_names_holds_at_every_temperature(temperature: float) -> None:
    assert air.dew_point(temperature, 0.001) < temperature
    assert air.dew_point(temperature, 1.0) == pytest.approx(temperature, abs=0.01)


@pytest.mark.parametrize("humidity", [0.02, 0.05, 0.97, 1.0])
def test_wet_bulbs_of_the_driest_and_of_saturated_air(humidity: float) -> None:
    wet = air.wet_bulb(30.0, humidity, 101_325.0)
    back = air.humidity_from_wet_bulb(30.0, min(wet, 30.0), 101_325.0)
    assert back == pytest.approx(humidity, abs=2e-3)
    assert back <= 1.0


@pytest.mark.parametrize("pressure", [60_000.0, 85_000.0, 101_325.0])
def test_air_whose_wet_bulb_is_its_temperature_is_saturated_and_no_more(pressure: float) -> None:
    for temperature in range(-40, 75):
        found = air.humidity_from_wet_bulb(float(temperature), float(temperature), pressure)
        assert 0.995 <= found <= 1.0


def test_vapor_that_is_nearly_all_of_the_air_is_refused() -> None:
    # at 80 °C saturation is 47.4 kPa (steam tables), of 50 kPa
    assert air.humidity_ratio(80.0, 0.93, 50_000.0) < 0.622 * 9.0
    with pytest.raises(OutOfRange, match=r"vapor pressure .* from 0 Pa to 45000 Pa"):
        air.humidity_ratio(80.0, 0.97, 50_000.0)
