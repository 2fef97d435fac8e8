"""Finishes in their place: the right kind, on the right wood, and floors that meet."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.derive.sheets import build_up, kinds
from spec.finding import Level
from spec.job.finishes import finish_at

_FLOORS = ("tile", "wood_floor", "stone", "existing_finish", "unfinished", "paint", "clear_coat")
_METAL = ("metal",)
_NOT_ON_WALLS = ("wood_floor", "metal")
_MEETS = """
finishes: {F1: {is: tile, material: limestone}, F2: {is: tile, material: slate}}
rooms:
  wine_room:
    finishes: {floor: F1}
    walls_clockwise: {WA: {faces: tasting_room, openings: {D1: {is: door}}}}
    floor: {stops: {D1: {line: middle of the leaf, meets: OTHER}}}
  tasting_room:
    finishes: {floor: F2}
    floor: {level: 0}
"""


@rule(
    "finishes.wrong-kind",
    level=Level.ERROR,
    trades=("painting", "flooring", "plaster", "metalwork"),
    why="A paint on a floor plan or a metal on a wall is a mark that slipped by one; the order "
    "says "
    "it all the same.",
    bad="""
finishes: {F1: {is: paint, color: bone}, F2: {is: metal, color: bronze}}
finishes_everywhere: {metal: F1}
""",
    good="""
finishes: {F1: {is: paint, color: bone}, F2: {is: metal, color: bronze}}
finishes_everywhere: {metal: F2}
""",
)
def wrong_kind(facts: Facts) -> Iterator[Said]:
    """A floor, a wall or metal names a finish that cannot be on it."""
    for leaf in facts.job.tree.leaves():
        if (
            leaf.key not in ("floor", "walls", "ceiling", "metal")
            or "finish" not in leaf.shape.refers
        ):
            continue
        finish = facts.job.thing(str(leaf.value)) if leaf.value is not None else None
        if finish is None or finish.container != "finishes":
            continue
        wrong = (
            (leaf.key == "floor" and finish.kind not in _FLOORS)
            or (leaf.key == "metal" and finish.kind not in _METAL)
            or (leaf.key in ("walls", "ceiling") and finish.kind in _NOT_ON_WALLS)
        )
        if wrong:
            yield said(
                leaf,
                f"`{leaf.key}` has {finish.key}, which is a {finish.kind.replace('_', ' ')}",
                f"name a finish that goes on {leaf.key}",
                finish,
            )


@rule(
    "finishes.stop-meets-another",
    level=Level.ERROR,
    trades=("flooring",),
    why="The strip at a door is chosen for the two floors that meet there, their thickness and "
    "their color.",
    each=("room",),
    bad=_MEETS.replace("OTHER", "F1"),
    good=_MEETS.replace("OTHER", "F2"),
)
def stop_meets_another(facts: Facts, room: Node) -> Iterator[Said]:
    """A floor stops at a door against a finish that the floor on the other side does not have."""
    stops = room.find("floor.stops")
    for stop in stops.entries() if stops is not None else ():
        meets = stop.find("meets")
        named = facts.job.thing(str(meets.value)) if meets is not None and meets.value else None
        if meets is None or named is None or named.container != "finishes":
            continue
        floors = list(_floors_beyond(facts, room, stop.key))
        if floors and all(leaf.value != named.key for leaf in floors):
            yield said(
                meets,
                f"the floor of {room.key.replace('_', ' ')} meets {named.key} at {stop.key}, but "
                "the "
                f"floor there is {floors[0].written}",
                f"write `meets: {floors[0].written}`, or change the floor",
                floors[0],
            )


def _floors_beyond(facts: Facts, room: Node, name: str) -> Iterator[Node]:
    """The leaves that name the floors on the other side of an opening or a partition."""
    for wall in facts.job.walls:
        if wall.room != room.key:
            continue
        link = wall.find("partition")
        partition = str(link.value) if link is not None and link.value is not None else ""
        at = name == partition or any(o.key == name for o in build_up.openings(facts, wall))
        faces = wall.find("faces")
        sides = {str(faces.value)} if faces is not None else set()
        for other in facts.job.walls if partition else ():
            if other.room != room.key and other.word("partition", "") == partition:
                sides.add(other.room)
        for side in sorted(sides) if at else ():
            far = facts.job.thing(side)
            floor = far.find("floor") if far is not None and far.kind == "room" else None
            leaf = finish_at(facts.job, floor, "floor") if floor is not None else None
            if leaf is not None:
                yield leaf


@rule(
    "finishes.wood-differs",
    level=Level.ERROR,
    trades=("millwork",),
    why="A stain is mixed for one wood; on another it is another color.",
    each=("stack",),
    bad="""
finishes: {F1: {is: clear_coat, material: oil, wood: white_oak}}
rooms:
  bar_room: {finishes: {millwork: F1}, stacks: {bar: {species: sapele, bottom_to_top: {}}}}
""",
    good="""
finishes: {F1: {is: clear_coat, material: oil, wood: white_oak}}
rooms:
  bar_room: {finishes: {millwork: F1}, stacks: {bar: {species: white_oak, bottom_to_top: {}}}}
""",
)
def wood_differs(facts: Facts, stack: Node) -> Iterator[Said]:
    """A stack is made of another wood than its finish is for."""
    species = stack.find("species")
    leaf = finish_at(facts.job, stack, "millwork")
    own = stack.find("finish")
    leaf = own if own is not None and own.value is not None else leaf
    finish = facts.job.thing(str(leaf.value)) if leaf is not None else None
    wood = finish.find("wood") if finish is not None else None
    if species is None or finish is None or wood is None or None in (species.value, wood.value):
        return
    if species.value != wood.value:
        yield said(
            species,
            f"{stack.key} is {species.written.replace('_', ' ')}, its finish {finish.key} is for "
            f"{wood.written.replace('_', ' ')}",
            "choose the finish for this wood, and a sample on it",
            wood,
        )


@rule(
    "finishes.smelling-coat-on-wood",
    level=Level.WARNING,
    trades=("millwork", "painting"),
    why="Lacquer on racks gives off its solvent into a closed cool room, and corks take it up.",
    each=("stack",),
    bad="""
finishes: {F1: {is: clear_coat, material: nitro_lacquer}}
rooms:
  wine_room:
    use: wine_storage
    finishes: {millwork: F1}
    stacks: {racks: {species: sapele, bottom_to_top: {}}}
""",
    good="""
finishes: {F1: {is: unfinished, material: none}}
rooms:
  wine_room:
    use: wine_storage
    finishes: {millwork: F1}
    stacks: {racks: {species: sapele, bottom_to_top: {}}}
""",
)
def smelling_coat_on_wood(facts: Facts, stack: Node) -> Iterator[Said]:
    """The wood of a cooled room has a coat with solvents, of whose odor nothing is said."""
    room = facts.job.thing(stack.room)
    if room is None or not kinds.is_cooled(room):
        return
    leaves = [finish_at(facts.job, stack, "millwork")]
    leaves += [node.find("finish") for node in (stack, *kinds.tiers_of(stack))]
    told: set[str] = set()
    for leaf in leaves:
        finish = facts.job.thing(str(leaf.value)) if leaf is not None and leaf.value else None
        material = finish.find("material") if finish is not None else None
        if leaf is None or finish is None or material is None or finish.key in told:
            continue
        smells = any(word in material.written for word in _SMELLING)
        if smells and "low_odor" not in material.written and finish.find("odor") is None:
            told.add(finish.key)
            yield said(
                leaf,
                f"the wood of {stack.key} in the cooled {room.key.replace('_', ' ')} has "
                f"{finish.key}, "
                f"{material.written.replace('_', ' ')}",
                "leave it raw, choose an oil without solvent, or write under `odor` how long it "
                "smells",
                material,
            )


_SMELLING = ("lacquer", "enamel", "alkyd", "polyurethane", "varnish", "solvent", "shellac", "epoxy")
"""Words of coats that give off solvents for weeks. Common practice."""
