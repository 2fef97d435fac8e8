"""U of insulating glass in its middle, from panes, coatings, gaps and gas.

Source of all of it: EN 673:2011 (ISO 10292), upright glass. Gas data from memory of its table 1.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from spec.derive.formulas.range import NotCovered, positive, some, within

OUTSIDE, INSIDE = 23.0, 8.0
"""[W/m²K] Film coefficients of EN 673:1997 (25 and 7.7 in 2011)."""

UNCOATED = 0.837
"""[-] Emissivity of bare soda-lime glass."""

_STEFAN, _MEAN, _DIFFERENCE = 5.67e-8, 283.0, 15.0


CONDUCTIVITY = 1.0
"""[W/mK] Soda-lime glass."""


class Gas(NamedTuple):
    """A gas at 10 °C: density [kg/m³], viscosity [Pa s], conductivity [W/mK], heat [J/kgK]."""

    density: float
    viscosity: float
    conductivity: float
    heat: float


GASES = {
    "air": Gas(1.232, 1.761e-5, 2.496e-2, 1008.0),
    "argon": Gas(1.699, 2.164e-5, 1.684e-2, 519.0),
    "krypton": Gas(3.560, 2.400e-5, 0.900e-2, 245.0),
}
"""EN 673 table 1, at 10 °C."""


class Gap(NamedTuple):
    """A gap between two panes.

    width [m], above 0 to 0.05; gas: a word of GASES; filled [-]: its share, the rest is air, 0 to
    1; emissivities [-] of the two faces, 0.01 to 1.
    """

    width: float
    gas: str = "air"
    filled: float = 1.0
    emissivities: tuple[float, float] = (UNCOATED, UNCOATED)


def u_value(
    panes: Sequence[float],
    gaps: Sequence[Gap],
    films: tuple[float, float] = (OUTSIDE, INSIDE),
) -> float:
    """U in the middle of an insulating glass.

    panes [m]: thicknesses, one more than gaps; gaps: one or more; films [W/m²K] on both sides.
    Returns [W/m²K], without edge and frame. Raises OutOfRange, NotCovered.
    Source: EN 673:2011 cl. 5; several gaps share the 15 K by their resistance.
    """
    some(gaps, "gaps")
    if len(panes) != len(gaps) + 1:
        raise NotCovered("an insulating glass has one pane more than gaps")
    solid = sum(within(pane, 0.001, 0.1, "pane", "m") for pane in panes) / CONDUCTIVITY
    shares = [_DIFFERENCE / len(gaps)] * len(gaps)
    for _ in range(100):
        resistances = [1.0 / conductance(g, d) for g, d in zip(gaps, shares, strict=True)]
        fresh = [_DIFFERENCE * r / sum(resistances) for r in resistances]
        settled = max(abs(a - b) for a, b in zip(fresh, shares, strict=True)) < 1e-9
        shares = fresh
        if settled:
            break
    around = sum(1.0 / positive(film, "film coefficient", "W/m²K") for film in films)
    return 1.0 / (around + sum(resistances) + solid)


def single_u_value(pane: float, emissivity: float = UNCOATED) -> float:
    """U of a single pane.

    pane [m], 0.001 to 0.1; emissivity [-] of its face toward the room, 0.01 to 1. Returns [W/m²K].
    Raises OutOfRange. Source: EN 673:1997, inside film 3.6 + 4.4 ε / .837.

    >>> round(single_u_value(0.006), 1)
    5.7
    """
    within(emissivity, 0.01, 1.0, "emissivity of the glass")
    solid = within(pane, 0.001, 0.1, "pane", "m") / CONDUCTIVITY
    return 1.0 / (1.0 / OUTSIDE + solid + 1.0 / (3.6 + 4.4 * emissivity / UNCOATED))


def conductance(gap: Gap, difference: float = _DIFFERENCE) -> float:
    """Heat through a gap by radiation and gas.

    gap; difference [K] between its faces, above 0 to 60. Returns [W/m²K]. Raises OutOfRange,
    NotCovered. Source: EN 673:2011 cl. 5, radiation and gas; Nu = .035 (Gr Pr)^.38, at least 1.
    """
    within(positive(gap.width, "gap", "m"), 0.0, 0.05, "gap", "m")
    within(positive(difference, "difference", "K"), 0.0, 60.0, "difference over the gap", "K")
    a, b = (within(e, 0.01, 1.0, "emissivity of the glass") for e in gap.emissivities)
    gas = mixture(gap.gas, gap.filled)
    grashof = 9.81 * gap.width**3 * difference * gas.density**2 / (_MEAN * gas.viscosity**2)
    prandtl = gas.viscosity * gas.heat / gas.conductivity
    nusselt = max(1.0, 0.035 * math.pow(grashof * prandtl, 0.38))
    radiation = 4.0 * _STEFAN * _MEAN**3 / (1.0 / a + 1.0 / b - 1.0)
    return radiation + nusselt * gas.conductivity / gap.width


def mixture(name: str, filled: float) -> Gas:
    """A gas with the air that is left in the gap.

    name: a word of GASES; filled [-], 0 to 1. Returns `Gas`. Raises OutOfRange, NotCovered.
    Source: EN 673:2011, gas mixtures by volume share.
    """
    if name not in GASES:
        raise NotCovered(f"no gas is called {name}; known are {', '.join(GASES)}")
    f, gas, air = within(filled, 0.0, 1.0, "gas filling"), GASES[name], GASES["air"]
    return Gas(
        f * gas.density + (1.0 - f) * air.density,
        f * gas.viscosity + (1.0 - f) * air.viscosity,
        f * gas.conductivity + (1.0 - f) * air.conductivity,
        f * gas.heat + (1.0 - f) * air.heat,
    )
