"""The dimensions: what a quantity can measure, its base unit and its bounds."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import NamedTuple


class Dimension(NamedTuple):
    """What a quantity measures.

    `title` reads in a sentence ("a length"), `sample` shows how values are written, `usual`
    are the units that a message proposes, `si` is the base unit of every exact value. Values
    lie within `least` and `most`, in the base unit (None: no bound). `zero_needs_unit` where 0
    of one unit is not 0 of another.
    """

    name: str
    title: str
    si: str
    usual: tuple[str, ...]
    sample: str
    least: Fraction | None = Fraction(0)
    most: Fraction | None = None
    zero_needs_unit: bool = False

    @property
    def noun(self) -> str:
        """The title without its article: "length"."""
        return self.title.partition(" ")[2]


WITH_FRACTIONS = frozenset(
    [
        "length",
        "offset",
        "level",
        "elevation",
        "area",
        "volume",
        "mass",
        "line_mass",
        "pressure",
        "duration",
        "hours_per_day",
        "ratio",
        "r_value",
        "count",
    ]
)
"""Dimensions in which the trade writes fractions, 5/8 in; elsewhere a slash is two values, as in
120/240 V. Horsepower are the exception among powers."""
_ABSOLUTE_ZERO = Fraction("-273.15")

_ALL = (
    Dimension("length", "a length", "m", ("in", "mm"), "24 in or 610 mm"),
    Dimension("offset", "a distance up or down", "m", ("in", "mm"), "-4 in or -100 mm", least=None),
    Dimension("level", "a level", "m", ("in", "mm"), "-3/8 in or -9 mm", least=None),
    Dimension(
        "elevation", "a height above sea level", "m", ("ft", "m"), "60 ft or 18 m", least=None
    ),
    Dimension("area", "an area", "m²", ("ft²", "m²"), "12 ft² or 1.1 m²"),
    Dimension("volume", "a volume", "m³", ("ft³", "L"), "18 in³ or 3 L"),
    Dimension("mass", "a weight", "kg", ("lb", "kg"), "85 lb or 39 kg"),
    Dimension("line_mass", "a weight per length", "kg/m", ("lb/ft", "kg/m"), "17 lb/ft or 25 kg/m"),
    Dimension("area_mass", "a weight per area", "kg/m²", ("psf", "kg/m²"), "4.5 psf or 22 kg/m²"),
    Dimension("area_load", "a floor load", "Pa", ("psf", "kN/m²"), "150 psf or 7.2 kN/m²"),
    Dimension("density", "a density", "kg/m³", ("lb/ft³", "kg/m³"), "34 lb/ft³ or 545 kg/m³"),
    Dimension("pressure", "a pressure", "Pa", ("psi", "bar"), "60 psi or 4 bar"),
    Dimension(
        "temperature",
        "a temperature",
        "°C",
        ("°F", "°C"),
        "55 °F or 13 °C",
        least=_ABSOLUTE_ZERO,
        zero_needs_unit=True,
    ),
    Dimension(
        "temperature_difference", "a difference of temperature", "K", ("°F", "K"), "3 °F or 1.5 K"
    ),
    Dimension("color_temperature", "a color of light", "K", ("K",), "2700 K"),
    Dimension("power", "a power", "W", ("W", "Btu/h"), "40 W or 3400 Btu/h"),
    Dimension(
        "heat_flow", "a cooling or heating power", "W", ("Btu/h", "W"), "3400 Btu/h or 1000 W"
    ),
    Dimension(
        "power_per_length", "a power per length", "W/m", ("W/ft", "W/m"), "3 W/ft or 9.6 W/m"
    ),
    Dimension(
        "power_per_area",
        "a power per area",
        "W/m²",
        ("Btu/h ft²", "W/m²"),
        "14 Btu/h ft² or 45 W/m²",
    ),
    Dimension("voltage", "a voltage", "V", ("V",), "120 V"),
    Dimension("current", "a current", "A", ("A",), "15 A"),
    Dimension("apparent_power", "an apparent power", "VA", ("VA",), "100 VA"),
    Dimension("frequency", "a frequency", "Hz", ("Hz",), "60 Hz"),
    Dimension("wire", "a conductor size", "m²", ("AWG", "mm²"), "14 AWG copper or 2.5 mm²"),
    Dimension("illuminance", "an illuminance", "lx", ("fc", "lx"), "10 fc or 100 lx"),
    Dimension("air_flow", "a flow of air", "m³/s", ("cfm", "L/s"), "190 cfm or 90 L/s"),
    Dimension("speed", "a speed", "m/s", ("ft/min", "m/s"), "50 ft/min or 8 m/s"),
    Dimension("sound", "a sound level", "dB", ("dB", "dBA"), "41 dBA"),
    Dimension(
        "permeance",
        "a vapor permeance",
        "kg/(m² s Pa)",
        ("perm", "ng/(Pa s m²)"),
        "0.06 perm or 3.4 ng/(Pa s m²)",
    ),
    Dimension("r_value", "an R-value", "m²K/W", ("h ft² °F/Btu", "m²K/W"), "R-19 or 3.3 m²K/W"),
    Dimension(
        "u_value", "a U-value", "W/m²K", ("Btu/h ft² °F", "W/m²K"), "0.27 Btu/h ft² °F or 1.5 W/m²K"
    ),
    Dimension(
        "conductivity",
        "a thermal conductivity",
        "W/mK",
        ("Btu in/h ft² °F", "W/mK"),
        "0.25 Btu in/h ft² °F or 0.036 W/mK",
    ),
    Dimension(
        "heat_capacity",
        "a heat capacity",
        "J/kgK",
        ("Btu/lb °F", "kJ/kgK"),
        "0.2 Btu/lb °F or 0.84 kJ/kgK",
    ),
    Dimension("angle", "an angle", "°", ("°",), "88°", most=Fraction(360)),
    Dimension("percent", "a percentage", "1", ("%",), "60 %", most=Fraction(1)),
    Dimension("ratio", "a slope", "rise/run", ("in per ft", "%"), "1/4 in per ft, 2 % or 4 to 1"),
    Dimension("duration", "a time", "s", ("h", "days"), "72 h, 14 days or 10 weeks"),
    Dimension("per_day", "a number of times a day", "1/day", ("per day",), "8 per day"),
    Dimension("hours_per_day", "a time per day", "h/day", ("h/day",), "2 h/day", most=Fraction(24)),
    Dimension("money", "an amount of money", "currency", ("USD", "EUR"), "2400 USD", least=None),
    Dimension("count", "a whole number", "1", ("bottles",), "12"),
)

DIMENSIONS: Mapping[str, Dimension] = MappingProxyType({row.name: row for row in _ALL})
