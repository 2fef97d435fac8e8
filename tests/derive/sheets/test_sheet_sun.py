"""The sun on walls, roofs and glass toward the open air, against hand numbers."""

from __future__ import annotations

import pytest

from spec.derive.figure import Facts
from tests.derive.sheets.worked import facts_of, figure_of, parts, value

_ROOM = """
job: {units: metric, site: {north: WA, latitude: LATITUDE}}
climate:
  design: {summer: {temperature: 33 °C, humidity: 40 %}, winter: {temperature: 0 °C}}
  SUN
surroundings:
  outdoors: {from: climate}
  loft: {same_as: outdoors}
assemblies: {A1: {from_room_outward: {wool: {material: mineral_wool, r_value: 3.83 m2K/W,
    thickness: 140 mm}}}}
rooms:
  wine_room:
    use: wine_storage
    climate: {temperature: 13 °C, humidity: 60 %}
    taped: {to: finish}
    height: 2.5 m
    walls_clockwise:
      WA: {length: 4 m, faces: outdoors, assembly: A1}
      WB: {length: 3 m, faces: outdoors, assembly: A1}
      WC: {length: 4 m, faces: outdoors, assembly: A1, openings: {W1: {is: window, left: 1 m,
          width: 2 m, bottom: 500 mm, height: 1.5 m, glazing: {panes: 2, u_value: 1.2 W/m²KSHGC}}}}
      WD: {length: 3 m, faces: outdoors, assembly: A1}
    ceiling: {faces: OVER, assembly: A1}
    floor: {faces: loft, assembly: A1}
"""
_WALL = 1 / (0.13 + 3.83 + 0.04)
_DOWN = 1 / (0.17 + 3.83 + 0.04)


def _room(sun: str = "", shgc: str = "", over: str = "outdoors", latitude: str = "40") -> Facts:
    text = _ROOM.replace("SUN", f"sun: {{{sun}}}" if sun else "").replace("SHGC", shgc)
    return facts_of(text.replace("OVER", over).replace("LATITUDE", latitude))


def test_sun_through_glass_is_area_times_gain_times_irradiance() -> None:
    # 3 m² at .6 and 700 W/m²
    facts = _room("WC: 700 W/m2", ", shgc: 0.6")
    assert value(facts, "cooling.sun@wine_room") == pytest.approx(3 * 0.6 * 700)
    load = parts(facts, "cooling.transmission@wine_room")
    # by its own temperature difference only the air counts for glass, the sun for the wall
    assert load["W1"] == pytest.approx(
        value(facts, "openings.u_value@W1") * 3 * (33 - 13), rel=1e-6
    )
    assert load["WC"] == pytest.approx(_WALL * 7 * (33 + 0.9 * 700 * 0.059 - 13), rel=1e-6)


def test_glass_without_a_gain_has_the_houses() -> None:
    facts = _room("WC: 700 W/m2")
    assert value(facts, "cooling.sun@wine_room") == pytest.approx(3 * 0.7 * 700)


def test_where_no_sun_is_stated_the_brightest_hour_of_the_side_stands_in() -> None:
    facts = _room(shgc=", shgc: 0.6")
    # ASHRAE solar heat gain factors, 40° north: south in winter 253 Btu/h ft² at noon, over .87
    # for single clear glass 917 W/m² (both from memory)
    assert value(facts, "cooling.sun@wine_room") / (3 * 0.6) == pytest.approx(917, rel=0.05)
    south = _room(shgc=", shgc: 0.6", latitude="-40")
    assert value(south, "cooling.sun@wine_room") < 0.5 * value(facts, "cooling.sun@wine_room")


@pytest.mark.parametrize(
    ("latitude", "extra"),
    [("40", {"WA": 0, "WB": 5, "WC": 3, "WD": 5}), ("-35", {"WA": 3, "WB": 5, "WC": 0, "WD": 5})],
)
def test_walls_get_the_handbooks_allowance_by_orientation(
    latitude: str, extra: dict[str, float]
) -> None:
    load = parts(_room(latitude=latitude), "cooling.transmission@wine_room")
    areas = {"WA": 10.0, "WB": 7.5, "WC": 7.0, "WD": 7.5}
    for wall, more in extra.items():
        assert load[wall] == pytest.approx(_WALL * areas[wall] * (20 + more), rel=1e-6), wall


@pytest.mark.parametrize(
    ("sun", "over", "beyond"),
    [
        ("", "outdoors", 33 + 11),
        ("", "loft", 33),
        ("ceiling: 900 W/m2", "outdoors", 33 + 0.9 * 900 * 0.059 - 4),
    ],
)
def test_a_roof_has_the_sun_on_it_and_a_loft_keeps_it_off(
    sun: str, over: str, beyond: float
) -> None:
    load = parts(_room(sun, over=over), "cooling.transmission@wine_room")
    assert load["ceiling"] == pytest.approx(_DOWN * 12 * (beyond - 13), rel=1e-6)


def test_the_load_counts_the_sun() -> None:
    used = (
        "    use_pattern: {people: 0, hours: 0 h/day, door_openings: 0 per day, lights: 0 h/day}\n"
    )
    text = _ROOM.replace("    taped:", f"{used}    taped:").replace("SUN", "sun: {WC: 700 W/m2}")
    facts = facts_of(text.replace("SHGC", "").replace("OVER", "loft").replace("LATITUDE", "40"))
    assert parts(facts, "cooling.load@wine_room")["sun through glass"] == pytest.approx(1470)


def test_a_room_without_walls_waits_for_them() -> None:
    facts = facts_of("""
rooms: {wine_room: {use: wine_storage, climate: {temperature: 13 °C, humidity: 60 %}}}
""")
    found = figure_of(facts, "cooling.infiltration@wine_room")
    assert found.waits_for == {"wine_room.walls_clockwise"}
