"""What layers take: areas with waste; sheets of board, rolls of membrane, boxes of flooring."""

from __future__ import annotations

from spec.derive.figure import Definition, Facts, Part, Worked, figure
from spec.derive.formulas import takeoff
from spec.derive.sheets import build_up, kinds
from spec.derive.sheets.finishes import floor_area
from spec.job.job import Job
from spec.job.node import Node, Open
from spec.quantity import Size


def _layers(role: str) -> kinds.Per:
    """The new layers with a role in the assemblies that surfaces or partitions name."""

    def find(job: Job) -> list[Node]:
        named: dict[str, Node] = {}
        for surface in (*kinds.surfaces(job), *job.things("partition")):
            leaf = surface.find("assembly")
            assembly = job.thing(str(leaf.value)) if leaf is not None and leaf.value else None
            for layer in assembly.group("from_room_outward") if assembly is not None else ():
                said = layer.find("role")
                value = said.value if said is not None else None
                words = value if isinstance(value, tuple) else (value,)
                state = layer.find("state")
                old = state is not None and state.value == "existing"
                if role in words and not old:
                    named[layer.address] = layer
        return list(named.values())

    return find


def _taken(facts: Facts, layer: Node, waste: str) -> Worked:
    """Area of all surfaces that have a layer, with waste; a partition counts on one side."""
    parts = [
        Part(surface.address, build_up.area(facts, surface), surface.address)
        for surface in kinds.surfaces(facts.job)
        if not kinds.says(surface, "back_of")
        and any(own.address == layer.address for own in build_up.through(facts, surface))
        and _counted_here(facts, surface)
    ]
    net = sum(part.value for part in parts)
    share = facts.job.limit(waste)
    given = ("net", net, "area"), ("waste", share, "percent")
    return Worked(takeoff.with_waste(net, share), tuple(parts), given)


def _counted_here(facts: Facts, surface: Node) -> bool:
    """A wall of a partition counts in the room from which the partition's layers are written."""
    if not kinds.says(surface, "partition"):
        return True
    name = surface.word("partition")
    node = facts.job.thing(name)
    walls = [w for w in facts.job.walls if str(getattr(w.find("partition"), "value", "")) == name]
    first = walls[0].room if walls else surface.room
    seen_from = node.word("seen_from", first) if node is not None else first
    return surface.room == seen_from


@figure(
    "envelope.board_area",
    title="Board, with waste",
    dimension="area",
    formula="net x (1 + waste); the area of the surfaces without openings",
    source="geometry; waste of the house standards",
    per=_layers("board"),
    trades=("board",),
)
def board_area(facts: Facts, layer: Node) -> Worked:
    """Area of a layer of board."""
    return _taken(facts, layer, "board.waste")


@figure(
    "envelope.insulation_area",
    title="Insulation, with waste",
    dimension="area",
    formula="net x (1 + waste); the area of the surfaces without openings",
    source="geometry; waste of the house standards",
    per=_layers("insulation"),
    trades=("insulation",),
)
def insulation_area(facts: Facts, layer: Node) -> Worked:
    """Area of a layer of insulation."""
    return _taken(facts, layer, "insulation.waste")


@figure(
    "envelope.retarder_area",
    title="Vapor retarder, with laps and waste",
    dimension="area",
    formula="net x (1 + waste); the area of the surfaces without openings",
    source="geometry; waste of the house standards",
    per=_layers("retarder"),
    trades=("insulation",),
)
def retarder_area(facts: Facts, layer: Node) -> Worked:
    """Area of a vapor retarder."""
    return _taken(facts, layer, "retarder.waste")


def _sides(node: Node, path: str) -> tuple[float, float]:
    size = node.quantity(path)
    if not isinstance(size, Size) or len(size.sides) < 2:
        raise Open(node.at(path).address)
    return size.sides[0].si, size.sides[1].si


def _net_and_waste(facts: Facts, of: Definition, thing: Node) -> tuple[float, float]:
    """The net area that another figure took off [m²], and the share of waste that it added."""
    facts.figures.value(of.name, thing)
    given = {name: number for name, number, _ in facts.figures.get(of.name, thing).given}
    return given["net"], given["waste"]


_SHEETS = "A (1 + waste) / (a b); rounded up"
_OFFCUTS = "offcuts go on where they fit; sheets that are cut for a pattern are more"


def _in_sheets(of: Definition) -> kinds.Per:
    return lambda job: [layer for layer in of.per(job) if kinds.says(layer, "sheet")]


def _sheets(facts: Facts, of: Definition, layer: Node) -> Worked:
    (net, waste), (a, b) = _net_and_waste(facts, of, layer), _sides(layer, "sheet")
    given = (
        ("A", net, "area"),
        ("waste", waste, "percent"),
        ("a", a, "length"),
        ("b", b, "length"),
    )
    return Worked(float(takeoff.area_in(net, waste, a * b).pieces), given=given)


@figure(
    "envelope.board_sheets",
    title="Sheets of board to buy",
    dimension="count",
    formula=_SHEETS,
    source="geometry; waste of the house standards",
    holds=_OFFCUTS,
    per=_in_sheets(board_area),
    trades=("board",),
)
def board_sheets(facts: Facts, layer: Node) -> Worked:
    """Sheets of a layer of board."""
    return _sheets(facts, board_area, layer)


@figure(
    "envelope.insulation_sheets",
    title="Sheets of insulation to buy",
    dimension="count",
    formula=_SHEETS,
    source="geometry; waste of the house standards",
    holds=_OFFCUTS,
    per=_in_sheets(insulation_area),
    trades=("insulation",),
)
def insulation_sheets(facts: Facts, layer: Node) -> Worked:
    """Sheets of a layer of insulation that comes in sheets."""
    return _sheets(facts, insulation_area, layer)


@figure(
    "envelope.rolls",
    title="Rolls to buy",
    dimension="count",
    formula="A (1 + waste) / (a b) | A / ((a - lap) b); where the laps alone take more than the "
    "waste, which has them in it; rounded up",
    source="geometry; lap and waste of the house standards",
    per=lambda job: [layer for layer in retarder_area.per(job) if kinds.says(layer, "roll")],
    trades=("insulation",),
)
def rolls(facts: Facts, layer: Node) -> Worked:
    """Rolls of a membrane that laps."""
    net, waste = _net_and_waste(facts, retarder_area, layer)
    (wide, long), lap = _sides(layer, "roll"), facts.job.limit("retarder.lap")
    taken = takeoff.rolls(net, waste, wide, long, lap)
    given = (
        ("A", net, "area"),
        ("waste", waste, "percent"),
        ("a", wide, "length"),
        ("b", long, "length"),
        ("lap", lap, "length"),
    )
    return Worked(float(taken.pieces), given=given)


@figure(
    "finishes.boxes",
    title="Boxes of flooring to buy",
    dimension="count",
    formula="A (1 + waste) / box; rounded up",
    source="geometry; waste of the finish or of the house standards",
    holds="spare pieces apart",
    per=lambda job: [finish for finish in floor_area.per(job) if kinds.says(finish, "box")],
    trades=("flooring",),
)
def boxes(facts: Facts, finish: Node) -> Worked:
    """Boxes of boards or tiles, each of which covers so much."""
    (net, waste), box = _net_and_waste(facts, floor_area, finish), finish.si("box")
    taken = takeoff.area_in(net, waste, box, "box")
    given = ("A", net, "area"), ("waste", waste, "percent"), ("box", box, "area")
    return Worked(float(taken.pieces), given=given)
