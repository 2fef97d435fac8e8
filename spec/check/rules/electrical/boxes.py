"""Boxes and plates: how many gangs, how high, how near to a door or a corner."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.check.worked import worked
from spec.finding import Level
from spec.job.finishes import thickness_of
from spec.job.node import Open
from spec.quantity import Quantity, Range, show

_TOUCH = 0.001
_SWITCHES = ("plate", "dimmer", "switch", "keypad")
_WALL = """
products: {box_2: {is: box, gangs: GANGS, volume: 34 in3, depth: 3 in}}
rooms:
  tasting_room:
    taped: {to: finish}
    height: 8 ft
    walls_clockwise:
      TA:
        length: 10 ft
        openings:
          D1: {is: door, center: 4 ft, leaf: {width: 32 in, height: 80 in},
              casing: {width: 3-1/2 in, thickness: 3/4 in, sides: both}}
        devices:
          P1:
            is: plate
            center: PLACE
            aff: HIGH
            box: box_2
            left_to_right: {S1: {is: dimmer}, S2: {is: dimmer}}
      TB: {length: 6 ft}
      TC: {length: 10 ft}
      TD: {length: 6 ft}
"""
_GOOD = _WALL.replace("GANGS", "2").replace("PLACE", "7 ft").replace("HIGH", "48 in")


@rule(
    "electrical.box-gangs-differ",
    level=Level.ERROR,
    trades=("electrical",),
    why="The box is nailed on before the devices come: one gang too few is a hole in new plaster.",
    each=("plate",),
    bad=_GOOD.replace("gangs: 2", "gangs: 1"),
    good=_GOOD,
)
def box_gangs_differ(facts: Facts, plate: Node) -> Iterator[Said]:
    """A plate has another number of devices than its box has gangs."""
    devices = plate.group("left_to_right")
    box = facts.job.thing(plate.word("box", ""))
    gangs = box.find("gangs") if box is not None else None
    if gangs is None or not isinstance(gangs.value, int) or not devices:
        return
    if gangs.value != len(devices):
        yield said(
            plate.at("box"),
            f"{plate.key} holds {len(devices)} devices "
            f"({', '.join(d.key for d in devices)}), its box "
            f"has {gangs.value} gangs",
            f"choose a box of {len(devices)} gangs",
            plate,
        )


@rule(
    "electrical.box-too-full",
    level=Level.ERROR,
    trades=("electrical",),
    why="Conductors that are pressed into a box get hot and come loose.",
    source="NEC 314.16; cited from memory, check the adopted edition",
    bad="""
products: {small: {is: box, gangs: 1, volume: 10 in3, depth: 2 in}}
circuits: {C1: {voltage: 120 V, breaker: 20 A, conductor: 12 AWG copper}}
rooms: {tasting_room: {walls_clockwise: {TA: {devices: {RC1: {is: receptacle, box: small,
    fed_from: C1}}}}}}
""",
    good="""
products: {large: {is: box, gangs: 1, volume: 22 in3, depth: 3 in}}
circuits: {C1: {voltage: 120 V, breaker: 20 A, conductor: 12 AWG copper}}
rooms: {tasting_room: {walls_clockwise: {TA: {devices: {RC1: {is: receptacle, box: large,
    fed_from: C1}}}}}}
""",
)
def box_too_full(facts: Facts) -> Iterator[Said]:
    """The usual cables and devices need more volume than a box has."""
    for device, left in worked(facts, "electrical.box_left"):
        if left < 0:
            needed = facts.figures.value("electrical.box_fill", device)
            box = facts.job.thing(device.word("box"))
            yield said(
                device.at("box"),
                f"the box of {device.key} has "
                f"{box.text('volume') if box else 'too little'}, what is in "
                f"it needs {show(needed, 'volume', facts.job.system)}",
                "choose a deeper box, or take fewer cables through it",
                device,
            )


@rule(
    "electrical.switch-out-of-reach",
    level=Level.WARNING,
    trades=("electrical",),
    why="A switch is found in the dark where every other switch is.",
    bad=_GOOD.replace("48 in", "68 in"),
    good=_GOOD,
)
def switch_out_of_reach(facts: Facts) -> Iterator[Said]:
    """A switch or a plate with dimmers hangs outside the heights of the house."""
    limits = facts.job.threshold("switch.height")
    for device in facts.job.things(*_SWITCHES):
        aff = device.find("aff")
        if aff is None or not isinstance(aff.value, Quantity) or not isinstance(limits, Range):
            continue
        if not limits.low.si <= aff.value.si <= limits.high.si:
            yield said(
                aff,
                f"{device.key} hangs {aff.written} above the floor; the house hangs switches at "
                f"{limits.written}",
                "hang it where the hand looks for it",
            )


@rule(
    "electrical.device-on-casing",
    level=Level.ERROR,
    trades=("electrical", "doors"),
    why="A box that is set before the casing was drawn ends up half under it.",
    each=("wall",),
    bad=_GOOD.replace("7 ft", "5 ft 10 in"),
    good=_GOOD,
)
def device_on_casing(facts: Facts, wall: Node) -> Iterator[Said]:
    """A device lies under the casing of a door, or nearer to it than the house keeps."""
    things = list(facts.places.seen_from(wall))
    clear = facts.job.limit("plate.clear_of_edge")
    for opening in things:
        if opening.node.heading != "openings" or opening.node.find("casing.width") is None:
            continue
        casing = opening.node.si("casing.width")
        for device in things:
            if device.node.heading != "devices" or _in_plate(device.node):
                continue
            wide, high = device.rect.overlap(opening.rect)
            if wide > 0 or high < 0 or -wide >= casing + clear - _TOUCH:
                continue
            yield said(
                device.node,
                f"{device.node.key} is {show(-wide, 'length', facts.job.system)} from the "
                "opening of "
                f"{opening.node.key}; its casing takes {opening.node.text('casing.width')} and the "
                f"house keeps {show(clear, 'length', facts.job.system)} beside it",
                "move the device, or make the casing narrower",
                opening.node.at("casing.width"),
            )


def _in_plate(node: Node) -> bool:
    return node.parent is not None and node.parent.key == "left_to_right"


@rule(
    "electrical.plate-too-near-corner",
    level=Level.ERROR,
    trades=("electrical", "millwork"),
    why="A plate that is cut to fit a corner, or stands on the edge of a counter, is seen "
    "every day.",
    each=("wall",),
    bad=_GOOD.replace("7 ft", "9 ft 11 in"),
    good=_GOOD,
)
def plate_too_near_corner(facts: Facts, wall: Node) -> Iterator[Said]:
    """A device is nearer to a corner of its wall than the house keeps."""
    if not any(wall.group("devices")):
        return
    length = facts.places.length(wall)
    clear = facts.job.limit("plate.clear_of_edge")
    for device in facts.places.on(wall):
        if device.node.heading != "devices" or _in_plate(device.node):
            continue
        if device.node.find("inside") is not None:
            continue
        for corner, gap in (("left", device.rect.left), ("right", length - device.rect.right)):
            if gap < clear - _TOUCH:
                yield said(
                    device.node,
                    f"{device.node.key} is {show(gap, 'length', facts.job.system)} from "
                    f"the {corner} "
                    f"corner of {wall.key}; the house keeps "
                    f"{show(clear, 'length', facts.job.system)}",
                    "move it away from the corner",
                    wall,
                )


@rule(
    "electrical.plates-out-of-line",
    level=Level.WARNING,
    trades=("electrical",),
    why="Two plates one above the other that miss each other by a finger look like a mistake.",
    each=("wall",),
    bad=_GOOD.replace(
        "devices:\n", "devices:\n          RC1: {is: receptacle, center: 7 ft 1 in, aff: 16 in}\n"
    ),
    good=_GOOD.replace(
        "devices:\n", "devices:\n          RC1: {is: receptacle, center: 7 ft, aff: 16 in}\n"
    ),
)
def plates_out_of_line(facts: Facts, wall: Node) -> Iterator[Said]:
    """Two devices over each other are almost, but not quite, in line."""
    least = facts.job.limit("plate.aligned")
    devices = [
        d
        for d in facts.places.on(wall)
        if d.node.heading == "devices" and not _in_plate(d.node) and d.node.find("inside") is None
    ]
    for i, one in enumerate(devices):
        for other in devices[i + 1 :]:
            apart = abs(one.rect.center - other.rect.center)
            wide, high = one.rect.overlap(other.rect)
            if high < 0 < wide and least < apart:
                yield said(
                    one.node,
                    f"{one.node.key} and {other.node.key} stand over each other, "
                    f"{show(apart, 'length', facts.job.system)} out of line",
                    "give both the same `center`",
                    other.node,
                )


@rule(
    "electrical.box-behind-its-finish",
    level=Level.ERROR,
    trades=("electrical", "plaster"),
    why="A box that lies deeper than the finished face needs an extension ring, or the "
    "device hangs "
    "on the plaster.",
    source="NEC 314.20; cited from memory, check the adopted edition",
    bad="""
finishes: {F1: {is: plaster, thickness: 3/8 in}}
rooms:
  tasting_room:
    finishes: {walls: F1}
    walls_clockwise: {TA: {devices: {RC1: {is: receptacle, box: b}}}}
products: {b: {is: box, gangs: 1, volume: 20 in3, depth: 3 in}}
""",
    good="""
finishes: {F1: {is: plaster, thickness: 3/8 in}}
rooms:
  tasting_room:
    finishes: {walls: F1}
    walls_clockwise: {TA: {devices: {RC1: {is: receptacle, box: b, extension: 3/8 in}}}}
products: {b: {is: box, gangs: 1, volume: 20 in3, depth: 3 in}}
""",
)
def box_behind_its_finish(facts: Facts) -> Iterator[Said]:
    """A box lies behind a finish that is thicker than 1/4 in, and has no extension ring."""
    for device in facts.job.everything:
        if device.heading != "devices" or device.find("box") is None or not device.surface:
            continue
        if device.find("state") is not None and device.word("state", "new") == "existing":
            continue
        surface = facts.job.find(device.surface)
        if surface is None or surface.kind != "wall":
            continue
        try:
            thick = thickness_of(facts.job, surface, "walls")
        except Open:
            continue
        most = facts.job.limit("box.set_back")
        ring = device.si("extension", 0.0)
        if thick > most + _TOUCH and abs(ring - thick) > most:
            system = facts.job.system
            yield said(
                f"{device.address}.extension",
                f"the box of {device.key} is flush with the board, the finish of {surface.key} is "
                f"{show(thick, 'length', system)} thick: its extension ring is "
                f"{show(ring, 'length', system)}",
                f"write `extension: {show(thick, 'length', system)}` at {device.key}",
                surface,
            )
