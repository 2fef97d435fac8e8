"""Runs that fit their walls, and stacks that fit their rooms."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.derive.sheets.surroundings import as_found
from spec.finding import Level
from spec.place.runs import Piece, Run
from spec.quantity import Quantity, show

_CLOSE = 0.003
"""[m] What ends so near to a corner ends in it."""

_ROOM = """
rooms:
  wine_room:
    taped: {to: finish}
    height: HEIGHT
    stacks:
      racks: {bottom_to_top: {lower: {is: racks, height: 96 in, depth: 14 in}}}
    walls_clockwise:
      WA: {length: 8 ft, millwork: {lower: {left_to_right: {R1: {width: WIDTH}}}}}
      WB: {length: 6 ft}
      WC: {length: 8 ft}
      WD: {length: 6 ft}
"""


@rule(
    "millwork.run-does-not-fit",
    level=Level.ERROR,
    trades=("millwork",),
    why="Widths that do not add up to the wall are found with the racks on the floor. A run "
    "ends in "
    "a filler of `rest` where it may take up what is left.",
    each=("wall",),
    bad=_ROOM.replace("HEIGHT", "96 in").replace("WIDTH", "98 in"),
    good=_ROOM.replace("HEIGHT", "96 in").replace("WIDTH", "96 in"),
)
def run_does_not_fit(facts: Facts, wall: Node) -> Iterator[Said]:
    """The widths of a run are more or less than what its wall has for it."""
    system = facts.job.system
    for run in facts.places.runs(wall):
        if run.left_over is None or abs(run.left_over) < facts.job.limit("run.sum_error"):
            continue
        taken = show(run.width - run.left_over, "length", system)
        free = show(run.width, "length", system)
        how = "too wide" if run.left_over < 0 else "short"
        by = show(abs(run.left_over), "length", system)
        yield said(
            run.node,
            f"the {run.node.key} run on {wall.key} adds up to {taken}, the wall has {free} for it: "
            f"{by} {how}",
            "change a width, or let one filler take `width: rest`",
            wall.find("length") or wall,
        )


@rule(
    "millwork.run-not-placed",
    level=Level.ERROR,
    silence=True,
    trades=("millwork",),
    why="A run that is shorter than its wall stands somewhere on it: nobody knows where, and "
    "the first "
    "piece is set in the corner.",
    each=("wall",),
    bad=_ROOM.replace("HEIGHT", "96 in")
    .replace("WIDTH", "48 in")
    .replace("millwork: {lower: {", "millwork: {lower: {width: 48 in, "),
    good=_ROOM.replace("HEIGHT", "96 in")
    .replace("WIDTH", "48 in")
    .replace("millwork: {lower: {", "millwork: {lower: {left: 24 in, width: 48 in, "),
)
def run_not_placed(facts: Facts, wall: Node) -> Iterator[Said]:
    """A run says how wide it is and not where it starts."""
    for run in wall.group("millwork"):
        if (
            run.find("width") is None
            or run.find("left") is not None
            or run.find("right") is not None
        ):
            continue
        yield said(
            f"{run.address}.left",
            f"the {run.key} run on {wall.key} is {run.text('width')} wide, and nothing "
            "says where it starts",
            "write `left`, from the left corner to its first piece",
            run,
        )


@rule(
    "millwork.stack-does-not-fit",
    level=Level.ERROR,
    trades=("millwork",),
    why="A stack that is higher than the room does not stand up; one that is lower leaves a slot "
    "nobody drew.",
    each=("stack",),
    bad=_ROOM.replace("HEIGHT", "97 in").replace("WIDTH", "96 in"),
    good=_ROOM.replace("HEIGHT", "96 in").replace("WIDTH", "96 in"),
)
def stack_does_not_fit(facts: Facts, stack: Node) -> Iterator[Said]:
    """The heights of a stack do not add up to the finished ceiling."""
    off = facts.places.stack_left_over(stack)
    if off is None or abs(off) < facts.job.limit("run.sum_error"):
        return
    system = facts.job.system
    room = facts.places.room(stack.room)
    how = "too high" if off < 0 else "short of the ceiling"
    yield said(
        stack,
        f"the stack {stack.key} is {show(abs(off), 'length', system)} {how}: it adds up to "
        f"{show(room.height - off, 'length', system)}, the room is "
        f"{show(room.height, 'length', system)} high",
        "change a height, or give the difference to a gap",
        f"{stack.room}.height",
    )


@rule(
    "millwork.no-scribe-at-leaning-wall",
    level=Level.WARNING,
    trades=("millwork",),
    why="A rack that ends square against a wall that leans shows a wedge from floor to ceiling.",
    each=("wall",),
    bad=_ROOM.replace("HEIGHT", "96 in")
    .replace("WIDTH", "96 in")
    .replace("WB: {length: 6 ft}", "WB: {length: 6 ft, lean: 1/2 in}"),
    good=_ROOM.replace("HEIGHT", "96 in")
    .replace("WIDTH", "94 in}, R2: {is: filler, width: rest")
    .replace("WB: {length: 6 ft}", "WB: {length: 6 ft, lean: 1/2 in}"),
)
def no_scribe_at_leaning_wall(facts: Facts, wall: Node) -> Iterator[Said]:
    """A run ends against a wall that leans more than the house allows, and in no filler."""
    most, system = facts.job.limit("taping.lean"), facts.job.system
    for run in facts.places.runs(wall):
        for piece, beside in _ends(facts, wall, run):
            lean = beside.find("lean")
            if lean is None or not isinstance(lean.value, Quantity) or piece.node.kind == "filler":
                continue
            if abs(lean.value.si) > most:
                yield said(
                    piece.node,
                    f"{piece.node.key} ends against {beside.key}, which leans {lean.written}; the "
                    f"house scribes from {show(most, 'length', system)} on",
                    f"end the run in a filler that is scribed to {beside.key}",
                    lean,
                )


def _ends(facts: Facts, wall: Node, run: Run) -> Iterator[tuple[Piece, Node]]:
    """The first and the last piece of a run that reach a corner, with the wall beside it there."""
    room = facts.job.thing(wall.room)
    walls = room.group("walls_clockwise") if room is not None else ()
    own = [piece for piece in run.pieces if not piece.turned]
    if wall not in walls or not own:
        return
    at, length = walls.index(wall), facts.places.length(wall)
    first, last = own[0], own[-1]
    if first.left < _CLOSE:
        yield first, _leaning(facts, walls[at - 1])
    if last.left + last.width > length - _CLOSE:
        yield last, _leaning(facts, walls[(at + 1) % len(walls)])


def _leaning(facts: Facts, wall: Node) -> Node:
    """The wall that says how it leans: itself, or the one as found that it lines."""
    return as_found(facts, wall) or wall
