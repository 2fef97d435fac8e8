"""Rooms and what surrounds them: finished sizes, areas, heat and vapor through the surfaces."""

from __future__ import annotations

from spec.derive.figure import Facts, Part, Worked, figure
from spec.derive.formulas import envelope as formulas
from spec.derive.formulas import takeoff
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
    formula="length x height - openings",
    source="geometry",
    per=_walls,
)
def wall_area(facts: Facts, wall: Node) -> float:
    """Area of a wall without its openings."""
    return build_up.area(facts, wall)


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
    formula="floor area x height - what the slopes take",
    source="geometry",
    per=kinds.rooms,
    trades=("refrigeration",),
)
def volume(facts: Facts, room: Node) -> float:
    """Finished volume of a room."""
    return facts.places.room(room.key).volume


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
    formula="what walls and diagonals disagree by",
    source="geometry",
    per=lambda job: [s for s in (*_taped_rooms(job), *job.things("as_found")) if s.known],
)
def closing_error(facts: Facts, space: Node) -> Worked:
    """How badly the tapes of a room or a space as found close."""
    plan = facts.places.taping(space)
    if not plan.checked:
        return Worked(plan.error, remark="nothing was taped that would check it")
    remark = f"the tape that explains it best is {plan.suspect}" if plan.suspect else ""
    return Worked(plan.error, remark=remark)


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
    formula="1 / mean of the upper and lower limit of the resistance | 2 λ ln(π B'/(d_t + z/2) + "
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
            ("R upper limit", through.upper, "r_value"),
            ("R lower limit", through.lower, "r_value"),
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
    source="ISO 6946:2017, homogeneous layers; the value that insulation is sold and asked for by",
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


# ------------------------------------------------------------------ quantities


def _layers(role: str) -> kinds.Per:
    """The new layers with a role in the assemblies that surfaces or partitions name."""

    def find(job: Job) -> list[Node]:
        named: dict[str, Node] = {}
        for surface in (*kinds.surfaces(job), *job.things("partition")):
            leaf = surface.find("assembly")
            assembly = job.thing(str(leaf.value)) if leaf is not None and leaf.value else None
            for layer in assembly.group("from_room_outward") if assembly is not None else ():
                said = layer.find("role")
                value = said.value if said is not None else None
                words = value if isinstance(value, tuple) else (value,)
                state = layer.find("state")
                old = state is not None and state.value == "existing"
                if role in words and not old:
                    named[layer.address] = layer
        return list(named.values())

    return find


def _taken(facts: Facts, layer: Node, waste: str) -> Worked:
    """Area of all surfaces that have a layer, with waste; a partition counts on one side."""
    parts = [
        Part(surface.address, build_up.area(facts, surface), surface.address)
        for surface in kinds.surfaces(facts.job)
        if not kinds.says(surface, "back_of")
        and any(own.address == layer.address for own in build_up.through(facts, surface))
        and _counted_here(facts, surface)
    ]
    net = sum(part.value for part in parts)
    gross = takeoff.with_waste(net, facts.job.limit(waste))
    return Worked(gross, tuple(parts), (("net", net, "area"),))


def _counted_here(facts: Facts, surface: Node) -> bool:
    """A wall of a partition counts in the room from which the partition's layers are written."""
    if not kinds.says(surface, "partition"):
        return True
    name = surface.word("partition")
    node = facts.job.thing(name)
    walls = [w for w in facts.job.walls if str(getattr(w.find("partition"), "value", "")) == name]
    first = walls[0].room if walls else surface.room
    seen_from = node.word("seen_from", first) if node is not None else first
    return surface.room == seen_from


@figure(
    "envelope.board_area",
    title="Board, with waste",
    dimension="area",
    formula="area of the surfaces without openings x (1 + waste)",
    source="geometry; waste of the house standards",
    per=_layers("board"),
    trades=("board",),
)
def board_area(facts: Facts, layer: Node) -> Worked:
    """Area of a layer of board."""
    return _taken(facts, layer, "board.waste")


@figure(
    "envelope.insulation_area",
    title="Insulation, with waste",
    dimension="area",
    formula="area of the surfaces without openings x (1 + waste)",
    source="geometry; waste of the house standards",
    per=_layers("insulation"),
    trades=("insulation",),
)
def insulation_area(facts: Facts, layer: Node) -> Worked:
    """Area of a layer of insulation."""
    return _taken(facts, layer, "insulation.waste")


@figure(
    "envelope.retarder_area",
    title="Vapor retarder, with laps and waste",
    dimension="area",
    formula="area of the surfaces without openings x (1 + waste)",
    source="geometry; waste of the house standards",
    per=_layers("retarder"),
    trades=("insulation",),
)
def retarder_area(facts: Facts, layer: Node) -> Worked:
    """Area of a vapor retarder."""
    return _taken(facts, layer, "retarder.waste")
