"""Curves as points: arches and the swings of doors."""

from __future__ import annotations

from math import acos, asin, atan2, cos, hypot, pi, sin

from spec.draw.scene import Point

_STEPS = 24


def arch_line(left: Point, right: Point, rise: float) -> tuple[Point, ...]:
    """A segmental arch from one springing to the other [mm], `rise` above them in the middle.

    Radius from chord and sagitta, r = (s²/4 + h²) / 2h. A rise above half the span is drawn as
    half an ellipse.
    """
    half = (right[0] - left[0]) / 2
    middle, level = (left[0] + right[0]) / 2, left[1]
    if rise <= 0 or half <= 0:
        return left, right
    if rise > half:
        turns = [pi * (1 - k / _STEPS) for k in range(_STEPS + 1)]
        return tuple((middle + half * cos(t), level + rise * sin(t)) for t in turns)
    radius = (half**2 + rise**2) / (2 * rise)
    reach = asin(min(half / radius, 1.0))
    turns = [reach * (2 * k / _STEPS - 1) for k in range(_STEPS + 1)]
    low = level + rise - radius
    return tuple((middle + radius * sin(t), low + radius * cos(t)) for t in turns)


def arch_height(half: float, rise: float, off: float) -> float:
    """Height of a segmental arch above its springing at a distance off its middle [mm]."""
    if rise <= 0 or abs(off) >= half:
        return 0.0
    if rise > half:
        return rise * sin(acos(off / half))
    radius = (half**2 + rise**2) / (2 * rise)
    return float((radius**2 - off**2) ** 0.5 - (radius - rise))


def swing(hinge: Point, closed: Point, angle: float) -> tuple[Point, ...]:
    """The way of a leaf's free edge from closed through an angle [radians], in plan."""
    start = atan2(closed[1] - hinge[1], closed[0] - hinge[0])
    long = hypot(closed[0] - hinge[0], closed[1] - hinge[1])
    turns = [start + angle * k / _STEPS for k in range(_STEPS + 1)]
    return tuple((hinge[0] + long * cos(t), hinge[1] + long * sin(t)) for t in turns)
