"""Quantities taken off: net, with waste, and in the pieces that are bought."""

from __future__ import annotations

import math
from typing import NamedTuple

from spec.derive.formulas.range import NotCovered, not_negative, positive, within


class Taken(NamedTuple):
    """A quantity taken off.

    net [m²]: what the drawing shows; gross [m²]: with waste; pieces: how many to buy.
    """

    net: float
    gross: float
    pieces: int


def with_waste(net: float, waste: float) -> float:
    """A quantity with its waste.

    net [any unit], 0 or more; waste [-] of the net, 0 to 1. Returns [the same unit].
    Raises OutOfRange. Source: net (1 + waste); the waste is the house standard's.
    """
    return not_negative(net, "net quantity") * (1.0 + within(waste, 0.0, 1.0, "waste"))


def area_in(net: float, waste: float, piece: float, name: str = "sheet") -> Taken:
    """An area in sheets, boxes, bags or tins that each cover so much.

    net [m²], 0 or more; waste [-], 0 to 1; piece [m²] that one covers, above 0; name: what one is
    called. Returns `Taken`. Raises OutOfRange. Source: net (1 + waste) / piece, rounded up.

    >>> area_in(20.0, 0.10, 2.88).pieces
    8
    """
    gross = with_waste(net, waste)
    return Taken(net, gross, _up(gross / positive(piece, f"area of one {name}", "m²")))


def rolls(net: float, waste: float, width: float, length: float, lap: float) -> Taken:
    """A membrane in rolls that lap.

    net [m²], 0 or more; waste [-], 0 to 1, laps in it; width, length [m] of a roll, above 0; lap
    [m] of each sheet over the next, 0 to below the width. Returns `Taken`. Raises OutOfRange.
    Source: the net area with its waste, or with the laps alone where they take more, over the
    area of a roll, rounded up.
    """
    free = positive(width, "roll width", "m") - not_negative(lap, "lap", "m")
    if free <= 0.0:
        raise NotCovered("the lap is as wide as the roll")
    gross = max(with_waste(net, waste), net * width / free)
    return Taken(net, gross, _up(gross / (width * positive(length, "roll length", "m"))))


def tiles(net: float, waste: float, size: tuple[float, float], joint: float) -> Taken:
    """Tiles for an area, joints counted in.

    net [m²], 0 or more; waste [-], 0 to 1; size [m] of one tile, both above 0; joint [m], 0 to
    0.02. Returns `Taken`. Raises OutOfRange. Source: area over (a + joint)(b + joint), rounded up.
    """
    within(joint, 0.0, 0.02, "joint", "m")
    a, b = (positive(side, "side of a tile", "m") + joint for side in size)
    return area_in(net, waste, a * b, "tile")


def _up(value: float) -> int:
    """Rounded up, a hair's breadth over a whole number forgiven."""
    return math.ceil(value - 1e-9)
