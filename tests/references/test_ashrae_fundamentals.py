"""ASHRAE Handbook Fundamentals 2017 (SI), chapter 1: published values, seen in the source."""

from __future__ import annotations

import pytest

from spec.derive.formulas import air

# Tolerances are half of the last printed digit, unless said otherwise.


def test_example_1_moist_air_at_40_c_and_20_c_wet_bulb() -> None:
    humidity = air.humidity_from_wet_bulb(40.0, 20.0, 101_325.0)
    found = air.state(40.0, humidity, 101_325.0)
    # the example reads a chart: one unit of the last digit
    assert found.humidity_ratio == pytest.approx(0.0065, abs=0.0001)
    assert found.dew_point == pytest.approx(7.0, abs=0.5)
    assert found.humidity == pytest.approx(0.14, abs=0.005)
    assert found.enthalpy == pytest.approx(56_700.0, abs=100.0)
    assert found.volume == pytest.approx(0.896, abs=0.001)


@pytest.mark.parametrize(
    ("temperature", "pressure"),
    [(-20.0, 103.24), (5.0, 872.6), (25.0, 3169.7), (50.0, 12_351.3)],
)
def test_table_3_saturation_pressure(temperature: float, pressure: float) -> None:
    # equations 5 and 6 against the table that a newer formulation made: 300 ppm
    assert air.saturation_pressure(temperature) == pytest.approx(pressure, rel=300e-6)


@pytest.mark.parametrize(
    ("elevation", "pressure"),
    [(0.0, 101_325.0), (500.0, 95_461.0), (1000.0, 89_875.0), (4000.0, 61_640.0)],
)
def test_table_1_standard_atmosphere(elevation: float, pressure: float) -> None:
    # the table prints kPa to three places; equation 3 rounds its constants
    assert air.pressure_at(elevation) == pytest.approx(pressure, abs=8.0)
