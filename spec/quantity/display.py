"""How computed values are printed: one table of unit and rounding per dimension and system."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import NamedTuple

from spec.quantity.special import area_of_gauge
from spec.quantity.units import find
from spec.quantity.values import Quantity, Range, Series, Size

INFINITE = math.inf


class Step(NamedTuple):
    """Values under `below` (base unit, without sign) print in `unit` with `places` decimals.

    Trailing zeros are left out.
    """

    below: float
    unit: str
    places: int


def _in(unit: str, places: int) -> tuple[Step, ...]:
    return (Step(INFINITE, unit, places),)


def _same(*steps: Step) -> tuple[tuple[Step, ...], tuple[Step, ...]]:
    return steps, steps


_MILLIMETERS = (
    Step(0.001, "mm", 2),
    Step(0.01, "mm", 1),
    Step(10, "mm", 0),
    Step(INFINITE, "m", 2),
)
_WATTS = (Step(10, "W", 1), Step(10e3, "W", 0), Step(INFINITE, "kW", 1))

FEET_AND_INCHES: tuple[Step, ...] = ()
"""Imperial lengths are fractions and have no decimals: see `feet_and_inches`."""

# Dimension: (imperial, metric).
DISPLAY: Mapping[str, tuple[tuple[Step, ...], tuple[Step, ...]]] = {
    "length": (FEET_AND_INCHES, _MILLIMETERS),
    "offset": (FEET_AND_INCHES, _MILLIMETERS),
    "level": (FEET_AND_INCHES, _MILLIMETERS),
    "elevation": (_in("ft", 0), _in("m", 0)),
    "area": (
        (Step(0.0464, "in²", 1), Step(INFINITE, "ft²", 1)),
        (Step(0.01, "cm²", 1), Step(INFINITE, "m²", 2)),
    ),
    "volume": (
        (Step(0.0028, "in³", 1), Step(INFINITE, "ft³", 1)),
        (Step(0.1, "L", 1), Step(INFINITE, "m³", 2)),
    ),
    "mass": (
        (Step(0.45, "oz", 1), Step(4.5, "lb", 1), Step(INFINITE, "lb", 0)),
        (Step(0.1, "g", 0), Step(1, "kg", 2), Step(100, "kg", 1), Step(INFINITE, "kg", 0)),
    ),
    "line_mass": (_in("lb/ft", 1), _in("kg/m", 1)),
    "area_mass": (
        (Step(0.5, "psf", 4), Step(INFINITE, "psf", 1)),
        (Step(1, "kg/m²", 3), Step(INFINITE, "kg/m²", 1)),
    ),
    "area_load": (
        (Step(479, "psf", 1), Step(INFINITE, "psf", 0)),
        _in("kN/m²", 2),
    ),
    "density": (
        (Step(10, "lb/ft³", 4), Step(INFINITE, "lb/ft³", 1)),
        (Step(10, "kg/m³", 2), Step(INFINITE, "kg/m³", 0)),
    ),
    "pressure": (
        (Step(690, "in H2O", 2), Step(INFINITE, "psi", 1)),
        (Step(10e3, "Pa", 0), Step(200e3, "kPa", 1), Step(INFINITE, "bar", 1)),
    ),
    "temperature": (_in("°F", 1), _in("°C", 1)),
    "temperature_difference": (_in("°F", 1), _in("K", 1)),
    "color_temperature": _same(*_in("K", 0)),
    "power": _same(*_WATTS),
    "heat_flow": (
        (Step(29, "Btu/h", 1), Step(INFINITE, "Btu/h", 0)),
        _WATTS,
    ),
    "power_per_length": (_in("W/ft", 2), _in("W/m", 1)),
    "power_per_area": (_in("Btu/h ft²", 2), _in("W/m²", 1)),
    "voltage": _same(Step(100, "V", 2), Step(INFINITE, "V", 1)),
    "current": _same(Step(0.1, "mA", 0), Step(INFINITE, "A", 2)),
    "apparent_power": _same(*_in("VA", 0)),
    "frequency": _same(*_in("Hz", 0)),
    "wire": (_in("mm²", 2), _in("mm²", 2)),
    "illuminance": (_in("fc", 1), _in("lx", 0)),
    "air_flow": (
        (Step(0.005, "cfm", 1), Step(INFINITE, "cfm", 0)),
        (Step(INFINITE, "L/s", 1),),
    ),
    "speed": (_in("ft/min", 0), _in("m/s", 2)),
    "sound": _same(*_in("dB", 0)),
    "permeance": (
        (Step(5.7e-11, "perm", 3), Step(INFINITE, "perm", 2)),
        _in("ng/(Pa s m²)", 1),
    ),
    "r_value": (_in("h ft² °F/Btu", 1), _in("m²K/W", 2)),
    "u_value": (_in("Btu/h ft² °F", 3), _in("W/m²K", 3)),
    "conductivity": (_in("Btu in/h ft² °F", 2), _in("W/mK", 3)),
    "heat_capacity": (_in("Btu/lb °F", 3), _in("kJ/kgK", 2)),
    "angle": _same(*_in("°", 1)),
    "ratio": (_in("in per ft", 2), _in("%", 1)),
    "percent": _same(*_in("%", 1)),
    "duration": _same(
        Step(120, "s", 0),
        Step(7200, "min", 0),
        Step(72.5 * 3600, "h", 1),
        Step(INFINITE, "days", 0),
    ),
    "per_day": _same(*_in("per day", 1)),
    "hours_per_day": _same(*_in("h/day", 1)),
    "money": _same(*_in("", 2)),
    "count": _same(*_in("", 0)),
}

INCHES_ONLY_BELOW = 72
"""Inches under which a length is written in inches alone."""

FINEST = ((Fraction(1, 4), 64), (Fraction(1), 32), (math.inf, 16))
"""Lengths up to so many inches are rounded to so many parts of an inch."""

_EXACT = 0.003


def feet_and_inches(meters: float) -> str:
    """A length in feet, inches and the fraction that a tape shows.

    Exact where the value is a sixty-fourth of an inch (within a micrometer), otherwise
    rounded by FINEST; what is too thin for that is in mils.

    >>> feet_and_inches(2.2987), feet_and_inches(0.6096), feet_and_inches(0.015875)
    ('7\\' 6-1/2"', '24 in', '5/8 in')
    >>> feet_and_inches(0.0002)
    '7.9 mil'
    """
    inches = abs(meters) / 0.0254
    sign = "-" if meters < 0 else ""
    ticks = inches * 64
    if abs(ticks - round(ticks)) <= _EXACT:
        total = Fraction(round(ticks), 64)
    elif ticks < 2:
        return f"{sign}{_rounded(inches * 1000, 1)} mil"
    else:
        parts = next(parts for limit, parts in FINEST if inches <= limit)
        total = Fraction(math.floor(inches * parts + 0.5), parts)
    sign = sign if total else ""
    if total < INCHES_ONLY_BELOW:
        return f"{sign}{_mixed(total)} in"
    feet, rest = divmod(total, 12)
    return f"{sign}{feet}' {_mixed(rest)}\""


def _mixed(value: Fraction) -> str:
    whole, part = divmod(value, 1)
    if not part:
        return str(whole)
    return f"{whole}-{part}" if whole else str(part)


def show(si: float, dimension: str, system: str, currency: str = "") -> str:
    """A computed value in the units and rounding of a system ("imperial" or "metric").

    `si` is in the base unit of the dimension; `currency` is the code that follows money.
    ValueError for a value that is no finite number and for another system, KeyError for an
    unknown dimension.
    """
    number, unit = _pair(si, dimension, system)
    return _joined(number, unit or currency)


def _pair(si: float, dimension: str, system: str) -> tuple[str, str]:
    """Number and unit apart; a length with primes has no unit."""
    if not math.isfinite(si):
        raise ValueError(f"{si} is no finite number")
    imperial, metric = DISPLAY[dimension]
    if system not in ("imperial", "metric"):
        raise ValueError(f"unknown system {system!r}")
    steps = imperial if system == "imperial" else metric
    if steps is FEET_AND_INCHES:
        return _split(feet_and_inches(si))
    if dimension in _OTHERWISE and (found := _OTHERWISE[dimension](si, system)) is not None:
        return found
    step = next(step for step in steps if abs(si) < step.below)
    return _rounded(_converted(si, dimension, step.unit), step.places), step.unit


def _split(text: str) -> tuple[str, str]:
    number, _, unit = text.rpartition(" ")
    return (text, "") if text.endswith('"') else (number, unit)


def _slope(si: float, system: str) -> tuple[str, str] | None:
    if si >= 1:
        return f"{_rounded(si, 2)} to 1", ""
    if system == "metric":
        return _rounded(si * 100, 1), "%"
    sixteenths = si * 12 * 16
    if abs(sixteenths - round(sixteenths)) < 0.01:
        return _mixed(Fraction(round(sixteenths), 16)), "in per ft"
    return _rounded(si * 12, 2), "in per ft"


def _weeks(si: float, _system: str) -> tuple[str, str] | None:
    whole = si >= 4 * _WEEK and abs(si / _WEEK - round(si / _WEEK)) < 1e-6
    return (str(round(si / _WEEK)), "weeks") if whole else None


def _gauge(si: float, system: str) -> tuple[str, str] | None:
    """A conductor of the American wire gauge, where the area is one."""
    if system == "metric":
        return None
    for gauge in range(-3, 41):
        if math.isclose(si, float(area_of_gauge(gauge)), rel_tol=0.005):
            return (str(gauge) if gauge > 0 else f"{1 - gauge}/0"), "AWG"
    return None


def _cents(si: float, _system: str) -> tuple[str, str] | None:
    return None if round(si, 2).is_integer() else (f"{si:.2f}", "")


_WEEK = 7 * 86400
_OTHERWISE: Mapping[str, Callable[[float, str], tuple[str, str] | None]] = {
    "ratio": _slope,
    "duration": _weeks,
    "wire": _gauge,
    "money": _cents,
}
"""Dimensions with a way of their own, None where the table serves."""


def _converted(si: float, dimension: str, symbol: str) -> float:
    if not symbol:
        return si
    unit = find(dimension, symbol)
    assert unit is not None, (dimension, symbol)
    return si / float(unit.factor) - float(unit.offset)


def _rounded(value: float, places: int) -> str:
    text = f"{value:.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def _joined(number: str, unit: str) -> str:
    return f"{number}{unit}" if unit == "°" else f"{number} {unit}".rstrip()


def both(q: Quantity | Range | Size | Series, system: str) -> str:
    """As written, with the conversion in parentheses where the other system was written.

    >>> from spec.quantity import parse
    >>> both(parse("600 x 820 mm", "length", "size"), "imperial")
    '600 x 820 mm (23-5/8 x 32-5/16 in)'
    """
    values: tuple[Quantity, ...]
    match q:
        case Quantity():
            values, between = (q,), ""
        case Range():
            values, between = (q.low, q.high), " to "
        case Size():
            values, between = q.sides, " x "
        case Series():
            values, between = q.values, " "
    other = {"imperial": "metric", "metric": "imperial"}[system]
    if not any(_system(value) == other for value in values):
        return q.written
    pairs = [_pair(value.si, value.dimension, system) for value in values]
    units = {unit for _, unit in pairs}
    if units == {value.unit for value in values}:
        return q.written
    if len(units) == 1:
        shown = _joined(between.join(number for number, _ in pairs), units.pop())
    else:
        shown = between.join(_joined(number, unit) for number, unit in pairs)
    return f"{q.written} ({shown})"


def _system(value: Quantity) -> str:
    if value.unit == "AWG":
        return "imperial"
    unit = find(value.dimension, value.unit) if value.unit else None
    return unit.system if unit else ""
