"""What draws power in a wine room, and what machines give it, against hand numbers."""

from __future__ import annotations

import pytest

from spec.derive.figure import Facts
from tests.derive.sheets.worked import facts_of, figure_of, parts, value

_ROOMS = """
job: {units: metric}
surroundings: {hall: {summer: {temperature: 24 °C, humidity: OUT}}}
elsewhere:
  CU1: {is: condensing_unit, serves: [E1, E2], capacity: {value: 1200 W}}
rooms:
  reds:
    use: wine_storage
    climate: {temperature: 13 °C, humidity: 60 %}
    use_pattern: {door_openings: 0 per day, lights: 6 h/day}
    taped: {to: finish}
    height: 2.5 m
    walls_clockwise:
      RA:
        length: 4 m
        faces: hall
        lights: {S1: {is: strip, watts: 10 W/m, pieces: [3 m], fed_from: PS1}}
        MORE
      RB: {length: 3 m, faces: hall}
      RC: {length: 4 m, faces: hall}
      RD: {length: 3 m, faces: hall}
    ceiling:
      equipment:
        E1: {is: evaporatorFIRST}
        HM1: {is: humidifier, watts: 40 W}
        CP1: {is: condensate_pump, watts: 24 W}
        FN1: {is: fan, watts: 30 W, hours: 8 h/day}
  whites:
    use: wine_storage
    ceiling: {equipment: {E2: {is: evaporator, capacity: {value: 500 W}}}}
"""


def _rooms(more: str = "", out: str = "50 %", first: str = ", capacity: {value: 1000 W}") -> Facts:
    return facts_of(_ROOMS.replace("MORE", more).replace("OUT", out).replace("FIRST", first))


@pytest.mark.parametrize(
    ("driver", "drawn"),
    [
        ("drivers: {PS1: {is: driver, power: 60 W, efficiency: 60 %}}", 30 / 0.60),
        ("drivers: {PS1: {is: driver, power: 60 W}}", 30 / 0.85),  # of the house
        ("", 30),  # it sits elsewhere
    ],
)
def test_a_driver_heats_the_room_in_which_it_sits_with_its_loss(driver: str, drawn: float) -> None:
    assert value(_rooms(driver), "cooling.lights@reds") == pytest.approx(drawn * 6 / 24)


@pytest.mark.parametrize(("out", "humidifier"), [("50 %", 0), ("20 %", 40)])
def test_devices_run_all_day_and_a_humidifier_where_the_air_dries_the_room(
    out: str, humidifier: float
) -> None:
    facts = _rooms("devices: {CT1: {is: controller, watts: 5 W}, SN1: {is: sensor}}", out)
    found = parts(facts, "cooling.devices@reds")
    assert found == pytest.approx({"CT1": 5, "CP1": 1, "HM1": humidifier})
    assert value(facts, "cooling.fans@reds") == pytest.approx(30 * 8 / 24)


@pytest.mark.parametrize(
    ("first", "reds", "whites"),
    [
        (", capacity: {value: 1000 W}", 800, 400),  # by what the evaporators give
        ("", 600, 500),  # by their number; the evaporator of the whites gives 500 W
    ],
)
def test_one_condensing_unit_is_shared_by_the_rooms_that_it_serves(
    first: str, reds: float, whites: float
) -> None:
    facts = _rooms(first=first)
    assert value(facts, "cooling.given@reds") == pytest.approx(reds)
    assert value(facts, "cooling.given@whites") == pytest.approx(whites)


def test_a_unit_is_not_shared_before_it_is_decided_what_it_is_shared_by() -> None:
    facts = _rooms(first=", capacity: {value: {open: lead}}")
    found = figure_of(facts, "cooling.given@whites")
    assert found.value is None and found.waits_for == {"E1.capacity.value"}
