"""A cut through an assembly: temperature and vapor pressure at every place from face to face."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate
from typing import NamedTuple

from spec.derive.formulas import moisture
from spec.derive.formulas.moisture import Layer, Month, Plane
from spec.derive.formulas.range import not_negative, some


class Slab(NamedTuple):
    """A layer of a cut: its name, thickness [m], 0 for a sheet, and how it resists."""

    name: str
    thickness: float
    layer: Layer


class Station(NamedTuple):
    """A place in the cut.

    at [m] and depth [m of sd] from the room's face; temperature [°C]; saturation and pressure of
    vapor [Pa]; condensing [kg/m²s], 0 where dry; layer: how many slabs lie wholly on the room's
    side of it; between: whether it is the face of a slab, not within one.
    """

    at: float
    depth: float
    temperature: float
    saturation: float
    pressure: float
    condensing: float
    layer: int
    between: bool


class Section(NamedTuple):
    """An assembly in one month, that starts dry; slabs and stations from the room outward.

    number: index of the month among those given; month: its air.
    """

    slabs: tuple[Slab, ...]
    number: int
    month: Month
    stations: tuple[Station, ...]

    @property
    def thickness(self) -> float:
        """From face to face [m]."""
        return self.stations[-1].at

    @property
    def faces(self) -> tuple[Station, ...]:
        """The faces of the slabs, from the room outward."""
        return tuple(station for station in self.stations if station.between)


def worst(slabs: Sequence[Slab], films: tuple[float, float], months: Sequence[Month]) -> Section:
    """The cut in the worst month: where most condenses, else where vapor is nearest to saturation.

    slabs, films: as in `section`; months: at least one. Returns `Section`. Raises OutOfRange.
    Source: ISO 13788:2012 cl. 6; which month is the worst is a rule of this program.
    """
    cuts = [section(slabs, films, month, n) for n, month in enumerate(some(months, "months"))]
    return max(cuts, key=_badness)


def _badness(cut: Section) -> tuple[float, float]:
    """How much condenses, then how near to saturation it comes within."""
    condensing = sum(station.condensing for station in cut.stations)
    nearest = max(station.pressure / station.saturation for station in cut.stations)
    return condensing, nearest


def section(
    slabs: Sequence[Slab], films: tuple[float, float], month: Month, number: int = 0
) -> Section:
    """The cut in one month.

    slabs: from the room outward, at least one; films [m²K/W] of the room's side and the other;
    month: the air; number: which month of the year it is, from 0. Returns `Section`. Raises
    OutOfRange. Source: ISO 13788:2012 cl. 6.
    """
    found = moisture.profile([slab.layer for slab in slabs], films, month)
    deep = [not_negative(slab.thickness, "thickness", "m") for slab in slabs]
    starts = [0.0, *accumulate(deep)]
    resistances = [0.0, *accumulate(slab.layer.resistance for slab in slabs)]

    def at(plane: Plane) -> float:
        """Within a slab all is even: depth goes with resistance."""
        start = starts[plane.layer]
        if not plane.inside_layer:
            return start
        into = plane.resistance - resistances[plane.layer]
        return start + deep[plane.layer] * into / slabs[plane.layer].layer.resistance

    stations = (
        Station(
            at(plane), plane.depth, t, full, pressure, rate, plane.layer, not plane.inside_layer
        )
        for plane, t, full, pressure, rate in zip(
            found.planes,
            found.temperatures,
            found.saturation,
            found.pressures,
            found.condensing,
            strict=True,
        )
    )
    return Section(tuple(slabs), number, month, tuple(stations))
