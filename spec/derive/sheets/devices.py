"""Heat of what else draws power in a wine room: controllers, pumps, humidifiers, screens."""

from __future__ import annotations

from spec.derive.figure import COMMON_PRACTICE, Facts, Part, Worked, figure
from spec.derive.sheets import kinds
from spec.derive.sheets.cooling_air import leaks, through_doors
from spec.job.node import Node

_ELSEWHERE = ("evaporator", "cooling_unit", "condensing_unit", "fan", "driver", "heater")
"""Reckoned with the machines or the lights; a heater does not run on the day of the load."""
_PUMP_HOURS = 1.0
"""[h/day] A condensate pump runs for minutes at a time. Common practice."""


def _in(room: Node) -> list[Node]:
    """The devices of a room that say what they draw."""
    return [
        thing
        for thing in kinds.under(room)
        if thing.heading in ("devices", "equipment")
        and thing.kind not in _ELSEWHERE
        and kinds.says(thing, "watts")
    ]


@figure(
    "cooling.devices",
    title="Heat of controllers, pumps and other devices",
    dimension="heat_flow",
    formula="sum over devices of (power x hours / 24)",
    source=f"conservation of energy; hours {COMMON_PRACTICE}",
    holds="all day long; a condensate pump one hour; a humidifier all day where the air of the "
    "design day dries the room, else not at all; heaters not",
    per=lambda job: [room for room in kinds.cooled_rooms(job) if _in(room)],
    trades=("refrigeration",),
)
def devices(facts: Facts, room: Node) -> Worked:
    """Heat of the devices in a room, averaged over the day."""
    from spec.derive.formulas import cooling as formulas  # noqa: PLC0415 - with psychrolib

    parts = []
    for thing in _in(room):
        watts, hours = thing.si("watts"), _hours(facts, room, thing)
        given = ("power", watts, "power"), ("hours", hours, "hours_per_day")
        heat = formulas.running(watts, hours).total
        parts.append(Part(thing.key, heat, thing.address, given))
    return Worked(sum(part.value for part in parts), tuple(parts))


def _hours(facts: Facts, room: Node, thing: Node) -> float:
    if thing.kind == "condensate_pump":
        return _PUMP_HOURS
    if thing.kind == "humidifier":
        dries = (leaks(facts, room) + through_doors(facts, room)).water < 0.0
        return 24.0 if dries else 0.0
    return thing.si("hours", 24.0)
