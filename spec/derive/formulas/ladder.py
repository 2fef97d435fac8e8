"""A rolling ladder on a rail: lean, room in front of a deep base, push on the rail, reach."""

from __future__ import annotations

import math
from typing import NamedTuple

from spec.derive.formulas.constants import GRAVITY
from spec.derive.formulas.range import not_negative, positive, within

LEAN = 4.0
"""[-] Working length over distance of the foot. 29 CFR 1926.1053(b)(5)(i)."""


class Lean(NamedTuple):
    """How a ladder stands.

    length [m] from foot to rail along the stiles; foot_out [m] from under the rail; angle [degrees]
    from level.
    """

    length: float
    foot_out: float
    angle: float


def lean(rail_height: float, ratio: float = LEAN) -> Lean:
    """A ladder that leans at a ratio of working length to distance of its foot.

    rail_height [m] of the rail above where the foot stands, above 0 to 6; ratio [-], 2 to 10.
    Returns `Lean`. Raises OutOfRange. Source: 29 CFR 1926.1053(b)(5)(i), foot at a quarter of the
    working length: L = h / (1 - 1/16)^½.

    >>> round(lean(2.4).foot_out, 3)
    0.62
    """
    within(positive(rail_height, "height of the rail", "m"), 0.0, 6.0, "height of the rail", "m")
    within(ratio, 2.0, 10.0, "lean of the ladder")
    length = rail_height / math.sqrt(1.0 - 1.0 / ratio**2)
    return Lean(length, length / ratio, math.degrees(math.acos(1.0 / ratio)))


def clear_over_top(
    foot_out: float, rail_height: float, stand_off: float, step_out: float, top_height: float
) -> float:
    """Free room between a deep top and the ladder where it passes the top's front edge.

    foot_out, rail_height, stand_off [m] as above; step_out [m]: how far the top's edge stands out
    from the upper's front, 0 or more; top_height [m], at most rail_height. Returns [m] level
    distance from edge to the line of the stiles; below 0 they collide. Raises OutOfRange.
    Source: the line from rail to foot.
    """
    within(top_height, 0.0, positive(rail_height, "height of the rail", "m"), "height of top", "m")
    not_negative(foot_out, "foot of the ladder", "m"), not_negative(stand_off, "stand-off", "m")
    line = stand_off + foot_out * (1.0 - top_height / rail_height)
    return line - not_negative(step_out, "top's edge in front of the upper", "m")


def push_on_rail(weight: float, foot_out: float, rail_height: float) -> float:
    """Level push of a person near the top against the rail and its backing.

    weight [kg] of person and what is carried, above 0 to 250; foot_out, rail_height [m] above 0.
    Returns [N], with the person at the rail's height: the worst place. Raises OutOfRange.
    Source: moment about the foot, H h = m g x.
    """
    within(positive(weight, "weight on the ladder", "kg"), 0.0, 250.0, "weight on the ladder", "kg")
    out = positive(foot_out, "foot of the ladder", "m")
    return weight * GRAVITY * out / positive(rail_height, "height of the rail", "m")
