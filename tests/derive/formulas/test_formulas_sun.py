"""The clear sky: symmetry, night, and where the sun must stand."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spec.derive.formulas import sun

LATITUDES, HOURS = st.floats(-60.0, 60.0), st.floats(0.0, 24.0)


def test_direct_sun_at_noon_in_july_at_40_north_is_276_btu() -> None:
    # ASHRAE Fundamentals 1997 ch. 29 solar intensity table, from memory: 276 Btu/h ft² (870 W/m²)
    flat = sun.irradiance(40.0, 7, 12.0, faces=180.0, slope=0.0)
    direct = flat / (math.sin(math.radians(70.6)) + 0.136)
    assert direct == pytest.approx(276 * 3.15459, abs=5.0)


@pytest.mark.parametrize(("month", "altitude"), [(3, 50.0), (6, 73.45), (12, 26.55)])
def test_noon_altitude_is_the_colatitude_and_the_declination(month: int, altitude: float) -> None:
    found = sun.position(40.0, month, 12.0)
    assert found.altitude == pytest.approx(altitude, abs=1e-9)
    assert found.azimuth == pytest.approx(180.0)


def test_the_equinox_rises_in_the_east() -> None:
    assert sun.position(40.0, 3, 6.0).azimuth == pytest.approx(90.0)
    assert sun.position(40.0, 3, 18.0).azimuth == pytest.approx(270.0)
    assert sun.position(40.0, 3, 6.0).altitude == pytest.approx(0.0, abs=1e-9)


@given(LATITUDES, st.integers(1, 12), HOURS, st.floats(0.0, 360.0))
def test_morning_mirrors_evening_and_night_is_dark(
    latitude: float, month: int, hour: float, faces: float
) -> None:
    found = sun.irradiance(latitude, month, hour, faces=faces)
    mirrored = sun.irradiance(latitude, month, 24.0 - hour, faces=(360.0 - faces) % 360.0)
    assert found == pytest.approx(mirrored, abs=1e-6)
    assert 0.0 <= found < 1250.0
    assert (found > 0.0) == (sun.position(latitude, month, hour).altitude > 0.0)


def test_the_brightest_hour_by_orientation_at_40_north() -> None:
    north, east, south, west = (sun.peak(40.0, faces) for faces in (0.0, 90.0, 180.0, 270.0))
    assert north.irradiance < east.irradiance
    assert east.irradiance == pytest.approx(west.irradiance, rel=1e-9)
    assert (east.hour, west.hour) == (24.0 - west.hour, 24.0 - east.hour)
    assert south.month in (1, 2, 10, 11, 12)
    assert south.hour == 12.0
    # through ordinary glass the handbook has up to about 680 W/m² east and west: over .87
    assert east.irradiance == pytest.approx(680 / 0.87, rel=0.08)
