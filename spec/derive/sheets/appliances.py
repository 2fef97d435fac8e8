"""Appliances: the opening against the maker's cut-out, panels, weights, heat."""

from __future__ import annotations

from spec.derive.figure import Facts, Worked, figure
from spec.derive.sheets import kinds
from spec.derive.sheets.dividing import over
from spec.job.job import Job
from spec.job.node import Node, Open
from spec.place.runs import Piece
from spec.quantity import Size

KINDS = (
    "refrigerator",
    "wine_refrigerator",
    "freezer",
    "ice_maker",
    "dishwasher",
    "wine_dispenser",
    "coffee_machine",
)


def _bay(job: Job, machine: Node) -> Node | None:
    """The piece of millwork that contains an appliance."""
    for piece in kinds.pieces(job):
        leaf = piece.find("contains")
        if leaf is not None and leaf.value == machine.key:
            return piece
    return None


def _built_in(job: Job) -> list[Node]:
    return [m for m in job.things(*KINDS) if kinds.says(m, "cut_out") and _bay(job, m) is not None]


def _opening(facts: Facts, machine: Node) -> Piece:
    bay = _bay(facts.job, machine)
    piece = facts.places.piece(bay) if bay is not None else None
    if bay is None or piece is None:
        raise Open(f"{machine.address}.left")
    bay.word("contains")
    return piece


def _side(machine: Node, path: str, number: int) -> float:
    value = machine.quantity(path)
    if not isinstance(value, Size) or len(value.sides) <= number:
        raise Open(machine.at(path).address)
    return value.sides[number].si


def _against(facts: Facts, machine: Node, number: int, found: float) -> Worked:
    wanted = _side(machine, "cut_out", number)
    left = found - wanted
    return Worked(
        0.0 if abs(left) < 1e-9 else left,
        given=(("opening", found, "length"), ("cut-out of the maker", wanted, "length")),
    )


@figure(
    "appliances.width_left",
    title="Opening over the maker's cut-out, width",
    dimension="offset",
    formula="opening - cut-out of the maker; width of the bay",
    source="the maker's cut-out",
    per=_built_in,
    trades=("millwork", "appliances"),
)
def width_left(facts: Facts, machine: Node) -> Worked:
    """What the bay is wider than the cut-out; below 0 the appliance does not go in."""
    return _against(facts, machine, 0, _opening(facts, machine).width)


@figure(
    "appliances.height_left",
    title="Opening over the maker's cut-out, height",
    dimension="offset",
    formula="opening - cut-out of the maker; height of the tiers that the bay takes",
    source="the maker's cut-out",
    per=_built_in,
    trades=("millwork", "appliances"),
)
def height_left(facts: Facts, machine: Node) -> Worked:
    """What the bay is higher than the cut-out."""
    return _against(facts, machine, 1, _opening(facts, machine).height)


@figure(
    "appliances.depth_left",
    title="Opening over the maker's cut-out, depth",
    dimension="offset",
    formula="opening - cut-out of the maker; depth of the tier",
    source="the maker's cut-out",
    holds="the back of the bay is the wall",
    per=_built_in,
    trades=("millwork", "appliances"),
)
def depth_left(facts: Facts, machine: Node) -> Worked:
    """What the bay is deeper than the cut-out."""
    depth = _opening(facts, machine).depth
    if depth is None:
        raise Open(f"{machine.address}.cut_out")
    return _against(facts, machine, 2, depth)


@figure(
    "appliances.panel_reserve",
    title="What the panel may weigh more",
    dimension="percent",
    formula="1 - weight of the panel / the maker's most",
    source="the maker's most",
    per=lambda job: [
        m
        for m in job.things(*KINDS)
        if kinds.says(m, "panel_most") and kinds.says(m, "panels.weight")
    ],
    trades=("millwork", "appliances"),
)
def panel_reserve(facts: Facts, machine: Node) -> Worked:
    """Share of the door's rating that its panel leaves; below 0 it is too heavy."""
    weighs, most = machine.si("panels.weight"), machine.si("panel_most")
    return Worked(
        1.0 - over(weighs, most, "most weight of a panel", "kg"),
        given=(("weight of the panel", weighs, "mass"), ("the maker's most", most, "mass")),
    )


@figure(
    "appliances.weight",
    title="Weight in place",
    dimension="mass",
    formula="as the maker states it; full where that is stated",
    source="the maker",
    per=kinds.of_kind(*KINDS, having="weight"),
    trades=("appliances", "client"),
)
def weight(facts: Facts, machine: Node) -> Worked:
    """Weight of an appliance where it stands."""
    if kinds.says(machine, "weight_full"):
        return Worked(machine.si("weight_full"), remark="full")
    return Worked(machine.si("weight"), remark="empty")


@figure(
    "appliances.vent_reserve",
    title="Free area for its air over what it needs",
    dimension="percent",
    formula="free area of the plinth / area that the maker asks for - 1",
    source="the maker",
    per=lambda job: [
        m for m in job.things(*KINDS) if kinds.says(m, "vent_area") and _plinth(job, m) is not None
    ],
    trades=("millwork", "appliances"),
)
def vent_reserve(facts: Facts, machine: Node) -> float:
    """What the plinth lets through over what the appliance needs, as a share."""
    plinth = _plinth(facts.job, machine)
    if plinth is None:
        raise Open(f"{machine.address}.vent_area")
    return over(plinth.si("vent"), machine.si("vent_area"), "vent area", "m²") - 1.0


def _plinth(job: Job, machine: Node) -> Node | None:
    """The plinth with a vent in the stack that an appliance's bay stands in."""
    bay = _bay(job, machine)
    run = bay.parent.parent if bay is not None and bay.parent is not None else None
    for stack in job.things("stack"):
        if run is None or stack.room != machine.room or stack.find(run.key) is None:
            continue
        for tier in kinds.tiers_of(stack):
            if tier.kind == "plinth" and kinds.says(tier, "vent"):
                return tier
    return None
