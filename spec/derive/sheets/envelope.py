"""Rooms and what surrounds them: finished sizes, areas, heat and vapor through the surfaces."""

from __future__ import annotations

from spec.derive.figure import Facts, Worked, figure
from spec.derive.formulas import envelope as formulas
from spec.derive.formulas.constants import INCH
from spec.derive.formulas.range import NotCovered
from spec.derive.sheets import build_up, kinds, on_ground
from spec.derive.sheets.surroundings import beyond, weather
from spec.job.job import Job
from spec.job.node import Node
from spec.place.build_up import roles, thickness

_TAPES = "taped size less what is built in front of the taped face"
_ISO = "ISO 6946:2017 6.7.2; ground floors ISO 13370:2007"


def _walls(job: Job) -> list[Node]:
    return [wall for wall in job.walls if wall.known]


def _taped_rooms(job: Job) -> list[Node]:
    return [room for room in job.rooms if room.find("within") is None]


@figure(
    "area.floor",
    title="Floor area",
    dimension="area",
    formula="area of the finished plan",
    source="geometry (shoelace formula)",
    per=kinds.rooms,
    trades=("client", "flooring"),
)
def floor_area(facts: Facts, room: Node) -> float:
    """Finished floor area of a room, as the flooring meets it."""
    return facts.places.covered(room.key).area


@figure(
    "area.wall",
    title="Wall area without openings",
    dimension="area",
    formula="gross - openings; gross is length x height where the ceiling is level",
    source="geometry",
    per=_walls,
)
def wall_area(facts: Facts, wall: Node) -> Worked:
    """Area of a wall without its openings."""
    net, gross = build_up.area(facts, wall), facts.places.covered(wall.room).wall_area(wall.key)
    return Worked(net, given=(("gross", gross, "area"), ("openings", gross - net, "area")))


@figure(
    "area.ceiling",
    title="Ceiling area",
    dimension="area",
    formula="flat part + slopes along their slope",
    source="geometry",
    per=lambda job: [s for s in kinds.surfaces(job) if build_up.part_of(s) == "ceiling"],
)
def ceiling_area(facts: Facts, surface: Node) -> float:
    """Area of a ceiling or of a slope of it."""
    return build_up.area(facts, surface)


@figure(
    "area.volume",
    title="Room volume",
    dimension="volume",
    formula="floor area x height - slopes; what the slopes take of it",
    source="geometry",
    per=kinds.rooms,
    trades=("refrigeration",),
)
def volume(facts: Facts, room: Node) -> Worked:
    """Finished volume of a room."""
    placed = facts.places.room(room.key)
    given = (
        ("floor area", placed.area, "area"),
        ("height", placed.height, "length"),
        ("slopes", placed.area * placed.height - placed.volume, "volume"),
    )
    return Worked(placed.volume, given=given)


@figure(
    "envelope.finished_height",
    title="Finished height",
    dimension="length",
    formula=_TAPES,
    source="sum",
    per=kinds.rooms,
    trades=("client", "framing", "millwork", "plaster"),
)
def finished_height(facts: Facts, room: Node) -> float:
    """Greatest height from the finished floor to the finished ceiling."""
    return facts.places.room(room.key).height


@figure(
    "envelope.finished_length",
    title="Finished wall length",
    dimension="length",
    formula=_TAPES,
    source="geometry",
    per=_walls,
    trades=("millwork", "flooring"),
)
def finished_length(facts: Facts, wall: Node) -> float:
    """Length of a wall between its finished corners."""
    return facts.places.length(wall)


@figure(
    "envelope.closing_error",
    title="Closing error of the tapes",
    dimension="length",
    formula="what walls and diagonals disagree by; to what a tape shows, 1/16 in or 1 mm",
    source="geometry",
    per=lambda job: [s for s in (*_taped_rooms(job), *job.things("as_found")) if s.known],
)
def closing_error(facts: Facts, space: Node) -> Worked:
    """How badly the tapes of a room or a space as found close."""
    plan = facts.places.taping(space)
    tick = INCH / 16.0 if facts.job.system == "imperial" else 0.001
    error = round(plan.error / tick) * tick
    if not plan.checked:
        return Worked(error, remark="nothing was taped that would check it")
    remark = f"the tape that explains it best is {plan.suspect}" if plan.suspect and error else ""
    return Worked(error, remark=remark)


# ------------------------------------------------------------------ heat


def _transmittance(facts: Facts, surface: Node) -> formulas.Transmittance:
    far = beyond(facts, surface)
    room = facts.job.thing(surface.room)
    warmer = (
        room is None
        or weather(facts, far, "summer").temperature >= weather(facts, room, "summer").temperature
    )
    flow = build_up.direction(surface, warmer)
    stack = [
        build_up.thermal(surface, layer, flow)
        for layer in build_up.through(facts, surface)
        if "ground" not in roles(layer)
    ]
    inside, outside = build_up.films(facts, flow, far)
    return formulas.transmittance(stack, inside, outside)


@figure(
    "envelope.u_value",
    title="U-value",
    dimension="u_value",
    formula="2 / (R_upper + R_lower); the limits of the resistance | 2 λ ln(π B'/(d_t + z/2) + "
    "1) / (π B' + d_t + z/2) + 2 Ψ_e/B'; floor on the ground, where d_t + z/2 < B' | λ / (0.457 B' "
    "+ d_t + z/2) + 2 Ψ_e/B'; where it is not | 2 λ ln(z/d_w + 1) (1 + d_t / (2 (d_t + z))) / (π "
    "z); wall under the ground, d_t no more than d_w",
    source=_ISO,
    holds="homogeneous and framed layers; metal studs by a table; no sheet-metal bridges",
    per=kinds.cooled_surfaces,
    trades=("insulation",),
)
def u_value(facts: Facts, surface: Node) -> Worked:
    """Heat through a surface, framing and films counted, by area and kelvin."""
    if on_ground.is_floor(facts, surface) or on_ground.is_wall(facts, surface):
        of = on_ground.floor_u if surface.key == "floor" else on_ground.wall_u
        found, given = of(facts, surface)
        remark = "toward the ground's temperature at some depth, as the job states it"
        return Worked(found, given=given, remark=remark)
    through = _transmittance(facts, surface)
    remark = "" if through.holds else "the limits lie far apart: a numerical calculation is due"
    return Worked(
        through.u_value,
        given=(
            ("R_upper", through.upper, "r_value"),
            ("R_lower", through.lower, "r_value"),
            ("U parallel path (ASHRAE)", through.parallel_path, "u_value"),
        ),
        remark=remark,
    )


@figure(
    "envelope.r_value",
    title="R-value, framing counted",
    dimension="r_value",
    formula="1 / U",
    source=_ISO,
    per=kinds.cooled_surfaces,
)
def r_value(facts: Facts, surface: Node) -> Worked:
    """Resistance of the whole surface, framing and films counted."""
    u = facts.figures.value("envelope.u_value", surface)
    return Worked(1.0 / u, given=(("U", u, "u_value"),))


@figure(
    "envelope.r_between",
    title="R-value between the framing",
    dimension="r_value",
    formula="films + sum over layers of (d/λ); straight through the insulation",
    source="ISO 6946:2017, homogeneous layers; the value that insulation is sold and asked for by; "
    "to compare, no duty: R-25 (4.4 m²K/W) of walk-in coolers, 10 CFR 431 subpart R, seen quoted",
    per=kinds.cooled_surfaces,
    trades=("insulation",),
)
def r_between(facts: Facts, surface: Node) -> Worked:
    """Resistance through the insulated field of a surface: what an R-number in the trade means."""
    far = beyond(facts, surface)
    flow = build_up.direction(surface, warmer_beyond=True)
    ground = on_ground.is_floor(facts, surface)
    inside, outside = build_up.films(facts, flow, far)
    parts = [("film in the room", inside)]
    for layer in build_up.through(facts, surface):
        if "ground" not in roles(layer):
            parts.append(
                (layer.key.replace("_", " "), build_up.thermal(surface, layer, flow).resistance)
            )
    if not ground:
        parts.append(("film beyond", outside))
    return Worked(sum(r for _, r in parts), given=tuple((name, r, "r_value") for name, r in parts))


@figure(
    "envelope.thickness",
    title="Thickness through all layers",
    dimension="length",
    formula="sum of the layers",
    source="sum",
    per=lambda job: [
        s
        for s in kinds.surfaces(job)
        if s.kind == "wall" and (kinds.says(s, "assembly") or kinds.says(s, "partition"))
    ],
    trades=("framing", "doors"),
)
def wall_thickness(facts: Facts, wall: Node) -> float:
    """Thickness of a wall without applied finishes."""
    stack = build_up.through(facts, wall)
    if not stack:
        raise NotCovered("nothing is built on this wall")
    return sum(thickness(layer) for layer in stack)
