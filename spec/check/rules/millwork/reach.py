"""People before the millwork: what they reach, where they stand, what leans beside them."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.check.worked import worked
from spec.finding import Level
from spec.job.node import Open
from spec.place import Run, plan
from spec.quantity import Quantity, show

_RACKS = """
bottles: {single: {diameter: 3 in, length: 12 in, full: 1.5 kg}}
rooms:
  wine_room:
    taped: {to: finish}
    height: 96 in
    stacks:
      shelves:
        bottom_to_top: {racks: {is: racks, height: 96 in, depth: DEEP, rows: ROWS}}
    walls_clockwise:
      WA: {length: 8 ft, millwork: {racks: {left_to_right: {R1: {width: 96 in, columns: 24}}}}}
      WB: {length: 6 ft}
      WC: {length: 8 ft, millwork: {racks: {left_to_right: {R2: {width: 96 in, columns: 24}}}}}
      WD: {length: 6 ft}
"""
_LADDER = """
rooms: {wine_room: {walls_clockwise: {WA: {fixtures: {LD1: {is: ladder, angle: LEAN}}}}}}
"""
_CASES = """
rooms:
  wine_room:
    taped: {to: finish}
    height: 96 in
    stacks: {shelves: {bottom_to_top: {racks: {is: racks, height: 96 in, depth: 12 in, rows: 1}}}}
    walls_clockwise:
      WA: {length: 8 ft, millwork: {racks: {left_to_right: {R1: {width: 96 in, columns: 24}}}}}
      WB: {length: 8 ft}
      WC: {length: 8 ft}
      WD: {length: 8 ft}
    floor:
      millwork: {CS1: {is: case_stack, edge: {WA: OFF, WD: 12 in}, extent: {WA: 30 in, WD: 16 in}}}
"""
_BESIDE = 0.08
"""[m] What stands nearer than this stands against it, as it is meant to."""
_GOOD = _RACKS.replace("ROWS", "1").replace("DEEP", "12 in")


def _runs(facts: Facts, wall: Node) -> tuple[Run, ...]:
    try:
        return facts.places.runs(wall)
    except Open:
        return ()


@rule(
    "millwork.out-of-reach",
    level=Level.NOTE,
    silence=True,
    trades=("millwork",),
    why="Bottles that nobody reaches without a chair are fetched from a chair.",
    each=("room",),
    bad=_RACKS.replace("ROWS", "24").replace("DEEP", "12 in"),
    good=_GOOD,
)
def out_of_reach(facts: Facts, room: Node) -> Iterator[Said]:
    """The highest row of a room without a ladder is above what one reaches standing."""
    if any(ladder.room == room.key for ladder in facts.job.things("ladder")):
        return
    rows = [(h, p) for p, h in worked(facts, "millwork.highest_row") if p.room == room.key]
    highest, piece = max(rows, key=lambda row: row[0], default=(0.0, room))
    most, system = facts.job.limit("reach.standing"), facts.job.system
    if highest > most:
        yield said(
            piece,
            f"the highest row of {piece.key} is {show(highest, 'length', system)} above the "
            "floor; one "
            f"reaches {show(most, 'length', system)} standing, and {room.key.replace('_', ' ')} "
            "has no "
            "ladder",
            "plan a ladder or a step, or say to the client which rows are for keeping",
            "reach.standing",
        )


@rule(
    "millwork.aisle-too-narrow",
    level=Level.ERROR,
    trades=("millwork",),
    why="Between two rows of racks one stoops with a bottle in each hand.",
    each=("room",),
    bad=_RACKS.replace("ROWS", "1").replace("DEEP", "22 in"),
    good=_GOOD,
)
def aisle_too_narrow(facts: Facts, room: Node) -> Iterator[Said]:
    """Less is free between racks on opposite walls than the house keeps."""
    walls = room.group("walls_clockwise")
    if len(walls) != 4:
        return
    least, system = facts.job.limit("aisle.clear"), facts.job.system
    for one, other, side in ((walls[0], walls[2], walls[1]), (walls[1], walls[3], walls[2])):
        deep = [_deepest(facts, wall) for wall in (one, other)]
        if deep[0] is None or deep[1] is None:
            continue
        free = facts.places.length(side) - deep[0][1] - deep[1][1]
        if free < least - 0.0005:
            yield said(
                deep[0][0],
                f"{show(free, 'length', system)} are free between {deep[0][0].key} on {one.key} "
                "and "
                f"{deep[1][0].key} on {other.key}; the house keeps {show(least, 'length', system)}",
                "make one of the two shallower",
                deep[1][0],
                side.find("length") or side,
            )


def _deepest(facts: Facts, wall: Node) -> tuple[Node, float] | None:
    """The deepest piece of a wall [m], those that come round its corner left out."""
    pieces = [
        (p.node, p.depth)
        for run in _runs(facts, wall)
        for p in run.pieces
        if p.depth is not None and not p.turned and p.node.kind != "filler"
    ]
    return max(pieces, key=lambda pair: pair[1], default=None)


@rule(
    "millwork.floor-piece-in-the-way",
    level=Level.ERROR,
    trades=("millwork",),
    why="What stands on the floor before the racks is walked round with a bottle in each hand.",
    each=("island", "case_stack", "bench"),
    bad=_CASES.replace("OFF", "30 in"),
    good=_CASES.replace("OFF", "52 in"),
)
def floor_piece_in_the_way(facts: Facts, piece: Node) -> Iterator[Said]:
    """Less is free between racks and what stands on the floor than the house keeps."""
    room = facts.job.thing(piece.room)
    least, system = facts.job.limit("aisle.clear"), facts.job.system
    outlines = facts.places.plan(piece).outlines
    for other in plan.millwork(facts.places, room) if room is not None else ():
        free = min(-plan.overlap(outline, other.outline) for outline in outlines)
        if _BESIDE < free < least - 0.0005 and other.node.kind != "filler":
            yield said(
                piece,
                f"{show(free, 'length', system)} are free between {piece.key} and "
                f"{other.node.key}; the house keeps {show(least, 'length', system)}",
                f"move {piece.key}, or make it smaller",
                other.node,
            )


@rule(
    "millwork.ladder-off-its-lean",
    level=Level.WARNING,
    trades=("millwork",),
    why="A ladder that stands steeper tips back, one that leans more slides away.",
    source="29 CFR 1926.1053(b)(5)(i), four up and one out; cited from memory",
    each=("ladder",),
    bad=_LADDER.replace("LEAN", "8 to 1"),
    good=_LADDER.replace("LEAN", "4 to 1"),
)
def ladder_off_its_lean(facts: Facts, ladder: Node) -> Iterator[Said]:
    """A ladder leans more or less than the house lets ladders lean."""
    angle = ladder.find("angle")
    usual = facts.job.threshold("ladder.angle")
    if angle is None or not isinstance(angle.value, Quantity):
        return
    if abs(angle.value.si - usual.si) > 0.01:
        yield said(
            angle,
            f"{ladder.key} leans {angle.written}, the house leans ladders {usual.written}",
            "change the rail's height or its stand-off, or write why",
            "ladder.angle",
        )
