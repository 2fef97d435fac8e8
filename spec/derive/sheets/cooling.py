"""The cooling load of each wine room, what the machines give, water that falls out, noise."""

from __future__ import annotations

from typing import TYPE_CHECKING

from spec.derive.figure import Facts, Part, Worked, figure
from spec.derive.sheets import build_up, kinds
from spec.derive.sheets.bottles import bottle_named, default_bottle, parts_of
from spec.derive.sheets.dividing import over
from spec.derive.sheets.surroundings import Weather, beyond, elevation, outside, weather
from spec.job.node import Node, Open

if TYPE_CHECKING:
    from spec.derive.formulas.air import Air
    from spec.derive.formulas.cooling import Load

HANDBOOK = "ASHRAE Handbook Refrigeration, refrigerated-facility loads"
_TOWARD_SUN = 0.9
"""[-] Absorptance of a dark wall, the safe side. ASHRAE Handbook Fundamentals ch. 18."""


def _state(facts: Facts, air: Weather, place: Node) -> Air:
    from spec.derive.formulas import air as formulas  # noqa: PLC0415 - with psychrolib

    pressure = formulas.pressure_at(elevation(facts))
    return formulas.state(air.temperature, air.damp(f"{place.address}.summer"), pressure)


def _room_air(room: Node) -> Weather:
    return Weather(room.si("climate.temperature"), room.si("climate.humidity"))


def _worked(load: Load) -> Worked:
    return Worked(
        load.total,
        given=(("sensible", load.sensible, "heat_flow"), ("latent", load.latent, "heat_flow")),
    )


@figure(
    "cooling.transmission",
    title="Heat through walls, ceiling, floor and glass",
    dimension="heat_flow",
    formula="sum over surfaces of (U A (t_beyond - t_room)); each with its own summer design air",
    source=f"{HANDBOOK}; sol-air temperature ASHRAE Handbook Fundamentals 2017 ch. 18",
    holds="steady; the design hour for all 24 hours",
    per=kinds.cooled_rooms,
    trades=("refrigeration",),
)
def transmission(facts: Facts, room: Node) -> Worked:
    """Heat through all surfaces, one part for each."""
    inside = room.si("climate.temperature")
    parts: list[Part] = []
    conductance = 0.0
    for surface in kinds.surfaces_of(room):
        outside_air = _temperature_beyond(facts, surface)
        u = facts.figures.value("envelope.u_value", surface)
        through = u * build_up.area(facts, surface)
        conductance += through
        parts.append(Part(_called(surface), through * (outside_air - inside), surface.address))
        if surface.kind == "wall":
            for opening in build_up.openings(facts, surface):
                area = facts.places.opening_area(opening)
                through = area * facts.figures.value("openings.u_value", opening)
                conductance += through
                heat = through * (outside_air - inside)
                parts.append(Part(opening.key, heat, opening.address))
    whole = sum(part.value for part in parts)
    return Worked(whole, tuple(parts), (("U A", conductance, "number"),))


def _called(surface: Node) -> str:
    """A surface in words: `WA`, `ceiling`, `slope FE`."""
    sloped = surface.parent is not None and surface.parent.key == "slopes"
    return f"slope {surface.key}" if sloped else surface.key


def _temperature_beyond(facts: Facts, surface: Node) -> float:
    """Air beyond a surface [°C]; with the sun on it where the job states it."""
    place = beyond(facts, surface)
    air = weather(facts, place, "summer").temperature
    climate = facts.job.find("climate")
    if (
        climate is None
        or not outside(facts, place)
        or not kinds.says(climate, f"sun.{surface.key}")
    ):
        return air
    from spec.derive.formulas.envelope import sol_air_temperature  # noqa: PLC0415

    return sol_air_temperature(air, climate.si(f"sun.{surface.key}"), _TOWARD_SUN)


def _warm_neighbor(facts: Facts, room: Node) -> Node:
    """Where leaking air comes from: the place beyond the door, else the warmest beyond."""
    walls = room.group("walls_clockwise")
    for wall in walls:
        if wall.known and any(o.kind != "window" for o in build_up.openings(facts, wall)):
            return beyond(facts, wall)
    places = [beyond(facts, wall) for wall in walls if wall.known]
    return max(places, key=lambda place: weather(facts, place, "summer").temperature)


def leaks(facts: Facts, room: Node) -> Load:
    """What comes in with air that leaks."""
    from spec.derive.formulas import cooling as formulas  # noqa: PLC0415 - with psychrolib

    place = _warm_neighbor(facts, room)
    changes = (
        room.number("climate.air_changes")
        if kinds.says(room, "climate.air_changes")
        else facts.job.limit("infiltration.changes") / 24.0
    )
    return formulas.infiltration(
        facts.places.room(room.key).volume,
        changes,
        _state(facts, weather(facts, place, "summer"), place),
        _state(facts, _room_air(room), room),
    )


@figure(
    "cooling.infiltration",
    title="Heat of air that leaks in",
    dimension="heat_flow",
    formula="V n (h_beyond - h_room) / v",
    source=f"{HANDBOOK}, infiltration by air changes; the air beyond the door",
    per=kinds.cooled_rooms,
    trades=("refrigeration",),
)
def infiltration(facts: Facts, room: Node) -> Worked:
    """Heat and moisture of leaking air."""
    return _worked(leaks(facts, room))


def _doors(facts: Facts, room: Node) -> list[tuple[Node, Node]]:
    """The doors of a room, each with the place beyond it."""
    found = []
    for wall in room.group("walls_clockwise"):
        if not wall.known:
            continue
        for opening in build_up.openings(facts, wall):
            if opening.kind == "door" and kinds.says(opening, "leaf.width"):
                found.append((opening, beyond(facts, wall)))
            for bay in opening.group("left_to_right"):
                if bay.kind == "door":
                    found.append((bay, beyond(facts, wall)))
    return found


def through_doors(facts: Facts, room: Node) -> Load:
    """What comes in each time that a door is opened, averaged over the day."""
    from spec.derive.formulas import cooling as formulas  # noqa: PLC0415 - with psychrolib

    total = formulas.Load(0.0)
    doors = _doors(facts, room)
    if not doors:
        return total
    each = facts.job.limit("door_opening.lasts")
    if kinds.says(room, "use_pattern.open_for"):
        each = room.si("use_pattern.open_for")
    share = formulas.open_share(room.si("use_pattern.door_openings") / len(doors), each)
    inside = _state(facts, _room_air(room), room)
    for door, place in doors:
        far = weather(facts, place, "summer")
        wide = door.si("leaf.width") * door.count("leaf.count", 1)
        exchange = formulas.doorway(wide, door.si("leaf.height"), _state(facts, far, place), inside)
        difference = abs(far.temperature - inside.temperature)
        total += formulas.through_door(exchange, share, difference, 0.0)
    return total


@figure(
    "cooling.doorway",
    title="Heat through the open door",
    dimension="heat_flow",
    formula="0.221 A Δh ρ sqrt(1 - ρ_i/ρ) sqrt(g H) F_m x flow factor x share of the day",
    source=f"{HANDBOOK}, doorways (Gosney and Olama)",
    per=kinds.cooled_rooms,
    trades=("refrigeration",),
)
def doorway(facts: Facts, room: Node) -> Worked:
    """Heat and moisture through doors that are opened, averaged over the day."""
    return _worked(through_doors(facts, room))


@figure(
    "cooling.people",
    title="Heat of people",
    dimension="heat_flow",
    formula="people x (272 - 6 t) x hours / 24; in watts, t in °C",
    source=f"{HANDBOOK}, people, from memory",
    per=kinds.cooled_rooms,
    trades=("refrigeration",),
)
def people(facts: Facts, room: Node) -> float:
    """Heat of people, averaged over the day."""
    from spec.derive.formulas import cooling as formulas  # noqa: PLC0415 - with psychrolib

    each = formulas.person(room.si("climate.temperature"))
    hours = room.si("use_pattern.hours")
    return room.count("use_pattern.people") * each.times(hours / formulas.DAY).total


@figure(
    "cooling.lights",
    title="Heat of the lights",
    dimension="heat_flow",
    formula="power of the luminaires in the room x hours / 24",
    source="conservation of energy; drivers count where they sit",
    per=kinds.cooled_rooms,
    trades=("refrigeration",),
)
def lights(facts: Facts, room: Node) -> Worked:
    """Heat of the lights in the room, averaged over the day."""
    found = facts.figures.get("lighting.connected", room)
    whole = facts.figures.value("lighting.connected", room)
    hours = room.si("use_pattern.lights")
    return Worked(
        whole * hours / 24.0,
        tuple(Part(p.label, p.value * hours / 24.0, p.address) for p in found.parts),
        (("power", whole, "power"), ("hours", hours, "hours_per_day")),
    )


@figure(
    "cooling.fans",
    title="Heat of the fans",
    dimension="heat_flow",
    formula="power of the evaporators' fans x hours of running / 24",
    source="conservation of energy",
    per=kinds.cooled_rooms,
    trades=("refrigeration",),
)
def fans(facts: Facts, room: Node) -> Worked:
    """Heat of the machines' fans in the room, averaged over the day."""
    hours = 24.0 if room.word("cooling.settings.fan", "") == "always" else None
    if hours is None:
        hours = facts.job.limit("cooling.hours")
    parts = [
        Part(m.key, m.si("watts") * hours / 24.0, m.address)
        for m in machines(room, "evaporator", "cooling_unit", "fan")
        if kinds.says(m, "watts")
    ]
    return Worked(sum(p.value for p in parts), tuple(parts), (("hours", hours, "hours_per_day"),))


def machines(room: Node, *of_kinds: str) -> list[Node]:
    return [node for node in kinds.under(room) if node.kind in of_kinds]


def heat_of_wine(facts: Facts, room: Node) -> float:
    """Heat to take out of the bottles of one loading [J]."""
    from spec.derive.formulas import cooling as formulas  # noqa: PLC0415 - with psychrolib

    count = room.count("loading.bottles")
    named = room.word("loading.bottle") if kinds.says(room, "loading.bottle") else ""
    bottle = bottle_named(facts.job, named) if named else default_bottle(facts.job)
    if bottle is None:
        raise Open("bottles")
    glass, wine = parts_of(bottle)
    return formulas.heat_of_bottles(
        count * glass,
        count * wine,
        room.si("loading.arriving_at"),
        room.si("climate.temperature"),
    )


@figure(
    "cooling.product",
    title="Cooling down a delivery of wine",
    dimension="heat_flow",
    formula="(m_glass c_glass + m_wine c_wine) (t_arriving - t_room) / time allowed",
    source=f"{HANDBOOK}, product load; c of wine 4.1 kJ/kgK, in use 3.9 to 4.3, no authority",
    per=lambda job: [r for r in kinds.cooled_rooms(job) if kinds.says(r, "loading")],
    trades=("refrigeration",),
)
def product(facts: Facts, room: Node) -> float:
    """Mean power to bring one delivery down in the time allowed."""
    allowed = room.si("loading.cooled_within")
    return over(heat_of_wine(facts, room), allowed, "time allowed to cool the wine", "s")
