"""Wood: what the air makes of its moisture, how far it moves, and the species table.

Source: USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010) and FPL-GTR-282 (2021),
same table numbers in both.
"""

from __future__ import annotations

from typing import Literal, NamedTuple

from spec.derive.formulas.range import NotCovered, not_negative, within

Grain = Literal["tangential", "radial"]
"""Across the face of a flat-sawn board, or of a quarter-sawn one."""

SATURATION = 30.0
"""[%] Moisture above which wood no longer swells; 22 % for redwood and cedar."""


class Species(NamedTuple):
    """What is known of a species at 12 % moisture.

    gravity [-] specific gravity on volume at 12 %, oven-dry mass; stiffness [Pa] in bending;
    tangential, radial [-] change of dimension for each percent of moisture; source.
    """

    gravity: float
    stiffness: float
    tangential: float
    radial: float
    source: str


_MPSI = 6.894757293168e9
"""[Pa] One million psi."""


def coefficient(shrinkage: float, saturation: float = SATURATION) -> float:
    """Change of dimension for each percent of moisture, from the shrinkage green to oven-dry.

    shrinkage [%], 1 to 15; saturation [%], 20 to 30. Returns [1/%]. Raises OutOfRange.
    Source: Wood Handbook ch. 13, C = 1 / (30·100/S - 30 + 10).

    >>> round(coefficient(4.4), 5), round(coefficient(7.3), 5)
    (0.00151, 0.00256)
    """
    within(shrinkage, 1.0, 15.0, "shrinkage", "%")
    within(saturation, 20.0, 30.0, "fiber saturation", "%")
    return 1.0 / (saturation * 100.0 / shrinkage - saturation + 10.0)


_HANDBOOK = "Wood Handbook tables 4-3, 5-3, 13-5"

SPECIES: dict[str, Species] = {
    "redwood_old_growth": Species(
        0.40, 1.34 * _MPSI, coefficient(4.4, 22.0), coefficient(2.6, 22.0), _HANDBOOK
    ),
    "redwood_young_growth": Species(
        0.35, 1.10 * _MPSI, coefficient(4.9, 22.0), coefficient(2.2, 22.0), _HANDBOOK
    ),
    "red_alder": Species(0.41, 1.38 * _MPSI, 0.00256, 0.00151, _HANDBOOK),
    "white_oak": Species(0.68, 1.78 * _MPSI, 0.00365, 0.00180, _HANDBOOK),
    "red_oak": Species(0.63, 1.82 * _MPSI, 0.00369, 0.00158, _HANDBOOK),
    "walnut": Species(0.55, 1.68 * _MPSI, 0.00274, 0.00190, _HANDBOOK),
    "sugar_maple": Species(0.63, 1.83 * _MPSI, 0.00353, 0.00165, _HANDBOOK),
    "cherry": Species(0.50, 1.49 * _MPSI, 0.00248, 0.00126, _HANDBOOK),
    "sapele": Species(
        0.60,
        12.5e9,
        coefficient(7.4),
        coefficient(4.6),
        "Wood Handbook tables 4-4, 5-5, from memory",
    ),
    "european_oak": Species(
        0.64,
        10.6e9,
        coefficient(8.9),
        coefficient(5.3),
        "trade tables of Quercus robur, from memory",
    ),
}
"""Species by word."""


def species(name: str) -> Species:
    """What is known of a species.

    name: a word of SPECIES. Returns `Species`. Raises NotCovered for another.
    Source: at each row.
    """
    if name not in SPECIES:
        raise NotCovered(f"nothing is known of {name}; known are {', '.join(sorted(SPECIES))}")
    return SPECIES[name]


def equilibrium_moisture(temperature: float, humidity: float) -> float:
    """Moisture that wood settles at in still air.

    temperature [°C], -1.5 to 71.5 (30 to 160 °F); humidity [-] relative, 0.01 to 0.95. Returns [%].
    Raises OutOfRange. Source: Wood Handbook ch. 4 eq. 4-5 (Simpson's fit of table 4-2).

    >>> round(equilibrium_moisture(60.0, 0.55), 1)
    8.4
    """
    t = within(temperature, -1.5, 71.5, "air temperature", "°C")
    h = within(humidity, 0.01, 0.95, "relative humidity")
    w = 349.0 + 1.29 * t + 0.0135 * t**2
    k = 0.805 + 0.000736 * t - 0.00000273 * t**2
    k1 = 6.27 - 0.00938 * t - 0.000303 * t**2
    k2 = 1.91 + 0.0407 * t - 0.000293 * t**2
    kh, kk = k * h, k1 * k2 * k**2 * h**2
    return 1800.0 / w * (kh / (1.0 - kh) + (k1 * kh + 2.0 * kk) / (1.0 + k1 * kh + kk))


def movement(width: float, name: str, grain: Grain, dry: float, moist: float) -> float:
    """How much a board swells across its grain between two moistures.

    width [m] at the first moisture, 0 or more; name: a species; grain: of the face; dry, moist [%],
    6 to 14 each. Returns [m], below 0 when it shrinks. Raises OutOfRange, NotCovered.
    Source: Wood Handbook ch. 13, ΔD = D C ΔM, good for 6 to 14 %.

    >>> round(movement(0.300, "white_oak", "tangential", 8.0, 12.0) * 1000, 2)
    4.38
    """
    for moisture in (dry, moist):
        within(moisture, 6.0, 14.0, "moisture of the wood", "%")
    known = species(name)
    per_percent = known.tangential if grain == "tangential" else known.radial
    return not_negative(width, "width of the board", "m") * per_percent * (moist - dry)
