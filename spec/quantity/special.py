"""Notations that are more than a number and a unit: R-19, 4 to 1, 14 AWG, 2400 USD, a count."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from fractions import Fraction

from spec.quantity import notation
from spec.quantity.money import CURRENCIES
from spec.quantity.units import find
from spec.quantity.values import QuantityError

Found = tuple[Fraction, str]
"""An exact value in the base unit, and the symbol of the unit in which it was written."""

_R_VALUE = re.compile(rf"(RSI|R)[ -]?({notation.NUMBER})", re.IGNORECASE)
_U_VALUE = re.compile(rf"U[ -]?({notation.NUMBER})", re.IGNORECASE)
_TO = re.compile(rf"({notation.NUMBER}) to ({notation.NUMBER})")
_METAL = "(?: (?:copper|aluminum|aluminium|Cu|Al))?"
_GAUGE = re.compile(rf"([0-9]{{1,3}}|[1-4]/0) ?AWG{_METAL}", re.IGNORECASE)
_METRIC_WIRE = re.compile(rf"({notation.NUMBER}) ?(?:mm²|mm2|mm\^2|sq ?mm){_METAL}", re.IGNORECASE)
_MONEY = re.compile(
    rf"([+-]?)({notation.DIGITS}(?:\.{notation.DIGITS})?) ?([A-Z]{{3}})"
    rf"|([A-Z]{{3}}) ?([+-]?)({notation.DIGITS}(?:\.{notation.DIGITS})?)"
)
_COUNT = re.compile(rf"([+-]?)({notation.NUMBER})(?: bottles?)?")


def _r_value(plain: str) -> Found | None:
    match = _R_VALUE.fullmatch(plain)
    if match is None:
        return None
    unit = find("r_value", "m²K/W" if match[1].upper() == "RSI" else "h ft² °F/Btu")
    assert unit is not None
    return notation.number(match[2]) * unit.factor, unit.symbol


def _u_value(plain: str) -> Found | None:
    match = _U_VALUE.fullmatch(plain)
    if match is None:
        return None
    raise QuantityError(
        f"{plain} does not say whether it is in Btu/h ft² °F or in W/m²K",
        f"write {match[1]} Btu/h ft2 F or {match[1]} W/m²K",
    )


def _ratio(plain: str) -> Found | None:
    match = _TO.fullmatch(plain)
    if match is None:
        return None
    rise, run = notation.number(match[1]), notation.number(match[2])
    if not run:
        raise QuantityError(f"{plain} has no run", "write rise to run, for example 4 to 1")
    return rise / run, "to"


def area_of_gauge(gauge: int) -> Fraction:
    """Cross-section [m²] of a solid conductor by American wire gauge (0 is 1/0, -3 is 4/0).

    d = 0.005 in x 92^((36 - gauge)/39), ASTM B258. The root is irrational; the area is
    rounded to 1e-13 m² (1e-7 mm²).
    """
    diameter = 0.005 * 0.0254 * 92 ** ((36 - gauge) / 39)
    return Fraction(round(3.141592653589793 / 4 * diameter**2 * 1e13), 10**13)


def _wire(plain: str) -> Found | None:
    if match := _GAUGE.fullmatch(plain):
        gauge = 1 - int(match[1][0]) if "/" in match[1] else int(match[1])
        if gauge > 40:
            raise QuantityError(f"{plain} is no wire of a building", "write it like 14 AWG")
        return area_of_gauge(gauge), "AWG"
    if match := _METRIC_WIRE.fullmatch(plain):
        return notation.number(match[1]) / 10**6, "mm²"
    return None


def _money(plain: str) -> Found | None:
    match = _MONEY.fullmatch(plain)
    if match is None:
        return None
    sign, amount, code = match.groups()[:3] if match[2] else (match[5], match[6], match[4])
    if code not in CURRENCIES:
        raise QuantityError(
            f"{code} is no currency of ISO 4217", f"write a code such as {amount} USD"
        )
    value = notation.number(amount)
    return (-value if sign == "-" else value), code


def _count(plain: str) -> Found | None:
    match = _COUNT.fullmatch(plain)
    if match is None:
        return None
    value = notation.number(match[2])
    if value.denominator != 1:
        raise QuantityError(
            f"{plain} is not a whole number", f"write {round(value)}, or what is meant"
        )
    return (-value if match[1] == "-" else value), ""


READERS: Mapping[str, Callable[[str], Found | None]] = {
    "r_value": _r_value,
    "u_value": _u_value,
    "ratio": _ratio,
    "wire": _wire,
    "money": _money,
    "count": _count,
}
"""By dimension; None where the text is no such notation."""
