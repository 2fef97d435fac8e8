"""Heat through floors on the ground and basement walls.

Source of all of it: ISO 13370:2007, clauses from memory; the slab is held against a published
table, basement and edge are not.
"""

from __future__ import annotations

import math
from typing import Literal

from spec.derive.formulas.range import not_negative, positive, within

INSIDE_FILM = 0.17
"""[m²K/W] Floor, heat flow down: what the standard takes, also for a cooled room."""

WALL_FILM = 0.13
"""[m²K/W] Wall, heat flow level."""

OUTSIDE_FILM = 0.04
"""[m²K/W]"""

SOIL = {"clay_or_silt": 1.5, "sand_or_gravel": 2.0, "rock": 3.5}
"""[W/mK] ISO 13370:2007 table 1; 2.0 where nothing is known."""


def characteristic_dimension(area: float, exposed_perimeter: float) -> float:
    """Characteristic dimension of a floor.

    area [m²], above 0; exposed_perimeter [m] of the floor toward outdoors, above 0. Returns [m].
    Raises OutOfRange. Source: ISO 13370:2007 8.1, B' = A / (P/2).

    >>> characteristic_dimension(12.0, 8.0)
    3.0
    """
    return positive(area, "floor area", "m²") / (
        0.5 * positive(exposed_perimeter, "exposed perimeter", "m")
    )


def equivalent_thickness(
    wall: float, soil: float, resistance: float, inside_film: float = INSIDE_FILM
) -> float:
    """Thickness of soil that resists as much as the floor does.

    wall [m] thickness of the outside walls, 0 to 2; soil [W/mK], 0.2 to 5; resistance [m²K/W] of
    the floor's layers, 0 or more; inside_film [m²K/W], 0 or more. Returns [m]. Raises OutOfRange.
    Source: ISO 13370:2007 9.1, dt = w + λ (Rsi + Rf + Rse).
    """
    within(wall, 0.0, 2.0, "thickness of the outside walls", "m")
    not_negative(resistance, "resistance of the floor", "m²K/W")
    films = not_negative(inside_film, "film") + OUTSIDE_FILM
    return wall + _soil(soil) * (films + resistance)


def edge_correction(
    dimension: float,
    thickness: float,
    soil: float,
    *,
    insulation: float,
    insulation_thickness: float,
    reach: float,
    placed: Literal["horizontal", "vertical"],
) -> float:
    """What edge insulation takes off the U of a slab.

    dimension, thickness, soil: as in `basement_floor`; insulation [m²K/W] of the edge insulation,
    above 0; insulation_thickness [m], 0 to 1; reach [m] inward or downward, above 0 to 5; placed:
    under or over the slab's edge, or upright along it. Returns [W/m²K], 0 or less, to be added to
    U. Raises OutOfRange. Source: ISO 13370:2007 annex B, 2 Ψ/B'.
    """
    positive(dimension, "characteristic dimension", "m"), positive(thickness, "thickness", "m")
    within(insulation_thickness, 0.0, 1.0, "thickness of the edge insulation", "m")
    within(positive(reach, "reach of the edge insulation", "m"), 0.0, 5.0, "reach", "m")
    gained = positive(insulation, "edge insulation", "m²K/W") - insulation_thickness / _soil(soil)
    added = max(0.0, gained) * soil
    ways = reach if placed == "horizontal" else 2.0 * reach
    psi = -soil / math.pi * (math.log1p(ways / thickness) - math.log1p(ways / (thickness + added)))
    return 2.0 * psi / dimension


def basement_floor(dimension: float, thickness: float, soil: float, depth: float) -> float:
    """U of a floor on the ground, or of one below it.

    dimension [m]: `characteristic_dimension`, above 0; thickness [m]: `equivalent_thickness`, above
    0; soil [W/mK], 0.2 to 5; depth [m] of the floor under the ground, 0 to 10. Returns [W/m²K],
    toward the yearly mean outdoors. Raises OutOfRange.
    Source: ISO 13370:2007 9.1 on the ground, 9.3.2 below it; dt < B' and well insulated floors.
    """
    positive(dimension, "characteristic dimension", "m")
    positive(thickness, "equivalent thickness", "m")
    below = thickness + within(depth, 0.0, 10.0, "depth of the floor", "m") / 2.0
    if below < dimension:
        wide = math.pi * dimension
        return 2.0 * _soil(soil) / (wide + below) * math.log1p(wide / below)
    return _soil(soil) / (0.457 * dimension + below)


def basement_wall(
    depth: float, wall_resistance: float, floor_thickness: float, soil: float
) -> float:
    """U of a wall below the ground.

    depth [m] of the floor under the ground, above 0 to 10; wall_resistance [m²K/W] of its layers,
    0 or more; floor_thickness [m]: `equivalent_thickness` of the floor, above 0; soil [W/mK].
    Returns [W/m²K]. Raises OutOfRange. Source: ISO 13370:2007 9.3.3.
    """
    within(positive(depth, "depth of the wall", "m"), 0.0, 10.0, "depth of the wall", "m")
    wall = wall_thickness(wall_resistance, soil)
    floor = min(positive(floor_thickness, "equivalent thickness", "m"), wall)
    edge = 1.0 + 0.5 * floor / (floor + depth)
    return 2.0 * soil / (math.pi * depth) * edge * math.log1p(depth / wall)


def wall_thickness(resistance: float, soil: float) -> float:
    """Thickness of soil that resists as much as a wall under the ground does.

    resistance [m²K/W] of its layers, 0 or more; soil [W/mK]. Returns [m]. Raises OutOfRange.
    Source: ISO 13370:2007 9.3.3, dw = λ (Rsi + Rw + Rse).

    >>> round(wall_thickness(2.0, 2.0), 2)
    4.34
    """
    films = WALL_FILM + OUTSIDE_FILM
    return _soil(soil) * (films + not_negative(resistance, "wall resistance", "m²K/W"))


def _soil(value: float) -> float:
    return within(value, 0.2, 5.0, "conductivity of the soil", "W/mK")
