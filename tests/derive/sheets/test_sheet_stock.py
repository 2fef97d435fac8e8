"""Sheets, rolls and boxes, by hand."""

from __future__ import annotations

import pytest

from tests.derive.sheets.worked import facts_of, figure_of, parts, value

_HALL = """
job: {units: metric}
surroundings:
  out: {summer: {temperature: 30 °C, humidity: 50 %}, winter: {temperature: 0 °C, humidity: 80 %}}
assemblies:
  A1:
    from_room_outward:
      board: {material: gypsum_board, thickness: 12 mm, role: board, sheet: 1200 mm x 2500 mm}
      wool: {material: mineral_wool, thickness: 100 mm, role: insulation, sheet: 600 mm x 1200 mm}
      foil: {material: polyethylene_6_mil, thickness: 0, role: retarder, roll: WIDE m x 10 m}
finishes:
  F1: {is: wood_floor, material: oak, waste: 8 %, box: 2.2 m²}
rooms:
  hall:
    use: wine_storage
    climate: {temperature: 13 °C, humidity: 60 %}
    taped: {to: finish}
    height: 2.5 m
    finishes: {floor: F1}
    walls_clockwise:
      WA: {length: 4 m, faces: out, assembly: A1}
      WB: {length: 5 m, faces: out, assembly: A1}
      WC: {length: 4 m, faces: out}
      WD: {length: 5 m, faces: out}
    ceiling: {faces: out}
    floor: {faces: out}
"""


def test_sheets_of_board_and_of_insulation() -> None:
    facts = facts_of(_HALL.replace("WIDE", "2"))
    # (4 + 5) 2.5 = 22.5 m²: 24.75 m² with 10 % over 3 m², 23.625 m² with 5 % over .72 m²
    assert value(facts, "envelope.board_sheets@A1.board") == 9
    assert value(facts, "envelope.insulation_sheets@A1.wool") == 33


@pytest.mark.parametrize(("wide", "count"), [("2", 2), ("0.5", 7)])
def test_rolls_have_their_laps_in_the_waste_or_more(wide: str, count: int) -> None:
    # 22.5 m²: 25.875 m² with 15 % over 20 m²; of a roll .5 m wide with .1524 m lapped, 32.36 m²
    # of 5 m² count seven rolls
    facts = facts_of(_HALL.replace("WIDE", wide))
    found = figure_of(facts, "envelope.rolls@A1.foil")
    assert found.value == count
    assert "retarder.lap" in found.inputs


def test_boxes_of_flooring() -> None:
    # 20 m² and 8 % are 21.6 m² in boxes of 2.2 m²
    facts = facts_of(_HALL.replace("WIDE", "2"))
    assert value(facts, "finishes.boxes@F1") == 10
    assert parts(facts, "finishes.boxes@F1") == {}
