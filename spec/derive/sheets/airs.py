"""The air of every place: what it carries in summer and in winter, at the site's pressure."""

from __future__ import annotations

from spec.derive.figure import Facts, Worked, figure
from spec.derive.sheets import kinds
from spec.derive.sheets.surroundings import GROUND, elevation, weather
from spec.job.job import Job
from spec.job.node import Node

_SOURCE = "ASHRAE Handbook Fundamentals 2017 ch. 1 eq. 3, 5, 6, 20, 26, 30, 33, 35"
_HOLDS = "-40 to 80 °C (-40 to 176 °F); sites of -500 to 5000 m; sea level where none is written"
_FORMULA = (
    "temperature at which the air is saturated; the wet bulb, W, h, v and ρ at the pressure p of "
    "the standard atmosphere, W in kg of water, h and v for each kg of dry air"
)


def _places(job: Job) -> list[Node]:
    """The rooms that say their climate, and what surrounds them, the ground apart."""
    rooms = [room for room in job.rooms if kinds.says(room, "climate")]
    around = job.tree.group("surroundings")
    return [*rooms, *(place for place in around if place.key != GROUND and place.known)]


def _air(facts: Facts, place: Node, season: str) -> Worked:
    from spec.derive.formulas import air  # noqa: PLC0415 - with psychrolib

    there, pressure = weather(facts, place, season), air.pressure_at(elevation(facts))
    damp = there.damp(f"{place.address}.{season}")
    found = air.state(there.temperature, damp, pressure)
    wet = air.wet_bulb(there.temperature, damp, pressure)
    return Worked(
        found.dew_point,
        given=(
            ("temperature", found.temperature, "temperature"),
            ("humidity", found.humidity, "percent"),
            ("p", pressure, "Pa"),
            ("wet bulb", wet, "temperature"),
            ("vapor pressure", found.vapor_pressure, "Pa"),
            ("W", found.humidity_ratio, "kg/kg"),
            ("h", found.enthalpy, "J/kg"),
            ("v", found.volume, "m³/kg"),
            ("ρ", found.density, "kg/m³"),
        ),
    )


@figure(
    "envelope.summer_air",
    title="Dew point of each place's summer air",
    dimension="temperature",
    formula=_FORMULA,
    source=_SOURCE,
    holds=_HOLDS,
    per=_places,
)
def summer_air(facts: Facts, place: Node) -> Worked:
    """What a place's summer design air carries."""
    return _air(facts, place, "summer")


@figure(
    "envelope.winter_air",
    title="Dew point of each place's winter air",
    dimension="temperature",
    formula=_FORMULA,
    source=_SOURCE,
    holds=_HOLDS,
    per=_places,
)
def winter_air(facts: Facts, place: Node) -> Worked:
    """What a place's winter design air carries."""
    return _air(facts, place, "winter")
