"""A way in to everything: to use it from the door, to serve it when it fails."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.check.rules.millwork.reach import floor_piece_in_the_way
from spec.finding import Level
from spec.place import reach, service
from spec.quantity import show

_ISLAND = """
rooms:
  wine_room:
    taped: {to: finish}
    height: 9 ft
    stacks: {racks: {bottom_to_top: {lower: {is: racks, height: 40 in, depth: 26 in}}}}
    walls_clockwise:
      WA: {length: 10 ft, millwork: {lower: {left_to_right: {R1: {width: 10 ft, columns: 28}}}}}
      WB: {length: 12 ft}
      WC: {length: 10 ft, openings: {D1: {is: door, center: wall, leaf: {width: 32 in,
          height: 80 in}}}}
      WD: {length: 12 ft}
    floor: {millwork: {IS1: {is: table, center: {WA: 70 in, WD: 60 in}, extent: {WA: WIDE,
        WB: 24 in}, height: 36 in}}}
"""
_COVER = """
rooms:
  wine_room:
    taped: {to: finish}
    height: 8 ft
    walls_clockwise: {WA: {length: 9 ft}, WB: {length: 11 ft}, WC: {length: 9 ft},
        WD: {length: 11 ft}}
    ceiling: {equipment: {CV1: {is: cover, center: {WA: 60 in, WD: 50 in}, extent: {WA: 30 in,
        WD: 30 in}}}}
    floor: {millwork: {CS1: {is: case_stack, center: {WA: 60 in, WD: 50 in}, extent: {WA: 24 in,
        WD: 24 in}, height: HIGH}}}
    cooling: {service: {through: CV1, clear_below: 36 in}}
"""
_INSIDE = """
rooms:
  wine_room:
    walls_clockwise:
      WA:
        millwork: {lower: {left_to_right: {R1: {is: KIND, width: 24 in}}}}
        lights: {}
        drivers: {PS1: {power: 60 W, inside: R1, reached: from the front}}
"""
_SERVED = (
    "driver",
    "decoder",
    "junction_box",
    "condensate_pump",
    "evaporator",
    "cooling_unit",
    "disconnect",
    "controller",
)


@rule(
    "access.cannot-be-reached",
    level=Level.ERROR,
    trades=("millwork", "electrical", "refrigeration"),
    why="What one cannot get at with a case in the arms is not used, and not served when it fails.",
    each=("room",),
    bad=_ISLAND.replace("WIDE", "100 in"),
    good=_ISLAND.replace("WIDE", "24 in").replace("70 in", "84 in"),
)
def cannot_be_reached(facts: Facts, room: Node) -> Iterator[Said]:
    """No way as wide as the house's aisle leads from the door to a rack, a device or a machine."""
    aisle, system = facts.job.limit("aisle.clear"), facts.job.system
    for shut in reach.shut_off(facts.places, room, aisle, facts.places.standing(room)):
        one, other = shut.sides
        if _told_as_aisle(room, one, other) or _told_as_piece(one, other):
            continue
        names = [thing.key for thing in shut.things]
        yield said(
            shut.things[0],
            f"{', '.join(names)} cannot be reached from the door: between {one.key} and "
            f"{other.key} are {show(shut.width, 'length', system)}, the house keeps "
            f"{show(aisle, 'length', system)}",
            f"move or shorten {other.key} or {one.key}",
            one,
            other,
            *shut.things[1:],
        )


def _told_as_aisle(room: Node, one: Node, other: Node) -> bool:
    """Runs on opposite walls of a room of four: `millwork.aisle-too-narrow` speaks of them."""
    walls = [wall.address for wall in room.group("walls_clockwise")]
    runs = {one.heading, other.heading} == {"millwork"}
    if not runs or len(walls) != 4 or not {one.surface, other.surface} <= set(walls):
        return False
    return abs(walls.index(one.surface) - walls.index(other.surface)) == 2


def _told_as_piece(one: Node, other: Node) -> bool:
    """What stands on a floor before a run: `millwork.floor-piece-in-the-way` speaks of both."""
    kinds = floor_piece_in_the_way.kinds
    return one.heading == other.heading == "millwork" and (one.kind in kinds or other.kind in kinds)


@rule(
    "access.service-blocked",
    level=Level.ERROR,
    trades=("refrigeration", "millwork"),
    why="Who comes to serve the machine needs the room that was promised to him, and empties no "
    "rack for it.",
    each=("room",),
    bad=_COVER.replace("HIGH", "80 in"),
    good=_COVER.replace("HIGH", "40 in"),
)
def service_blocked(facts: Facts, room: Node) -> Iterator[Said]:
    """Something stands or hangs in the space that is kept clear to serve a machine."""
    for leaf, served, zone in service.kept_clear(facts.places, room):
        for thing in service.in_the_clear(zone, facts.places.standing(room)):
            yield said(
                leaf,
                f"{leaf.written} are kept clear {leaf.key.removeprefix('clear_')} {served.key}, "
                f"and {thing.key} is in them",
                f"move {thing.key}, or keep less clear",
                thing,
                served,
            )


@rule(
    "access.shut-in",
    level=Level.ERROR,
    trades=("electrical", "refrigeration", "millwork"),
    why="What fails first sits behind a board that is screwed and glued.",
    each=_SERVED,
    bad=_INSIDE.replace("KIND", "filler"),
    good=_INSIDE.replace("KIND", "cabinet"),
)
def shut_in(facts: Facts, thing: Node) -> Iterator[Said]:
    """What needs service is inside a filler or a panel of which nothing says that it comes off."""
    piece = service.closed_in(facts.places, thing)
    if piece is not None:
        yield said(
            thing.at("inside"),
            f"{thing.key} is inside {piece.key}, a {piece.kind}, and nothing says that it comes "
            "off",
            f"write at {piece.key} how it is `removable`, or put {thing.key} behind a door",
            piece,
        )
