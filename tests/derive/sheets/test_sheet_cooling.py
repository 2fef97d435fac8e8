"""The cooling load part by part, against hand numbers and CoolProp."""

from __future__ import annotations

import math

import pytest

from spec.derive.figure import Facts
from tests.derive.sheets.worked import facts_of, figure_of, parts, value

_ROOM = """
job: {units: metric}
bottles: {standard: {diameter: 76 mm, length: 300 mm, full: 1.3 kg}}
surroundings:
  warm: {summer: {temperature: 24 °C, humidity: 50 %}, winter: {temperature: 20 °C, humidity: 40 %}}
  hot: {summer: {temperature: 33 °C, humidity: 40 %}}
assemblies:
  A1: {from_room_outward: {wool: {material: mineral_wool, r_value: 3.74 m2K/W, thickness: 140 mm}}}
products: {pane: {is: glazing, panes: 2, u_value: 1.2 W/m²K, edge: warm_edge}}
rooms:
  wine_room:
    use: wine_storage
    climate: {temperature: 13 °C, humidity: 60 %, band: {temperature: 2 K}}
    use_pattern:
      {people: 2, hours: 3 h/day, door_openings: 10 per day, open_for: 60 s, lights: 4 h/day}
    loading: {bottles: 100, arriving_at: 20 °C, cooled_within: 48 h}
    taped: {to: finish}
    height: 2.5 m
    stacks: {racks: {bottom_to_top: {lower: {is: racks, height: 2.5 m, depth: 350 mm, rows: 20}}}}
    walls_clockwise:
      WA:
        length: 4 m
        faces: hot
        assembly: A1
        millwork: {lower: {left_to_right: {R1: {width: 4 m, columns: 40}}}}
      WB:
        length: 3 m
        faces: warm
        assembly: A1
        openings:
          D1:
            is: door
            center: wall
            opens_into: warm
            frame: {jambs: 20 mm, head: 20 mm}
            leaf: {width: 900 mm, height: 2100 mm, thickness: 40 mm, u_value: 0.7 W/m²K}
      WC: {length: 4 m, faces: warm, assembly: A1}
      WD: {length: 3 m, faces: warm, assembly: A1}
    ceiling:
      faces: hot
      assembly: A1
      lights: {L1: {is: downlight, watts: 10 W, centers: {WA: [1 m], WD: [1 m, 2 m, 3 m]}}}
      equipment:
        E1: {is: evaporator, watts: 60 W, center: {WA: 1 m, WD: 1 m}, capacity: {value: 900 W}}
    floor: {faces: warm, assembly: A1}
    cooling: {kind: ceiling_recessed}
"""


@pytest.fixture(scope="module")
def room() -> Facts:
    return facts_of(_ROOM)


def test_transmission_is_u_a_dt_of_each_surface(room: Facts) -> None:
    wall = 1 / (0.13 + 3.74 + 0.13)  # .25, all sides inside a building
    down, up = 1 / (0.17 + 3.74 + 0.17), 1 / (0.10 + 3.74 + 0.10)
    door = 0.94 * 2.12  # leaf 900 x 2100, jambs 20, head 20
    expected = {
        "WA": wall * 10.0 * 20,
        "WB": wall * (7.5 - door) * 11,
        "D1": 0.7 * door * 11,
        "WC": wall * 10.0 * 11,
        "WD": wall * 7.5 * 11,
        "ceiling": down * 12.0 * 20,
        "floor": up * 12.0 * 11,
    }
    assert parts(room, "cooling.transmission@wine_room") == pytest.approx(expected, rel=1e-6)
    assert value(room, "cooling.transmission@wine_room") == pytest.approx(sum(expected.values()))


def test_leaking_air_is_its_enthalpy(room: Facts) -> None:
    props = pytest.importorskip("CoolProp.HumidAirProp")

    def of(name: str, celsius: float, humidity: float) -> float:
        return float(props.HAPropsSI(name, "T", celsius + 273.15, "P", 101325, "R", humidity))

    # 12 changes a day of 30 m³ (infiltration.changes of the house)
    flow = 30.0 * 12 / 86_400 / of("V", 13, 0.6)
    heat = flow * (of("H", 24, 0.5) - of("H", 13, 0.6))
    assert value(room, "cooling.infiltration@wine_room") == pytest.approx(heat, rel=0.01)
    # the same water, with what comes through the door, is what falls out in a day
    share = 10 * 60 / 86_400 * 1.1
    water = flow + 0.3714 * share / of("V", 13, 0.6)
    water *= (of("W", 24, 0.5) - of("W", 13, 0.6)) * 86_400
    assert value(room, "cooling.condensate@wine_room") == pytest.approx(water, rel=0.02)


def test_the_door_lets_in_what_the_handbook_says(room: Facts) -> None:
    # .9 x 2.1 m, 24 °C/50 % to 13 °C/60 %: 9445 W while open; 11 K: flow factor 1.1
    share = 10 * 60 / 86_400
    assert value(room, "cooling.doorway@wine_room") == pytest.approx(9445 * share * 1.1, rel=1e-3)


def test_people_lights_fans_and_wine(room: Facts) -> None:
    assert value(room, "cooling.people@wine_room") == pytest.approx(2 * (272 - 6 * 13) * 3 / 24)
    assert value(room, "cooling.lights@wine_room") == pytest.approx(3 * 10 * 4 / 24)
    assert value(room, "cooling.fans@wine_room") == pytest.approx(60 * 16 / 24)
    # .75 L at .99 kg/L is .7425 kg of wine, the rest of 1.3 kg is glass
    bottle = 0.7425 * 4100 + (1.3 - 0.7425) * 750
    heat = 100 * bottle * (20 - 13)
    assert value(room, "cooling.product@wine_room") == pytest.approx(heat / (48 * 3600), rel=1e-6)
    # 800 places full, 2 K to go, from all sides together
    at = figure_of(room, "cooling.transmission@wine_room")
    conductance = sum(v for name, v, _ in at.given if name == "U A")
    assert at.value is not None
    beyond = 13 + at.value / conductance
    seconds = 800 * bottle / conductance * math.log((beyond - 13) / (beyond - 15))
    assert value(room, "cooling.holds@wine_room") == pytest.approx(seconds, rel=1e-6)


def test_the_load_is_the_sum_and_the_machine_is_held_against_it(room: Facts) -> None:
    names = ("transmission", "infiltration", "doorway", "people", "lights", "fans", "product")
    load = sum(value(room, f"cooling.{name}@wine_room") for name in names)
    assert value(room, "cooling.load@wine_room") == pytest.approx(load)
    needed = load * 1.10 * 24 / 16  # least spare 10 %, 16 h/day of the house
    assert value(room, "cooling.needed@wine_room") == pytest.approx(needed)
    assert value(room, "cooling.margin@wine_room") == pytest.approx(900 / needed - 1)
    assert value(room, "cooling.spare_capacity@wine_room") == pytest.approx(900 / load - 1)
    assert value(room, "cooling.runs@wine_room") == pytest.approx(24 * load / 900)
    heat = value(room, "cooling.product@wine_room") * 48 * 3600
    rest = 900 - (load - value(room, "cooling.product@wine_room"))
    assert value(room, "cooling.pull_down@wine_room") == pytest.approx(heat / rest)


def test_sensible_and_latent_make_the_whole(room: Facts) -> None:
    found = figure_of(room, "cooling.load@wine_room")
    kinds = {name: v for name, v, _ in found.given}
    assert kinds["sensible"] + kinds["latent"] == pytest.approx(found.value)
    assert 0 < kinds["latent"] < kinds["sensible"]


def test_two_machines_of_one_level_are_three_decibels_louder() -> None:
    facts = facts_of("""
noise: {NS1: {where: outdoors, most: 45 dB, while: [AC1, AC2]}}
surroundings: {outdoors: {summer: {temperature: 30 °C}}}
elsewhere:
  AC1: {is: condensing_unit, where: yard, sound: 41 dB}
  AC2: {is: condensing_unit, where: yard, sound: 41 dB}
""")
    assert value(facts, "cooling.sound@NS1") == pytest.approx(41 + 10 * math.log10(2))


def test_every_part_of_the_load_has_a_decision_behind_it(garden: Facts) -> None:
    found = figure_of(garden, "cooling.load@wine_room")
    for address in (
        "wine_room.climate.temperature",
        "attic.summer.temperature",
        "D1.glazing.u_value",
        "wine_room.use_pattern.people",
        "wine_room.loading.arriving_at",
        "EV1.watts",
    ):
        assert address in found.inputs, address


def test_a_cooling_unit_adds_what_it_takes_out_itself_and_no_fan() -> None:
    """Beside a split pair of 900 W inside and 800 W outside, one unit of 400 W."""
    pair = "elsewhere: {CU1: {is: condensing_unit, serves: E1, capacity: {value: 800 W}}}\n"
    unit = (
        "CO1: {is: cooling_unit, watts: 600 W, center: {WA: 2 m, WD: 1 m}, "
        "capacity: {value: 400 W}}"
    )
    before, after = (
        facts_of(_ROOM + pair),
        facts_of((_ROOM + pair).replace("        E1: {", f"        {unit}\n        E1: {{")),
    )
    assert value(before, "cooling.given@wine_room") == pytest.approx(800)
    assert value(after, "cooling.given@wine_room") == pytest.approx(1200)
    fans = [value(facts, "cooling.fans@wine_room") for facts in (before, after)]
    assert fans[0] == pytest.approx(fans[1])


def test_air_leaks_in_from_the_warmest_place_beyond_a_door() -> None:
    """A second door, first in the file, to a colder cellar changes nothing of the leaking air."""
    cellar = "cellar: {summer: {temperature: 8 °C, humidity: 60 %}}\n  hot:"
    second = "D2: {is: door, left: 2 m, opens_into: cellar, leaf: {width: 700 mm, height: 2 m}}"
    text = _ROOM.replace("  hot:", f"  {cellar}").replace(
        "WD: {length: 3 m, faces: warm, assembly: A1}",
        f"WD: {{length: 3 m, faces: cellar, assembly: A1, openings: {{{second}}}}}",
    )
    found = [
        value(facts, "cooling.infiltration@wine_room")
        for facts in (facts_of(_ROOM), facts_of(text))
    ]
    assert found[0] == pytest.approx(found[1]) and found[0] > 0


def test_the_design_hour_has_everything_on_at_once(room: Facts) -> None:
    found = parts(room, "cooling.design_hour@wine_room")
    # two people at 13 °C and three lamps of 10 W, none of them averaged over the day
    assert found["people"] == pytest.approx(2 * (272 - 6 * 13))
    assert found["lights"] == pytest.approx(30.0)
    assert found["E1"] == pytest.approx(60.0)
    for same in ("transmission", "leaking air", "wine"):
        assert found[same] == pytest.approx(parts(room, "cooling.load@wine_room")[same])
    # the day's ten openings of 60 s fall within the three hours in which people are there
    mean = value(room, "cooling.doorway@wine_room")
    assert found["open door"] == pytest.approx(mean * 24 / 3)
    whole = value(room, "cooling.design_hour@wine_room")
    assert whole == pytest.approx(sum(found.values()))
    assert value(room, "cooling.hour_margin@wine_room") == pytest.approx(900 / whole - 1)


def test_its_latent_share_is_that_of_leaking_air_and_of_the_door_in_use(room: Facts) -> None:
    def latent(name: str) -> float:
        given = figure_of(room, f"{name}@wine_room").given
        return next(number for symbol, number, _ in given if symbol == "latent")

    door = latent("cooling.doorway") * 24 / 3
    assert latent("cooling.design_hour") == pytest.approx(latent("cooling.infiltration") + door)


def test_a_strip_curtain_holds_back_nine_tenths_of_the_air() -> None:
    bare = value(facts_of(_ROOM), "cooling.doorway@wine_room")
    hung = facts_of(_ROOM.replace("is: door", "is: door\n            curtain: strip_curtain"))
    assert value(hung, "cooling.doorway@wine_room") == pytest.approx(0.1 * bare)


def test_a_machine_that_is_short_in_the_hour_says_how_far_the_wine_warms() -> None:
    small = facts_of(_ROOM.replace("capacity: {value: 900 W}", "capacity: {value: 500 W}"))
    found = figure_of(small, "cooling.hour_margin@wine_room")
    assert found.value is not None
    assert found.value < 0.0
    assert "they warm by" in found.remark
    large = facts_of(_ROOM.replace("capacity: {value: 900 W}", "capacity: {value: 5 kW}"))
    assert not figure_of(large, "cooling.hour_margin@wine_room").remark


def test_the_air_of_every_place_by_coolprop(room: Facts) -> None:
    from CoolProp.HumidAirProp import HAPropsSI

    for place, celsius, damp in (("wine_room", 13.0, 0.6), ("warm", 24.0, 0.5), ("hot", 33.0, 0.4)):
        node = next(n for n in room.figures.made_for("envelope.summer_air") if n.key == place)
        found = figure_of(room, f"envelope.summer_air@{node.address}")
        assert found.value is not None
        given = {name: number for name, number, _ in found.given}
        state = ("T", celsius + 273.15, "R", damp, "P", 101325.0)
        assert found.value == pytest.approx(HAPropsSI("D", *state) - 273.15, abs=0.02)
        assert given["wet bulb"] == pytest.approx(HAPropsSI("B", *state) - 273.15, abs=0.05)
        assert given["W"] == pytest.approx(HAPropsSI("W", *state), rel=6e-3)
        assert given["h"] == pytest.approx(HAPropsSI("H", *state), rel=5e-3, abs=150.0)
        assert given["v"] == pytest.approx(HAPropsSI("V", *state), rel=1e-3)
    winter = [n.key for n in room.figures.made_for("envelope.winter_air")]
    assert {"wine_room", "warm", "hot"} <= set(winter)
