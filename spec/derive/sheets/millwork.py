"""Runs and stacks that fit, hardware, and lengths of plinths, tops and crowns."""

from __future__ import annotations

from spec.derive.figure import Facts, Part, Worked, figure
from spec.derive.sheets import kinds
from spec.derive.sheets.counting import drawer_count
from spec.derive.sheets.kinds import stack_of_piece, stack_of_tier
from spec.job.job import Job
from spec.job.node import Node, Open
from spec.place.runs import Run


def _run(facts: Facts, node: Node) -> Run:
    wall = facts.job.find(node.surface)
    found = (r for r in facts.places.runs(wall) if r.node is node) if wall is not None else ()
    run = next(iter(found), None)
    if run is None:
        raise Open(f"{node.address}.stack")
    return run


@figure(
    "millwork.run_left",
    title="What the run leaves of its wall",
    dimension="offset",
    formula="length for the run - sum of its widths",
    source="subtraction; below 0 it is too wide",
    holds="0 where a filler takes the rest",
    per=kinds.runs,
    trades=("millwork",),
)
def run_left(facts: Facts, node: Node) -> Worked:
    """What the pieces of a run leave free of the length that they have."""
    run = _run(facts, node)
    parts = tuple(Part(p.node.key, p.width, p.node.address) for p in run.pieces if not p.turned)
    given = (("length for the run", run.width, "length"),)
    if run.left_over is None:
        return Worked(0.0, parts, given, "one piece takes up the rest")
    return Worked(0.0 if abs(run.left_over) < 1e-9 else run.left_over, parts, given)


def _standing(job: Job) -> list[Node]:
    return list(job.things("stack"))


@figure(
    "millwork.stack_left",
    title="What the stack leaves under the ceiling",
    dimension="offset",
    formula="finished height - sum of the tiers",
    source="subtraction; below 0 it is too high",
    holds="0 where a tier takes the rest, the ceiling slopes, or only islands have the stack",
    per=_standing,
    trades=("millwork",),
)
def stack_left(facts: Facts, stack: Node) -> Worked:
    """What the tiers of a stack leave of the room's height."""
    left = facts.places.stack_left_over(stack)
    if left is None:
        return Worked(0.0, remark="it need not reach the ceiling, or a tier takes up the rest")
    return Worked(0.0 if abs(left) < 1e-9 else left)


def _hardware(job: Job) -> list[Node]:
    return [
        entry
        for stack in job.things("stack")
        for key in [stack.find("hardware")]
        if key is not None
        for entry in key.entries()
        if kinds.says(entry, "per")
    ]


@figure(
    "millwork.hardware",
    title="Pieces of hardware, with spares",
    dimension="count",
    formula='"doors, drawers, panels, shelves and pieces of the stack" x how many for each + spare',
    source="count",
    per=_hardware,
    trades=("millwork",),
)
def hardware(facts: Facts, entry: Node) -> Worked:
    """How many of a piece of hardware a stack needs."""
    stack = entry.parent.parent if entry.parent is not None else None
    if stack is None:
        raise Open(entry.address)
    things = [p for p in kinds.pieces(facts.job) if stack_of_piece(facts.job, p) is stack]
    parts = []
    per = entry.find("per")
    for unit in per.children if per is not None else ():
        number = sum(_units(facts, piece, unit) for piece in things)
        each = entry.count(f"per.{unit}")
        parts.append(Part(unit, float(number * each)))
    spare = entry.count("spare", 0)
    if spare:
        parts.append(Part("spare", float(spare)))
    return Worked(sum(p.value for p in parts), tuple(parts))


def _units(facts: Facts, piece: Node, unit: str) -> int:
    """How many doors, drawers, panels, shelves a piece has."""
    if unit == "drawer":
        return drawer_count(piece)
    if unit == "door":
        return piece.count("doors", 0) if piece.find("doors") is not None else 0
    if unit == "shelf":
        return piece.count("shelves.count", 0) if piece.find("shelves.count") is not None else 0
    if unit == "panel":
        inside = piece.find("contains")
        machine = facts.job.thing(str(inside.value)) if inside is not None else None
        if machine is None or not kinds.says(machine, "panels.count"):
            return 0
        return machine.count("panels.count")
    return 1


def _along_tiers(job: Job) -> list[Node]:
    return [
        tier
        for stack in job.things("stack")
        for tier in kinds.tiers_of(stack)
        if tier.kind in ("plinth", "crown", "top")
    ]


def _linked(tier: Node) -> str:
    for key in ("under", "over", "along"):
        if kinds.says(tier, key):
            return tier.word(key)
    raise Open(f"{tier.address}.over")


def _follows(facts: Facts, tier: Node) -> list[Part]:
    """Lengths of the runs that a plinth, top or crown follows, wall by wall."""
    stack, name = stack_of_tier(tier), _linked(tier)
    parts = []
    for node in kinds.runs(facts.job):
        pieces = node.group("left_to_right")
        if node.key != name or not pieces or stack_of_piece(facts.job, pieces[0]) is not stack:
            continue
        run = _run(facts, node)
        length = sum(p.width for p in run.pieces)
        parts.append(Part(run.wall.key, length, node.address))
    return parts


@figure(
    "millwork.tier_length",
    title="Length along the walls, with waste",
    dimension="length",
    formula="net x (1 + waste); the runs that it follows, round their corners at the back",
    source="geometry; waste of the house standards",
    per=_along_tiers,
    trades=("millwork",),
)
def tier_length(facts: Facts, tier: Node) -> Worked:
    """Length of a plinth, top or crown."""
    parts = _follows(facts, tier)
    net = sum(p.value for p in parts)
    waste = facts.job.limit("trim.waste")
    given = ("net", net, "length"), ("waste", waste, "percent")
    return Worked(net * (1.0 + waste), tuple(parts), given)


@figure(
    "millwork.top_area",
    title="Area of the top",
    dimension="area",
    formula="length along the walls x depth - corners x depth^2; what corners take twice",
    source="geometry",
    per=lambda job: [t for t in _along_tiers(job) if t.kind == "top"],
    trades=("stone", "millwork"),
)
def top_area(facts: Facts, tier: Node) -> Worked:
    """Area of a top; where two walls meet their corner square counts once."""
    parts, depth = _follows(facts, tier), tier.si("depth")
    length, corners = sum(p.value for p in parts), _corners(facts, [p.label for p in parts])
    given = (
        ("length along the walls", length, "length"),
        ("depth", depth, "length"),
        ("corners", float(corners), "count"),
    )
    return Worked(length * depth - corners * depth**2, given=given)


def _corners(facts: Facts, walls: list[str]) -> int:
    found = 0
    for room in facts.job.rooms:
        order = [wall.key for wall in room.group("walls_clockwise")]
        found += sum(
            1
            for i, wall in enumerate(order)
            if wall in walls and order[(i + 1) % len(order)] in walls
        )
    return found


@figure(
    "millwork.top_weight",
    title="Weight of the top",
    dimension="mass",
    formula="area x weight by area",
    source="as written",
    per=lambda job: [t for t in _along_tiers(job) if t.kind == "top" and kinds.says(t, "weight")],
    trades=("stone", "millwork"),
)
def top_weight(facts: Facts, tier: Node) -> Worked:
    """Weight of a top whose weight by area is written."""
    area, each = facts.figures.value("millwork.top_area", tier), tier.si("weight")
    given = ("area", area, "area"), ("weight by area", each, "area_mass")
    return Worked(area * each, given=given)
