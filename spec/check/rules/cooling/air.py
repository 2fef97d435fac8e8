"""Where machines blow: at a wall that is there, not at each other, with room before them."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.finding import Level
from spec.place import air
from spec.quantity import show

_ROOM = """
rooms:
  wine_room:
    use: wine_storage
    taped: {to: finish}
    height: 8 ft
    stacks: {racks: {bottom_to_top: {upper: {is: racks, height: 94 in, depth: 14 in}}}}
    walls_clockwise:
      WA: {length: 11 ft}
      WB: {length: 9 ft}
      WC: {length: 11 ft}
      WD: {length: 9 ft, millwork: {upper: {left_to_right: {R1: {width: 9 ft, columns: 26}}}}}
    ceiling:
      equipment:
        EV1: {is: evaporator, center: {WA: 54 in, WD: FAR}, extent: {WA: 22 in, WB: 22 in},
            blows: FIRST}
        EV2: {is: evaporator, center: {WA: 54 in, WD: 90 in}, extent: {WA: 22 in, WB: 22 in},
            blows: SECOND}
"""
_NEAR = _ROOM.replace("FAR", "50 in")
_GOOD = _NEAR.replace("FIRST", "toward WD").replace("SECOND", "toward WB")


@rule(
    "cooling.blows-at-nothing",
    level=Level.ERROR,
    trades=("refrigeration",),
    why="A machine is hung the way its order says: toward a wall that the room does not have it is "
    "hung any way.",
    each=("evaporator", "cooling_unit"),
    bad=_GOOD.replace("toward WB", "toward WE"),
    good=_GOOD,
)
def blows_at_nothing(facts: Facts, machine: Node) -> Iterator[Said]:
    """A machine blows toward a wall that is none of its room's."""
    if machine.find("blows") is None or not machine.room:
        return
    wall, room = air.named_wall(machine), facts.job.thing(machine.room)
    walls = [own.key for own in room.group("walls_clockwise")] if room is not None else []
    if wall and room is not None and wall not in walls:
        yield said(
            machine.at("blows"),
            f"{machine.key} blows toward {wall}; {room.key.replace('_', ' ')} has the walls "
            f"{', '.join(walls)}",
            "name the wall that it blows toward",
            room,
        )


@rule(
    "cooling.blows-at-machine",
    level=Level.ERROR,
    trades=("refrigeration",),
    why="Two machines that blow into each other's face draw in each other's cold air, ice up, and "
    "leave the room warm.",
    each=("room",),
    bad=_NEAR.replace("FIRST", "toward WB").replace("SECOND", "toward WD"),
    good=_GOOD,
)
def blows_at_machine(facts: Facts, room: Node) -> Iterator[Said]:
    """Two machines of one room blow at each other."""
    for one, other, apart in air.at_each_other(air.machines(facts.places, room)):
        yield said(
            one.node.at("blows"),
            f"{one.node.key} blows {one.node.text('blows')} and {other.node.key} "
            f"{other.node.text('blows')}: at each other, "
            f"{show(apart, 'length', facts.job.system)} apart",
            "turn both round, or set them side by side",
            other.node.at("blows"),
            other.node,
        )


@rule(
    "cooling.blows-at-obstacle",
    level=Level.WARNING,
    trades=("refrigeration", "millwork"),
    why="Air that meets something right before the machine is drawn in again: the coil ices up and "
    "the far end of the room stays warm.",
    each=("room",),
    bad=_GOOD.replace("WD: 50 in", "WD: 32 in"),
    good=_GOOD,
)
def blows_at_obstacle(facts: Facts, room: Node) -> Iterator[Said]:
    """Something stands nearer before a machine that blows than the house keeps free."""
    found = air.machines(facts.places, room)
    if not found:
        return
    clear, system = facts.job.limit("machine.free_before"), facts.job.system
    facing = {pair[:2] for pair in air.at_each_other(found)}
    standing = facts.places.standing(room)
    for machine in found:
        for met in air.in_the_air(facts.places, room, machine, standing, clear):
            if any({met.machine.node, met.thing} == {a.node, b.node} for a, b in facing):
                continue
            yield said(
                machine.node.at("blows"),
                f"{machine.node.key} blows {machine.node.text('blows')}; {met.thing.key} is "
                f"{show(met.before, 'length', system)} before it, the house keeps "
                f"{show(clear, 'length', system)} free",
                "turn the machine, or move one of the two",
                met.thing,
                "machine.free_before",
            )
