"""Air that comes into a wine room: what leaks in, and what each opening of a door lets in."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from spec.derive.figure import Facts, Given, Part, Worked, figure
from spec.derive.sheets import build_up, kinds
from spec.derive.sheets.cooling import HANDBOOK
from spec.derive.sheets.surroundings import Weather, beyond, elevation, weather
from spec.job.node import Node, Open

if TYPE_CHECKING:
    from spec.derive.formulas.air import Air
    from spec.derive.formulas.cooling import Load


def _state(facts: Facts, air: Weather, place: Node) -> Air:
    from spec.derive.formulas import air as formulas  # noqa: PLC0415 - with psychrolib

    pressure = formulas.pressure_at(elevation(facts))
    return formulas.state(air.temperature, air.damp(f"{place.address}.summer"), pressure)


def _room_air(room: Node) -> Weather:
    return Weather(room.si("climate.temperature"), room.si("climate.humidity"))


def _worked(load: Load, parts: tuple[Part, ...] = (), given: Given = ()) -> Worked:
    shares: Given = (
        ("sensible", load.sensible, "heat_flow"),
        ("latent", load.latent, "heat_flow"),
    )
    return Worked(load.total, parts, given + shares)


def _warm_neighbor(facts: Facts, room: Node) -> Node:
    """Where leaking air comes from: the warmest place beyond a door, else the warmest beyond."""
    walls = [wall for wall in room.group("walls_clockwise") if wall.known]
    with_doors = [
        wall
        for wall in walls
        if any(opening.kind != "window" for opening in build_up.openings(facts, wall))
    ]
    places = [beyond(facts, wall) for wall in with_doors or walls]
    if not places:
        raise Open(f"{room.address}.walls_clockwise")
    return max(places, key=lambda place: weather(facts, place, "summer").temperature)


class _Leak(NamedTuple):
    """Air that leaks into a room: its volume [m³], changes an hour, the air on both sides."""

    volume: float
    changes: float
    beyond: Air
    room: Air


def _leak(facts: Facts, room: Node) -> _Leak:
    place = _warm_neighbor(facts, room)
    changes = (
        room.number("climate.air_changes")
        if kinds.says(room, "climate.air_changes")
        else facts.job.limit("infiltration.changes") / 24.0
    )
    return _Leak(
        facts.figures.value("area.volume", room),
        changes,
        _state(facts, weather(facts, place, "summer"), place),
        _state(facts, _room_air(room), room),
    )


def leaks(facts: Facts, room: Node) -> Load:
    """What comes in with air that leaks."""
    from spec.derive.formulas import cooling as formulas  # noqa: PLC0415 - with psychrolib

    leak = _leak(facts, room)
    return formulas.infiltration(leak.volume, leak.changes, leak.beyond, leak.room)


@figure(
    "cooling.infiltration",
    title="Heat of air that leaks in",
    dimension="heat_flow",
    formula="V n (h_beyond - h_room) / (86400 v); n changes a day, h in J and v in m³, the room's, "
    "for each kg of dry air",
    source=f"{HANDBOOK}, infiltration by air changes; the air beyond the door",
    holds="up to 480 changes a day; the air of the design hour for all 24",
    per=kinds.cooled_rooms,
    trades=("refrigeration",),
)
def infiltration(facts: Facts, room: Node) -> Worked:
    """Heat and moisture of leaking air."""
    leak = _leak(facts, room)
    given = (
        ("V", leak.volume, "volume"),
        ("n", leak.changes * 24.0, "per_day"),
        ("h_beyond", leak.beyond.enthalpy, "J/kg"),
        ("h_room", leak.room.enthalpy, "J/kg"),
        ("v", leak.room.volume, "m³/kg"),
    )
    return _worked(leaks(facts, room), (), given)


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


def _each_door(facts: Facts, room: Node) -> list[tuple[Part, Load]]:
    """What comes in through each door, averaged over the day, with how it was worked out."""
    from spec.derive.formulas import cooling as formulas  # noqa: PLC0415 - with psychrolib

    doors = _doors(facts, room)
    if not doors:
        return []
    each = facts.job.limit("door_opening.lasts")
    if kinds.says(room, "use_pattern.open_for"):
        each = room.si("use_pattern.open_for")
    share = formulas.open_share(room.si("use_pattern.door_openings") / len(doors), each)
    inside = _state(facts, _room_air(room), room)
    found = []
    for door, place in doors:
        far = _state(facts, weather(facts, place, "summer"), place)
        wide = door.si("leaf.width") * door.count("leaf.count", 1)
        high = door.si("leaf.height")
        exchange = formulas.doorway(wide, high, far, inside)
        difference = abs(far.temperature - inside.temperature)
        kept = formulas.DOOR_PROTECTION[door.word("curtain", "none")]
        load = formulas.through_door(exchange, share, difference, kept)
        light, dense = sorted((far.density, inside.density))
        given = (
            ("A", wide * high, "area"),
            ("H", high, "length"),
            ("Δh", far.enthalpy - inside.enthalpy, "J/kg"),
            ("ρ_r", inside.density, "density"),
            ("ρ_1", light, "density"),
            ("ρ_2", dense, "density"),
            ("F_m", exchange.density_factor, "number"),
            ("flow factor", formulas.flow_factor(difference), "number"),
            ("share of the day", share, "number"),
            ("E", kept, "number"),
        )
        found.append((Part(door.key, load.total, door.address, given), load))
    return found


def through_doors(facts: Facts, room: Node) -> Load:
    """What comes in each time that a door is opened, averaged over the day."""
    from spec.derive.formulas import cooling as formulas  # noqa: PLC0415 - with psychrolib

    return sum((load for _, load in _each_door(facts, room)), formulas.Load(0.0))


@figure(
    "cooling.doorway",
    title="Heat through the open door",
    dimension="heat_flow",
    formula="0.221 A Δh ρ_r sqrt(1 - ρ_1/ρ_2) sqrt(g H) F_m x flow factor x share of the day x "
    "(1 - E); Δh in J for each kg of dry air, ρ_r of the room, ρ_1 the lighter and ρ_2 the denser "
    "air, E what strips or a curtain of air hold back",
    source=f"{HANDBOOK}, doorways (Gosney and Olama)",
    holds="doorways up to 5 m (16 ft) wide and high; flow factor 1.1 up to 11 K (20 °F) across, "
    "0.8 above",
    per=kinds.cooled_rooms,
    trades=("refrigeration",),
)
def doorway(facts: Facts, room: Node) -> Worked:
    """Heat and moisture through doors that are opened, averaged over the day."""
    parts = tuple(part for part, _ in _each_door(facts, room))
    return _worked(through_doors(facts, room), parts)
