"""What a surface is made of: insulation, board before foam, board behind heavy finishes."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.derive.sheets import build_up, kinds
from spec.finding import Level
from spec.job.finishes import finish_at
from spec.job.node import Open
from spec.place.build_up import roles, thickness
from spec.quantity import Quantity, show

_FOAMS = ("foam",)
_BARE = ("retarder",)
_FOAMED = """
surroundings: {garage: {summer: {temperature: 30 °C, humidity: 60 %}}}
assemblies:
  A1:
    from_room_outward:
      board: {material: gypsum_board, thickness: THICK, role: board}
      foam: {material: closed_cell_foam, thickness: 4 in, perm: 0.8 perm, role: [insulation,
          retarder]}
rooms:
  wine_room:
    use: wine_storage
    climate: {temperature: 13 °C, humidity: 60 %}
    walls_clockwise: {WA: {faces: garage, assembly: A1}}
"""
_HEAVY = """
finishes: {F1: {is: plaster, weight: 4.5 psf, substrate: plaster_base_board}}
assemblies: {A1: {from_room_outward: {board: {material: BOARD, thickness: 1/2 in, role: board}}}}
rooms: {tasting_room: {finishes: {walls: F1}, walls_clockwise: {TA: {assembly: A1}}}}
"""


@rule(
    "envelope.insulation-too-thin",
    level=Level.ERROR,
    trades=("insulation", "framing", "refrigeration"),
    why="The machine was chosen for the house's insulation; with less it runs without a stop "
    "on the "
    "days for which it was bought.",
    bad=_FOAMED.replace("THICK", "1/2 in").replace("thickness: 4 in", "thickness: 1 in"),
    good=_FOAMED.replace("THICK", "1/2 in"),
)
def insulation_too_thin(facts: Facts) -> Iterator[Said]:
    """The R-value between the framing is below the least of the house, or of its own assembly."""
    for surface in kinds.cooled_surfaces(facts.job):
        named = surface.find("assembly")
        assembly = facts.job.thing(str(named.value)) if named is not None else None
        if assembly is None:
            continue
        try:
            least = _least(facts, surface)
            given = facts.figures.value("envelope.r_between", surface)
        except Open:
            continue
        if given < least:
            system = facts.job.system
            yield said(
                surface,
                f"{surface.address} has {show(given, 'r_value', system)} between its framing, the "
                f"house asks for {show(least, 'r_value', system)}",
                f"thicken the insulation of {assembly.key}, or override the threshold "
                "with the reason",
                assembly,
            )


def _least(facts: Facts, surface: Node) -> float:
    part = build_up.part_of(surface)
    if part == "walls":
        return facts.job.limit("cooled_wall.minimum_r")
    if part == "ceiling":
        return facts.job.limit("cooled_ceiling.minimum_r")
    structure = surface.word("structure", "")
    ground = structure == "slab_on_ground" or surface.word("faces", "") == "ground"
    return facts.job.limit("cooled_slab.minimum_r" if ground else "cooled_floor.minimum_r")


@rule(
    "envelope.no-thermal-barrier",
    level=Level.ERROR,
    trades=("insulation", "board"),
    why="Foam plastics burn fast and with black smoke; a board of enough thickness keeps a fire in "
    "the room from them for the minutes that people need.",
    source="IRC R316.4, thermal barrier of 1/2 in gypsum board; cited from memory",
    bad=_FOAMED.replace("THICK", "1/4 in"),
    good=_FOAMED.replace("THICK", "1/2 in"),
)
def no_thermal_barrier(facts: Facts) -> Iterator[Said]:
    """Foam lies behind board that is thinner than the house's thermal barrier, or behind none."""
    least = facts.job.limit("board.thermal_barrier")
    told: set[str] = set()
    for surface in kinds.surfaces(facts.job):
        if surface.key == "floor" or surface.find("back_of") is not None:
            continue
        try:
            layers = build_up.through(facts, surface)
        except Open:
            continue
        boards: list[Node] = []
        for layer in layers:
            if any(word in layer.word("material", "") for word in _FOAMS):
                covered = sum(thickness(board) for board in boards)
                if covered < least and layer.address not in told:
                    told.add(layer.address)
                    yield _bare(facts, layer, boards, covered, least)
                break
            if {"board", "backing", "structure"} & set(roles(layer)) and layer.word(
                "material", "air"
            ) not in ("air", "mineral_wool"):
                boards.append(layer)


def _bare(facts: Facts, foam: Node, boards: list[Node], covered: float, least: float) -> Said:
    system = facts.job.system
    before = f"{show(covered, 'length', system)} of board" if boards else "no board"
    also = [f"{board.address}.thickness" for board in boards]
    return said(
        foam,
        f"`{foam.key}` lies behind {before}; the house asks for "
        f"{show(least, 'length', system)} before "
        "foam plastics",
        "thicken the board on the room's side of the foam",
        *also,
    )


@rule(
    "envelope.heavy-finish-on-plain-board",
    level=Level.ERROR,
    trades=("plaster", "board"),
    why="A heavy finish pulls the paper off plain board, weeks after it was hung.",
    bad=_HEAVY.replace("BOARD", "gypsum_board"),
    good=_HEAVY.replace("BOARD", "plaster_base_board"),
)
def heavy_finish_on_plain_board(facts: Facts) -> Iterator[Said]:
    """A finish above the weight that plain board holds lies on another board than it asks for."""
    most = facts.job.limit("board.plain_finish")
    told: set[str] = set()
    for surface in kinds.surfaces(facts.job):
        leaf = finish_at(facts.job, surface, build_up.part_of(surface))
        finish = facts.job.thing(str(leaf.value)) if leaf is not None else None
        if finish is None or surface.key == "floor" or finish.find("substrate") is None:
            continue
        weight = finish.find("weight")
        if weight is None or not isinstance(weight.value, Quantity) or weight.value.si <= most:
            continue
        try:
            layers = build_up.through(facts, surface)
        except Open:
            continue
        first = next((layer for layer in layers if "retarder" not in roles(layer)), None)
        wanted = finish.word("substrate")
        if first is None or first.word("material", "") == wanted or first.address in told:
            continue
        told.add(first.address)
        yield said(
            first,
            f"{finish.key} weighs {weight.written} and asks for {wanted.replace('_', ' ')}; on "
            f"{surface.address} it would lie on {first.word('material').replace('_', ' ')}",
            f"change the first layer to {wanted}, or choose a lighter finish",
            weight,
            surface,
            f"{first.address}.material",
        )
