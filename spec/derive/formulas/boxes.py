"""Wire boxes: how full they are, and what may hang on them."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from spec.derive.formulas.constants import INCH, POUND
from spec.derive.formulas.range import NotCovered, not_negative, positive, within

CUBIC_INCH = INCH**3
"""[m³]"""

_ALLOWANCE = {18: 1.50, 16: 1.75, 14: 2.00, 12: 2.25, 10: 2.50, 8: 3.00, 6: 5.00}
"""[in³] AWG: free space for each conductor. NEC 2023 table 314.16(B)(1)."""

SUPPORTS = 50 * POUND
"""[kg] What a ceiling box holds unless it is marked for more: 50 lb. NEC 2023 314.27(A)(2)."""


class Fill(NamedTuple):
    """How full a box is.

    needed [m³]: the least volume; parts [m³] by conductors, clamps, fittings, devices, grounds, in
    that order, so that it can be checked by hand.
    """

    needed: float
    parts: tuple[tuple[str, float], ...]


def fill(
    conductors: Mapping[int, int],
    devices: Sequence[int],
    grounds: Mapping[int, int],
    clamps: bool,
    fittings: int = 0,
) -> Fill:
    """Least volume of a box.

    conductors: how many of each size [AWG] come from outside and end or are spliced in the box, or
    pass through it; devices: for each yoke (each gang's width of a wide one) the largest size [AWG]
    that connects to it; grounds: how many grounding conductors of each size [AWG]; clamps: whether
    cable clamps sit inside; fittings: kinds of support fittings (stud, hickey). Sizes 18 to 6 AWG.
    Returns `Fill`. Raises NotCovered for other sizes and for an empty box.
    Source: NEC 2023 314.16(B)(1) to (5): each conductor 1, all clamps 1, each kind of fitting 1,
    each device 2, grounds 1 up to four and 1/4 for each more (2020 edition and later).
    """
    all_sizes = [*conductors, *devices, *grounds]
    if not all_sizes:
        raise NotCovered("a box without wires needs no volume")
    for count in (*conductors.values(), *grounds.values(), fittings):
        not_negative(count, "count of wires and fittings")
    # the largest wire is the one with the smallest number
    largest = allowance(min(all_sizes))
    wires = sum(count * allowance(size) for size, count in conductors.items())
    yokes = sum(2.0 * allowance(size) for size in devices)
    earths = sum(grounds.values())
    parts = (
        ("conductors", wires),
        ("clamps", largest if clamps else 0.0),
        ("fittings", fittings * largest),
        ("devices", yokes),
        ("grounds", allowance(min(grounds)) * (1.0 + 0.25 * max(0, earths - 4)) if earths else 0.0),
    )
    return Fill(sum(volume for _, volume in parts), parts)


def allowance(size: int) -> float:
    """Free space that a box has to leave for one conductor.

    size [AWG], an even one from 18 to 6. Returns [m³]. Raises NotCovered.
    Source: NEC 2023 table 314.16(B)(1).
    """
    if size not in _ALLOWANCE:
        raise NotCovered(f"no box allowance is known for {size} AWG; 18 to 6 AWG are in the table")
    return _ALLOWANCE[size] * CUBIC_INCH


def needs_own_support(weight: float, marked: float = SUPPORTS) -> bool:
    """Whether a luminaire hangs from the structure, not from its box.

    weight [kg], 0 or more; marked [kg]: what the box is marked for, above 0, 50 lb unless marked.
    Returns yes or no. Raises OutOfRange. Source: NEC 2023 314.27(A)(2).
    """
    return not_negative(weight, "weight", "kg") > positive(marked, "marking of the box", "kg")


def extension_ring(box_set_back: float, combustible: bool) -> float:
    """Depth of extension that brings a box out to the finished face.

    box_set_back [m]: finished face in front of the box's edge, 0 to 0.15; combustible: whether the
    face burns (wood), where the box has to be flush; else 1/4 in may remain. Returns [m], 0 where
    none is needed. Raises OutOfRange. Source: NEC 2023 314.20.

    >>> extension_ring(0.006, combustible=False)
    0.0
    """
    back = within(box_set_back, 0.0, 0.15, "distance from box to finished face", "m")
    allowed = 0.0 if combustible else INCH / 4
    return back if back > allowed and not math.isclose(back, allowed) else 0.0
