"""A cut through a surface in its worst month: what it is made of, how warm, how damp.

The layers stand in two fields one above the other, the room at the left: above the temperature,
below the pressure of the vapor and the pressure at which it would condense, dashed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor, log10

from spec.derive.formulas.section import Section
from spec.draw.label import OWN, QUIET, extent
from spec.draw.paper import WIDEST, Paper
from spec.draw.scene import Circle, Fill, Label, Point, Polygon, Polyline, Scene, Shape
from spec.quantity import show

_LEFT, _RIGHT, _FIELD, _BETWEEN = 24.0, 24.0, 42.0, 13.0
"""On paper [mm]: white at both sides, height of a field, white over each field."""
_SHEET = 0.8
"""Layers thinner than this on paper [mm] are drawn as one strong line."""
_TICKS = 4
_STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)
_FILLS: tuple[Fill, ...] = ("light", "mid")


@dataclass(frozen=True, slots=True)
class _Field:
    """One field: its scale in even steps, and between which heights [mm] it stands."""

    low: float
    high: float
    step: float
    bottom: float
    top: float

    def y(self, value: float) -> float:
        """Height of a value in the drawing [mm]."""
        return self.bottom + (value - self.low) / (self.high - self.low) * (self.top - self.bottom)


def section(cut: Section, system: str, cites: frozenset[str] = frozenset()) -> Scene:
    """The drawing of a cut, in the units of a system ("imperial" or "metric")."""
    across = cut.thickness * 1000.0
    paper = Paper(max(across, 1.0) / (WIDEST - _LEFT - _RIGHT))
    high, gap = paper.real(_FIELD), paper.real(_BETWEEN)
    degrees = _fahrenheit if system == "imperial" else _celsius
    sides = cut.month.room, cut.month.beyond
    warm = [degrees(t) for t in (*sides, *(s.temperature for s in cut.stations))]
    damp = [p for s in cut.stations for p in (s.pressure, s.saturation)]
    temperatures = _Field(*_scale_for(warm), high + gap, 2 * high + gap)
    pressures = _Field(*_scale_for([0.0, *damp]), 0.0, high)
    shapes: list[Shape] = []
    for field in (temperatures, pressures):
        shapes += _layers(cut, field, paper, cites)
    unit = "°F" if system == "imperial" else "°C"
    shapes += _scale(temperatures, across, paper, lambda t: f"{t:g} {unit}")
    shapes += _scale(pressures, across, paper, lambda p: f"{p:g} Pa")
    shapes += _curves(cut, temperatures, pressures, degrees, paper, cites)
    shapes += _sides(cut, (temperatures, pressures), across, paper, system)
    return Scene(tuple(shapes))


def _celsius(temperature: float) -> float:
    return temperature


def _fahrenheit(temperature: float) -> float:
    return temperature * 1.8 + 32.0


def _scale_for(values: Sequence[float]) -> tuple[float, float, float]:
    """Even ends of a scale that holds all values, and its step."""
    step = _step(max(values) - min(values))
    low = floor(min(values) / step)
    return step * low, step * max(ceil(max(values) / step), low + 1), step


def _step(span: float) -> float:
    """An even step that parts a span into about four."""
    rough = max(span, 1e-9) / _TICKS
    power = 10.0 ** floor(log10(rough))
    return next(power * step for step in _STEPS if power * step >= rough - 1e-12)


def _layers(cut: Section, field: _Field, paper: Paper, cites: frozenset[str]) -> Iterator[Shape]:
    """The layers as bands with their numbers above them, a sheet as a strong line."""
    right = -1e9
    row = 0
    for number, (near, far) in enumerate(pairwise(cut.faces), 1):
        left, end = near.at * 1000.0, far.at * 1000.0
        if end - left < paper.real(_SHEET):
            yield Polyline(((left, field.bottom), (left, field.top)), "cut", cites)
        else:
            corners = (
                (left, field.bottom),
                (end, field.bottom),
                (end, field.top),
                (left, field.top),
            )
            yield Polygon(corners, "thin", _FILLS[number % 2], cites)
        middle = (left + end) / 2
        half = paper.real(extent(str(number), OWN, strong=False)[0]) / 2
        row = row + 1 if middle - half < right else 0
        right = max(right, middle + half)
        height = field.top + paper.real(2.0 + 3.2 * row)
        yield Label((middle, height), str(number), OWN, cites=cites)


def _scale(
    field: _Field, across: float, paper: Paper, words: Callable[[float], str]
) -> Iterator[Shape]:
    for n in range(round((field.high - field.low) / field.step) + 1):
        value = field.low + n * field.step
        y = field.y(value)
        yield Polyline(((-paper.real(1.2), y), (across, y)), "quiet")
        yield Label((-paper.real(2.0), y), words(value), QUIET, anchor="end")


def _curves(
    cut: Section,
    temperatures: _Field,
    pressures: _Field,
    degrees: Callable[[float], float],
    paper: Paper,
    cites: frozenset[str],
) -> Iterator[Shape]:
    def line(of: Callable[[int], float]) -> tuple[Point, ...]:
        return tuple((s.at * 1000.0, of(n)) for n, s in enumerate(cut.stations))

    stations = cut.stations
    yield Polyline(
        line(lambda n: temperatures.y(degrees(stations[n].temperature))), "outline", cites
    )
    yield Polyline(line(lambda n: pressures.y(stations[n].saturation)), "hidden", cites)
    yield Polyline(line(lambda n: pressures.y(stations[n].pressure)), "outline", cites)
    for station in stations:
        if station.condensing > 0.0:
            at = station.at * 1000.0, pressures.y(station.pressure)
            yield Circle(at, paper.real(1.4), "outline", "held", cites)


def _sides(
    cut: Section, fields: tuple[_Field, _Field], across: float, paper: Paper, system: str
) -> Iterator[Shape]:
    """What each side is, its air, and what the curves are at their far end."""
    warm, damp = fields
    degrees = _fahrenheit if system == "imperial" else _celsius
    beside = across + paper.real(2.0)
    last = cut.stations[-1]
    month = cut.month
    for x, anchor, name, air in (
        (-paper.real(2.0), "end", "room", month.room),
        (beside, "start", "beyond", month.beyond),
    ):
        over = warm.top + paper.real(7.0)
        text = f"{name}\n{show(air, 'temperature', system)}"
        yield Label((x, over), text, OWN, anchor="end" if anchor == "end" else "start", strong=True)
    yield Label((beside, warm.y(degrees(last.temperature))), "temperature", QUIET, anchor="start")
    full, held = damp.y(last.saturation), damp.y(last.pressure)
    apart = max(paper.real(4.0) - abs(full - held), 0.0) / 2
    yield Label((beside, full + apart), "saturation", QUIET, anchor="start")
    yield Label((beside, held - apart), "vapor pressure", QUIET, anchor="start")
