"""The ASHRAE clear-sky model: its table in Btu, from memory; and the sun by turning vectors."""

from __future__ import annotations

import math

import numpy as np
import pytest

from spec.derive.formulas import sun

# Handbook Fundamentals 1997 ch. 29 table 7, 21st of each month, from memory: declination
# [degrees], A [Btu/h ft²], B, C.
TABLE = [
    (-20.0, 390, 0.142, 0.058), (-10.8, 385, 0.144, 0.060), (0.0, 376, 0.156, 0.071),
    (11.6, 360, 0.180, 0.097), (20.0, 350, 0.196, 0.121), (23.45, 345, 0.205, 0.134),
    (20.6, 344, 0.207, 0.136), (12.3, 351, 0.201, 0.122), (0.0, 365, 0.177, 0.092),
    (-10.5, 378, 0.160, 0.073), (-19.8, 387, 0.149, 0.063), (-23.45, 391, 0.142, 0.057),
]  # fmt: skip
BTU = 3.154591
"""[W/m²] One Btu/h ft²."""


def toward_sun(latitude: float, declination: float, hour: float) -> tuple[float, float, float]:
    """East, north and up parts: the sun over the equator at noon, turned day and place."""
    turn, place = math.radians(15.0 * (hour - 12.0)), math.radians(latitude)
    d = math.radians(declination)
    at_equator = np.array(
        [-math.cos(d) * math.sin(turn), math.sin(d), math.cos(d) * math.cos(turn)]
    )
    tip = np.array(
        [[1, 0, 0], [0, math.cos(place), -math.sin(place)], [0, math.sin(place), math.cos(place)]]
    )
    east, north, up = tip @ at_equator
    return float(east), float(north), float(up)


@pytest.mark.parametrize("month", range(1, 13))
def test_declination_agrees_with_spencers_series(month: int) -> None:
    # Spencer 1971, from memory; the table is rounded, in September by a whole degree
    day = (0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334)[month - 1] + 21
    g = 2.0 * math.pi * (day - 1) / 365.0
    spencer = math.degrees(
        0.006918 - 0.399912 * math.cos(g) + 0.070257 * math.sin(g)
        - 0.006758 * math.cos(2 * g) + 0.000907 * math.sin(2 * g)
        - 0.002697 * math.cos(3 * g) + 0.001480 * math.sin(3 * g)
    )  # fmt: skip
    noon = sun.position(45.0, month, 12.0)
    assert noon.altitude - 45.0 == pytest.approx(spencer, abs=1.1 if month == 9 else 0.15)
    assert noon.altitude - 45.0 == pytest.approx(TABLE[month - 1][0], abs=1e-9)


@pytest.mark.parametrize("month", range(1, 13))
@pytest.mark.parametrize(("latitude", "hour"), [(40.0, 9.5), (52.0, 15.0), (-33.0, 12.5)])
def test_position_and_irradiance_by_vectors(month: int, latitude: float, hour: float) -> None:
    declination, a, b, c = TABLE[month - 1]
    east, north, up = toward_sun(latitude, declination, hour)
    found = sun.position(latitude, month, hour)
    assert found.altitude == pytest.approx(math.degrees(math.asin(up)), abs=1e-9)
    assert math.tan(math.radians(found.azimuth)) == pytest.approx(east / north)
    assert (math.sin(math.radians(found.azimuth)) > 0.0) == (east > 0.0)
    direct = a * BTU * math.exp(-b / up)
    for faces, slope in ((0.0, 90.0), (100.0, 90.0), (200.0, 90.0), (225.0, 30.0), (0.0, 0.0)):
        look, lean = math.radians(faces), math.radians(slope)
        normal = (
            math.sin(look) * math.sin(lean), math.cos(look) * math.sin(lean), math.cos(lean)
        )  # fmt: skip
        facing = max(0.0, sum(s * n for s, n in zip((east, north, up), normal, strict=True)))
        # half the sky and half the ground for an upright wall, lawn of .2
        sky, ground = (1.0 + math.cos(lean)) / 2.0, (1.0 - math.cos(lean)) / 2.0
        expected = direct * (facing + c * sky + 0.2 * (c + up) * ground)
        # the table in W/m² is rounded to whole watts
        assert sun.irradiance(latitude, month, hour, faces=faces, slope=slope) == pytest.approx(
            expected, rel=5e-4
        )


@pytest.mark.parametrize("month", range(1, 13))
def test_the_sun_stands_overhead_where_the_latitude_is_its_declination(month: int) -> None:
    declination = TABLE[month - 1][0]
    assert sun.position(declination, month, 12.0).altitude == pytest.approx(90.0, abs=1e-5)
    # at 20.00000019° south the parts of its direction sum to a hair over one
    assert sun.position(-20.00000019, 1, 12.0).altitude == pytest.approx(90.0, abs=1e-5)
    assert sun.position(19.999999802, 1, 0.0).altitude == pytest.approx(-90.0, abs=1e-5)
    # and underfoot at midnight on the other side
    assert sun.position(-declination, month, 0.0).altitude == pytest.approx(-90.0, abs=1e-5)


def test_a_sun_just_under_the_horizon_gives_nothing() -> None:
    # at the equinox it rises at six; a sixth of a minute earlier it stands .03° below
    assert -0.05 < sun.position(40.0, 3, 6.0 - 1 / 360).altitude < 0.0
    assert sun.irradiance(40.0, 3, 6.0 - 1 / 360, faces=90.0) == 0.0


def test_a_sun_just_on_the_horizon_gives_nothing() -> None:
    # its light would pass an endless depth of air; sunrise is found by halving, to the last digit
    just = 0
    for half in range(121):
        before, after = 2.0, 11.9
        while (middle := (before + after) / 2.0) not in (before, after):
            up = sun.position(half / 2.0, 7, middle).altitude >= 0.0
            before, after = (before, middle) if up else (middle, after)
        just += sun.position(half / 2.0, 7, after).altitude == 0.0
        found = sun.irradiance(half / 2.0, 7, after, faces=90.0)
        assert found == pytest.approx(0.0, abs=1e-12)
    assert just > 0


@pytest.mark.parametrize(
    ("latitude", "faces", "slope"),
    [(40.0, 180.0, 90.0), (40.0, 90.0, 90.0), (-33.0, 0.0, 90.0), (-40.0, 0.0, 0.0),
     (66.0, 0.0, 90.0), (66.0, 330.0, 90.0), (66.0, 30.0, 90.0), (60.0, 0.0, 90.0),
     (-66.0, 180.0, 90.0)],
)  # fmt: skip
def test_the_peak_is_the_brightest_half_hour_of_all(
    latitude: float, faces: float, slope: float
) -> None:
    hours = [half / 2.0 for half in range(49)]
    every = [
        (sun.irradiance(latitude, month, hour, faces=faces, slope=slope), month, hour)
        for month in range(1, 13)
        for hour in hours
    ]
    found = sun.peak(latitude, faces, slope)
    best = max(value for value, _, _ in every)
    assert found.irradiance == best
    assert (found.irradiance, found.month, found.hour) in every


def test_a_surface_stands_upright_unless_said() -> None:
    assert sun.peak(40.0, 180.0) == sun.peak(40.0, 180.0, 90.0)
    upright = sun.irradiance(40.0, 6, 10.0, faces=180.0, slope=90.0)
    assert sun.irradiance(40.0, 6, 10.0, faces=180.0) == upright
