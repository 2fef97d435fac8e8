"""Walls framed with steel studs, which conduct too well for a plain parallel path.

The framing and what is between it count as one layer, its nominal insulation cut down by a factor.
"""

from __future__ import annotations

from itertools import pairwise
from typing import NamedTuple

from spec.derive.formulas.constants import INCH, R_IP
from spec.derive.formulas.range import NotCovered, within

_FACTORS: dict[tuple[float, int], tuple[tuple[float, float], ...]] = {
    # (stud depth [in], spacing [in]): nominal R [ft² h °F/Btu], factor
    (3.5, 16): ((11.0, 0.50), (13.0, 0.46), (15.0, 0.43)),
    (3.5, 24): ((11.0, 0.60), (13.0, 0.55), (15.0, 0.52)),
    (6.0, 16): ((19.0, 0.37), (21.0, 0.35)),
    (6.0, 24): ((19.0, 0.45), (21.0, 0.43)),
    (8.0, 16): ((25.0, 0.31),),
    (8.0, 24): ((25.0, 0.38),),
}
"""ASHRAE 90.1-2007 table A9.2B, effective over nominal, from memory: check the adopted edition."""


class SteelLayer(NamedTuple):
    """A layer of steel studs and the insulation between them.

    resistance [m²K/W] effective; factor [-]: effective over nominal; depth, spacing [m] of the row
    of the table that was used.
    """

    resistance: float
    factor: float
    depth: float
    spacing: float


def layer(nominal: float, depth: float, spacing: float) -> SteelLayer:
    """Effective resistance of insulation between steel studs.

    nominal [m²K/W]: the insulation's own, as filled; depth [m] of the studs, 3.5 to 8 in (.0889 to
    .2032); spacing [m], 16 or 24 in (.40 to .625; 400 mm counts as 16 in, 600 and 625 as 24, 20 in
    as 16, the safe side).
    Returns `SteelLayer`; between two insulations of one row the factor is interpolated, up to 10 %
    beyond a row's ends it is the end's. Raises OutOfRange, NotCovered: then a numerical calculation
    or a tested value has to stand in the job.
    Source: ASHRAE 90.1-2007 table A9.2B (from memory), not ISO 6946, which does not cover it.
    """
    within(depth, 0.085, 0.205, "depth of the steel studs", "m")
    within(spacing, 0.39, 0.63, "spacing of the steel studs", "m")
    inches = min((3.5, 6.0, 8.0), key=lambda d: (abs(depth / INCH - d), d))
    on_center = 16 if spacing / INCH <= 20.0 else 24
    row = _FACTORS[inches, on_center]
    r = nominal / R_IP
    if not 0.9 * row[0][0] <= r <= 1.1 * row[-1][0]:
        raise NotCovered(
            f"steel studs {inches:g} in deep are known with R-{row[0][0]:g} to R-{row[-1][0]:g}, "
            f"not with R-{r:.1f}: state a tested or computed value"
        )
    factor = _interpolated(row, r)
    return SteelLayer(nominal * factor, factor, inches * INCH, on_center * INCH)


def _interpolated(row: tuple[tuple[float, float], ...], r: float) -> float:
    if r <= row[0][0]:
        return row[0][1]
    for (low, f_low), (high, f_high) in pairwise(row):
        if r <= high:
            return f_low + (f_high - f_low) * (r - low) / (high - low)
    return row[-1][1]
