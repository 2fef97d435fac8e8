"""The hour in which everything comes together, beside the day over which the machine may run."""

from __future__ import annotations

from collections.abc import Iterator

from spec.derive.figure import Facts, Figure, Part, Worked, figure
from spec.derive.sheets import kinds
from spec.derive.sheets.capacity import shares
from spec.derive.sheets.cooling_air import leaks, through_doors
from spec.derive.sheets.dividing import over
from spec.derive.sheets.machines import with_machines
from spec.derive.sheets.stored_heat import heat_stored
from spec.job.node import Node
from spec.quantity import show

_DAY = 24.0
_USED_BY_PEOPLE = ("cooling.people", "cooling.doorway")


def _hours(room: Node, name: str) -> float:
    """Hours a day in which a share of the load comes about; those of one hour at least."""
    if name in _USED_BY_PEOPLE:
        return room.si("use_pattern.hours")
    if name == "cooling.lights":
        return room.si("use_pattern.lights")
    return _DAY


def _within(mean: float, hours: float) -> float:
    """What a mean over the day comes to in the hours in which it comes about."""
    return mean * _DAY / max(hours, 1.0)


def _parts(facts: Facts, room: Node) -> Iterator[Part]:
    for label, name in shares(facts, room):
        found = facts.figures.get(name, room)
        mean = facts.figures.value(name, room)
        yield from _by_machine(found) or [_part(label, mean, _hours(room, name), found.address)]


def _by_machine(found: Figure) -> list[Part]:
    """Fans and devices one by one: each has its own hours."""
    return [
        _part(part.label, part.value, hours, part.address)
        for part in found.parts
        for name, hours, _ in part.given
        if name == "hours"
    ]


def _part(label: str, mean: float, hours: float, address: str) -> Part:
    hours = min(max(hours, 1.0), _DAY)
    given = ("mean of the day", mean, "heat_flow"), ("hours", hours, "hours_per_day")
    return Part(label, _within(mean, hours), address, given)


@figure(
    "cooling.design_hour",
    title="Cooling load in the design hour, everything on",
    dimension="heat_flow",
    formula="sum over shares of (mean of the day x 24 / hours); hours a day in which the share "
    "comes about, one at least",
    source="the shares of the design day, each over its own hours",
    holds="people in, lights and fans on, the day's door openings within the hours of people; a "
    "delivery cools down evenly; walls keep no heat",
    per=kinds.cooled_rooms,
    trades=("refrigeration",),
)
def design_hour(facts: Facts, room: Node) -> Worked:
    """All that can come together in one hour of the design day."""
    parts = tuple(_parts(facts, room))
    whole = sum(part.value for part in parts)
    latent = _latent(facts, room)
    given = ("sensible", whole - latent, "heat_flow"), ("latent", latent, "heat_flow")
    return Worked(whole, parts, given)


def _latent(facts: Facts, room: Node) -> float:
    doors = through_doors(facts, room).latent
    return leaks(facts, room).latent + _within(doors, _hours(room, "cooling.doorway"))


@figure(
    "cooling.hour_margin",
    title="Capacity over the load in the design hour",
    dimension="percent",
    formula="given / load in the hour - 1",
    source="division; the machine running without a stop; below 0 the room warms in that hour, "
    "though the day is carried",
    per=with_machines,
    trades=("refrigeration",),
)
def hour_margin(facts: Facts, room: Node) -> Worked:
    """What is given over what the design hour asks for, as a share of it."""
    given = facts.figures.value("cooling.given", room)
    hour = facts.figures.value("cooling.design_hour", room)
    return Worked(
        over(given, hour, "load in the design hour", "W") - 1.0,
        given=(("given", given, "heat_flow"), ("load in the hour", hour, "heat_flow")),
        remark=_warms(facts, room, hour - given) if hour > given else "",
    )


def _warms(facts: Facts, room: Node, short: float) -> str:
    """How far full racks warm when so much [W] is left over for an hour."""
    store = heat_stored(facts, room)
    if store <= 0.0:
        return ""
    rise = show(short * 3600.0 / store, "temperature_difference", facts.job.system)
    return f"full racks take up what is left in that hour: they warm by {rise}"
