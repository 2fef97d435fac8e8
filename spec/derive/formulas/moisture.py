"""Water vapor through an assembly: condensation planes, month by month, and what becomes of it.

The method is that of ISO 13788 (Glaser), on the lower convex hull of saturation over vapor
thickness, so that several planes come out right. The warm side is found for each month from the
vapor pressures: a cooled room turns the drive round, in some climates for part of the year.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Literal, NamedTuple

from spec.derive.formulas.envelope import temperatures
from spec.derive.formulas.range import NotCovered, not_negative, positive, some, within
from spec.quantity import vapor

PERMEABILITY = 2.0e-10
"""[kg/(m s Pa)] Vapor permeability of still air, δ0. ISO 13788:2012 cl. 4."""

PERM = 5.72e-11
"""[kg/(m² s Pa)] One US perm. ASHRAE Fundamentals 2017 ch. 39."""

STEP = 0.25
"""[m²K/W] Layers of more resistance are split. ISO 13788:2012 cl. 6."""

DAY = 86_400.0
"""[s]"""

Verdict = Literal["dry", "dries_out", "accumulates", "hygrothermal_analysis_required"]


class Layer(NamedTuple):
    """One layer, from the room outward.

    resistance [m²K/W], 0 or more; vapor_thickness [m]: sd = μ d, above 0 (for a sheet
    `thickness_from_permeance`).
    """

    resistance: float
    vapor_thickness: float


class Month(NamedTuple):
    """Mean air on both sides over a time.

    room, beyond [°C]; room_humidity, beyond_humidity [-], 0 to 1; days [days], above 0.
    """

    room: float
    room_humidity: float
    beyond: float
    beyond_humidity: float
    days: float = 30.4375

    @property
    def drive(self) -> float:
        """Vapor pressure beyond less that in the room [Pa]; above 0 vapor is driven inward."""
        there = self.beyond_humidity * saturation(self.beyond)
        return there - self.room_humidity * saturation(self.room)


class Plane(NamedTuple):
    """A place in the assembly.

    resistance [m²K/W] and depth [m of sd] from the room; layer: how many of the layers given lie
    wholly on the room's side of it; inside_layer: whether it lies within the next one.
    """

    resistance: float
    depth: float
    layer: int
    inside_layer: bool


class Profile(NamedTuple):
    """Steady state of one month in an assembly that starts dry.

    planes; temperatures [°C], saturation [Pa], pressures [Pa] at each; condensing: for each plane
    the rate [kg/m²s], 0 where dry.
    """

    planes: tuple[Plane, ...]
    temperatures: tuple[float, ...]
    saturation: tuple[float, ...]
    pressures: tuple[float, ...]
    condensing: tuple[float, ...]


class Year(NamedTuple):
    """Twelve months with what each hands on to the next.

    verdict; start: index of the month in which the reckoning starts; water [kg/m²] in the whole
    assembly at the end of each month, in calendar order; peak [kg/m²], the most, and peak_plane
    where most of it lies then (None when dry); left [kg/m²] after twelve months; reverses: whether
    the drive changes direction through the year; condensing_months: indices of months in which a
    dry assembly would begin to condense.
    """

    verdict: Verdict
    start: int
    water: tuple[float, ...]
    peak: float
    peak_plane: Plane | None
    left: float
    reverses: bool
    condensing_months: tuple[int, ...]


def saturation(temperature: float) -> float:
    """Saturation pressure as this chapter uses it.

    temperature [°C], -40 to 80. Returns [Pa]. Raises OutOfRange.
    Source: ISO 13788:2012 annex E.

    >>> round(saturation(20.0))
    2337
    """
    return vapor.saturation(within(temperature, -40.0, 80.0, "temperature", "°C"))


def thickness_from_permeance(permeance: float) -> float:
    """Vapor thickness sd of a sheet from its permeance.

    permeance [kg/(m² s Pa)] (one perm is PERM), above 0. Returns [m]. Raises OutOfRange.
    Source: sd = δ0 / W, ISO 12572.

    >>> round(thickness_from_permeance(1.0 * PERM), 2)
    3.5
    """
    return PERMEABILITY / positive(permeance, "vapor permeance", "kg/(m² s Pa)")


def permeance(layers: Sequence[Layer]) -> float:
    """Permeance of layers one behind the other.

    layers: at least one. Returns [kg/(m² s Pa)]. Raises OutOfRange. Source: W = δ0 / Σ sd.
    """
    return PERMEABILITY / math.fsum(_thickness(layer) for layer in some(layers, "layers"))


def retarder_class(permeance: float) -> int:
    """Class of a vapor retarder.

    permeance [kg/(m² s Pa)], 0 or more. Returns 1, 2 or 3, and 0 where it is none.
    Raises OutOfRange. Source: IRC 2021 R702.7: I to .1 perm, II to 1.0, III to 10. That section is
    about heated buildings: the classes, not the duty, hold for a cooled room.
    """
    perms = not_negative(permeance, "vapor permeance", "kg/(m² s Pa)") / PERM
    for number, limit in ((1, 0.1), (2, 1.0), (3, 10.0)):
        if perms <= limit * (1.0 + 1e-9):
            return number
    return 0


def profile(layers: Sequence[Layer], films: tuple[float, float], month: Month) -> Profile:
    """Temperatures, pressures and condensation in an assembly that starts dry.

    layers: from the room outward, at least one; films [m²K/W] of the room's side (.25) and the
    other (.04 outdoors), each 0 or more; month: the air. Returns `Profile` over all planes, thick
    layers split. A face that sweats counts as saturated: `glazing.sweat` is the check for faces.
    Raises OutOfRange. Source: ISO 13788:2012 cl. 6.
    """
    planes = _planes(layers)
    state = _State(layers, films, month, planes)
    rates, pressures = state.solve({})
    return Profile(planes, state.temperature, state.saturation, pressures, rates)


def year(layers: Sequence[Layer], films: tuple[float, float], months: Sequence[Month]) -> Year:
    """A year's condensation and drying, and the verdict.

    layers, films: as in `profile`; months: in calendar order, one year, at least one. Returns
    `Year`: dry; dries out (with its peak); accumulates; or, where a month condenses and the drive
    also turns round through the year, hygrothermal analysis required, neither pass nor fail.
    Raises OutOfRange. Source: ISO 13788:2012 cl. 6; a plane that dries within a month is taken out
    of the reckoning at that moment.
    """
    planes = _planes(layers)
    states = [_State(layers, films, month, planes) for month in some(months, "months")]
    wet = tuple(i for i, state in enumerate(states) if any(state.solve({})[0]))
    drives = [month.drive for month in months]
    reverses = min(drives) < 0.0 < max(drives)
    if not wet:
        none = tuple(0.0 for _ in months)
        return Year("dry", 0, none, 0.0, None, 0.0, reverses, ())
    starts = [i for i in wet if (i - 1) % len(months) not in wet] or [0]
    runs = [_run(states, months, start) for start in starts]
    # A start after which all has dried again shows the year as it repeats itself.
    start, trail = min(zip(starts, runs, strict=True), key=lambda found: sum(found[1][-1].values()))
    left = math.fsum(trail[-1].values())
    totals = [math.fsum(stock.values()) for stock in trail]
    peak = max(totals)
    most = max(trail[totals.index(peak)].items(), key=lambda entry: entry[1])[0]
    verdict: Verdict = "accumulates" if left > 0.0 else "dries_out"
    if reverses:
        verdict = "hygrothermal_analysis_required"
    by_calendar = tuple(totals[(i - start) % len(months)] for i in range(len(months)))
    return Year(verdict, start, by_calendar, peak, planes[most], left, reverses, wet)


class _State:
    """One month's temperatures and saturation pressures, ready to be solved for vapor."""

    def __init__(
        self,
        layers: Sequence[Layer],
        films: tuple[float, float],
        month: Month,
        planes: tuple[Plane, ...],
    ) -> None:
        within(month.room_humidity, 0.0, 1.0, "relative humidity of the room")
        within(month.beyond_humidity, 0.0, 1.0, "relative humidity beyond")
        positive(month.days, "length of the month", "days")
        steps = [b.resistance - a.resistance for a, b in pairwise(planes)]
        path = [not_negative(films[0], "film"), *steps, not_negative(films[1], "film")]
        self.temperature = temperatures(path, month.room, month.beyond)[1:-1]
        self.saturation = tuple(saturation(t) for t in self.temperature)
        self.depth = tuple(plane.depth for plane in planes)
        # Air that is wetter than its surface can be has wetted the surface: the surface rules.
        room = month.room_humidity * saturation(month.room)
        beyond = month.beyond_humidity * saturation(month.beyond)
        self.ends = (min(room, self.saturation[0]), min(beyond, self.saturation[-1]))

    def solve(self, wet: Mapping[int, float]) -> tuple[tuple[float, ...], tuple[float, ...]]:
        """Rates [kg/m²s] of gain and pressures [Pa] at each plane, planes in `wet` saturated."""
        last = len(self.depth) - 1
        pressure = [*self.saturation]
        pressure[0], pressure[last] = self.ends
        fixed = sorted({0, last, *wet})
        corners = [0]
        for a, b in pairwise(fixed):
            corners += _lower_hull([(self.depth[i], pressure[i]) for i in range(a, b + 1)], a)[1:]
        rates, found = [0.0] * (last + 1), [*pressure]
        for a, b in pairwise(corners):
            slope = (pressure[b] - pressure[a]) / (self.depth[b] - self.depth[a])
            for i in range(a + 1, b):
                found[i] = pressure[a] + slope * (self.depth[i] - self.depth[a])
            rates[a] += PERMEABILITY * slope
            rates[b] -= PERMEABILITY * slope
        rates[0] = rates[last] = 0.0
        return tuple(rates), tuple(found)


def _run(states: Sequence[_State], months: Sequence[Month], start: int) -> list[dict[int, float]]:
    """Water [kg/m²] by plane at the end of each of twelve months from a dry start."""
    stock: dict[int, float] = {}
    trail = []
    for n in range(len(states)):
        i = (start + n) % len(states)
        left = months[i].days * DAY
        while left > 0.0:
            rates, _ = states[i].solve(stock)
            drying = [-stock[p] / rates[p] for p in stock if rates[p] < 0.0]
            step = min([left, *drying])
            grown = {
                p: stock.get(p, 0.0) + r * step for p, r in enumerate(rates) if r or p in stock
            }
            # a plane that is gone, or whose gain vanishes, drops out; no rounding keeps it wet
            stock = {p: m for p, m in grown.items() if m > 1e-15}
            left -= step
        trail.append(stock)
    return trail


def _planes(layers: Sequence[Layer]) -> tuple[Plane, ...]:
    """Every boundary, and the cuts within thick layers, from the room outward."""
    found = [Plane(0.0, 0.0, 0, inside_layer=False)]
    for number, layer in enumerate(some(layers, "layers")):
        parts = max(1, math.ceil(not_negative(layer.resistance, "resistance") / STEP - 1e-9))
        first = found[-1]
        for part in range(1, parts + 1):
            whole = part == parts
            found.append(
                Plane(
                    first.resistance + layer.resistance * part / parts,
                    first.depth + _thickness(layer) * part / parts,
                    number + 1 if whole else number,
                    inside_layer=not whole,
                )
            )
    return tuple(found)


def _lower_hull(points: Sequence[tuple[float, float]], first: int) -> list[int]:
    """Numbers, from `first`, of the corners of the lower convex hull, ends always in."""
    hull: list[int] = []
    for i, (x, y) in enumerate(points):
        while len(hull) > 1:
            (x0, y0), (x1, y1) = points[hull[-2]], points[hull[-1]]
            before, after = (y1 - y0) * (x - x0), (y - y0) * (x1 - x0)
            if after - before > 1e-12 * (abs(before) + abs(after)):
                break
            hull.pop()
        hull.append(i)
    return [first + i for i in hull]


def _thickness(layer: Layer) -> float:
    if not (math.isfinite(layer.vapor_thickness) and layer.vapor_thickness > 0.0):
        raise NotCovered("a layer has no vapor thickness; even air has its own thickness")
    return layer.vapor_thickness
