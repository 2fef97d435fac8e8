"""Winter: what dry indoor air becomes at the temperature of a cooled room."""

from __future__ import annotations

from collections.abc import Iterator

from spec.derive.figure import Facts, Worked, figure
from spec.derive.formulas.range import NotCovered
from spec.derive.sheets import build_up, kinds
from spec.derive.sheets.surroundings import beyond, outside, weather
from spec.job.node import Node, Open

_WAYS_IN = ("door", "glass_front", "arch", "cased_opening")


def air_from(facts: Facts, room: Node) -> Iterator[Node]:
    """The places indoors from which air comes into a room through its doors and glass fronts.

    Another cooled room, whose air is kept as it is, only where there is no other.
    """
    found = list(_indoors(facts, room))
    yield from [far for far in found if not kinds.is_cooled(far)] or found


def _indoors(facts: Facts, room: Node) -> Iterator[Node]:
    for wall in room.group("walls_clockwise"):
        if not any(o.kind in _WAYS_IN for o in build_up.openings(facts, wall)):
            continue
        try:
            far = beyond(facts, wall)
        except Open:
            continue
        if not outside(facts, far):
            yield far


@figure(
    "cooling.winter_humidity",
    title="Humidity of the driest next room's winter air, cooled to the room's temperature",
    dimension="percent",
    formula="p / p_room; p the vapor pressure of the air beyond the door, p_room saturation at the "
    "room's temperature; 1 at most",
    source="ASHRAE Handbook Fundamentals 2017 ch. 1",
    holds="no humidifier and no water given off in the room",
    per=kinds.cooled_rooms,
    trades=("refrigeration",),
)
def winter_humidity(facts: Facts, room: Node) -> Worked:
    """Where the humidity of a room settles in winter when nothing is added."""
    from spec.derive.formulas import air  # noqa: PLC0415 - with psychrolib

    cold = room.si("climate.temperature")
    found: list[tuple[float, float, Node]] = []
    for far in air_from(facts, room):
        there = weather(facts, far, "winter")
        damp = there.damp(f"{far.address}.winter")
        here = air.humidity_when_brought_to(there.temperature, damp, cold)
        found.append((min(here, 1.0), air.vapor_pressure(there.temperature, damp), far))
    if not found:
        raise NotCovered("no door or glass front of the room leads indoors")
    driest, pressure, far = min(found, key=lambda one: one[0])
    given = ("p", pressure, "Pa"), ("p_room", air.saturation_pressure(cold), "Pa")
    return Worked(driest, given=given, remark=f"air of {far.key.replace('_', ' ')}")
