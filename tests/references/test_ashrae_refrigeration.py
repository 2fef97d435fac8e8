"""ASHRAE Handbook Refrigeration: a doorway computed apart from this program with psychrolib."""

from __future__ import annotations

import pytest

from spec.derive.formulas import air, cooling

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
