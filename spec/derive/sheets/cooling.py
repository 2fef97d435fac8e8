"""The cooling load of each wine room but for its air: surfaces, people, lights, fans, wine."""

from __future__ import annotations

from typing import NamedTuple

from spec.derive.figure import Facts, Part, Worked, figure
from spec.derive.formulas.low_voltage import supply_input
from spec.derive.sheets import build_up, kinds, sun
from spec.derive.sheets.bottles import bottle_named, default_bottle, parts_of
from spec.derive.sheets.lighting import strips_on
from spec.derive.sheets.surroundings import beyond, weather
from spec.job.node import Node, Open

HANDBOOK = "ASHRAE Handbook Refrigeration, refrigerated-facility loads"


@figure(
    "cooling.transmission",
    title="Heat through walls, ceiling, floor and glass",
    dimension="heat_flow",
    formula="sum over surfaces of (U A (t_beyond - t_room)); each with its own summer design air",
    source=f"{HANDBOOK}, with their allowance for sun, from memory; where the job states the sun, "
    "sol-air temperature, ASHRAE Handbook Fundamentals 2017 ch. 18",
    holds="steady; the design hour for all 24 hours; outside faces dark; sun through glass apart",
    per=kinds.cooled_rooms,
    trades=("refrigeration",),
)
def transmission(facts: Facts, room: Node) -> Worked:
    """Heat through all surfaces, one part for each."""
    inside = room.si("climate.temperature")
    parts: list[Part] = []
    conductance = 0.0
    for surface in kinds.surfaces_of(room):
        air = weather(facts, beyond(facts, surface), "summer").temperature
        outside_air = sun.warmed(facts, surface, air)
        u = facts.figures.value("envelope.u_value", surface)
        area = build_up.area(facts, surface)
        parts.append(_through(_called(surface), surface, u, area, outside_air, inside))
        conductance += u * area
        if surface.kind == "wall":
            for opening in build_up.openings(facts, surface):
                area = facts.places.opening_area(opening)
                u = facts.figures.value("openings.u_value", opening)
                there = air if sun.is_glazed(opening) else outside_air
                parts.append(_through(opening.key, opening, u, area, there, inside))
                conductance += u * area
    whole = sum(part.value for part in parts)
    given = ("t_room", inside, "temperature"), ("U A", conductance, "W/K")
    return Worked(whole, tuple(parts), given)


def _through(
    name: str, surface: Node, u: float, area: float, outside_air: float, inside: float
) -> Part:
    """The share of one surface or opening."""
    from spec.derive.formulas import cooling as formulas  # noqa: PLC0415 - with psychrolib

    given = ("U", u, "u_value"), ("A", area, "area"), ("t_beyond", outside_air, "temperature")
    heat = formulas.transmission(area, u, outside_air, inside).total
    return Part(name, heat, surface.address, given)


def _called(surface: Node) -> str:
    """A surface in words: `WA`, `ceiling`, `slope FE`."""
    sloped = surface.parent is not None and surface.parent.key == "slopes"
    return f"slope {surface.key}" if sloped else surface.key


@figure(
    "cooling.people",
    title="Heat of people",
    dimension="heat_flow",
    formula="people x (272 - 6 t) x hours / 24; in watts, t in °C",
    source=f"{HANDBOOK}, people, from memory",
    holds="rooms of -10 to 30 °C (14 to 86 °F); light work; counted as sensible",
    per=kinds.cooled_rooms,
    trades=("refrigeration",),
)
def people(facts: Facts, room: Node) -> Worked:
    """Heat of people, averaged over the day."""
    from spec.derive.formulas import cooling as formulas  # noqa: PLC0415 - with psychrolib

    cold, hours = room.si("climate.temperature"), room.si("use_pattern.hours")
    count = room.count("use_pattern.people")
    heat = count * formulas.person(cold).times(hours / formulas.DAY).total
    given = (
        ("people", float(count), "count"),
        ("t", cold, "temperature"),
        ("hours", hours, "hours_per_day"),
    )
    return Worked(heat, given=given)


@figure(
    "cooling.lights",
    title="Heat of the lights",
    dimension="heat_flow",
    formula="power x hours / 24; of the luminaires in the room and the losses of the drivers there",
    source="conservation of energy; a driver loses (1 / efficiency - 1) of its load where it sits",
    per=kinds.cooled_rooms,
    trades=("refrigeration",),
)
def lights(facts: Facts, room: Node) -> Worked:
    """Heat of the lights in the room, averaged over the day."""
    from spec.derive.formulas import cooling as formulas  # noqa: PLC0415 - with psychrolib

    found = list(facts.figures.get("lighting.connected", room).parts)
    facts.figures.value("lighting.connected", room)
    found += [Part(f"{d.key}, its loss", _loss(facts, d), d.address) for d in _drivers(facts, room)]
    whole, hours = sum(part.value for part in found), room.si("use_pattern.lights")
    return Worked(
        formulas.running(whole, hours).total,
        tuple(Part(p.label, formulas.running(p.value, hours).total, p.address) for p in found),
        (("power", whole, "power"), ("hours", hours, "hours_per_day")),
    )


def _drivers(facts: Facts, room: Node) -> list[Node]:
    """The drivers in a room that feed strips, be those in it or not."""
    return [d for d in kinds.under(room) if d.kind == "driver" and strips_on(facts.job, d)]


def _loss(facts: Facts, driver: Node) -> float:
    """What a driver turns into heat where it sits [W]."""
    load = facts.figures.value("lighting.driver_load", driver)
    if kinds.says(driver, "efficiency"):
        return facts.figures.value("lighting.driver_input", driver) - load
    return supply_input(load, facts.job.limit("driver.efficiency")) - load


@figure(
    "cooling.fans",
    title="Heat of the fans",
    dimension="heat_flow",
    formula="sum over machines of (power of the fans x hours / 24); hours of running",
    source="conservation of energy",
    per=kinds.cooled_rooms,
    trades=("refrigeration",),
)
def fans(facts: Facts, room: Node) -> Worked:
    """Heat of the machines' fans in the room, averaged over the day.

    Not of a cooling unit: its plate says what it takes out beyond the heat of its own fan.
    """
    from spec.derive.formulas import cooling as formulas  # noqa: PLC0415 - with psychrolib

    always = room.word("cooling.settings.fan", "") == "always"
    hours = 24.0 if always else facts.job.limit("cooling.hours")
    parts = []
    for machine in machines(room, "evaporator", "fan"):
        if kinds.says(machine, "watts"):
            power, runs = machine.si("watts"), machine.si("hours", hours)
            given = ("power of the fans", power, "power"), ("hours", runs, "hours_per_day")
            heat = formulas.running(power, runs).total
            parts.append(Part(machine.key, heat, machine.address, given))
    return Worked(sum(p.value for p in parts), tuple(parts))


def machines(room: Node, *of_kinds: str) -> list[Node]:
    return [node for node in kinds.under(room) if node.kind in of_kinds]


class _Delivery(NamedTuple):
    """One loading: glass and wine [kg], their temperature and the room's [°C], c of wine."""

    glass: float
    wine: float
    arriving: float
    room: float
    wine_heat: float


def _delivery(facts: Facts, room: Node) -> _Delivery:
    count = room.count("loading.bottles")
    named = room.word("loading.bottle") if kinds.says(room, "loading.bottle") else ""
    bottle = bottle_named(facts.job, named) if named else default_bottle(facts.job)
    if bottle is None:
        raise Open("bottles")
    glass, wine = parts_of(bottle)
    return _Delivery(
        count * glass,
        count * wine,
        room.si("loading.arriving_at"),
        room.si("climate.temperature"),
        facts.job.limit("wine.heat_capacity"),
    )


def heat_of_wine(facts: Facts, room: Node) -> float:
    """Heat to take out of the bottles of one loading [J]."""
    from spec.derive.formulas import cooling as formulas  # noqa: PLC0415 - with psychrolib

    return formulas.heat_of_bottles(*_delivery(facts, room))


@figure(
    "cooling.product",
    title="Cooling down a delivery of wine",
    dimension="heat_flow",
    formula="(m_glass c_glass + m_wine c_wine) (t_arriving - t_room) / time allowed",
    source=f"{HANDBOOK}, product load",
    holds="wine of 3900 to 4300 J/kgK, arriving at -10 to 45 °C (14 to 113 °F)",
    per=lambda job: [r for r in kinds.cooled_rooms(job) if kinds.says(r, "loading")],
    trades=("refrigeration",),
)
def product(facts: Facts, room: Node) -> Worked:
    """Mean power to bring one delivery down in the time allowed."""
    from spec.derive.formulas import cooling as formulas  # noqa: PLC0415 - with psychrolib

    allowed, load = room.si("loading.cooled_within"), _delivery(facts, room)
    heat = formulas.pull_down(heat_of_wine(facts, room), allowed).total
    given = (
        ("m_glass", load.glass, "mass"),
        ("c_glass", formulas.GLASS_HEAT, "heat_capacity"),
        ("m_wine", load.wine, "mass"),
        ("c_wine", load.wine_heat, "heat_capacity"),
        ("t_arriving", load.arriving, "temperature"),
        ("t_room", load.room, "temperature"),
        ("time allowed", allowed, "duration"),
    )
    return Worked(heat, given=given)
