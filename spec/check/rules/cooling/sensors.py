"""Sensors of cooled rooms: they feel what the bottles feel."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.derive.sheets import kinds
from spec.derive.sheets.surroundings import beyond, outside
from spec.finding import Level
from spec.job.node import Open
from spec.place import air
from spec.quantity import Quantity, Range, show

_SENSOR = """
surroundings: {outdoors: {from: climate}, hall: {summer: {temperature: 26 °C, humidity: 50 %}}}
rooms:
  wine_room:
    use: wine_storage
    walls_clockwise: {WA: {faces: FACES, devices: {SN1: {is: sensor, aff: HIGH, serves: CT1},
        CT1: {is: controller}}}}
"""
_BLOWN = """
rooms:
  wine_room:
    use: wine_storage
    taped: {to: finish}
    height: 9 ft
    walls_clockwise:
      WA:
        length: 12 ft
        equipment: {EV1: {is: evaporator, center: PLACE, bottom: 92 in, blows: toward WB,
          size: 40 in x 14 in x 12 in}}
      WB: {length: 8 ft, devices: {SN1: {is: sensor, center: 10 in, aff: 84 in}}}
      WC: {length: 12 ft}
      WD: {length: 8 ft}
"""


@rule(
    "cooling.sensor-too-high-or-low",
    level=Level.ERROR,
    trades=("refrigeration", "electrical"),
    why="Warm air lies at the ceiling and cold at the floor: a sensor at the height of the bottles "
    "feels what they feel.",
    each=("sensor",),
    bad=_SENSOR.replace("FACES", "hall").replace("HIGH", "95 in"),
    good=_SENSOR.replace("FACES", "hall").replace("HIGH", "60 in"),
)
def sensor_too_high_or_low(facts: Facts, sensor: Node) -> Iterator[Said]:
    """A sensor of a cooled room hangs outside the heights of the house."""
    aff = sensor.find("aff")
    if (
        aff is None
        or not isinstance(aff.value, Quantity)
        or not _feels_a_cooled_room(facts, sensor)
    ):
        return
    limits = facts.job.threshold("sensor.height")
    if isinstance(limits, Range) and not limits.low.si <= aff.value.si <= limits.high.si:
        yield said(
            aff,
            f"{sensor.key} hangs {aff.written} above the floor; the house hangs sensors at "
            f"{limits.written}",
            "hang it at the height of the bottles",
        )


@rule(
    "cooling.sensor-on-outside-wall",
    level=Level.WARNING,
    trades=("refrigeration", "electrical"),
    why="A sensor on an outside wall feels the weather.",
    each=("sensor",),
    bad=_SENSOR.replace("FACES", "outdoors").replace("HIGH", "60 in"),
    good=_SENSOR.replace("FACES", "hall").replace("HIGH", "60 in"),
)
def sensor_on_outside_wall(facts: Facts, sensor: Node) -> Iterator[Said]:
    """A sensor of a cooled room hangs on a wall to the open air."""
    wall = facts.places.wall_of(sensor)
    if wall is None or not _feels_a_cooled_room(facts, sensor):
        return
    try:
        far = beyond(facts, wall)
    except Open:
        return
    if outside(facts, far):
        yield said(
            sensor,
            f"{sensor.key} hangs on {wall.key}, which faces {far.key}",
            "hang it on an inside wall",
            wall.find("faces") or wall,
        )


@rule(
    "cooling.sensor-in-supply-air",
    level=Level.WARNING,
    trades=("refrigeration", "electrical"),
    why="A sensor in the stream of the machine stops it while the far racks are still warm.",
    each=("sensor",),
    bad=_BLOWN.replace("PLACE", "10 ft"),
    good=_BLOWN.replace("PLACE", "4 ft"),
)
def sensor_in_supply_air(facts: Facts, sensor: Node) -> Iterator[Said]:
    """A sensor hangs nearer to where cold air is blown than the house keeps."""
    room, wall = facts.job.thing(sensor.room), facts.places.wall_of(sensor)
    if room is None or wall is None or not _feels_a_cooled_room(facts, sensor):
        return
    least, system = facts.job.limit("sensor.from_supply"), facts.job.system
    for machine, apart in air.near(facts.places, room, sensor):
        if apart < least - 0.0005:
            yield said(
                sensor,
                f"{sensor.key} hangs {show(apart, 'length', system)} from {machine.key}; the "
                f"house keeps {show(least, 'length', system)} from where cold air is blown",
                "hang it out of the air of the machine",
                machine,
            )


def _feels_a_cooled_room(facts: Facts, sensor: Node) -> bool:
    room = facts.job.thing(sensor.room)
    senses = sensor.find("senses")
    return room is not None and kinds.is_cooled(room) and (senses is None or senses.value != "leak")
