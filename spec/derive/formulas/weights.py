"""What bottles, glass, board, plaster, wood and stone weigh, and what that does to a floor."""

from __future__ import annotations

from spec.derive.formulas.constants import GRAVITY, INCH, POUND
from spec.derive.formulas.range import not_negative, positive, within

WINE_DENSITY = 990.0
"""[kg/m³] Dry table wine, .988 to .996; sweet wine to 1.1. From memory."""

GLASS_AREA_MASS = 2500.0
"""[kg/m³], that is 2.5 kg/m² for each millimeter of glass. EN 572-1."""

GYPSUM_BOARD = 0.55 * POUND / (12 * INCH) ** 2 / (INCH / 8)
"""[kg/m³] Board that weighs .55 psf for each 1/8 in. ASCE 7-05 table C3-1, 7-16 C3.1-1."""

LIME_PLASTER = (1224.0, 2039.0)
"""[kg/m³] Applied lime plaster, 12 to 20 kN/m³. EN 1991-1-1:2002 table A.1."""


def pressure(mass: float, area: float) -> float:
    """Load of a thing on the floor under its footprint.

    mass [kg], 0 or more; area [m²] of the footprint, above 0. Returns [Pa]. Raises OutOfRange.
    Source: m g / A.
    """
    return not_negative(mass, "mass", "kg") * GRAVITY / positive(area, "footprint", "m²")


def sheet(area: float, thickness: float, density: float) -> float:
    """Mass of a sheet of anything: board, glass, stone, wood.

    area [m²], 0 or more; thickness [m], 0 or more; density [kg/m³], above 0 to 20000. Returns [kg].
    Raises OutOfRange. Source: A t ρ.

    >>> sheet(1.0, 0.006, GLASS_AREA_MASS)
    15.0
    """
    within(positive(density, "density", "kg/m³"), 0.0, 20_000.0, "density", "kg/m³")
    return not_negative(area, "area", "m²") * not_negative(thickness, "thickness", "m") * density


def glass(area: float, panes: float) -> float:
    """Mass of a glass unit, its gas and spacer neglected.

    area [m²], 0 or more; panes [m]: thickness of all panes together, above 0 to 0.1. Returns [kg].
    Raises OutOfRange. Source: 2.5 kg/m² for each millimeter, EN 572-1.
    """
    within(positive(panes, "thickness of the panes", "m"), 0.0, 0.1, "thickness of panes", "m")
    return sheet(area, panes, GLASS_AREA_MASS)


def wood_density(specific_gravity: float) -> float:
    """Density of wood at 12 % moisture.

    specific_gravity [-] on volume at 12 %, oven-dry mass, 0.1 to 1.3. Returns [kg/m³].
    Raises OutOfRange. Source: Wood Handbook FPL-GTR-282 ch. 4: 1000 G (1 + .12).

    >>> round(wood_density(0.68))
    762
    """
    return 1000.0 * within(specific_gravity, 0.1, 1.3, "specific gravity of wood") * 1.12


def door_leaf(
    width: float,
    height: float,
    thickness: float,
    density: float,
    *,
    glass_width: float = 0.0,
    glass_height: float = 0.0,
    panes: float = 0.0,
    hardware: float = 0.0,
) -> float:
    """Mass of a door leaf: solid part, glass, and what is screwed on.

    width, height, thickness [m], above 0, thickness to 0.2; density [kg/m³] of the solid part;
    glass_width, glass_height [m], smaller than the leaf; panes [m] thickness of all panes;
    hardware [kg], 0 or more. Returns [kg]. Raises OutOfRange. Source: sum of `sheet` and `glass`.
    """
    within(positive(thickness, "leaf thickness", "m"), 0.0, 0.2, "leaf thickness", "m")
    within(glass_width, 0.0, positive(width, "leaf width", "m"), "width of the glass", "m")
    within(glass_height, 0.0, positive(height, "leaf height", "m"), "height of the glass", "m")
    window = glass_width * glass_height
    solid = sheet(width * height - window, thickness, density)
    pane = glass(window, panes) if window else 0.0
    return solid + pane + not_negative(hardware, "hardware", "kg")
