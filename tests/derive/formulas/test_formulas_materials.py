"""The material table beside the one of `ht` (ISO 10456 and ASHRAE, transcribed by others)."""

from __future__ import annotations

import pytest
from ht.insulation import ASHRAE, building_materials

from spec.derive.formulas import materials
from spec.derive.formulas.materials import MATERIALS, material
from spec.derive.formulas.range import NotCovered

# Exact keys: the library's own look-up takes a near miss without a word.
SAME: dict[str, tuple[str, str]] = {
    "air": ("ISO", "Gases, air"),
    "argon": ("ISO", "Gases, argon"),
    "glass": ("ISO", "Glass, soda lime"),
    "gypsum_board": ("ISO", "Gypsum, plasterboard"),
    "concrete": ("ISO", "Concrete, high density"),
    "reinforced_concrete": ("ISO", "Concrete, reinforced with 1% steel"),
    "plywood": ("ISO", "Wood, plywood 500 kg/m^3"),
    "birch_plywood": ("ISO", "Wood, plywood 700 kg/m^3"),
    "oriented_strand_board": ("ISO", "Wood, oriented strand board"),
    "particle_board": ("ISO", "Wood, particleboard, 600 kg/m^3"),
    "wood_fiber_board": ("ISO", "Wood, fibreboard, 250 kg/m^3"),
    "timber_batten": ("ISO", "Timber, 500 kg/m^3"),
    "limestone": ("ISO", "Stone, limestone, hard"),
    "marble": ("ISO", "Stone, marble"),
    "granite": ("ISO", "Stone, granite"),
    "slate": ("ISO", "Stone, slate"),
    "stoneware": ("ISO", "Tiles, ceramic or porcelain"),
    "sand_clay": ("ISO", "Solids, clay or silt"),
    "sand_gravel": ("ISO", "Solids, sand and gravel"),
    "lime_plaster": ("ISO", "Plasters and renders, lime sand"),
    "cement_plaster": ("ISO", "Plasters and renders, cement sand"),
    "gypsum_plaster": ("ISO", "Plasters and renders, gypsum plastering, 1300 kg/m^3"),
    "polyethylene_6_mil": ("ISO", "Plastics, polyethylene / polythene, low density"),
    "bitumen_sheet": ("ISO", "Bitumen, felt or sheet"),
    "cork": ("ISO", "Floor covering, underlay, cork"),
    "impact_mat": ("ISO", "Floor covering, underlay, felt"),
    "aluminum": ("ISO", "Metals, aluminium alloys"),
    "steel": ("ISO", "Metals, steel"),
    "stainless_steel": ("ISO", "Metals, stainless steel"),
    "bronze": ("ISO", "Metals, bronze"),
    "closed_cell_foam": ("ASHRAE", "Spray-applied Polyurethane foam, 40 kg/m^3"),
    "pir_foam": ("ASHRAE", "Polyisocyanurate, aged, unfaced"),
    "expanded_foam": ("ASHRAE", "Expanded polystyrene, molded beads"),
    "mineral_wool": ("ASHRAE", "Mineral fiber"),
    "glass_fiber": ("ASHRAE", "Glass-fiber batts, 90 mm"),
    "cellulose": ("ASHRAE", "Loose fill, Cellulosic"),
    "cement_board": ("ASHRAE", "Board, Cement"),
    "framing_lumber": ("ASHRAE", "Hem/fir, spruce/pine/fir"),
    "board_sheathing": ("ASHRAE", "Hem/fir, spruce/pine/fir"),
    "cypress_siding": ("ASHRAE", "Southern cypress"),
    "oak": ("ASHRAE", "Oak"),
    "brick": ("ASHRAE", "Brick, fired clay, 1760 kg/m^3"),
    "screed": ("ASHRAE", "Concrete, Cement/lime, mortar, and stucco, 1920 kg/m^3"),
}


@pytest.mark.parametrize(("name", "where"), SAME.items(), ids=SAME.keys())
def test_agrees_with_ht(name: str, where: tuple[str, str]) -> None:
    table, key = where
    if table == "ISO":
        density, conductivity, _ = building_materials[key]
    else:
        density, _, conductivity, _, _ = ASHRAE[key]
    ours = material(name)
    assert ours.conductivity == pytest.approx(conductivity)
    assert ours.density == pytest.approx(density)
    assert ("10456" if table == "ISO" else "ASHRAE") in ours.source


@pytest.mark.parametrize("name", MATERIALS)
def test_every_row_has_its_sources_and_can_be(name: str) -> None:
    row = MATERIALS[name]
    assert row.source
    assert row.vapor_source
    assert 0.005 < row.conductivity < 400.0
    assert 0.5 < row.density < 9000.0
    assert row.vapor_factor >= 1.0
    assert name == name.lower()
    assert name.replace("_", "").isalnum()


def test_a_row_that_no_library_checks_says_from_memory_or_as_what() -> None:
    for name in set(MATERIALS) - set(SAME):
        source = MATERIALS[name].source
        assert any(word in source for word in ("memory", ", ", "as ")), name


def test_synonyms_name_a_row_and_are_none() -> None:
    for word, row in materials.SYNONYMS.items():
        assert word not in MATERIALS
        assert material(word) is MATERIALS[row]


def test_vapor_thickness_of_a_board_and_of_a_sheet() -> None:
    assert material("gypsum_board").vapor_thickness(0.0125) == pytest.approx(0.125)
    assert material("polyethylene_6_mil").vapor_thickness(0.00015) == 50.0
    assert material("air").vapor_thickness(0.1) == pytest.approx(0.1)


def test_an_unknown_material_is_refused_with_what_is_near() -> None:
    with pytest.raises(NotCovered, match="gypsum_bord; near it: gypsum_board"):
        materials.material("gypsum_bord")
