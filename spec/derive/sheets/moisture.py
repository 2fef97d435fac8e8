"""Vapor through the surfaces of cooled rooms: condensation over the year, dew on the warm side."""

from __future__ import annotations

from spec.derive.figure import Facts, Worked, figure
from spec.derive.formulas import moisture as formulas
from spec.derive.formulas.envelope import INSIDE_FILM, OUTSIDE_FILM, SHELTERED_FILM
from spec.derive.formulas.materials import material
from spec.derive.formulas.range import NotCovered
from spec.derive.sheets import build_up, kinds
from spec.derive.sheets.surroundings import GROUND, beyond, months, outside, weather
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


def _layers(facts: Facts, surface: Node) -> list[formulas.Layer]:
    """The layers of a surface from the room outward, as the method takes them."""
    found = []
    for layer in build_up.through(facts, surface):
        if "ground" in roles(layer):
            continue
        deep = thickness(layer)
        if kinds.says(layer, "perm"):
            damp = formulas.thickness_from_permeance(layer.si("perm"))
        else:
            damp = material(layer.word("material")).vapor_thickness(deep)
        heat = build_up.thermal(surface, layer, "horizontal").resistance
        found.append(formulas.Layer(heat, max(damp, _THINNEST)))
    if not found:
        raise NotCovered("nothing is built on this surface")
    return found


def _months(facts: Facts, surface: Node) -> list[formulas.Month]:
    room = facts.job.thing(surface.room)
    if room is None:
        raise Open(surface.address)
    inside = room.si("climate.temperature"), room.si("climate.humidity")
    return [
        formulas.Month(*inside, temperature, humidity)
        for temperature, humidity in months(facts, beyond(facts, surface))
    ]


def year(facts: Facts, surface: Node) -> formulas.Year:
    """Twelve months of condensation and drying in a surface; raises `Open` and `OutOfRange`."""
    far = beyond(facts, surface)
    films = SHELTERED_FILM, OUTSIDE_FILM if outside(facts, far) else INSIDE_FILM["horizontal"]
    return formulas.year(_layers(facts, surface), films, _months(facts, surface))


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
    formula="as above; carried over twelve months",
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
    formula="δ_0 / s_d; the tightest layer with the role of retarder; its permeance as written "
    "where it is",
    source="ISO 12572; EN ISO 10456",
    per=_built,
    trades=("insulation",),
)
def retarder(facts: Facts, surface: Node) -> Worked:
    """Permeance of the layer that is to keep vapor out."""
    found: list[tuple[float, str]] = []
    for layer in build_up.through(facts, surface):
        if "retarder" not in roles(layer):
            continue
        if kinds.says(layer, "perm"):
            found.append((layer.si("perm"), layer.key))
            continue
        damp = material(layer.word("material")).vapor_thickness(thickness(layer))
        found.append((formulas.PERMEABILITY / max(damp, _THINNEST), layer.key))
    if not found:
        raise NotCovered("no layer has the role of a retarder")
    tightest, name = min(found)
    return Worked(tightest, remark=f"{name.replace('_', ' ')}")


@figure(
    "envelope.dew_margin",
    title="Warm face over the dew point beside it",
    dimension="temperature_difference",
    formula="t_beyond - U R_s (t_beyond - t_room) - dew point; at the summer design air",
    source="ISO 13788:2012; R_s 0.25 behind things in a room, 0.04 outdoors",
    holds="between the framing counted as the mean; below 0 it sweats",
    per=lambda job: [s for s in _above_ground(job) if s.kind == "wall" or s.key == "ceiling"],
    trades=("insulation",),
)
def dew_margin(facts: Facts, surface: Node) -> Worked:
    """How far the far face of a surface stays above the dew point of the air there in summer."""
    from spec.derive.formulas import air, glazing  # noqa: PLC0415 - with psychrolib

    far, room = beyond(facts, surface), facts.job.thing(surface.room)
    if room is None:
        raise Open(surface.address)
    there = weather(facts, far, "summer")
    cold = room.si("climate.temperature")
    u = facts.figures.value("envelope.u_value", surface)
    film = OUTSIDE_FILM if outside(facts, far) else SHELTERED_FILM
    dew = air.dew_point(there.temperature, there.damp(f"{far.address}.summer"))
    if there.temperature <= cold:
        return Worked(there.temperature - dew, remark="not warmer beyond in summer")
    face = glazing.surface_temperature(u, film, there.temperature, cold)
    return Worked(
        face - dew, given=(("face", face, "temperature"), ("dew point", dew, "temperature"))
    )
