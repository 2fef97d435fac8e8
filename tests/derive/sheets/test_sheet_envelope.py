"""Rooms and surfaces: finished sizes, areas, U-values, condensation, against hand numbers."""

from __future__ import annotations

import math

import pytest

from spec.derive.figure import Facts
from tests.derive.sheets.worked import FOOT, INCH, facts_of, figure_of, parts, value

_SQUARE = """
job: {units: metric}
climate:
  design:
    summer: {temperature: 33 °C, humidity: 40 %}
    winter: {temperature: 0 °C, humidity: 80 %}
  monthly:
    temperature: 0 1 5 9 14 17 19 19 15 10 5 1 °C
    humidity: 80 80 80 80 80 80 80 80 80 80 80 80 %
surroundings:
  outdoors: {from: climate}
  ground: {summer: {temperature: 18 °C}, soil: clay}
assemblies:
  A1: {from_room_outward: {LAYERS}}
  A2: {from_room_outward: {film: {material: retarder_foil, thickness: 0, role: retarder}}}
  A3: {from_room_outward: {block: {material: concrete, conductivity: 0.30 W/mK, thickness: 300 mm}}}
rooms:
  wine_room:
    use: wine_storage
    climate: {temperature: 13 °C, humidity: 60 %}
    taped: {to: finish}
    height: 2.5 m
    walls_clockwise:
      WA: {length: 10 m, faces: outdoors, assembly: A1}
      WB: {length: 10 m, faces: outdoors, assembly: A3}
      WC: {length: 10 m, faces: outdoors, assembly: A3}
      WD: {length: 10 m, faces: outdoors, assembly: A3}
    ceiling: {faces: outdoors, assembly: A1}
    floor: {faces: ground, assembly: A2}
"""
_PLAIN = (
    "board: {material: gypsum_board, conductivity: 0.25 W/mK, thickness: 12.5 mm, role: board}, "
    "wool: {material: mineral_wool, conductivity: 0.035 W/mK, thickness: 140 mm, role: insulation}"
)
_FRAMED = (
    "board: {material: gypsum_board, conductivity: 0.25 W/mK, thickness: 12.5 mm, role: board}, "
    "wool: {material: mineral_wool, conductivity: 0.04 W/mK, thickness: 140 mm, "
    "role: [structure, insulation], framing: {member: 2x6, spacing: 16 in, share: 15 %}}"
)


def _room(layers: str) -> Facts:
    return facts_of(_SQUARE.replace("LAYERS", layers))


def test_the_wine_room_of_the_garden_store_is_108_by_132_by_108(garden: Facts) -> None:
    inches = {"WA": 108, "WB": 132, "WC": 108, "WD": 132}
    for wall, length in inches.items():
        found = value(garden, f"envelope.finished_length@{wall}")
        assert found == pytest.approx(length * INCH, abs=0.02 * INCH)
    assert value(garden, "envelope.finished_height@wine_room") == pytest.approx(108 * INCH)
    assert value(garden, "area.floor@wine_room") == pytest.approx(9 * 11 * FOOT**2, rel=1e-3)
    assert value(garden, "area.volume@wine_room") == pytest.approx(9 * 11 * 9 * FOOT**3, rel=1e-3)


def test_a_wall_is_reckoned_without_its_openings(garden: Facts) -> None:
    # WB: 132 x 108 in; rough opening of D1 66-1/4 x 82 in (see the doors)
    net = (132 * 108 - 66.25 * 82) * INCH**2
    assert value(garden, "area.wall@WB") == pytest.approx(net, rel=1e-3)


def test_u_of_plain_layers_is_one_over_the_sum() -> None:
    facts = _room(_PLAIN)
    wall = 0.13 + 0.0125 / 0.25 + 0.14 / 0.035 + 0.04
    assert value(facts, "envelope.u_value@WA") == pytest.approx(1 / wall, rel=1e-9)
    assert value(facts, "envelope.r_between@WA") == pytest.approx(wall, rel=1e-9)
    # heat comes down through a ceiling under the open air: 0.17 inside
    ceiling = wall + 0.04
    assert value(facts, "envelope.u_value@wine_room.ceiling") == pytest.approx(
        1 / ceiling, rel=1e-9
    )


def test_u_of_a_framed_wall_lies_between_its_limits() -> None:
    facts = _room(_FRAMED)
    # wood .12 W/mK (hem-fir); 15 % of the area
    rest, wool, wood = 0.13 + 0.05 + 0.04, 0.14 / 0.04, 0.14 / 0.12
    upper = 1 / (0.85 / (rest + wool) + 0.15 / (rest + wood))
    lower = rest + 1 / (0.85 / wool + 0.15 / wood)
    assert value(facts, "envelope.u_value@WA") == pytest.approx(2 / (upper + lower), rel=1e-9)
    assert value(facts, "envelope.r_between@WA") == pytest.approx(rest + wool, rel=1e-9)


def test_a_slab_is_that_of_the_published_table() -> None:
    # Approved Document L1 (2002) table C1, clay, walls .3 m, P/A = 40/100, no insulation: 0.60
    assert value(_room(_PLAIN), "envelope.u_value@wine_room.floor") == pytest.approx(
        0.60, abs=0.006
    )


def test_steel_studs_are_no_parallel_path() -> None:
    facts = _room(
        "studs: {material: mineral_wool, r_value: R-13, thickness: 3-1/2 in, role: structure, "
        "framing: {member: steel stud, spacing: 16 in, material: steel}}"
    )
    # ASHRAE 90.1 table A9.2B: R-13 between 3-1/2 in studs at 16 in counts as
    effective = 0.13 + 0.46 * 13 * 0.1761101838 + 0.04
    assert value(facts, "envelope.u_value@WA") == pytest.approx(1 / effective, rel=1e-6)


def test_board_is_taken_off_with_waste_once_for_each_surface() -> None:
    facts = _room(_PLAIN)
    found = figure_of(facts, "envelope.board_area@A1.board")
    assert parts(facts, found.address) == pytest.approx({"WA": 25.0, "wine_room.ceiling": 100.0})
    assert found.value == pytest.approx(125.0 * 1.10)  # board.waste of the house: 10 %
    assert "board.waste" in found.inputs


def test_a_partition_counts_on_one_side_and_faces_the_other_room() -> None:
    facts = facts_of("""
job: {units: metric}
assemblies:
  A1:
    from_room_outward:
      board: {material: gypsum_board, thickness: 12 mm, role: board}
      studs: {material: mineral_wool, thickness: 76 mm, role: structure}
      warm: {material: gypsum_board, thickness: 12 mm, role: board}
as_found:
  flat:
    taped: {to: finish}
    height: 2.5 m
    walls_clockwise: {FN: {length: 6 m}, FE: {length: 4 m}, FS: {length: 6 m}, FW: {length: 4 m}}
partitions: {PA1: {assembly: A1, seen_from: wine_room}}
rooms:
  wine_room:
    use: wine_storage
    within: flat
    climate: {temperature: 12 °C, humidity: 60 %}
    walls_clockwise: {WN: {on: FN, length: 2 m}, WE: {partition: PA1}, WS: {on: FS}, WW: {on: FW}}
    ceiling: {on: flat}
    floor: {on: flat}
  parlor:
    use: tasting
    within: flat
    climate: {temperature: 22 °C, humidity: 50 %}
    walls_clockwise: {PN: {on: FN}, PE: {on: FE}, PS: {on: FS}, PW: {partition: PA1}}
    ceiling: {on: flat}
    floor: {on: flat}
""")
    # 4 m x 2.5 m, once; the parlor gets 6 - 2 - 0.1 m of the flat
    assert parts(facts, "envelope.board_area@A1.board") == pytest.approx({"WE": 10.0})
    assert value(facts, "envelope.finished_length@PN") == pytest.approx(3.9)
    u = 1 / (0.13 + 0.012 / 0.25 + 0.076 / 0.036 + 0.012 / 0.25 + 0.13)
    assert value(facts, "envelope.u_value@WE") == pytest.approx(u, rel=1e-9)


def test_vapor_driven_inward_condenses_at_a_retarder_on_the_cold_side() -> None:
    foil = "foil: {material: retarder_foil, thickness: 0, perm: 0.07 perm, role: retarder}"
    wool = (
        "board: {material: gypsum_board, conductivity: 0.25 W/mK, thickness: 12.5 mm}, "
        "INNER wool: {material: mineral_wool, conductivity: 0.035 W/mK, thickness: 140 mm}, OUTER "
        "face: {material: gypsum_board, conductivity: 0.25 W/mK, thickness: 12.5 mm}"
    )
    hot = _SQUARE.replace(
        "temperature: 0 1 5 9 14 17 19 19 15 10 5 1 °C",
        "temperature: 24 24 24 24 24 24 24 24 24 24 24 24 °C",
    )
    cold_side = facts_of(
        hot.replace("LAYERS", wool.replace("INNER", foil + ",").replace("OUTER", ""))
    )
    warm_side = facts_of(
        hot.replace("LAYERS", wool.replace("INNER", "").replace("OUTER", foil + ","))
    )
    wet = figure_of(cold_side, "envelope.condensate@WA")
    assert wet.value is not None and wet.value > 1.0  # about 20 g a day, all year
    assert wet.remark.startswith("gathers water")
    dry = figure_of(warm_side, "envelope.condensate@WA")
    assert dry.value == 0.0 and dry.remark.startswith("dry")


def test_the_retarder_is_the_tightest_of_its_layers(garden: Facts) -> None:
    one_perm = 5.72e-11
    assert value(garden, "envelope.retarder@WB") == pytest.approx(0.06 * one_perm, rel=2e-3)


def _dew(celsius: float, humidity: float) -> float:
    """Magnus formula, independent of psychrolib."""
    x = math.log(humidity) + 17.62 * celsius / (243.12 + celsius)
    return 243.12 * x / (17.62 - x)


@pytest.mark.parametrize(("winter", "season"), [("15 °C", "summer"), ("0 °C", "winter")])
def test_the_warm_face_is_held_against_the_dew_point_before_it(winter: str, season: str) -> None:
    facts = facts_of(
        _SQUARE.replace("LAYERS", _PLAIN)
        .replace(
            "winter: {temperature: 0 °C, humidity: 80 %}",
            f"winter: {{temperature: {winter}, humidity: 30 %}}",
        )
        .replace(
            "33 °C, humidity: 40 %",
            "33 °C, humidity: 80 %" if season == "summer" else "33 °C, humidity: 40 %",
        )
    )
    u = 1 / (0.13 + 0.05 + 4.0 + 0.04)
    # summer: the face outdoors, film .04; winter: the face in the room, film .25 behind the racks
    at = {
        "summer": 33 - u * 0.04 * (33 - 13) - _dew(33, 0.80),
        "winter": 13 - u * 0.25 * (13 - 0) - _dew(13, 0.60),
    }
    found = figure_of(facts, "envelope.dew_margin@WA")
    assert found.value == pytest.approx(at[season], abs=0.1)
    assert found.remark == season


def test_floors_over_air_and_slopes_have_a_warm_face_too(flat: Facts) -> None:
    for surface in ("walk_in.floor", "walk_in.ceiling.slopes.KE"):
        assert value(flat, f"envelope.dew_margin@{surface}") > 0


_SLAB = """
job: {units: metric}
climate: {design: {summer: {temperature: 33 °C, humidity: 40 %}, winter: {temperature: 0 °C,
    humidity: 80 %}}}
surroundings:
  outdoors: {from: climate}
  house: {summer: {temperature: 24 °C, humidity: 50 %}, winter: {temperature: 20 °C}}
  garage: {summer: {temperature: 35 °C, humidity: 50 %}, winter: {temperature: 4 °C}}
  ground: {summer: {temperature: 18 °C}, winter: {temperature: 10 °C}, soil: clay}
assemblies:
  A1: {from_room_outward: {block: {material: concrete, conductivity: 0.30 W/mK, thickness: 300 mm}}}
  A2: {from_room_outward: {board: {LAYER}}}
rooms:
  wine_room:
    use: wine_storage
    climate: {temperature: 13 °C, humidity: 60 %}
    taped: {to: finish}
    height: 2.5 m
    walls_clockwise:
      WA: {length: 10 m, faces: outdoors, assembly: A1}
      WB: {length: 10 m, faces: FAR, assembly: A1}
      WC: {length: 10 m, faces: house, assembly: A1}
      WD: {length: 10 m, faces: house, assembly: A1}
    ceiling: {faces: house, assembly: A1}
    floor: {faces: ground, assembly: A2MORE}
"""
_THIN = "material: retarder_foil, thickness: 0"


def _slab(far: str = "house", layer: str = _THIN, more: str = "") -> Facts:
    return facts_of(
        _SLAB.replace("FAR", far).replace("LAYER", layer).replace("A2MORE", f"A2{more}")
    )


@pytest.mark.parametrize(
    ("far", "published"),
    # Approved Document L1 (2002) table C1, clay, Rf 0: P/A .1 and .2, walls of 300 mm
    [("house", 0.22), ("garage", 0.37), ("outdoors", 0.37)],
)
def test_a_wall_to_an_unheated_place_exposes_the_slab(far: str, published: float) -> None:
    facts = _slab(far)
    found = value(facts, "envelope.u_value@wine_room.floor")
    assert found == pytest.approx(published, abs=0.0055)


@pytest.mark.parametrize(
    ("said", "exposed"), [("heated: yes, ", False), ("heated: no, ", True), ("", True)]
)
def test_what_the_job_says_of_heating_goes_before_its_winter(said: str, exposed: bool) -> None:
    text = _SLAB.replace("garage: {", f"garage: {{{said}").replace("FAR", "garage")
    facts = facts_of(text.replace("LAYER", _THIN).replace("MORE", ""))
    found = value(facts, "envelope.u_value@wine_room.floor")
    assert found == pytest.approx(0.37 if exposed else 0.22, abs=0.0055)


@pytest.mark.parametrize(
    "layer",
    [
        "material: concrete, thickness: 100 mm, r_value: 1.0 m2K/W",
        "material: concrete, thickness: 100 mm, conductivity: 0.1 W/mK",
    ],
)
def test_a_slab_counts_what_its_layers_write(layer: str) -> None:
    # table C1, P/A .2, Rf 1.0
    facts = _slab("outdoors", layer)
    assert value(facts, "envelope.u_value@wine_room.floor") == pytest.approx(0.25, abs=0.0055)


def test_a_basement_is_warmed_through_deeper_ground() -> None:
    facts = _slab("ground", more=", below_ground: 2.4 m")
    # B' = 100/(20/2), dt = .3 + 1.5 (.17 + .04), z/2 = 1.2
    thick, wide = 0.3 + 1.5 * 0.21 + 1.2, math.pi * 10
    floor = 2 * 1.5 / (wide + thick) * math.log(wide / thick + 1)
    assert value(facts, "envelope.u_value@wine_room.floor") == pytest.approx(floor, rel=1e-6)
    wall, equal = 1.5 * (0.13 + 1.0 + 0.04), 0.3 + 1.5 * 0.21
    edge = 1 + 0.5 * equal / (equal + 2.4)
    beside = 2 * 1.5 / (math.pi * 2.4) * edge * math.log(2.4 / wall + 1)
    assert value(facts, "envelope.u_value@WB") == pytest.approx(beside, rel=1e-6)
    plain = _slab("ground")
    assert value(plain, "envelope.u_value@WB") == pytest.approx(1 / (0.13 + 1.0 + 0.13), rel=1e-6)


@pytest.mark.parametrize("placed", ["horizontal", "vertical"])
def test_edge_insulation_takes_heat_off_a_slab(placed: str) -> None:
    inward = (
        f", edge_insulation: {{placed: {placed}, reach: 1 m, thickness: 50 mm, r_value: 1.5 m2K/W}}"
    )
    facts = _slab("outdoors", more=inward)
    thick, added, reach = 0.3 + 1.5 * 0.21, 1.5 * 1.5 - 0.05, 1.0 if placed == "horizontal" else 2.0
    psi = -1.5 / math.pi * (math.log(reach / thick + 1) - math.log(reach / (thick + added) + 1))
    bare = value(_slab("outdoors"), "envelope.u_value@wine_room.floor")
    found = value(facts, "envelope.u_value@wine_room.floor")
    assert found == pytest.approx(bare + 2 * psi / 10.0, rel=1e-6)
    assert found < bare


def test_what_is_open_is_waited_for_and_what_is_unknown_refused() -> None:
    facts = _room(_PLAIN.replace("140 mm", "{open: lead}"))
    waits = figure_of(facts, "envelope.u_value@WA")
    assert waits.value is None and waits.waits_for == {"A1.wool.thickness"}
    facts = _room("wool: {material: moon_dust, thickness: 1 in}")
    refused = figure_of(facts, "envelope.u_value@WA")
    assert refused.value is None and "moon_dust" in refused.refused
