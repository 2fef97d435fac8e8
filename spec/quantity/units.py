"""The one table of units, with exact factors, and the finding of a unit by what was written.

Factors: NIST Special Publication 811 (2008), appendix B; where it gives an exact definition
the factor is that definition. The Btu is the International Table Btu, the inch of water the
conventional one (1000 kg/m³), the perm that of 0 °C as printed there, the month a twelfth of a
year of 365.25 days.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import NamedTuple

from spec.quantity.dimensions import DIMENSIONS


class Unit(NamedTuple):
    """A unit of one dimension: value in the base unit = (number + offset) x factor.

    `system` is "imperial", "metric", or "" for a unit that both kinds of job use.
    """

    symbol: str
    dimension: str
    factor: Fraction
    system: str
    aliases: tuple[str, ...] = ()
    offset: Fraction = Fraction(0)


F = Fraction
FOOT = F("0.3048")
INCH = FOOT / 12
POUND = F("0.45359237")
GRAVITY = F("9.80665")
HOUR = F(3600)
DAY = 24 * HOUR
BTU = F("1055.05585262")
RANKINE = F(5, 9)
SQUARE_FOOT = FOOT**2
CUBIC_FOOT = FOOT**3
MILLE = F(1000)
IMPERIAL, METRIC, BOTH = "imperial", "metric", ""


Row = tuple[str, Fraction, str] | tuple[str, Fraction, str, str]
"""Symbol, factor, system and, with commas between them, the aliases."""


def _rows(dimension: str, *rows: Row) -> tuple[Unit, ...]:
    return tuple(
        Unit(symbol, dimension, factor, system, tuple(", ".join(aliases).split(", ")))
        for symbol, factor, system, *aliases in rows
    )


_LENGTH = (
    ("in", INCH, IMPERIAL, '", inch, inches, in.'),
    ("ft", FOOT, IMPERIAL, "', foot, feet, ft."),
    ("yd", 3 * FOOT, IMPERIAL, "yard, yards"),
    ("mil", INCH / 1000, IMPERIAL, "mils"),
    ("mm", 1 / MILLE, METRIC, "millimeter, millimeters, millimetre, millimetres"),
    ("cm", F(1, 100), METRIC, "centimeter, centimeters, centimetre, centimetres"),
    ("m", F(1), METRIC, "meter, meters, metre, metres"),
)
_POWER = (
    ("W", F(1), "watt, watts"),
    ("kW", MILLE, "kilowatt, kilowatts"),
)
_BTU_PER_HOUR = ("Btu/h", BTU / HOUR, IMPERIAL, "Btuh, Btu/hr, Btu/hour")
_PER_AREA = (
    ("psf", POUND / SQUARE_FOOT, IMPERIAL, "lb/ft2, lbs/ft2, lb/sqft, lbs/sqft"),
    ("kg/m²", F(1), METRIC),
    ("g/m²", 1 / MILLE, METRIC, "gsm"),
)

UNITS: tuple[Unit, ...] = (
    *_rows("length", *_LENGTH),
    *_rows("offset", *_LENGTH),
    *_rows("level", *_LENGTH),
    *_rows("elevation", *_LENGTH),
    *_rows(
        "area",
        ("in²", INCH**2, IMPERIAL, "sqin, square inch, square inches"),
        ("ft²", SQUARE_FOOT, IMPERIAL, "sqft, sf, square foot, square feet"),
        ("mm²", F(1, 10**6), METRIC),
        ("cm²", F(1, 10**4), METRIC),
        ("m²", F(1), METRIC, "sqm, square meter, square meters"),
    ),
    *_rows(
        "volume",
        ("in³", INCH**3, IMPERIAL, "cuin, cubic inch, cubic inches"),
        ("ft³", CUBIC_FOOT, IMPERIAL, "cuft, cubic foot, cubic feet"),
        ("gal", 231 * INCH**3, IMPERIAL, "gallon, gallons"),
        ("mL", F(1, 10**6), METRIC, "cm3"),
        ("L", 1 / MILLE, METRIC, "liter, liters, litre, litres"),
        ("m³", F(1), METRIC),
    ),
    *_rows(
        "mass",
        ("lb", POUND, IMPERIAL, "lbs, pound, pounds"),
        ("oz", POUND / 16, IMPERIAL, "ounce, ounces"),
        ("g", 1 / MILLE, METRIC, "gram, grams"),
        ("kg", F(1), METRIC, "kilogram, kilograms, kilo, kilos"),
        ("t", MILLE, METRIC, "tonne, tonnes"),
    ),
    *_rows(
        "line_mass",
        ("lb/ft", POUND / FOOT, IMPERIAL, "lbs/ft, plf"),
        ("kg/m", F(1), METRIC),
    ),
    *_rows("area_mass", *_PER_AREA),
    *_rows(
        "area_load",
        ("psf", POUND * GRAVITY / SQUARE_FOOT, IMPERIAL, "lb/ft2, lbs/ft2, lb/sqft, lbf/ft2"),
        ("kN/m²", MILLE, METRIC, "kPa"),
        ("Pa", F(1), METRIC, "N/m2"),
        ("kg/m²", GRAVITY, METRIC),
    ),
    *_rows(
        "density",
        ("lb/ft³", POUND / CUBIC_FOOT, IMPERIAL, "pcf, lbs/ft3, lb/cuft"),
        ("kg/m³", F(1), METRIC),
    ),
    *_rows(
        "pressure",
        ("psi", POUND * GRAVITY / INCH**2, IMPERIAL, "psig, lbf/in2"),
        ("in H2O", INCH * MILLE * GRAVITY, IMPERIAL, "in wc, inwg"),
        ("Pa", F(1), METRIC),
        ("hPa", F(100), METRIC, "mbar"),
        ("kPa", MILLE, METRIC),
        ("bar", F(10**5), METRIC, "bars"),
        ("MPa", F(10**6), METRIC, "MPA"),
        ("GPa", F(10**9), METRIC),
    ),
    Unit("°C", "temperature", F(1), METRIC, ("C", "celsius", "℃", "degrees C")),
    Unit("°F", "temperature", RANKINE, IMPERIAL, ("F", "fahrenheit", "℉", "degrees F"), F(-32)),
    Unit("K", "temperature", F(1), METRIC, ("kelvin",), F("-273.15")),
    *_rows(
        "temperature_difference",
        ("K", F(1), METRIC, "kelvin"),
        ("°C", F(1), METRIC, "C"),
        ("°F", RANKINE, IMPERIAL, "F"),
    ),
    *_rows("color_temperature", ("K", F(1), BOTH, "kelvin")),
    *_rows("power", *((*row[:2], BOTH, row[2]) for row in _POWER), _BTU_PER_HOUR),
    *_rows("power", ("hp", 550 * FOOT * POUND * GRAVITY, IMPERIAL, "horsepower")),
    *_rows("heat_flow", *((*row[:2], METRIC, row[2]) for row in _POWER), _BTU_PER_HOUR),
    *_rows(
        "power_per_length",
        ("W/ft", 1 / FOOT, IMPERIAL, "W/foot"),
        ("W/m", F(1), METRIC, "W/meter"),
    ),
    *_rows(
        "power_per_area",
        ("Btu/h ft²", BTU / HOUR / SQUARE_FOOT, IMPERIAL, "Btu/hr ft2, Btu/h sqft"),
        ("W/ft²", 1 / SQUARE_FOOT, IMPERIAL, "W/sqft"),
        ("W/m²", F(1), METRIC),
    ),
    *_rows(
        "voltage",
        ("V", F(1), BOTH, "volt, volts, VAC, VDC"),
        ("kV", MILLE, BOTH),
        ("mV", 1 / MILLE, BOTH),
    ),
    *_rows("current", ("A", F(1), BOTH, "amp, amps"), ("mA", 1 / MILLE, BOTH)),
    *_rows("apparent_power", ("VA", F(1), BOTH), ("kVA", MILLE, BOTH)),
    *_rows("frequency", ("Hz", F(1), BOTH), ("kHz", MILLE, BOTH)),
    *_rows("wire", ("mm²", F(1, 10**6), METRIC, "sqmm")),
    *_rows("illuminance", ("lx", F(1), METRIC, "lux"), ("fc", 1 / SQUARE_FOOT, IMPERIAL)),
    *_rows(
        "air_flow",
        ("cfm", CUBIC_FOOT / 60, IMPERIAL, "ft3/min"),
        ("L/s", 1 / MILLE, METRIC),
        ("m³/h", 1 / HOUR, METRIC, "m3/hr, cmh"),
        ("m³/s", F(1), METRIC),
    ),
    *_rows(
        "speed",
        ("ft/min", FOOT / 60, IMPERIAL, "fpm"),
        ("mph", 5280 * FOOT / HOUR, IMPERIAL),
        ("ft/s", FOOT, IMPERIAL),
        ("m/s", F(1), METRIC),
        ("km/h", MILLE / HOUR, METRIC),
    ),
    *_rows("sound", ("dB", F(1), BOTH, "decibel, decibels"), ("dBA", F(1), BOTH)),
    *_rows(
        "permeance",
        ("perm", F("5.72135e-11"), IMPERIAL, "perms, US perm, US perms"),
        ("ng/(Pa s m²)", F(1, 10**12), METRIC, "ng/(s m2 Pa), ng/(m2 s Pa), ng/(Pa m2 s)"),
    ),
    *_rows(
        "r_value",
        (
            "h ft² °F/Btu",
            HOUR * SQUARE_FOOT * RANKINE / BTU,
            IMPERIAL,
            "hr ft2 F/Btu, ft2 F h/Btu, ft2 h F/Btu, F ft2 h/Btu",
        ),
        ("m²K/W", F(1), METRIC, "m2 C/W, K m2/W"),
    ),
    *_rows(
        "u_value",
        (
            "Btu/h ft² °F",
            BTU / (HOUR * SQUARE_FOOT * RANKINE),
            IMPERIAL,
            "Btu/hr ft2 F, Btu/ft2 h F, Btu/h sqft F, Btu/ft2 hr F",
        ),
        ("W/m²K", F(1), METRIC, "W/m2 C, W/K m2"),
    ),
    *_rows(
        "conductivity",
        (
            "Btu in/h ft² °F",
            BTU * INCH / (HOUR * SQUARE_FOOT * RANKINE),
            IMPERIAL,
            "Btu in/hr ft2 F, Btu in/ft2 h F",
        ),
        ("Btu/h ft °F", BTU / (HOUR * FOOT * RANKINE), IMPERIAL, "Btu/hr ft F, Btu/ft h F"),
        ("W/mK", F(1), METRIC, "W/m C, W/K m"),
    ),
    *_rows(
        "heat_capacity",
        ("Btu/lb °F", BTU / (POUND * RANKINE), IMPERIAL),
        ("J/kgK", F(1), METRIC, "J/kg C"),
        ("kJ/kgK", MILLE, METRIC, "kJ/kg C"),
    ),
    *_rows("angle", ("°", F(1), BOTH, "degree, degrees, deg")),
    *_rows(
        "ratio",
        (
            "in per ft",
            F(1, 12),
            IMPERIAL,
            '"/ft, "/foot, in/foot, inch/ft, inch/foot, inches/ft, inches/foot',
        ),
        ("mm per m", 1 / MILLE, METRIC),
        ("cm per m", F(1, 100), METRIC),
        ("%", F(1, 100), BOTH, "percent"),
    ),
    *_rows("percent", ("%", F(1, 100), BOTH, "percent, per cent")),
    *_rows(
        "duration",
        ("s", F(1), BOTH, "sec, second, seconds"),
        ("min", F(60), BOTH, "minute, minutes"),
        ("h", HOUR, BOTH, "hr, hrs, hour, hours"),
        ("days", DAY, BOTH, "day, d"),
        ("weeks", 7 * DAY, BOTH, "week, wk, wks"),
        ("months", F("30.4375") * DAY, BOTH, "month"),
        ("years", F("365.25") * DAY, BOTH, "year, yr, yrs"),
    ),
    *_rows(
        "per_day",
        ("per day", F(1), BOTH, "/day, /d, a day, times a day, times per day"),
        ("per hour", F(24), BOTH, "/h, an hour, ACH"),
        ("per week", F(1, 7), BOTH, "a week"),
        ("per month", 1 / F("30.4375"), BOTH, "a month"),
        ("per year", 1 / F("365.25"), BOTH, "a year"),
    ),
    *_rows(
        "hours_per_day",
        ("h/day", F(1), BOTH, "h/d, hours/day, hour/day, hr/day, hrs/day, h a day, hours a day"),
        ("min/day", F(1, 60), BOTH, "minutes/day, minutes a day, min a day, min/d"),
    ),
    *_rows("count", ("bottles", F(1), BOTH, "bottle")),
)

_CHARACTERS = str.maketrans(
    {
        "²": "2",
        "³": "3",
        "°": "deg",
        **dict.fromkeys(" .()^·⋅*-", None),
    }
)


def plain(name: str) -> str:
    """A unit's name without the ways in which people write the same one.

    >>> plain("Btu/(h·ft²·°F)"), plain("btu per h ft2 F"), plain("W/m²·K")
    ('btu/hft2f', 'btu/hft2f', 'w/m2k')
    """
    text = name.casefold()
    if "per " in text:
        text = text.replace("per ", "/") if text.startswith("per ") else text.replace(" per ", "/")
    text = text.translate(_CHARACTERS)
    return text.replace("degf", "f").replace("degc", "c") if "deg" in text else text


_MILLI = frozenset(("mm", "mm2", "mm/m", "ml", "ma", "mv", "mbar"))
_MEGA = frozenset(("mpa",))
"""Names, made plain, in which m and M are two prefixes of SI; the case of any other is free."""


def _index() -> Mapping[str, Mapping[str, Unit]]:
    table: dict[str, dict[str, Unit]] = {name: {} for name in DIMENSIONS}
    for unit in UNITS:
        names = table[unit.dimension]
        for name in (unit.symbol, *filter(None, unit.aliases)):
            names.setdefault(name, unit)
            if plain(name) not in _MEGA:
                names.setdefault(plain(name), unit)
    return MappingProxyType(table)


BY_NAME = _index()


def find(dimension: str, name: str) -> Unit | None:
    """The unit of a dimension by symbol or alias, None where it has no such unit."""
    names = BY_NAME[dimension]
    known = names.get(name)
    if known is None and not (name[:1] == "M" and name[:2] != "MM" and plain(name) in _MILLI):
        known = names.get(plain(name))
    return known
