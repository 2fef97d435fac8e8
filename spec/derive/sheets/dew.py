"""Dew on doors and glass of cooled rooms: their coldest part, and up to which air they stay dry."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from spec.derive.figure import Facts, Given, Part, Worked, figure
from spec.derive.formulas.envelope import INSIDE_FILM
from spec.derive.sheets import kinds
from spec.derive.sheets.glass import cold, metal_break, psi, solid_u, wooden_u
from spec.derive.sheets.panes import glass_u, glazings
from spec.derive.sheets.surroundings import beyond, weather
from spec.job.job import Job
from spec.job.node import Node, Open

_FILM = INSIDE_FILM["horizontal"]


class _Sides(NamedTuple):
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


class Face(NamedTuple):
    """A part of an opening that is seen from the warm side: what it is, its U [W/m²K], where."""

    called: str
    u_value: float
    address: str


def faces(facts: Facts, opening: Node) -> list[Face]:
    """The middles and edges of all glass, the frame where it is metal, and the solid leaf."""
    found = list(_faces(facts, opening))
    return found or [Face("leaf", solid_u(opening), f"{opening.address}.leaf")]


def _faces(facts: Facts, opening: Node) -> Iterator[Face]:
    from spec.derive.formulas import glazing  # noqa: PLC0415 - with psychrolib

    for glass in glazings(opening):
        upper = glass.parent
        of = (
            f"{upper.key.replace('_', ' ')}, " if upper is not None and upper is not opening else ""
        )
        middle = glass_u(facts, glass)
        yield Face(f"{of}middle of the glass", middle, glass.address)
        edge = glazing.edge_u(middle, psi(opening, glass))
        if edge > middle:
            yield Face(f"{of}edge of the glass", edge, glass.address)
    yield from _of_frame(opening)
    if kinds.says(opening, "leaf.u_value") or kinds.says(opening, "leaf.thickness"):
        yield Face("leaf", solid_u(opening), f"{opening.address}.leaf")


def _of_frame(opening: Node) -> Iterator[Face]:
    """The frame: metal by its thermal break, wood as deep as the leaf."""
    from spec.derive.formulas import glazing  # noqa: PLC0415 - with psychrolib

    gap, address = metal_break(opening), f"{opening.address}.frame"
    if gap is not None:
        yield Face("frame", glazing.metal_frame_u(gap), address)
    elif kinds.says(opening, "frame.material") and kinds.says(opening, "leaf.thickness"):
        yield Face("frame", wooden_u(opening, "frame.material"), address)


def _coldest(facts: Facts, opening: Node) -> Face:
    return max(faces(facts, opening), key=lambda face: face.u_value)


@figure(
    "openings.dew_point",
    title="Dew point beside the opening, summer",
    dimension="temperature",
    formula="temperature at which the warm air is saturated",
    source="ASHRAE Handbook Fundamentals 2017 ch. 1 eq. 5, 6",
    holds="-40 to 80 °C (-40 to 176 °F); below 0 °C (32 °F) the frost point",
    per=cold,
    trades=("doors", "glazing"),
)
def dew_point(facts: Facts, opening: Node) -> Worked:
    """Dew point of the air on the warm side."""
    from spec.derive.formulas import air  # noqa: PLC0415 - with psychrolib

    sides = _sides(facts, opening)
    given = ("t_warm", sides.warm, "temperature"), ("humidity", sides.humidity, "percent")
    return Worked(air.dew_point(sides.warm, sides.humidity), given=given)


@figure(
    "openings.surface",
    title="Temperature of the coldest part on its warm side, summer",
    dimension="temperature",
    formula="t_warm - U R_si (t_warm - t_cold); of each part, the least of them",
    source="ISO 13788:2012, R_si 0.13; edge of the glass as the mean of 63.5 mm (2 1/2 in) beside "
    "the frame, U_g + Ψ / 0.0635 m; metal frames ISO 10077-1 annex D, from memory; wooden ones as "
    "deep as the leaf",
    holds="air free to move; the very line of glass and frame is colder still",
    per=cold,
    trades=("doors", "glazing"),
)
def surface(facts: Facts, opening: Node) -> Worked:
    """Temperature of the face on which water would show first."""
    from spec.derive.formulas import glazing  # noqa: PLC0415 - with psychrolib

    sides = _sides(facts, opening)
    parts = []
    for face in faces(facts, opening):
        at = glazing.surface_temperature(face.u_value, _FILM, sides.warm, sides.cold)
        given = (("U", face.u_value, "u_value"), *_between(sides))
        parts.append(Part(face.called, at, face.address, given))
    least = min(parts, key=lambda part: part.value)
    return Worked(least.value, tuple(parts), least.given, least.label)


def _between(sides: _Sides) -> Given:
    return (
        ("R_si", _FILM, "r_value"),
        ("t_warm", sides.warm, "temperature"),
        ("t_cold", sides.cold, "temperature"),
    )


@figure(
    "openings.dry_up_to",
    title="Stays dry up to a humidity of",
    dimension="percent",
    formula="p_surface / p_warm; pressures of saturation at the coldest part and in the warm air",
    source="ISO 13788:2012; ASHRAE Handbook Fundamentals 2017 ch. 1 eq. 22",
    holds="at the coldest part, air free to move, at the summer temperature of the room",
    per=cold,
    trades=("client", "doors", "glazing"),
)
def dry_up_to(facts: Facts, opening: Node) -> Worked:
    """Highest humidity of the warm room at which the coldest part stays dry."""
    from spec.derive.formulas import air, glazing  # noqa: PLC0415 - with psychrolib

    sides, coldest = _sides(facts, opening), _coldest(facts, opening)
    found = glazing.highest_dry_humidity(coldest.u_value, _FILM, sides.warm, sides.cold)
    face = facts.figures.value("openings.surface", opening)
    given = (
        ("p_surface", air.saturation_pressure(face), "Pa"),
        ("p_warm", air.saturation_pressure(sides.warm), "Pa"),
    )
    return Worked(found, given=given, remark=coldest.called)


@figure(
    "openings.u_that_stays_dry",
    title="Largest U-value that stays dry",
    dimension="u_value",
    formula="(t_warm - dew point) / (R_si (t_warm - t_cold)) | 1 / R_si; the cap, that no face "
    "exceeds",
    source="ISO 13788:2012",
    per=cold,
)
def u_that_stays_dry(facts: Facts, opening: Node) -> Worked:
    """The largest U whose warm face stays above the dew point of the summer air beside it."""
    from spec.derive.formulas import glazing  # noqa: PLC0415 - with psychrolib

    sides = _sides(facts, opening)
    found = glazing.largest_dry_u(_FILM, sides.warm, sides.humidity, sides.cold)
    if math.isinf(found):
        return Worked(
            1.0 / _FILM,
            given=(("R_si", _FILM, "r_value"),),
            remark="the dew point is below the cooled room: nothing sweats; this is the cap, 1 / "
            "R_si, that no face exceeds",
        )
    dew = facts.figures.value("openings.dew_point", opening)
    return Worked(found, given=(*_between(sides), ("dew point", dew, "temperature")))


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
    formula="surface - dew point; both with the promised air on the warm side",
    source="ISO 13788:2012; below 0 it sweats",
    per=_promised_dry,
    trades=("client",),
)
def promise_margin(facts: Facts, promise: Node) -> Worked:
    """How far the coldest part is above the dew point of the promised air."""
    from spec.derive.formulas import glazing  # noqa: PLC0415 - with psychrolib

    opening = _promised_opening(facts.job, promise)
    if opening is None:
        raise Open(promise.at("of").address)
    promise.word("of")
    chilled, coldest = _sides(facts, opening).cold, _coldest(facts, opening)
    warm, damp = promise.si("up_to.temperature"), promise.si("up_to.humidity")
    found = glazing.sweat(coldest.u_value, _FILM, warm, damp, chilled)
    return Worked(
        found.margin,
        given=(
            ("surface", found.surface, "temperature"),
            ("dew point", found.dew_point, "temperature"),
        ),
        remark=coldest.called,
    )
