"""What full racks weigh, and what that does to the floor."""

from __future__ import annotations

import math

from spec.derive.figure import Facts, Given, Part, Worked, figure
from spec.derive.formulas import weights
from spec.derive.formulas.range import NotCovered
from spec.derive.sheets import counting, kinds
from spec.derive.sheets.counting import bottle_of
from spec.derive.sheets.dividing import over
from spec.job.job import Job
from spec.job.node import Node, Open
from spec.place.runs import Piece


def _mass(facts: Facts, piece: Node) -> float:
    """A piece full [kg]: its bottles with the share that the racks themselves weigh."""
    if not counting.stores(piece):
        return 0.0
    (_, count, _), (_, each, _), (_, own, _) = _put_in(facts, piece)
    return count * each * (1.0 + own)


def _put_in(facts: Facts, piece: Node) -> Given:
    return (
        ("bottles", facts.figures.value("storage.piece", piece), "count"),
        ("weight of each", bottle_of(facts, piece).si("full"), "mass"),
        ("share of the racks themselves", facts.job.limit("rack.own_weight"), "percent"),
    )


def _loaded(job: Job) -> list[Node]:
    return [
        run
        for run in kinds.runs(job)
        if any(counting.stores(piece) for piece in run.group("left_to_right"))
    ]


@figure(
    "millwork.loaded_weight",
    title="Weight of the run, full",
    dimension="mass",
    formula="bottles x weight of each x (1 + share of the racks themselves)",
    source="sum; weight by size and share of the house standards",
    per=_loaded,
    trades=("millwork", "client"),
)
def loaded_weight(facts: Facts, node: Node) -> Worked:
    """Weight of a run with every bottle in it."""
    parts = tuple(
        Part(p.key, _mass(facts, p), p.address, _put_in(facts, p))
        for p in node.group("left_to_right")
        if counting.stores(p)
    )
    return Worked(sum(p.value for p in parts), parts)


def _lowest(job: Job) -> list[Node]:
    """The lowest run with bottles on each wall whose stack does not hang."""
    found = []
    for wall in job.walls:
        runs = [run for run in wall.group("millwork") if run in _loaded(job)]
        if runs and not _hangs(job, runs[0]):
            found.append(runs[0])
    return found


def _hangs(job: Job, run: Node) -> bool:
    for stack in job.things("stack"):
        on = stack.find("stands_on")
        if stack.room == run.room and stack.find(run.key) is not None:
            return on is not None and on.value == "wall"
    return False


def _carried(facts: Facts, node: Node) -> list[tuple[Piece, float]]:
    """Each piece of the lowest run with what stands on its footprint, full [kg].

    What stands above is shared out by the width that lies over each piece.
    """
    wall = facts.job.find(node.surface)
    if wall is None:
        raise Open(f"{node.address}.stack")
    runs = facts.places.runs(wall)
    lowest = next(run for run in runs if run.node is node)
    found = []
    for piece in lowest.pieces:
        mass = _mass(facts, piece.node) * _here(piece)
        for run in runs:
            if run.node is node:
                continue
            for other in run.pieces:
                shared = min(piece.left + piece.width, other.left + other.width)
                shared -= max(piece.left, other.left)
                if shared > 0.0 and other.width > 0.0:
                    mass += _mass(facts, other.node) * _here(other) * shared / other.width
        found.append((piece, mass))
    return found


def _here(piece: Piece) -> float:
    """Share of a corner piece that stands on this wall."""
    if piece.node.kind not in ("curved_corner", "blind_corner"):
        return 1.0
    return 0.5


@figure(
    "millwork.line_load",
    title="Load of the racks along the wall",
    dimension="line_mass",
    formula="full weight / length of the run; of all runs of the wall, by what stands on the floor",
    source="division; corner pieces half on each wall",
    per=_lowest,
    trades=("millwork",),
)
def line_load(facts: Facts, node: Node) -> Worked:
    """Weight by length of wall, everything full."""
    carried = _carried(facts, node)
    length, mass = sum(piece.width for piece, _ in carried), sum(mass for _, mass in carried)
    given = ("full weight", mass, "mass"), ("length of the run", length, "length")
    return Worked(over(mass, length, "length of the run", "m"), given=given)


@figure(
    "millwork.floor_pressure",
    title="Load on the floor under the racks",
    dimension="area_load",
    formula="full weight x g / footprint; of a piece and all that stands over it; the heaviest",
    source="m g / A; above the allowable always by a licensed engineer; to compare: rooms 40 psf "
    "(IRC R301.5), library stacks 150 psf (ASCE 7)",
    holds="spread over the footprint of each piece; corner pieces half on each wall",
    per=_lowest,
    trades=("millwork", "framing"),
)
def floor_pressure(facts: Facts, node: Node) -> Worked:
    """The heaviest footprint of a wall's racks."""
    parts = []
    for piece, mass in _carried(facts, node):
        if piece.depth is None:
            raise Open(f"{piece.node.address}.depth")
        if mass > 0.0:
            area = _footprint(piece)
            given = ("full weight", mass, "mass"), ("footprint", area, "area")
            load = weights.pressure(mass, area)
            parts.append(Part(piece.node.key, load, piece.node.address, given))
    if not parts:
        raise NotCovered("nothing with bottles stands on the floor here")
    return Worked(max(p.value for p in parts), tuple(parts))


def _footprint(piece: Piece) -> float:
    """Floor that a piece takes on this wall [m²]; of a corner piece half of its ring."""
    depth = piece.depth or 0.0
    if piece.node.kind != "curved_corner":
        return piece.width * depth
    turns = max(piece.width, depth)
    ring = turns**2 - math.pi / 4.0 * (turns - depth) ** 2
    return ring / 2.0


@figure(
    "millwork.room_load",
    title="Full racks over the whole floor of the room",
    dimension="area_load",
    formula="weight x g / floor area; of all runs of the room, full",
    source="m g / A",
    per=lambda job: [r for r in job.rooms if any(run.room == r.key for run in _loaded(job))],
    trades=("millwork",),
)
def room_load(facts: Facts, room: Node) -> Worked:
    """Weight of all full racks of a room, spread over its floor."""
    runs = [run for run in _loaded(facts.job) if run.room == room.key]
    parts = tuple(
        Part(run.address, facts.figures.value("millwork.loaded_weight", run), run.address)
        for run in runs
    )
    whole = sum(part.value for part in parts)
    floor = facts.places.room(room.key).area
    given = ("weight", whole, "mass"), ("floor area", floor, "area")
    return Worked(weights.pressure(whole, floor), given=given)


@figure(
    "millwork.floor_used",
    title="Share of the floor's allowable load",
    dimension="percent",
    formula="load under the racks / allowable load",
    source="division; the allowable is the engineer's",
    per=lambda job: [n for n in _lowest(job) if _allowable(job, n) is not None],
    trades=("millwork", "client"),
)
def floor_used(facts: Facts, node: Node) -> Worked:
    """How much of what the floor may carry the heaviest footprint uses."""
    floor = _allowable(facts.job, node)
    if floor is None:
        raise Open(f"{node.room}.floor.allowable_load")
    pressure = facts.figures.value("millwork.floor_pressure", node)
    allowed = floor.si("allowable_load")
    given = (
        ("load under the racks", pressure, "area_load"),
        ("allowable load", allowed, "area_load"),
    )
    return Worked(over(pressure, allowed, "allowable floor load", "Pa"), given=given)


def _allowable(job: Job, node: Node) -> Node | None:
    room = job.thing(node.room)
    floor = room.find("floor") if room is not None else None
    if floor is not None and kinds.says(floor, "allowable_load"):
        return floor
    on = floor.find("on") if floor is not None else None
    space = job.thing(str(on.value)) if on is not None and on.value is not None else None
    old = space.find("floor") if space is not None else None
    return old if old is not None and kinds.says(old, "allowable_load") else None
