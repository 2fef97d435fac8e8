"""Quantities taken off: net, with waste, and in the pieces that are bought; each says how."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from spec.derive.formulas.range import NotCovered, not_negative, positive, some, within


class Taken(NamedTuple):
    """A quantity taken off.

    net: what the drawing shows; gross: with waste; pieces: how many to buy (0 where it is bought by
    measure); made: how it was made, in words and SI numbers. net and gross are in m, m² or count.
    """

    net: float
    gross: float
    pieces: int
    made: str


class Cutting(NamedTuple):
    """Lengths cut from stock.

    stock: for each bar or board, the lengths [m] cut from it; offcuts [m], one for each.
    """

    stock: tuple[tuple[float, ...], ...]
    offcuts: tuple[float, ...]


def net_area(gross: float, openings: Sequence[float] = ()) -> float:
    """Area of a surface without its openings.

    gross [m²], 0 or more; openings [m²], each 0 or more, together at most gross. Returns [m²].
    Raises OutOfRange. Source: subtraction.

    >>> net_area(10.0, [2.0, 0.5])
    7.5
    """
    out = math.fsum(not_negative(o, "area of an opening", "m²") for o in openings)
    left = not_negative(gross, "area", "m²") - out
    if left < -1e-9 * max(gross, 1.0):
        raise NotCovered(f"the openings ({out:g} m²) are larger than the surface ({gross:g} m²)")
    return max(left, 0.0)


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
    pieces = _up(gross / positive(piece, f"area of one {name}", "m²"))
    made = f"{net:.2f} m² + {waste:.0%} = {gross:.2f} m², over {piece:.3g} m² each, rounded up"
    return Taken(net, gross, pieces, made)


def rolls(net: float, waste: float, width: float, length: float, lap: float) -> Taken:
    """A membrane in rolls that lap.

    net [m²], 0 or more; waste [-], 0 to 1; width, length [m] of a roll, above 0; lap [m] of each
    sheet over the next, 0 to below the width. Returns `Taken`. Raises OutOfRange.
    Source: each roll covers (width - lap) x length.
    """
    covers = (positive(width, "roll width", "m") - not_negative(lap, "lap", "m")) * positive(
        length, "roll length", "m"
    )
    if covers <= 0.0:
        raise NotCovered("the lap is as wide as the roll")
    taken = area_in(net, waste, covers, "roll")
    return Taken(taken.net, taken.gross, taken.pieces, f"{taken.made}; {lap:g} m lapped")


def tiles(net: float, waste: float, size: tuple[float, float], joint: float) -> Taken:
    """Tiles for an area, joints counted in.

    net [m²], 0 or more; waste [-], 0 to 1; size [m] of one tile, both above 0; joint [m], 0 to
    0.02. Returns `Taken`. Raises OutOfRange. Source: area over (a + joint)(b + joint), rounded up.
    """
    within(joint, 0.0, 0.02, "joint", "m")
    a, b = (positive(side, "side of a tile", "m") + joint for side in size)
    return area_in(net, waste, a * b, "tile")


def length_in(net: float, waste: float, stock: float) -> Taken:
    """A running length in stock lengths that are joined where they end.

    net [m], 0 or more; waste [-], 0 to 1; stock [m], above 0. Returns `Taken`. Raises OutOfRange.
    Source: net (1 + waste) / stock, rounded up.
    """
    gross = with_waste(net, waste)
    pieces = _up(gross / positive(stock, "stock length", "m"))
    made = f"{net:.2f} m + {waste:.0%} = {gross:.2f} m, over {stock:g} m each, rounded up"
    return Taken(net, gross, pieces, made)


def count(things: int, spare: int = 0) -> Taken:
    """Counted things and their spare.

    things, spare: counts, 0 or more. Returns `Taken`. Raises OutOfRange. Source: sum.
    """
    not_negative(things, "count"), not_negative(spare, "spare")
    whole = things + spare
    return Taken(float(things), float(whole), whole, f"{things} counted + {spare} spare")


def cut_from_stock(lengths: Sequence[float], stock: float, kerf: float) -> Cutting:
    """Lengths that may not be joined, cut from stock.

    lengths [m], at least one, each above 0 and at most the stock; stock [m], above 0; kerf [m] lost
    at each cut, 0 to 0.01. Returns `Cutting`: never more than 11/9 of the least possible, plus one.
    Raises OutOfRange. Source: first fit, longest first (Johnson 1973).
    """
    within(kerf, 0.0, 0.01, "saw cut", "m")
    positive(stock, "stock length", "m")
    bars: list[list[float]] = []
    left: list[float] = []
    for length in sorted(some(lengths, "lengths"), reverse=True):
        within(positive(length, "length", "m"), 0.0, stock, "length", "m")
        place = next((i for i, room in enumerate(left) if length <= room + 1e-9), None)
        if place is None:
            bars.append([])
            left.append(stock)
            place = len(bars) - 1
        bars[place].append(length)
        left[place] = max(0.0, left[place] - length - kerf)
    return Cutting(tuple(tuple(bar) for bar in bars), tuple(left))


def coverage(net: float, waste: float, coats: int, per_liter: float) -> float:
    """Paint, oil or adhesive for an area.

    net [m²], 0 or more; waste [-], 0 to 1; coats, 1 or more; per_liter [m²/L] that one coat of a
    liter covers, above 0. Returns [L]. Raises OutOfRange. Source: division.
    """
    if coats < 1:
        raise NotCovered("a coating has one coat or more")
    return with_waste(net, waste) * coats / positive(per_liter, "coverage", "m²/L")


def _up(value: float) -> int:
    """Rounded up, a hair's breadth over a whole number forgiven."""
    return math.ceil(value - 1e-9)
