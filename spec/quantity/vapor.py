"""Saturation pressure of water vapor, which makes a humidity a pressure and back."""

from __future__ import annotations

import math


def saturation(temperature: float) -> float:
    """Saturation pressure [Pa] at a temperature [°C], over ice below 0 °C; well within -60 to 80.

    Source: ISO 13788:2012 annex E.

    >>> round(saturation(20.0)), round(saturation(-10.0))
    (2337, 259)
    """
    if temperature >= 0.0:
        return 610.5 * math.exp(17.269 * temperature / (237.3 + temperature))
    return 610.5 * math.exp(21.875 * temperature / (265.5 + temperature))
