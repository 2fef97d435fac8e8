"""Finishes: area by finish with waste, tiles, lengths of base and crown."""

from __future__ import annotations

from collections.abc import Iterator

from spec.derive.figure import Facts, Part, Worked, figure
from spec.derive.formulas import takeoff
from spec.derive.formulas.range import NotCovered
from spec.derive.sheets import build_up, kinds
from spec.job.finishes import finish_at
from spec.job.job import Job
from spec.job.node import Node, Open
from spec.quantity import Size

_NET_AND_WASTE = "net x (1 + waste); the area of all surfaces with this finish, no openings"
_WASTE_OF = {
    "plaster": "plaster.waste",
    "paint": "paint.waste",
    "clear_coat": "paint.waste",
    "tile": "tile.waste",
    "stone": "tile.waste",
    "wood_floor": "floor.waste",
}


def _finish_of(job: Job, surface: Node) -> str:
    """The finish that a surface has, by name; empty where nobody says. Records nothing it drops."""
    leaf = finish_at(job, surface, build_up.part_of(surface))
    return str(leaf.value) if leaf is not None else ""


def _on_surfaces(*of_kinds: str) -> kinds.Per:
    """The finishes of these kinds that some surface has."""

    def find(job: Job) -> list[Node]:
        used = {_finish_of(job, surface) for surface in kinds.surfaces(job)}
        return [f for f in job.things(*of_kinds) if f.key in used]

    return find


def _areas(facts: Facts, finish: Node) -> Iterator[Part]:
    for surface in kinds.surfaces(facts.job):
        if _finish_of(facts.job, surface) == finish.key:
            yield Part(surface.address, build_up.area(facts, surface), surface.address)


def _taken(facts: Facts, finish: Node) -> Worked:
    parts = tuple(_areas(facts, finish))
    net = sum(part.value for part in parts)
    waste = _waste(facts, finish)
    return Worked(
        takeoff.with_waste(net, waste), parts, (("net", net, "area"), ("waste", waste, "percent"))
    )


def _waste(facts: Facts, finish: Node) -> float:
    if kinds.says(finish, "waste"):
        return finish.si("waste")
    return facts.job.limit(_WASTE_OF.get(finish.kind, "board.waste"))


@figure(
    "finishes.plaster_area",
    title="Plaster, with waste",
    dimension="area",
    formula=_NET_AND_WASTE,
    source="geometry; waste of the finish or of the house standards",
    per=_on_surfaces("plaster"),
    trades=("plaster",),
)
def plaster_area(facts: Facts, finish: Node) -> Worked:
    """Area to plaster."""
    return _taken(facts, finish)


@figure(
    "finishes.paint_area",
    title="Paint or covering, one coat, with waste",
    dimension="area",
    formula=_NET_AND_WASTE,
    source="geometry; waste of the finish or of the house standards",
    per=_on_surfaces("paint", "clear_coat", "wallcovering"),
    trades=("painting",),
)
def paint_area(facts: Facts, finish: Node) -> Worked:
    """Area of one coat; the number of coats stands with the finish."""
    return _taken(facts, finish)


@figure(
    "finishes.floor_area",
    title="Floor covering, with waste",
    dimension="area",
    formula=_NET_AND_WASTE,
    source="geometry; waste of the finish or of the house standards",
    per=_on_surfaces("tile", "wood_floor", "stone", "existing_finish"),
    trades=("flooring",),
)
def floor_area(facts: Facts, finish: Node) -> Worked:
    """Area of tile, wood or stone; an existing finish has no waste."""
    if finish.kind == "existing_finish":
        parts = tuple(_areas(facts, finish))
        return Worked(sum(p.value for p in parts), parts)
    return _taken(facts, finish)


@figure(
    "finishes.tiles",
    title="Tiles, with waste and spare",
    dimension="count",
    formula="area (1 + waste) / ((a + joint) (b + joint)) + spare; rounded up before the spare",
    source="geometry; waste of the finish or of the house standards",
    per=lambda job: [f for f in _on_surfaces("tile")(job) if kinds.says(f, "size")],
    trades=("flooring",),
)
def tiles(facts: Facts, finish: Node) -> Worked:
    """How many tiles to buy."""
    size = finish.quantity("size")
    if not isinstance(size, Size) or len(size.sides) < 2:
        raise Open(finish.at("size").address)
    net = sum(part.value for part in _areas(facts, finish))
    sides = (size.sides[0].si, size.sides[1].si)
    waste, joint = _waste(facts, finish), finish.si("joint", 0.0)
    taken = takeoff.tiles(net, waste, sides, joint)
    spare = finish.count("spare", 0)
    return Worked(
        float(taken.pieces + spare),
        (Part("laid and cut", float(taken.pieces)), Part("spare", float(spare))),
        (
            ("area", net, "area"),
            ("waste", waste, "percent"),
            ("a", sides[0], "length"),
            ("b", sides[1], "length"),
            ("joint", joint, "length"),
        ),
    )


@figure(
    "finishes.weight",
    title="Weight of the finish on its board",
    dimension="mass",
    formula="weight by area x net area",
    source="as written",
    per=lambda job: [
        f for f in _on_surfaces("plaster", "tile", "paneling")(job) if kinds.says(f, "weight")
    ],
    trades=("board", "framing"),
)
def weight(facts: Facts, finish: Node) -> Worked:
    """What a heavy finish puts onto walls and ceilings."""
    parts = tuple(
        Part(p.label, p.value * finish.si("weight"), p.address) for p in _areas(facts, finish)
    )
    return Worked(sum(p.value for p in parts), parts)


# ------------------------------------------------------------------ base and crown


def _with(path: str) -> kinds.Per:
    return lambda job: [room for room in job.rooms if kinds.says(room, path)]


def _taken_by_runs(facts: Facts, wall: Node, at_floor: bool) -> float:
    """Length of a wall that runs stand against, at the floor or at the ceiling [m]."""
    spans = []
    height = facts.places.height(wall)
    for run in facts.places.runs(wall):
        for piece in run.pieces:
            low = piece.bottom <= _NEAR_FLOOR
            high = run.tier.top >= height - _NEAR_CEILING
            if low if at_floor else high:
                spans.append((piece.left, piece.left + piece.width))
    return _covered(spans)


_NEAR_FLOOR, _NEAR_CEILING = 0.16, 0.30
"""[m] A run that starts on a plinth this high, or ends this near the ceiling, takes the place of
base or crown. Common practice."""


def _covered(spans: list[tuple[float, float]]) -> float:
    total, reached = 0.0, float("-inf")
    for start, end in sorted(spans):
        total += max(0.0, end - max(start, reached))
        reached = max(reached, end)
    return total


def _to_floor(facts: Facts, wall: Node) -> float:
    """Width of the openings of a wall that reach the floor [m]."""
    return sum(
        facts.places.rect(opening).rect.width
        for opening in build_up.openings(facts, wall)
        if facts.places.rect(opening).rect.bottom <= 1e-6
    )


def _length(facts: Facts, room: Node, at_floor: bool) -> Worked:
    parts = []
    for wall in room.group("walls_clockwise"):
        taken = _taken_by_runs(facts, wall, at_floor)
        if at_floor:
            taken += _to_floor(facts, wall)
        length = facts.places.covered(room.key).length(wall.key)
        parts.append(Part(wall.key, max(length - taken, 0.0), wall.address))
    net = sum(p.value for p in parts)
    if net <= 0.0:
        raise NotCovered("every wall is taken up by millwork and openings: there is none")
    waste = facts.job.limit("trim.waste")
    given = ("net", net, "length"), ("waste", waste, "percent")
    return Worked(net * (1.0 + waste), tuple(parts), given)


@figure(
    "finishes.base_length",
    title="Base, with waste",
    dimension="length",
    formula="net x (1 + waste); walls without openings to the floor and runs that stand on it",
    source="geometry; waste of the house standards",
    per=_with("base"),
    trades=("millwork", "painting"),
)
def base_length(facts: Facts, room: Node) -> Worked:
    """Length of base in a room."""
    return _length(facts, room, at_floor=True)


@figure(
    "finishes.crown_length",
    title="Crown on the walls, with waste",
    dimension="length",
    formula="net x (1 + waste); walls without runs that reach the ceiling, which have their own",
    source="geometry; waste of the house standards",
    per=_with("crown"),
    trades=("millwork", "painting"),
)
def crown_length(facts: Facts, room: Node) -> Worked:
    """Length of crown molding on the bare walls of a room."""
    return _length(facts, room, at_floor=False)
