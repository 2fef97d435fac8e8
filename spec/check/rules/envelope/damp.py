"""Water in the layers of cooled rooms and on their faces: what the year and the worst air bring."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.check.worked import worked
from spec.derive.sheets import build_up
from spec.derive.sheets.moisture import verdict
from spec.derive.sheets.surroundings import beyond
from spec.finding import Level
from spec.quantity import show

_ISO = "ISO 13788:2012"
_YEAR = """
climate:
  design: {summer: {temperature: 33 °C, humidity: 60 %}, winter: {temperature: 0 °C, humidity: 80 %}
    }
  monthly: {temperature: MONTHS °C, humidity: 80 80 80 80 80 80 80 80 80 80 80 80 %}
surroundings: {outdoors: {from: climate}}
assemblies: {A1: {from_room_outward: {LAYERS}}}
rooms:
  wine_room:
    use: wine_storage
    climate: {temperature: 13 °C, humidity: 60 %}
    walls_clockwise: {WA: {faces: outdoors, assembly: A1}}
"""
_TROPICS = "25 25 26 27 28 28 28 28 28 27 26 25"
_SOUTH = "11 11 11 12 14 18 20 18 12 11 11 11"
_NORTH = "-5 -5 -1 5 11 17 20 19 12 6 1 -3"
_WOOL = "wool: {material: mineral_wool, thickness: 140 mm, role: insulation}"
_BOARD = "board: {material: gypsum_board, thickness: 12 mm, role: board}"
_FOIL = "foil: {material: retarder_foil, thickness: 0.2 mm, perm: 0.05 perm, role: retarder}"
_PLY = "ply: {material: plywood, thickness: 12 mm, role: sheathing}"
_COLD_SIDE = f"{_BOARD}, {_FOIL}, {_WOOL}"
_WARM_SIDE = f"{_BOARD}, {_WOOL}, {_FOIL}"
_FACE = """
surroundings: {barn: {summer: {temperature: 30 °C, humidity: 75 %}}}
assemblies: {A1: {from_room_outward: {WALL}}}
rooms:
  wine_room:
    use: wine_storage
    climate: {temperature: 13 °C, humidity: 60 %}
    walls_clockwise: {WA: {faces: barn, assembly: A1}}
"""
_FOAM = "foam: {material: closed_cell_foam, thickness: DEEP, role: [insulation, retarder]}"


def _judged(facts: Facts, as_: str) -> Iterator[tuple[Node, float, tuple[Node, ...]]]:
    """Every surface with this verdict: the most water that it holds [kg/m²], and its assembly."""
    for surface, peak in worked(facts, "envelope.condensate"):
        if verdict(facts, surface) == as_:
            yield surface, peak, _assembly(facts, surface)


def _assembly(facts: Facts, surface: Node) -> tuple[Node, ...]:
    """The assembly that the first layer of a surface stands in."""
    layer = next(iter(build_up.through(facts, surface)), None)
    container = layer.parent if layer is not None else None
    upper = container.parent if container is not None else None
    return (upper,) if upper is not None else ()


def _mass(facts: Facts, value: float) -> str:
    text = show(value, "area_mass", facts.job.system)
    return "a trace" if text.startswith("0 ") else text


@rule(
    "envelope.water-accumulates",
    level=Level.ERROR,
    trades=("insulation", "framing"),
    why="Water that comes in faster than it dries gathers until it drips, or until the wood rots.",
    source=f"{_ISO} cl. 6 (Glaser)",
    bad=_YEAR.replace("MONTHS", _TROPICS).replace("LAYERS", _COLD_SIDE),
    good=_YEAR.replace("MONTHS", _TROPICS).replace("LAYERS", _WARM_SIDE),
)
def water_accumulates(facts: Facts) -> Iterator[Said]:
    """More water condenses in a surface than dries within the year."""
    for surface, peak, assembly in _judged(facts, "accumulates"):
        left = facts.figures.value("envelope.condensate_left", surface)
        yield said(
            surface,
            f"{surface.address} gathers water from year to year: {_mass(facts, left)} are left "
            f"after the first, {_mass(facts, peak)} at the most",
            "put the tightest layer on the side from which the vapor comes, let the other side dry",
            *assembly,
        )


@rule(
    "envelope.water-within",
    level=Level.WARNING,
    trades=("insulation", "framing"),
    why="Water that dries again still wets what it condenses on for months; past a certain mass "
    "it runs down and stays at the foot of the wall.",
    source=f"{_ISO} cl. 6 (Glaser); limit of the house",
    bad=_YEAR.replace("MONTHS", _SOUTH).replace("LAYERS", f"{_BOARD}, {_FOIL}, {_WOOL}"),
    good=_YEAR.replace("MONTHS", _SOUTH).replace("LAYERS", _WARM_SIDE),
)
def water_within(facts: Facts) -> Iterator[Said]:
    """A surface condenses and dries within the year, and holds more than the house takes."""
    most = facts.job.limit("condensate.most")
    for surface, peak, assembly in _judged(facts, "dries_out"):
        if peak > most:
            yield said(
                surface,
                f"{surface.address} condenses and dries within the year; it holds up to "
                f"{_mass(facts, peak)}, the house takes {_mass(facts, most)}",
                "tighten the side from which the vapor comes, or let the other side dry faster",
                *assembly,
            )


@rule(
    "envelope.hygrothermal-analysis",
    level=Level.WARNING,
    trades=("insulation", "framing"),
    why="Where vapor goes in for part of the year and out for the rest, month by month reckoning "
    "neither passes nor fails an assembly; what it stores decides.",
    source=f"{_ISO} cl. 6, limits of the method; ASHRAE Standard 160 for the analysis",
    bad=_YEAR.replace("MONTHS", _NORTH).replace("LAYERS", _WARM_SIDE),
    good=_YEAR.replace("MONTHS", _TROPICS).replace("LAYERS", _WARM_SIDE),
)
def hygrothermal_analysis(facts: Facts) -> Iterator[Said]:
    """A month condenses in a surface and the drive turns round through the year."""
    for surface, peak, assembly in _judged(facts, "hygrothermal_analysis_required"):
        far = beyond(facts, surface)
        yield said(
            surface,
            f"{surface.address} condenses (up to {_mass(facts, peak)}) while the vapor turns "
            f"round between the room and {far.key.replace('_', ' ')} through the year: "
            "hygrothermal analysis required",
            "have the assembly analyzed by somebody who does, and waive this with the result",
            *assembly,
        )


@rule(
    "envelope.face-sweats",
    level=Level.ERROR,
    trades=("insulation", "framing"),
    why="A wall, ceiling or floor that is colder than the dew point of the air before it runs "
    "with water, behind what stands there.",
    source=_ISO,
    bad=_FACE.replace("WALL", _FOAM.replace("DEEP", "12 mm")),
    good=_FACE.replace("WALL", _FOAM.replace("DEEP", "100 mm")),
)
def face_sweats(facts: Facts) -> Iterator[Said]:
    """The warm face of a surface lies below the dew point of the worst air before it."""
    yield from _cold_faces(facts, below=0.0, least=None)


@rule(
    "envelope.face-near-dew-point",
    level=Level.WARNING,
    trades=("insulation", "framing"),
    why="A day damper than the design day, or a rack against the wall, and it sweats.",
    source=f"{_ISO}; margin of the house",
    bad=_FACE.replace("WALL", _FOAM.replace("DEEP", "22 mm")),
    good=_FACE.replace("WALL", _FOAM.replace("DEEP", "100 mm")),
)
def face_near_dew_point(facts: Facts) -> Iterator[Said]:
    """The warm face of a surface is within the house's margin of the dew point."""
    yield from _cold_faces(facts, below=facts.job.limit("surface.dew_margin"), least=0.0)


def _cold_faces(facts: Facts, *, below: float, least: float | None) -> Iterator[Said]:
    system = facts.job.system
    for surface, margin in worked(facts, "envelope.dew_margin"):
        if margin >= below or (least is not None and margin < least):
            continue
        found = facts.figures.get("envelope.dew_margin", surface)
        at = {
            name: show(v, "temperature", system)
            for name, v, of in found.given
            if of == "temperature"
        }
        kept = facts.job.limit("surface.dew_margin")
        yield said(
            surface,
            f"the warm face of {surface.address} is at {at['face']} in {found.remark}, the air "
            f"before it sweats below {at['dew point']}; the house keeps "
            f"{show(kept, 'temperature_difference', system)} apart",
            "thicken the insulation",
            *_assembly(facts, surface),
            beyond(facts, surface),
        )
