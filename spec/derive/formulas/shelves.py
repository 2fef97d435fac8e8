"""Shelves: how far they sag, and how far they may span."""

from __future__ import annotations

import math

from spec.derive.formulas.range import not_negative, positive, within

CREEP = 1.5
"""[-] Sag after years of load over sag at once. NDS 3.5.2, seasoned lumber, seen quoted."""


def sag(span: float, depth: float, thickness: float, stiffness: float, line_load: float) -> float:
    """Sag in the middle of a shelf that lies on its ends, evenly loaded.

    span [m] clear, depth [m] front to back, thickness [m], stiffness [Pa] of the wood in bending:
    each above 0, span 5 thicknesses to 10 m; line_load [N/m] along the shelf with its own weight, 0
    or more (a pressure times the depth). Returns [m] at once, without creep. Raises OutOfRange.
    Source: 5 w L⁴ / 384 E I, I = b t³ / 12.
    """
    positive(thickness, "shelf thickness", "m"), positive(stiffness, "stiffness", "Pa")
    within(positive(span, "span of the shelf", "m"), 5.0 * thickness, 10.0, "span", "m")
    inertia = positive(depth, "shelf depth", "m") * thickness**3 / 12.0
    load = not_negative(line_load, "load on the shelf", "N/m")
    return 5.0 * load * span**4 / (384.0 * stiffness * inertia)


def longest_span(
    thickness: float, stiffness: float, pressure: float, limit: float, creep: float = 1.0
) -> float:
    """Longest span at which the sag stays allowed.

    thickness [m]; stiffness [Pa]; pressure [Pa], each above 0; limit [-], 50 to 2000; creep [-], 1
    to 3 (1: at once, as published tables have it). Returns [m]. Raises OutOfRange.
    Source: 5 w L⁴ / 384 E I = L / limit solved for L.
    """
    within(limit, 50.0, 2000.0, "allowed span over sag"), within(creep, 1.0, 3.0, "creep")
    positive(thickness, "shelf thickness", "m"), positive(stiffness, "stiffness", "Pa")
    load = positive(pressure, "load on the shelf", "Pa")
    return thickness * math.cbrt(384.0 * stiffness / (60.0 * load * limit * creep))
