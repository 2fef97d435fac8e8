"""Water in walls, set points, machines in hot places: what a check says of each, and what not."""

from __future__ import annotations

import pytest

from spec.check.rules.envelope.vapor import WARM
from tests.resolved import one, said_of

_FOIL = "{material: retarder_foil, thickness: 0.2 mm, perm: 0.05 perm, role: retarder}"


@pytest.mark.parametrize("inner", [_FOIL, "{material: bitumen_sheet, thickness: 2 mm}"])
@pytest.mark.parametrize(
    ("between", "trapped"),
    [
        ("material: mineral_wool, thickness: 140 mm, role: insulation", True),
        ("material: cellulose, thickness: 140 mm, role: insulation", True),
        ("material: gypsum_board, thickness: 12 mm, role: board", True),
        ("material: screed, thickness: 60 mm", True),
        ("material: hemp, perm: 20 perm, thickness: 80 mm", True),
        ("material: closed_cell_foam, thickness: 100 mm, role: insulation", False),
        ("material: house_wrap, thickness: 0.2 mm", False),
        ("material: hemp, thickness: 80 mm", False),  # nothing is known of it
    ],
)
def test_any_open_layer_between_two_tight_ones_is_trapped(
    inner: str, between: str, trapped: bool
) -> None:
    layers = f"inner: {inner}, middle: {{{between}}}, outer: {_FOIL}"
    said = [
        f for f in said_of(WARM.replace("LAYERS", layers)) if f.rule == "envelope.two-retarders"
    ]
    assert bool(said) is trapped


_UNIT = """
job: {units: metric}
climate: {design: {summer: {temperature: 35 °C, humidity: 40 %}, winter: {temperature: 2 °C}}}
surroundings: {attic: {summer: {temperature: 52 °C, humidity: 20 %}, winter: {temperature: 0 °C}}}
elsewhere:
  CU1: {is: condensing_unit, WHERE, ambient: -10 °C to 45 °C, serves: EV1,
      capacity: {value: 900 W, at: {room: 12 °C, outdoors: 36 °C}}}
rooms:
  wine_room:
    use: wine_storage
    climate: {temperature: HELD, humidity: 60 %}
    ceiling: {equipment: {EV1: {is: evaporator, capacity: {value: 900 W, at: {room: 12 °C}}}}}
"""


@pytest.mark.parametrize(
    ("where", "hot"),
    [
        ("where: Attic over the hall", True),
        ("where: over the hall, rejects_into: attic", True),
        ("where: north yard", False),
        ("where: beside the attic hatch, rejects_into: outdoors", False),
    ],
)
def test_a_machine_is_held_against_the_air_where_it_stands(where: str, hot: bool) -> None:
    text = _UNIT.replace("WHERE", where).replace("HELD", "12 °C")
    if "outdoors" in where:
        text = text.replace("surroundings: {", "surroundings: {outdoors: {from: climate}, ")
    said = {f.rule: f for f in said_of(text)}
    assert ("cooling.outside-its-range" in said) is hot
    assert ("cooling.rated-at-cooler-air" in said) is hot
    if hot:
        assert "52 °C" in said["cooling.outside-its-range"].message
        assert "attic" in said["cooling.outside-its-range"].message


def test_a_capacity_in_a_warmer_room_than_this_one_is_said_of_both_machines() -> None:
    text = _UNIT.replace("WHERE", "where: yard").replace("HELD", "8 °C")
    said = [f for f in said_of(text) if f.rule == "cooling.rated-at-cooler-air"]
    assert {f.address for f in said} == {"CU1.capacity.at.room", "EV1.capacity.at.room"}
    assert all("8 °C" in f.message for f in said)


def test_a_room_of_155_degrees_is_an_error_in_words() -> None:
    text = """
surroundings: {hall: {summer: {temperature: 75 °F, humidity: 50 %}}}
rooms:
  wine_room:
    use: wine_storage
    climate: {temperature: 155 F, humidity: 60 %}
    use_pattern: {people: 2, hours: 1 h/day}
    walls_clockwise: {WA: {faces: hall}}
"""
    said = said_of(text)
    held = one(said, "cooling.set-point-out-of-range")
    assert "155 F" in held.message and "42 °F" in held.message
    assert "hall" in one(said, "cooling.nothing-to-cool").message
    assert "room temperature" in one(said, "cooling.out-of-range").message
