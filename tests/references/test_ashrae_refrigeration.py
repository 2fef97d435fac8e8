"""ASHRAE Handbook Refrigeration: a doorway computed apart from this program with psychrolib."""

from __future__ import annotations

import pytest

from spec.derive.formulas import air, cooling, sun
from spec.derive.formulas.range import OutOfRange

WARM, ROOM = air.state(24.0, 0.5, 101_325.0), air.state(13.0, 0.6, 101_325.0)


def test_doorway_of_900_by_2100_mm_at_sea_level() -> None:
    # computed here with moist-air densities and g = 9.81, which the program has as 9.80665
    found = cooling.doorway(0.9, 2.1, WARM, ROOM)
    assert found.density_factor == pytest.approx(0.9900, abs=0.00005)
    assert found.flow == pytest.approx(0.3714, abs=0.00005)
    assert found.while_open.total == pytest.approx(9445.0, abs=2.5)


@pytest.mark.parametrize(
    ("difference", "factor"), [(7.0, 1.1), (11.0, 1.1), (11.5, 0.8), (16.0, 0.8)]
)
def test_doorway_flow_factor(difference: float, factor: float) -> None:
    assert cooling.flow_factor(difference) == factor


@pytest.mark.parametrize(("room", "watts"), [(10.0, 212.0), (5.0, 242.0), (0.0, 272.0)])
def test_heat_of_people(room: float, watts: float) -> None:
    # q = 272 - 6t; the handbook's table (from memory): 10 °C 210 W, 5 °C 240 W, 0 °C 270 W
    assert cooling.person(room).total == pytest.approx(watts)
    assert cooling.person(room).total == pytest.approx(round(watts, -1), abs=2.0)


@pytest.mark.parametrize(
    ("faces", "kelvin"), [(0.0, 0.0), (90.0, 5.0), (180.0, 3.0), (270.0, 5.0), (360.0, 0.0)]
)
def test_allowance_for_sun_on_a_dark_wall(faces: float, kelvin: float) -> None:
    # the handbook's table of allowances for sun effect, dark surfaces, from memory
    assert sun.allowance(faces) == kelvin
    assert sun.allowance((540.0 - faces) % 360.0, south=True) == kelvin


@pytest.mark.parametrize(
    ("faces", "kelvin"),
    [(45.0, 2.5), (30.0, 5.0 / 3.0), (135.0, 4.0), (225.0, 4.0), (300.0, 10.0 / 3.0), (315.0, 2.5)],
)
def test_allowance_between_two_quarters_of_the_sky(faces: float, kelvin: float) -> None:
    assert sun.allowance(faces) == pytest.approx(kelvin)
    # south of the equator north and south change places
    mirrored = 180.0 - faces if faces <= 180.0 else 540.0 - faces
    assert sun.allowance(mirrored, south=True) == pytest.approx(kelvin)


def test_allowance_for_sun_on_a_dark_flat_roof() -> None:
    assert sun.allowance(None, roof=True) == 11.0
    assert sun.allowance(None) == 5.0


def test_effectiveness_of_door_protection_is_on_the_safe_side_of_what_is_published() -> None:
    # Jekel, Door Infiltration Estimator, IRC Research and Technology Forum 2017: strips 93 %,
    # vertical air curtain 50 to 80 %; Pham and Oliver 1983: 93 %, 75 to 80 %; both seen quoted.
    # What is taken is the low end, and strips that have lost a little
    assert cooling.DOOR_PROTECTION["none"] == 0.0
    assert cooling.DOOR_PROTECTION["air_curtain"] == 0.50
    assert cooling.DOOR_PROTECTION["strip_curtain"] == pytest.approx(0.93 - 0.03)


def test_doorway_by_the_same_model_in_inch_and_pound() -> None:
    # Jekel 2017, seen quoted: 13.26 A (1 - ρo/ρi)^½ (g H)^½ Fm in ft³/min, A in ft², g 32.174 ft/s²
    foot, light, dense = 0.3048, WARM.density, ROOM.density
    area, factor = 0.9 * 2.1 / foot**2, (2.0 / (1.0 + (dense / light) ** (1 / 3))) ** 1.5
    cfm = 13.26 * area * (1 - light / dense) ** 0.5 * (32.174 * 2.1 / foot) ** 0.5 * factor
    found = cooling.doorway(0.9, 2.1, WARM, ROOM).flow
    assert found / foot**3 * 60.0 == pytest.approx(cfm, rel=1e-4)


def test_doorway_open_time_factor() -> None:
    # Dt = (P θp + 60 θo) / (3600 θd): 120 passages of 12 s and 18 min of standing open in a day
    assert cooling.open_share(120.0, 12.0, 18.0 * 60.0) == pytest.approx(2520.0 / 86_400.0)
    assert cooling.open_share(120.0, 12.0) == pytest.approx(1440.0 / 86_400.0)
    assert cooling.open_share(144.0, 600.0) == pytest.approx(1.0)  # open all day
    with pytest.raises(OutOfRange, match=r"share of the day .* from 0 to 1$"):
        cooling.open_share(145.0, 600.0)
