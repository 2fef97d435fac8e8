"""Vapor through the surfaces of cooled rooms: water within over the year, dew on the warm face."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from spec.derive.figure import Facts, Part, Worked, figure
from spec.derive.formulas import moisture as formulas
from spec.derive.formulas.envelope import INSIDE_FILM, OUTSIDE_FILM
from spec.derive.formulas.materials import material
from spec.derive.formulas.range import NotCovered, OutOfRange
from spec.derive.formulas.section import Section, Slab, worst
from spec.derive.sheets import build_up, kinds
from spec.derive.sheets.surroundings import GROUND, Weather, beyond, months, outside, weather
from spec.job.job import Job
from spec.job.node import Node, Open
from spec.place.build_up import roles, thickness

_SOURCE = "ISO 13788:2012 cl. 6 (Glaser), δ0 2.0e-10 kg/(m s Pa)"
_THINNEST = 0.01
"""[m] Vapor thickness of a sheet of which nothing is known: next to nothing."""
_WORDS = {
    "dry": "dry in all twelve months",
    "dries_out": "condenses and dries within the year",
    "accumulates": "gathers water from year to year",
    "hygrothermal_analysis_required": "condenses while the drive turns round through the year: a "
    "hygrothermal analysis is due",
}


def _above_ground(job: Job) -> list[Node]:
    """Surfaces of cooled rooms that are built and do not lie on the ground."""
    found = []
    for surface in kinds.cooled_surfaces(job):
        faces = surface.find("faces")
        if faces is not None and faces.value == GROUND:
            continue
        if any(kinds.says(surface, key) for key in ("assembly", "partition", "on", "back_of")):
            found.append(surface)
    return found


def _built(job: Job) -> list[Node]:
    return [
        surface
        for surface in kinds.cooled_surfaces(job)
        if kinds.says(surface, "assembly") or kinds.says(surface, "partition")
    ]


def _slabs(facts: Facts, surface: Node) -> list[Slab]:
    """The layers of a surface from the room outward, as the method takes them."""
    found = []
    for layer in build_up.through(facts, surface):
        if "ground" in roles(layer):
            continue
        heat = build_up.thermal(surface, layer, "horizontal").resistance
        as_taken = formulas.Layer(heat, _vapor_thickness(facts, layer))
        found.append(Slab(layer.key.replace("_", " "), thickness(layer), as_taken))
    if not found:
        raise NotCovered("nothing is built on this surface")
    return found


def _vapor_thickness(facts: Facts, layer: Node) -> float:
    """Vapor thickness of a layer [m], by its written permeance, else by its material."""
    if kinds.says(layer, "perm"):
        return max(formulas.thickness_from_permeance(layer.si("perm")), _THINNEST)
    damp = material(layer.word("material")).vapor_thickness(thickness(layer))
    return max(damp * facts.job.limit("vapor_thickness.of_table"), _THINNEST)


def retarder_class(facts: Facts, layer: Node) -> int:
    """Class of a layer as a vapor retarder, 0 where it is none; raises `Open` and `OutOfRange`."""
    return formulas.retarder_class(formulas.PERMEABILITY / _vapor_thickness(facts, layer))


def _months(facts: Facts, surface: Node) -> list[formulas.Month]:
    room = facts.job.thing(surface.room)
    if room is None:
        raise Open(surface.address)
    inside = room.si("climate.temperature"), room.si("climate.humidity")
    return [
        formulas.Month(*inside, temperature, humidity)
        for temperature, humidity in months(facts, beyond(facts, surface))
    ]


def _films(facts: Facts, surface: Node) -> tuple[float, float]:
    far = beyond(facts, surface)
    there = OUTSIDE_FILM if outside(facts, far) else INSIDE_FILM["horizontal"]
    return facts.job.limit("surface.film"), there


def year(facts: Facts, surface: Node) -> formulas.Year:
    """Twelve months of condensation and drying in a surface; raises `Open` and `OutOfRange`."""

    def work() -> formulas.Year:
        layers = [slab.layer for slab in _slabs(facts, surface)]
        return formulas.year(layers, _films(facts, surface), _months(facts, surface))

    found: formulas.Year = facts.shared.get(f"year@{surface.address}", work, (Open, OutOfRange))
    return found


def worst_month(facts: Facts, surface: Node) -> Section:
    """The cut through a surface in its worst month; raises `Open` and `OutOfRange`."""
    return worst(_slabs(facts, surface), _films(facts, surface), _months(facts, surface))


def verdict(facts: Facts, surface: Node) -> formulas.Verdict:
    """The verdict of the year on a surface: dry, dries_out, accumulates or analysis required."""
    return year(facts, surface).verdict


@figure(
    "envelope.condensate",
    title="Most water within the layers, over a year",
    dimension="area_mass",
    formula="Glaser by the lower convex hull of saturation over vapor thickness; month by month",
    source=_SOURCE,
    holds="steady months, between the framing; places indoors run from their winter to their "
    "summer in step with the weather; no rain, no air through holes",
    per=_above_ground,
    trades=("insulation",),
    ranged=True,
)
def condensate(facts: Facts, surface: Node) -> Worked:
    """Peak of the water that a surface holds; the remark is the verdict in words."""
    found = year(facts, surface)
    given = [("left after the year", found.left, "area_mass")]
    if found.peak_plane is not None:
        given.append(("layers on the room's side of it", float(found.peak_plane.layer), "count"))
    given.append(("months that condense", float(len(found.condensing_months)), "count"))
    return Worked(found.peak, given=tuple(given), remark=_WORDS[found.verdict])


@figure(
    "envelope.condensate_left",
    title="Water left within the layers after a year",
    dimension="area_mass",
    formula="water condensed - water dried; by Glaser, month by month over a year, never below 0",
    source=_SOURCE,
    per=_above_ground,
)
def condensate_left(facts: Facts, surface: Node) -> float:
    """Water that does not dry within the year."""
    return year(facts, surface).left


@figure(
    "envelope.retarder",
    title="Permeance of the retarder",
    dimension="permeance",
    formula="δ_0 / s_d; s_d in m, of the tightest layer with the role of retarder; its permeance "
    "as written where it is",
    source="ISO 12572; EN ISO 10456; classes IRC R702.7, written for heated buildings",
    per=_built,
    trades=("insulation",),
)
def retarder(facts: Facts, surface: Node) -> Worked:
    """Permeance of the layer that is to keep vapor out."""
    found: list[tuple[float, str, float]] = []
    for layer in build_up.through(facts, surface):
        if "retarder" not in roles(layer):
            continue
        damp = _vapor_thickness(facts, layer)
        found.append((formulas.PERMEABILITY / damp, layer.key, damp))
    if not found:
        raise NotCovered("no layer has the role of a retarder")
    tightest, name, damp = min(found)
    given = ("δ_0", formulas.PERMEABILITY, "kg/(m s Pa)"), ("s_d", damp, "m")
    number = formulas.retarder_class(tightest)
    called = f"class {'I' * number}" if number else "no retarder"
    return Worked(tightest, given=given, remark=f"{name.replace('_', ' ')}, {called}")


@figure(
    "envelope.retarder_depth",
    title="Depth of the retarder behind the finished face",
    dimension="length",
    formula="sum of the layers on the room's side of the retarder",
    source="sum",
    holds="without the finish on the face",
    per=_built,
    trades=("millwork",),
)
def retarder_depth(facts: Facts, surface: Node) -> Worked:
    """How far a screw goes into a surface before it reaches the retarder."""
    before: list[Part] = []
    for layer in build_up.through(facts, surface):
        if "retarder" in roles(layer):
            return Worked(sum(part.value for part in before), parts=tuple(before))
        before.append(Part(layer.key.replace("_", " "), thickness(layer)))
    raise NotCovered("no layer has the role of a retarder")


class _Face(NamedTuple):
    """The warm face of a surface in a season, and the dew point of the air before it [°C]."""

    season: str
    film: float
    warm: float
    cold: float
    face: float
    dew: float


def _faces(facts: Facts, surface: Node) -> Iterator[_Face]:
    """The warm face in summer, and in winter where the job says how winter is there."""
    from spec.derive.formulas import air, glazing  # noqa: PLC0415 - with psychrolib

    far, room = beyond(facts, surface), facts.job.thing(surface.room)
    if room is None:
        raise Open(surface.address)
    u = facts.figures.value("envelope.u_value", surface)
    sheltered = facts.job.limit("surface.film")
    cold = Weather(room.si("climate.temperature"), room.si("climate.humidity"))
    for season in ("summer", "winter"):
        try:
            there = weather(facts, far, season)
        except Open:
            if season == "summer":
                raise
            continue
        warm, other, film = there, cold, OUTSIDE_FILM if outside(facts, far) else sheltered
        if there.temperature < cold.temperature:
            warm, other, film = cold, there, sheltered
        dew = air.dew_point(warm.temperature, warm.damp(f"{far.address}.{season}"))
        face = glazing.surface_temperature(u, film, warm.temperature, other.temperature)
        yield _Face(season, film, warm.temperature, other.temperature, face, dew)


@figure(
    "envelope.dew_margin",
    title="Warm face over the dew point beside it",
    dimension="temperature_difference",
    formula="t_warm - U R_s (t_warm - t_cold) - dew point; the least of summer and winter design "
    "air",
    source="ISO 13788:2012; R_s 0.04 outdoors, that of a sheltered face elsewhere",
    holds="between the framing counted as the mean; below 0 it sweats",
    per=_above_ground,
    trades=("insulation",),
    ranged=True,
)
def dew_margin(facts: Facts, surface: Node) -> Worked:
    """How far the warm face of a surface stays above the dew point of the air before it."""
    worst = min(_faces(facts, surface), key=lambda at: at.face - at.dew)
    return Worked(
        worst.face - worst.dew,
        given=(
            ("U", facts.figures.value("envelope.u_value", surface), "u_value"),
            ("R_s", worst.film, "r_value"),
            ("t_warm", worst.warm, "temperature"),
            ("t_cold", worst.cold, "temperature"),
            ("face", worst.face, "temperature"),
            ("dew point", worst.dew, "temperature"),
        ),
        remark=worst.season,
    )
