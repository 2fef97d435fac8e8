"""What a formula refuses, in the units of a job."""

from __future__ import annotations

import math

from spec.derive.formulas.range import OutOfRange
from spec.quantity.display import show
from spec.quantity.units import find

_SHOWN = {
    "m": "length",
    "m²": "area",
    "m³": "volume",
    "kg": "mass",
    "kg/m³": "density",
    "Pa": "pressure",
    "°C": "temperature",
    "K": "temperature_difference",
    "m²K/W": "r_value",
    "W/m²K": "u_value",
    "W/mK": "conductivity",
}
"""Units of the formulas that have two names in two systems: their dimension."""


def refused(error: OutOfRange, system: str) -> str:
    """The refusal with its values as the documents of a job write them.

    `system` is "imperial" or "metric". Where rounding would make the value one of its own limits,
    the units of the formula stay.

    >>> print(refused(OutOfRange("shelf length", 4.2672, 0.0, 3.6576, "m"), "imperial"))
    the shelf length is 14' 0"; this holds from 0 in to 12' 0"
    """
    dimension = _SHOWN.get(error.unit)
    unit = find(dimension, error.unit) if dimension is not None else None
    if dimension is None or unit is None or not math.isfinite(error.value):
        return str(error)

    def shown(value: float) -> str:
        return show((value + float(unit.offset)) * float(unit.factor), dimension, system)

    limits = [limit for limit in (error.low, error.high) if math.isfinite(limit)]
    if any(limit != error.value and shown(limit) == shown(error.value) for limit in limits):
        return str(error)
    return error.said(shown)
