"""Doors: hinges, the depth of the jamb, and leaves that share an opening."""

from __future__ import annotations

import math
from collections.abc import Sequence

from spec.derive.formulas.constants import GRAVITY, INCH
from spec.derive.formulas.range import NotCovered, not_negative, positive, some

HINGE_EVERY = 30 * INCH
"""[m] One hinge for each 30 in of leaf height or part of it. Common practice."""


def jamb_depth(layers: Sequence[float], finishes: tuple[float, float]) -> float:
    """Depth of a jamb that comes flush with both finished faces of its wall.

    layers [m]: thickness of every layer of the wall, framing and all; finishes [m]: on one face and
    the other; each 0 or more. Returns [m]. Raises OutOfRange. Source: sum.
    """
    for part in (*some(layers, "layers"), *finishes):
        not_negative(part, "thickness", "m")
    return positive(math.fsum([*layers, *finishes]), "wall thickness", "m")


def hinge_count(height: float, every: float = HINGE_EVERY) -> int:
    """Hinges that a leaf needs by its height.

    height [m] of the leaf, above 0; every [m] of height one hinge, above 0. Returns a count: one
    for each of these lengths or part of it, two at least. Raises OutOfRange.
    Source: common practice (ANSI/BHMA A156.1 rates the hinge itself).

    >>> hinge_count(2.032)
    3
    """
    positive(height, "leaf height", "m")
    return max(2, math.ceil(height / positive(every, "height for one hinge", "m") - 1e-9))


def hinge_pull(width: float, weight: float, spread: float) -> float:
    """Horizontal force with which a hanging leaf pulls at its top hinge and pushes at its lowest.

    width [m]; weight [kg]; spread [m] between top and lowest hinge: all above 0. Returns [N].
    Raises OutOfRange. Source: moment about the lowest hinge, m g w / 2 = H spread.
    """
    positive(width, "leaf width", "m"), positive(weight, "leaf weight", "kg")
    return weight * GRAVITY * width / 2.0 / positive(spread, "distance between hinges", "m")


def leaf_width(opening: float, leaves: int, sides: float, meeting: float) -> float:
    """Width of each of several equal leaves in an opening.

    opening [m] clear, above 0; leaves, 1 or more; sides [m] gap at each jamb; meeting [m] gap
    between leaves. Returns [m]. Raises OutOfRange, also where nothing is left. Source: division.

    >>> round(leaf_width(1.2192, 2, 0.009525, 0.00635), 6)
    0.5969
    """
    if leaves < 1:
        raise NotCovered("an opening has one leaf or more")
    taken = 2.0 * not_negative(sides, "gap", "m")
    taken += (leaves - 1) * not_negative(meeting, "gap between leaves", "m")
    return positive((positive(opening, "opening", "m") - taken) / leaves, "leaf width", "m")
