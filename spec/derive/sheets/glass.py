"""Heat through doors and glass of cooled rooms, and up to which humidity they stay dry."""

from __future__ import annotations

import math
from dataclasses import dataclass

from spec.derive.figure import Facts, Worked, figure
from spec.derive.formulas.envelope import INSIDE_FILM
from spec.derive.formulas.materials import material
from spec.derive.sheets import kinds
from spec.derive.sheets.dividing import over
from spec.derive.sheets.leaves import leaf_glass
from spec.derive.sheets.surroundings import beyond, weather
from spec.job.job import Job
from spec.job.node import Node, Open

_COATED = ("low-e", "low e", "low_e", "coat")


def _cold(job: Job) -> list[Node]:
    """Openings with glass or a leaf between a cooled room and something else."""
    return [
        opening
        for opening in job.things("door", "window", "glass_front")
        if opening.heading == "openings"
        and not _in_front(opening)
        and _in_cooled_wall(job, opening)
    ]


def _in_front(opening: Node) -> bool:
    """A bay of a glass front: reckoned with the front."""
    node = opening.parent
    while node is not None:
        if node.kind == "glass_front":
            return True
        node = node.parent
    return False


def _in_cooled_wall(job: Job, opening: Node) -> bool:
    wall = job.find(opening.surface)
    if wall is None:
        return False
    rooms = {wall.room}
    partition = wall.find("partition")
    for other in job.walls:
        leaf = other.find("partition")
        if partition is not None and leaf is not None and leaf.value == partition.value:
            rooms.add(other.room)
    named = (job.thing(name) for name in rooms)
    return any(room is not None and kinds.is_cooled(room) for room in named)


@figure(
    "openings.u_value",
    title="U-value of the whole opening",
    dimension="u_value",
    formula="(A_g U_g + A_f U_f + l Ψ) / (A_g + A_f); Ψ in W/mK | (A_g U_g + l Ψ) / A_g; all glass "
    "| U_f; no glass",
    source="ISO 10077-1; Ψ tables E.1, E.2, from memory",
    holds="the frame of a glass front counts as glass; side lights are as wide as written",
    per=_cold,
    trades=("doors", "glazing"),
)
def u_value(facts: Facts, opening: Node) -> Worked:
    """Heat through a door, side lights and frame together."""
    from spec.derive.formulas import glazing  # noqa: PLC0415 - with psychrolib

    whole = facts.places.opening_area(opening)
    if kinds.says(opening, "leaf.u_value") and not kinds.says(opening, "side_lights"):
        return Worked(opening.si("leaf.u_value"), remark="the leaf's, taken for its frame too")
    glass, lengths = _glass_of(opening, whole)
    faces: list[tuple[float, float]] = []
    edges: list[tuple[float, float]] = []
    given: list[tuple[str, float, str]] = []
    if glass > 0.0:
        faces.append((glass, opening.si("glazing.u_value")))
        spacer = opening.word("glazing.edge", "aluminum")
        frame = "wood" if opening.kind == "door" else "metal_with_break"
        edge = glazing.edge_transmittance(_spacer(spacer), frame, _coated(opening))
        edges.append((lengths, edge))
        given += [("A_g", glass, "area"), ("U_g", faces[0][1], "u_value")]
        given += [("l", lengths, "length"), ("Ψ", edge, "number")]
    rest = max(whole - glass, 0.0)
    frames = [(rest, _solid_u(opening))] if rest > 1e-9 else []
    for area, solid in frames:
        given += [("A_f", area, "area"), ("U_f", solid, "u_value")]
    return Worked(glazing.assembled_u(faces, frames, edges), given=tuple(given))


def _spacer(word: str) -> str:
    """Stainless spacers conduct less than aluminum; the table has only aluminum for both."""
    return "warm_edge" if word == "warm_edge" else "aluminum"


def _coated(opening: Node) -> bool:
    words = []
    for path in ("glazing.coating", "glazing.product"):
        leaf = opening.find(path)
        if leaf is not None and leaf.value is not None:
            words.append(str(leaf.value).lower())
    return any(sign in word for word in words for sign in _COATED)


def _glass_of(opening: Node, whole: float) -> tuple[float, float]:
    """Area of glass [m²] and length of its edges [m]."""
    if opening.kind != "door":
        wide, high = opening.si("width", 0.0), opening.si("height")
        wide = wide or over(whole, high, "height of the opening", "m")
        bays = len(opening.group("left_to_right")) or 1
        return whole, 2.0 * wide + 2.0 * high * bays
    pane = leaf_glass(opening)
    area, edge = pane.width * pane.height, 2.0 * (pane.width + pane.height)
    if not area:
        edge = 0.0
    if kinds.says(opening, "side_lights"):
        high = opening.si("leaf.height") - opening.si("side_lights.bottom_rail", 0.0)
        for side in ("left", "right"):
            wide = opening.si(f"side_lights.{side}", 0.0)
            area += wide * high
            edge += 2.0 * (wide + high) if wide else 0.0
    return area, edge


def _solid_u(opening: Node) -> float:
    """U of the wood of a leaf and frame [W/m²K]."""
    if kinds.says(opening, "leaf.u_value"):
        return opening.si("leaf.u_value")
    thick = opening.si("leaf.thickness")
    solid = material(opening.word("leaf.material")).conductivity
    return 1.0 / (2.0 * INSIDE_FILM["horizontal"] + thick / solid)


@dataclass(frozen=True, slots=True)
class _Sides:
    """Air on both sides of an opening of a cooled room."""

    warm: float
    humidity: float
    cold: float


def _sides(facts: Facts, opening: Node) -> _Sides:
    job = facts.job
    wall = facts.places.wall_of(opening)
    room = job.thing(wall.room) if wall is not None else None
    if wall is None or room is None:
        raise Open(f"{opening.address}.left")
    far = beyond(facts, wall)
    one, other = weather(facts, room, "summer"), weather(facts, far, "summer")
    place = far
    if one.temperature > other.temperature:
        one, other, place = other, one, room
    return _Sides(other.temperature, other.damp(f"{place.address}.summer"), one.temperature)


def _surface_u(opening: Node) -> float:
    """U of the coldest part that is seen: the glass, else the leaf."""
    if kinds.says(opening, "glazing"):
        return opening.si("glazing.u_value")
    return _solid_u(opening)


@figure(
    "openings.dew_point",
    title="Dew point beside the glass, summer",
    dimension="temperature",
    formula="temperature at which the warm air is saturated",
    source="ASHRAE Handbook Fundamentals 2017 ch. 1 eq. 5, 6",
    per=_cold,
    trades=("doors", "glazing"),
)
def dew_point(facts: Facts, opening: Node) -> float:
    """Dew point of the air on the warm side."""
    from spec.derive.formulas import air  # noqa: PLC0415 - with psychrolib

    sides = _sides(facts, opening)
    return air.dew_point(sides.warm, sides.humidity)


@figure(
    "openings.surface",
    title="Temperature of the glass or leaf on its warm side, summer",
    dimension="temperature",
    formula="t_warm - U R_si (t_warm - t_cold)",
    source="ISO 13788:2012, R_si 0.13; middle of the glass, the edge is colder",
    per=_cold,
    trades=("doors", "glazing"),
)
def surface(facts: Facts, opening: Node) -> Worked:
    """Temperature of the face on which water would show first."""
    from spec.derive.formulas import glazing  # noqa: PLC0415 - with psychrolib

    sides, u = _sides(facts, opening), _surface_u(opening)
    film = INSIDE_FILM["horizontal"]
    found = glazing.surface_temperature(u, film, sides.warm, sides.cold)
    return Worked(
        found,
        given=(
            ("U", u, "u_value"),
            ("R_si", film, "r_value"),
            ("t_warm", sides.warm, "temperature"),
            ("t_cold", sides.cold, "temperature"),
        ),
    )


@figure(
    "openings.dry_up_to",
    title="Stays dry up to a humidity of",
    dimension="percent",
    formula="p_sat(surface) / p_sat(warm air)",
    source="ISO 13788:2012; ASHRAE Handbook Fundamentals 2017 ch. 1 eq. 22",
    holds="middle of the glass, air free to move, at the summer temperature of the room",
    per=_cold,
    trades=("client", "doors", "glazing"),
)
def dry_up_to(facts: Facts, opening: Node) -> float:
    """Highest humidity of the warm room at which the glass or leaf stays dry."""
    from spec.derive.formulas import glazing  # noqa: PLC0415 - with psychrolib

    sides, u = _sides(facts, opening), _surface_u(opening)
    return glazing.highest_dry_humidity(u, INSIDE_FILM["horizontal"], sides.warm, sides.cold)


@figure(
    "openings.u_that_stays_dry",
    title="Largest U-value that stays dry",
    dimension="u_value",
    formula="(t_warm - dew point) / (R_si (t_warm - t_cold))",
    source="ISO 13788:2012",
    per=_cold,
)
def u_that_stays_dry(facts: Facts, opening: Node) -> Worked:
    """The largest U whose warm face stays above the dew point of the summer air beside it."""
    from spec.derive.formulas import glazing  # noqa: PLC0415 - with psychrolib

    sides = _sides(facts, opening)
    film = INSIDE_FILM["horizontal"]
    found = glazing.largest_dry_u(film, sides.warm, sides.humidity, sides.cold)
    if math.isinf(found):
        return Worked(1.0 / film, remark="the dew point is below the cooled room: nothing sweats")
    given = (
        ("R_si", film, "r_value"),
        ("t_warm", sides.warm, "temperature"),
        ("t_cold", sides.cold, "temperature"),
        ("dew point", facts.figures.value("openings.dew_point", opening), "temperature"),
    )
    return Worked(found, given=given)


def _promised_dry(job: Job) -> list[Node]:
    return [
        promise
        for promise in job.things("promise")
        if kinds.says(promise, "up_to") and _promised_opening(job, promise) is not None
    ]


def _promised_opening(job: Job, promise: Node) -> Node | None:
    leaf = promise.find("of")
    value = leaf.value if leaf is not None else None
    for name in value if isinstance(value, tuple) else (value,):
        node = job.thing(str(name).partition(".")[0]) if name is not None else None
        if node is not None and node.kind in ("door", "window", "glass_front"):
            return node
    return None


@figure(
    "openings.promise_margin",
    title="Margin of a promise to stay dry",
    dimension="temperature_difference",
    formula="surface at the promised air - dew point of the promised air",
    source="ISO 13788:2012; below 0 it sweats",
    per=_promised_dry,
    trades=("client",),
)
def promise_margin(facts: Facts, promise: Node) -> Worked:
    """How far the glass is above the dew point of the air up to which dryness is promised."""
    from spec.derive.formulas import glazing  # noqa: PLC0415 - with psychrolib

    opening = _promised_opening(facts.job, promise)
    if opening is None:
        raise Open(promise.at("of").address)
    promise.word("of")
    cold = _sides(facts, opening).cold
    warm, damp = promise.si("up_to.temperature"), promise.si("up_to.humidity")
    found = glazing.sweat(_surface_u(opening), INSIDE_FILM["horizontal"], warm, damp, cold)
    return Worked(
        found.margin,
        given=(
            ("surface", found.surface, "temperature"),
            ("dew point", found.dew_point, "temperature"),
        ),
    )
