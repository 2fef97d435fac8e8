"""What materials conduct, weigh and let through: one row each, with its source.

Sources disagree by design (gypsum board .16 or .25 W/mK, limestone .57 to 3.17): a document prints
the source with the value, and a value in the job's product data goes before one from here.
Conductivity and density from ISO and ASHRAE were seen in others' transcriptions of their tables.
"""

from __future__ import annotations

import difflib
from typing import NamedTuple

from spec.derive.formulas.range import NotCovered, not_negative

TIGHT = 1.0e6
"""[-] Vapor resistance factor where the standard says infinite: glass, metal, glazed tile."""


class Material(NamedTuple):
    """A material.

    conductivity [W/mK] and density [kg/m³], from `source`; vapor_factor [-]: μ, how many times more
    than still air it resists vapor, the dry-cup value, or, for a sheet, sheet [m]: its vapor
    thickness sd whatever it measures (0 where μ counts), from `vapor_source`; dusty: whether
    cutting it makes silica dust (29 CFR 1926.1153 table 1).
    """

    conductivity: float
    density: float
    vapor_factor: float
    source: str
    vapor_source: str
    sheet: float = 0.0
    dusty: bool = False

    def vapor_thickness(self, thickness: float) -> float:
        """Vapor thickness of a layer.

        thickness [m], 0 or more. Returns sd [m]. Raises OutOfRange. Source: sd = μ d, ISO 12572.
        """
        return self.sheet or self.vapor_factor * not_negative(thickness, "thickness", "m")


_ISO = "EN ISO 10456:2007 table 3"
_ISO_MU = "EN ISO 10456:2007 table 3, dry, from memory"
_ISO_MU_SEEN = "EN ISO 10456:2007 tables 3 and 4, dry, seen quoted"
_ISO_SHEET = "EN ISO 10456:2007 table 5, from memory"
_ASHRAE = "ASHRAE Fundamentals 2013 ch. 26"
_TRADE = "common practice, from memory"

MATERIALS: dict[str, Material] = {
    # gas
    "air": Material(0.025, 1.23, 1.0, _ISO, _ISO_MU),
    "argon": Material(0.017, 1.7, 1.0, _ISO, _ISO_MU),
    # insulation
    "closed_cell_foam": Material(0.026, 40.0, 60.0, f"{_ASHRAE}, sprayed, 40 kg/m³", _ISO_MU_SEEN),
    "pir_foam": Material(0.0235, 30.0, 60.0, f"{_ASHRAE}, aged, unfaced", _ISO_MU_SEEN),
    "extruded_foam": Material(0.034, 35.0, 150.0, _TRADE, _ISO_MU_SEEN),
    "expanded_foam": Material(0.0355, 20.0, 60.0, f"{_ASHRAE}, molded beads", _ISO_MU_SEEN),
    "mineral_wool": Material(0.036, 30.0, 1.0, f"{_ASHRAE}, mineral fiber", _ISO_MU_SEEN),
    "glass_fiber": Material(0.043, 12.0, 1.0, f"{_ASHRAE}, batts", _ISO_MU_SEEN),
    "cellulose": Material(0.042, 42.5, 2.0, f"{_ASHRAE}, loose fill", _ISO_MU),
    "cork": Material(0.050, 200.0, 10.0, f"{_ISO}, cork underlay", _ISO_MU),
    "wood_fiber_board": Material(0.07, 250.0, 5.0, f"{_ISO}, fiberboard", _ISO_MU),
    "impact_mat": Material(0.05, 120.0, 5.0, f"{_ISO}, felt underlay", _TRADE),
    # boards
    "gypsum_board": Material(0.25, 900.0, 10.0, f"{_ISO}, plasterboard", _ISO_MU_SEEN),
    "moisture_resistant_gypsum": Material(0.25, 900.0, 10.0, f"{_ISO}, plasterboard", _ISO_MU_SEEN),
    "fire_rated_gypsum": Material(0.25, 900.0, 10.0, f"{_ISO}, plasterboard", _ISO_MU_SEEN),
    "plaster_base_board": Material(0.25, 900.0, 10.0, f"{_ISO}, plasterboard", _ISO_MU_SEEN),
    "gypsum_fiber_board": Material(0.32, 1150.0, 13.0, _TRADE, _TRADE),
    "dry_screed_board": Material(0.32, 1150.0, 13.0, f"as gypsum fiber board, {_TRADE}", _TRADE),
    "cement_board": Material(0.25, 1150.0, 30.0, f"{_ASHRAE}, cement board", _TRADE, dusty=True),
    "birch_plywood": Material(0.17, 700.0, 220.0, f"{_ISO}, plywood 700", _ISO_MU),
    "plywood": Material(0.13, 500.0, 200.0, f"{_ISO}, plywood 500", _ISO_MU),
    "oriented_strand_board": Material(0.13, 650.0, 50.0, _ISO, _ISO_MU),
    "particle_board": Material(0.14, 600.0, 50.0, f"{_ISO}, particleboard 600", _ISO_MU),
    # wood
    "timber_batten": Material(0.13, 500.0, 50.0, f"{_ISO}, timber 500", _ISO_MU),
    "framing_lumber": Material(0.12, 445.0, 50.0, f"{_ASHRAE}, hem-fir, spruce-pine-fir", _ISO_MU),
    "board_sheathing": Material(0.12, 445.0, 50.0, f"{_ASHRAE}, spruce-pine-fir boards", _ISO_MU),
    "cypress_siding": Material(0.13, 507.5, 50.0, f"{_ASHRAE}, southern cypress", _ISO_MU),
    "oak": Material(0.17, 705.0, 200.0, f"{_ASHRAE}, oak", _ISO_MU),
    "white_oak": Material(0.17, 762.0, 200.0, f"{_ASHRAE}, oak; density Wood Handbook", _ISO_MU),
    "walnut": Material(0.16, 616.0, 200.0, "Wood Handbook ch. 4, from memory", _ISO_MU),
    "sapele": Material(0.16, 672.0, 200.0, "Wood Handbook ch. 4, from memory", _ISO_MU),
    "parquet": Material(0.17, 705.0, 200.0, f"{_ASHRAE}, oak", _ISO_MU),
    # masonry and stone
    "concrete": Material(2.0, 2400.0, 130.0, f"{_ISO}, high density", _ISO_MU_SEEN, dusty=True),
    "reinforced_concrete": Material(2.3, 2300.0, 130.0, f"{_ISO}, 1 % steel", _ISO_MU, dusty=True),
    "screed": Material(1.4, 1920.0, 10.0, f"{_ASHRAE}, cement mortar", _ISO_MU, dusty=True),
    "brick": Material(0.78, 1760.0, 16.0, f"{_ASHRAE}, fired clay 1760", _ISO_MU, dusty=True),
    "concrete_block": Material(1.1, 1400.0, 10.0, f"hollow, 8 in, {_TRADE}", _TRADE, dusty=True),
    "limestone": Material(1.7, 2200.0, 200.0, f"{_ISO}, hard", _ISO_MU, dusty=True),
    "marble": Material(3.5, 2800.0, 10_000.0, _ISO, _ISO_MU, dusty=True),
    "granite": Material(2.8, 2600.0, 10_000.0, _ISO, _ISO_MU, dusty=True),
    "slate": Material(2.2, 2400.0, 1000.0, _ISO, _ISO_MU, dusty=True),
    "soapstone": Material(3.3, 2980.0, 10_000.0, _TRADE, "as crystalline rock", dusty=True),
    "stoneware": Material(1.3, 2300.0, TIGHT, f"{_ISO}, ceramic tile", _ISO_MU, dusty=True),
    "sand_clay": Material(1.5, 1500.0, 50.0, f"{_ISO}, clay or silt", _ISO_MU),
    "sand_gravel": Material(2.0, 1950.0, 50.0, f"{_ISO}, sand and gravel", _ISO_MU),
    # plaster
    "lime_plaster": Material(0.8, 1600.0, 10.0, f"{_ISO}, lime and sand", _ISO_MU),
    "gypsum_plaster": Material(0.57, 1300.0, 10.0, f"{_ISO}, gypsum plastering", _ISO_MU),
    "cement_plaster": Material(0.8, 1600.0, 10.0, f"{_ISO}, cement and sand", _ISO_MU),
    # sheets
    "polyethylene_6_mil": Material(0.33, 920.0, TIGHT, f"{_ISO}, low density", _ISO_SHEET, 50.0),
    "retarder_foil": Material(0.33, 920.0, TIGHT, f"{_ISO}, as polyethylene", _ISO_SHEET, 50.0),
    "bitumen_aluminum_membrane": Material(
        0.23, 1100.0, TIGHT, f"{_ISO}, bitumen sheet", "aluminum foil, EN ISO 10456 table 5", 1500.0
    ),
    "bitumen_sheet": Material(0.23, 1100.0, 50_000.0, f"{_ISO}, felt or sheet", _ISO_MU),
    "liquid_membrane": Material(0.2, 1050.0, 2000.0, f"{_ISO}, as acrylic plastic", _TRADE),
    "house_wrap": Material(0.33, 920.0, 1.0, f"{_ISO}, as polyethylene", _ISO_SHEET, 0.2),
    "vinyl_tile": Material(0.25, 1700.0, 10_000.0, f"{_ISO}, plastic floor covering", _ISO_MU),
    # glass and metal
    "glass": Material(1.0, 2500.0, TIGHT, f"{_ISO}, soda lime", _ISO_MU),
    "aluminum": Material(160.0, 2800.0, TIGHT, _ISO, _ISO_MU),
    "steel": Material(50.0, 7800.0, TIGHT, _ISO, _ISO_MU),
    "stainless_steel": Material(17.0, 7900.0, TIGHT, _ISO, _ISO_MU),
    "bronze": Material(65.0, 8700.0, TIGHT, _ISO, _ISO_MU),
}
"""Materials by word."""

SYNONYMS = {
    "rigid_foam_pir": "pir_foam",
    "extruded_foam_500_kpa": "extruded_foam",
    "plastered_brick": "brick",
    "european_oak": "oak",
    "dark_stone": "granite",
    "toughened_glass": "glass",
    "tempered_glass": "glass",
    "laminated_glass": "glass",
    "laminated_heat_treated_glass": "glass",
    "concrete_slab": "concrete",
}
"""Words that stand for a row of another name."""


def material(name: str) -> Material:
    """What is known of a material.

    name: a word of MATERIALS or SYNONYMS. Returns `Material`. Raises NotCovered for another, with
    words that are close. Source: at each row.

    >>> material("mineral_wool").conductivity
    0.036
    """
    row = MATERIALS.get(SYNONYMS.get(name, name))
    if row is not None:
        return row
    close = difflib.get_close_matches(name, (*MATERIALS, *SYNONYMS), n=3)
    hint = f"; near it: {', '.join(close)}" if close else ""
    raise NotCovered(f"nothing is known of the material {name}{hint}")
