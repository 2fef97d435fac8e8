"""How many bottles single cells hold; tilted rows and corners; sizes of bottle."""

from __future__ import annotations

import math
from typing import NamedTuple

from spec.derive.formulas.range import not_negative, positive, within

FILLS_US = (
    0.00005, 0.0001, 0.000187, 0.0002, 0.00025, 0.000355, 0.000375, 0.0005, 0.00075, 0.001, 0.0015,
    0.003,
)  # fmt: skip
"""[m³] Fills of wine allowed in the United States. 27 CFR 4.72 to 2023; 2025 added more."""

FILLS_EU = (0.0001, 0.000187, 0.00025, 0.000375, 0.0005, 0.00075, 0.001, 0.0015)
"""[m³] Fills of still wine in the European Union. Directive 2007/45/EC annex."""


class Bottle(NamedTuple):
    """A size of bottle.

    diameter, length [m]; fill [m³]; glass [kg] empty.
    """

    diameter: float
    length: float
    fill: float
    glass: float


BOTTLES = {
    "half": Bottle(0.063, 0.240, 0.000375, 0.38),
    "standard": Bottle(0.076, 0.300, 0.00075, 0.55),
    "sparkling": Bottle(0.089, 0.315, 0.00075, 0.88),
    "magnum": Bottle(0.102, 0.350, 0.0015, 1.10),
}
"""Presets, from memory: a job that takes one marks it assumed, for shapes differ by maker."""


class Tilted(NamedTuple):
    """Room that a bottle takes that lies at an angle.

    depth [m] front to back; height [m].
    """

    depth: float
    height: float


def cells(columns: int, rows: int, deep: int = 1) -> int:
    """Bottles in a rack of single cells.

    columns, rows, deep: counts, 0 or more. Returns a count. Raises OutOfRange.
    Source: columns x rows x deep.

    >>> cells(12, 8, 2)
    192
    """
    for count in (columns, rows, deep):
        not_negative(count, "count of cells")
    return columns * rows * deep


def pitch(clear: float, count: int) -> float:
    """Spacing of cells, middle to middle, when they share a length equally.

    clear [m], above 0; count, 1 or more. Returns [m]. Raises OutOfRange. Source: division.
    """
    return positive(clear, "length for the cells", "m") / positive(count, "count of cells")


def bottles_deep(depth: float, length: float, overhang: float = 0.0) -> int:
    """How many bottles lie one behind the other.

    depth [m] of the rack, 0 or more; length [m] of a bottle, above 0; overhang [m] that the front
    one may stand out, 0 or more. Returns a count. Raises OutOfRange. Source: division.
    """
    free = not_negative(depth, "rack depth", "m") + not_negative(overhang, "overhang", "m")
    return math.floor(free / positive(length, "bottle length", "m") + 1e-9)


def tilted(length: float, diameter: float, angle: float) -> Tilted:
    """Room for a bottle in an angled display row, as the rectangle around it.

    length, diameter [m], above 0; angle [degrees] from level, 0 to 90. Returns `Tilted`.
    Raises OutOfRange. Source: L cos a + d sin a deep, L sin a + d cos a high.
    """
    positive(length, "bottle length", "m"), positive(diameter, "bottle diameter", "m")
    a = math.radians(within(angle, 0.0, 90.0, "tilt of the row", "degrees"))
    return Tilted(
        length * math.cos(a) + diameter * math.sin(a), length * math.sin(a) + diameter * math.cos(a)
    )


def corner_pitch(radius: float, columns: int, angle: float = 90.0) -> float:
    """Spacing of columns along the curve of a corner piece.

    radius [m] of the line looked at (front or back), above 0; columns, 1 or more; angle [degrees]
    that the piece turns, above 0 to 180. Returns [m]. Raises OutOfRange. Source: arc over count.
    """
    turn = within(positive(angle, "angle of the corner", "degrees"), 0.0, 180.0, "angle", "degrees")
    return math.radians(turn) * positive(radius, "radius", "m") / positive(columns, "columns")
