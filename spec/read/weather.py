"""A weather file: an EPW, hour by hour, to its months and the design conditions of its head.

Source of the format: EnergyPlus auxiliary programs, weather converter program, EPW data
dictionary; the order within DESIGN CONDITIONS is that of the tables of climatic design
information in ASHRAE Handbook Fundamentals ch. 14, 2009 to 2021, which name it by their columns.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import NamedTuple

from spec.finding import Place
from spec.quantity.vapor import saturation

_MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
_DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
_YEARS = (8760, 8784)
_MONTH, _DRY_BULB, _HUMIDITY = 2, 7, 9
"""Numbers of the fields of an hour, counted from 1."""
_LONGEST_HEAD = 40
_TAKE_ANOTHER = "take the .epw file of the station nearest to the site, as it was published"

DESIGN = {
    "dry bulb, colder 0.4 % of the year": ("Heating", 2),
    "dew point, drier 0.4 % of the year": ("Heating", 4),
    "dry bulb, warmer 0.4 % of the year": ("Cooling", 3),
    "wet bulb with it, 0.4 %": ("Cooling", 4),
    "dry bulb, warmer 1 % of the year": ("Cooling", 5),
    "wet bulb with it, 1 %": ("Cooling", 6),
}
"""Design values by what they are: the word in the head and how many fields behind it each stands.
The values for 99.6 % of the year are those that 0.4 % of it lie below."""


class NoWeather(ValueError):
    """What keeps a weather file from being used, where, and what puts it right."""

    def __init__(self, message: str, cure: str, line: int, column: int = 1) -> None:
        super().__init__(message)
        self.message, self.cure, self.line, self.column = message, cure, line, column


class Field(NamedTuple):
    """A value [°C] of the head, its number in its line counted from 1, and its place."""

    value: float
    number: int
    place: Place


class Weather(NamedTuple):
    """What a weather file says of a year.

    station: in words; temperatures [°C] and humidities [-], 0 to 1, of twelve months: means of the
    hours, a humidity that at which air of the mean temperature has the mean vapor pressure; rows:
    the place of the first hour; design: by the names of DESIGN, those that the head gives.
    """

    station: str
    temperatures: tuple[float, ...]
    humidities: tuple[float, ...]
    rows: Place
    design: Mapping[str, Field]


@lru_cache(maxsize=4)
def read_weather(content: bytes, name: str) -> Weather:
    """Read the content of an EPW file; `name` is its name in findings. Raises `NoWeather`."""
    try:
        lines = content.decode("utf-8").splitlines()
    except UnicodeDecodeError:
        lines = content.decode("latin-1").splitlines()
    if not lines or not lines[0].startswith("LOCATION,"):
        raise NoWeather("its first line does not begin with LOCATION", _TAKE_ANOTHER, 1)
    first = next(
        (n for n, line in enumerate(lines[:_LONGEST_HEAD], 1) if line.startswith("DATA PERIODS,")),
        0,
    )
    if not first:
        raise NoWeather("it has no line DATA PERIODS before its hours", _TAKE_ANOTHER, len(lines))
    hours = [(n, line) for n, line in enumerate(lines[first:], first + 1) if line.strip()]
    if len(hours) not in _YEARS:
        raise NoWeather(
            f"it has {len(hours)} hours; a year has {_YEARS[0]}, a leap year {_YEARS[1]}",
            "take a file of one whole year, one row an hour",
            hours[-1][0] if hours else first,
        )
    temperatures, humidities = _means(hours)
    place = Place(name, hours[0][0], _column(hours[0][1], _DRY_BULB))
    design = dict(_design(lines[:first], name))
    return Weather(_station(lines[0]), temperatures, humidities, place, design)


def _means(hours: list[tuple[int, str]]) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Twelve mean temperatures [°C] and the humidities [-] of the mean vapor pressures."""
    warmth: list[list[float]] = [[] for _ in _MONTHS]
    vapor: list[list[float]] = [[] for _ in _MONTHS]
    for number, line in hours:
        fields = line.split(",", _HUMIDITY)
        month = _number(fields, _MONTH, number, line, (1.0, 12.0), "month")
        dry_bulb = _number(fields, _DRY_BULB, number, line, (-70.0, 70.0), "dry bulb", 99.9)
        damp = _number(fields, _HUMIDITY, number, line, (0.0, 110.0), "relative humidity", 999.0)
        warmth[int(month) - 1].append(dry_bulb)
        vapor[int(month) - 1].append(min(damp / 100.0, 1.0) * saturation(dry_bulb))
    for named, days, found in zip(_MONTHS, _DAYS, warmth, strict=True):
        usual = days * 24
        if len(found) != usual and not (days == 28 and len(found) == usual + 24):
            raise NoWeather(
                f"{named} has {len(found)} hours in it, not {usual}",
                "take a file of one whole year, one row an hour",
                hours[-1][0],
            )
    means = tuple(math.fsum(found) / len(found) for found in warmth)
    pressures = (math.fsum(found) / len(found) for found in vapor)
    return means, tuple(min(p / saturation(t), 1.0) for p, t in zip(pressures, means, strict=True))


def _design(head: list[str], name: str) -> Iterator[tuple[str, Field]]:
    """The design values of the head; what it leaves empty is left out."""
    found = [(n, line) for n, line in enumerate(head, 1) if line.startswith("DESIGN CONDITIONS,")]
    for line_number, line in found[:1]:
        fields = line.split(",")
        for what, (word, behind) in DESIGN.items():
            number = fields.index(word) + 1 + behind if word in fields else len(fields) + 1
            if number > len(fields) or not fields[number - 1].strip():
                continue
            value = _number(fields, number, line_number, line, (-70.0, 70.0), what, 99.9)
            yield what, Field(value, number, Place(name, line_number, _column(line, number)))


def _number(
    fields: list[str],
    number: int,
    line_number: int,
    line: str,
    bounds: tuple[float, float],
    what: str,
    missing: float = math.inf,
) -> float:
    text = fields[number - 1].strip() if number <= len(fields) else ""
    column = _column(line, number)
    try:
        value = float(text)
    except ValueError:
        said = f"`{text}`" if text else "nothing"
        message = f"field {number}, {what}, holds {said}, which is no number"
        raise NoWeather(message, _TAKE_ANOTHER, line_number, column) from None
    if value >= missing:
        message = f"field {number}, {what}, holds {text}, the code for a value that is missing"
        raise NoWeather(message, "take a file without gaps", line_number, column)
    if not bounds[0] <= value <= bounds[1]:
        message = f"field {number}, {what}, holds {text}; {bounds[0]:g} to {bounds[1]:g} can be"
        raise NoWeather(message, _TAKE_ANOTHER, line_number, column)
    return value


def _column(line: str, number: int) -> int:
    """The column at which a field begins, both counted from 1."""
    return sum(len(field) + 1 for field in line.split(",")[: number - 1]) + 1


def _station(line: str) -> str:
    """The station in words: its name, its country, the kind of its year and its number."""
    city, region, country, kind, number = [*line.split(",")[1:6], *[""] * 5][:5]
    where = ", ".join(word.strip() for word in (city, region, country) if word.strip(" -"))
    return f"{where} ({' '.join((kind.strip(), number.strip())).strip()})"
