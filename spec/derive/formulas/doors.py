"""Doors: the opening that the framer leaves, hinges, and the depth of the jamb."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from spec.derive.formulas.constants import GRAVITY, INCH
from spec.derive.formulas.range import NotCovered, not_negative, positive, some

HINGE_EVERY = 30 * INCH
"""[m] One hinge for each 30 in of leaf height or part of it. Common practice."""


class Opening(NamedTuple):
    """A rough opening.

    width, height [m], height from the finished floor.
    """

    width: float
    height: float


class Hinges(NamedTuple):
    """How many hinges a leaf needs.

    by_height, by_weight: counts; needed: the larger; pull [N]: horizontal force at the top hinge.
    """

    by_height: int
    by_weight: int
    needed: int
    pull: float


def rough_opening(
    across: Sequence[float], upright: Sequence[float], shim: float, head_shim: float | None = None
) -> Opening:
    """The rough opening that a door with its frame, side lights and gaps needs.

    across [m]: every width between the outer faces of the jambs, jambs and gaps included, left to
    right; upright [m]: every height from the finished floor to the top of the head, gaps
    included; shim [m] on each side, 0 or more; head_shim [m] over the head, the same unless given.
    Returns `Opening`. Raises OutOfRange. Source: sums.

    >>> round(rough_opening([0.02, 0.8, 0.02], [0.01, 2.0, 0.02], 0.01).width, 6)
    0.86
    """
    over = not_negative(shim if head_shim is None else head_shim, "shim over the head", "m")
    for part in (*some(across, "widths"), *some(upright, "heights")):
        not_negative(part, "part of the door", "m")
    wide = math.fsum([*across, 2.0 * not_negative(shim, "shim", "m")])
    return Opening(wide, math.fsum([*upright, over]))


def jamb_depth(layers: Sequence[float], finishes: tuple[float, float]) -> float:
    """Depth of a jamb that comes flush with both finished faces of its wall.

    layers [m]: thickness of every layer of the wall, framing and all; finishes [m]: on one face and
    the other; each 0 or more. Returns [m]. Raises OutOfRange. Source: sum.
    """
    for part in (*some(layers, "layers"), *finishes):
        not_negative(part, "thickness", "m")
    return positive(math.fsum([*layers, *finishes]), "wall thickness", "m")


def hinges(height: float, width: float, weight: float, each_carries: float) -> Hinges:
    """Hinges by the leaf's height and weight.

    height, width [m], above 0; weight [kg], above 0; each_carries [kg]: what one hinge is rated for
    (a rating for a pair or a set is divided first), above 0. Returns `Hinges`: two at least, one
    for each 30 in of height or part of it, and enough that no hinge is over its rating; the pull
    with the outer hinges' middles .2 m from the leaf's ends. Raises OutOfRange.
    Source: common practice (ANSI/BHMA A156.1 rates the hinge itself).
    """
    by_height = max(2, math.ceil(positive(height, "leaf height", "m") / HINGE_EVERY - 1e-9))
    rating = positive(each_carries, "rating of a hinge", "kg")
    by_weight = math.ceil(positive(weight, "leaf weight", "kg") / rating - 1e-9)
    pull = hinge_pull(width, weight, spread=max(height - 0.4, height / 2.0))
    return Hinges(by_height, by_weight, max(by_height, by_weight), pull)


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
