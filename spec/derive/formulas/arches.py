"""Arches struck from one center: span, rise, radius, curve, and what follows them at a gap."""

from __future__ import annotations

import math
from typing import NamedTuple

from spec.derive.formulas.range import not_negative, positive, within


class Arch(NamedTuple):
    """A circular arch.

    span [m]; rise [m]; radius [m]; arc [m] length of the curve; angle [degrees] that it turns;
    center_below [m]: the center under the spring line (0 for a half round); area [m²] above it.
    """

    span: float
    rise: float
    radius: float
    arc: float
    angle: float
    center_below: float
    area: float


def arch(span: float, rise: float) -> Arch:
    """An arch from its span and rise.

    span [m], above 0; rise [m], above 0 to half the span (more is a stilted arch: draw the straight
    part apart). Returns `Arch`. Raises OutOfRange. Source: R = c²/8h + h/2.

    >>> round(arch(1.2, 0.2).radius, 9), round(arch(1.2, 0.2).arc, 4)
    (1.0, 1.287)
    """
    positive(span, "span of the arch", "m")
    within(positive(rise, "rise of the arch", "m"), 0.0, span / 2.0, "rise of the arch", "m")
    radius = span**2 / (8.0 * rise) + rise / 2.0
    half = math.atan2(span / 2.0, radius - rise)
    area = radius**2 * (half - math.sin(half) * math.cos(half))
    return Arch(
        span, rise, radius, 2.0 * half * radius, math.degrees(2.0 * half), radius - rise, area
    )


def inner(span: float, rise: float, gap: float) -> Arch:
    """The arch of a gate or frame that follows an opening at an even gap, on the same center.

    span, rise [m] of the opening as in `arch`; gap [m], 0 or more, less than the rise. Returns
    `Arch`, its spring line that of the opening. Raises OutOfRange.
    Source: a concentric circle has radius R - gap.
    """
    outer = arch(span, rise)
    within(not_negative(gap, "gap under the arch", "m"), 0.0, rise, "gap under the arch", "m")
    radius = outer.radius - gap
    half = math.sqrt(radius**2 - outer.center_below**2)
    return arch(2.0 * half, radius - outer.center_below)
