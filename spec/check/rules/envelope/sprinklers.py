"""Sprinkler heads: one in every room where there are any, and nothing in the way of their water."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.finding import Level
from spec.job.node import Open
from spec.place import plan
from spec.place.shapes import Point, line_between
from spec.quantity import show

_SOURCE = "NFPA 13, standard spray sprinklers; cited from memory"
_ROOM = """
rooms:
  wine_room:
    taped: {to: finish}
    height: 8 ft
    stacks: {shelves: {bottom_to_top: {racks: {is: racks, height: HIGH, depth: 14 in}}}}
    walls_clockwise:
      WA: {length: 8 ft, millwork: {racks: {left_to_right: {R1: {width: 96 in, columns: 24}}}}}
      WB: {length: 6 ft}
      WC: {length: 8 ft}
      WD: {length: 6 ft}
    ceiling:
      soffits: {SO1: {along: WC, depth: 12 in, drop: 8 in}}
      devices: {SP1: {is: sprinkler_head, deflector: 1 in, centers: {WA: [OFF], WD: [4 ft]}}}
"""
_GOOD = _ROOM.replace("HIGH", "96 in").replace("OFF", "36 in")


@rule(
    "envelope.room-without-sprinkler",
    level=Level.ERROR,
    silence=True,
    trades=("plumbing",),
    why="Where the building is sprinklered, a new room without a head is found by the fire "
    "marshal, under a finished ceiling.",
    source=_SOURCE,
    each=("room",),
    bad="rooms: {cellar: {use: wine_storage}, hall: {ceiling: {devices: {SP1: {is: "
    "sprinkler_head}}}}}",
    good="rooms: {cellar: {ceiling: {devices: {SP2: {is: sprinkler_head}}}}, hall: {ceiling: "
    "{devices: {SP1: {is: sprinkler_head}}}}}",
)
def room_without_sprinkler(facts: Facts, room: Node) -> Iterator[Said]:
    """Other rooms have sprinkler heads and this one has none."""
    heads = facts.job.things("sprinkler_head")
    if heads and not any(head.room == room.key for head in heads):
        yield said(
            f"{room.address}.ceiling",
            f"{room.key.replace('_', ' ')} has no sprinkler head; {heads[0].room} has",
            "add it under `devices` of the ceiling, or ask the fire marshal",
            room,
            heads[0],
        )


@rule(
    "envelope.stored-under-sprinkler",
    level=Level.ERROR,
    trades=("plumbing", "millwork"),
    why="Water spreads in the first foot and a half below a head: what stands there keeps all "
    "beside it dry.",
    source=_SOURCE,
    each=("sprinkler_head",),
    bad=_ROOM.replace("HIGH", "84 in").replace("OFF", "10 in"),
    good=_GOOD,
)
def stored_under_sprinkler(facts: Facts, head: Node) -> Iterator[Said]:
    """A piece right below a head reaches up to it, or nearer than the house keeps."""
    room = facts.job.thing(head.room)
    if room is None:
        return
    deflector = facts.places.room(room.key).height - head.si("deflector")
    most, system = deflector - facts.job.limit("sprinkler.clear_below"), facts.job.system
    for piece in (*plan.millwork(facts.places, room), *_on_the_floor(facts, room)):
        if piece.top <= most + 0.0005:
            continue
        if any(plan.inside(piece.outline, (spot,)) >= 0 for spot in _spots(facts, head)):
            where = (
                "it"
                if piece.top > deflector
                else f"{show(deflector - piece.top, 'length', system)} below its deflector"
            )
            yield said(
                head,
                f"{head.key} hangs over {piece.node.key}, which reaches up to {where}; the house "
                f"keeps {show(facts.job.limit('sprinkler.clear_below'), 'length', system)} free",
                f"move {head.key} over the aisle, or make {piece.node.key} lower",
                piece.node,
            )


def _on_the_floor(facts: Facts, room: Node) -> Iterator[plan.Footprint]:
    floor = room.find("floor")
    for thing in floor.group("millwork") if floor is not None else ():
        if thing.given("height"):
            try:
                outlines = facts.places.plan(thing).outlines
            except Open:
                continue
            yield from (plan.Footprint(thing, line, 0.0, thing.si("height")) for line in outlines)


def _spots(facts: Facts, head: Node) -> list[Point]:
    """The middle of each head of a mark in plan [m]; raises `Open`."""
    return [plan.middle(outline) for outline in facts.places.plan(head).outlines]


@rule(
    "envelope.sprinkler-beside-wall",
    level=Level.ERROR,
    trades=("plumbing",),
    why="A head at the wall wets the wall; one too far from it leaves the corner dry.",
    source=_SOURCE,
    each=("sprinkler_head",),
    bad=_ROOM.replace("HIGH", "60 in").replace("OFF", "2 in"),
    good=_GOOD,
)
def sprinkler_beside_wall(facts: Facts, head: Node) -> Iterator[Said]:
    """A head is nearer to a wall than the house allows, or the wall has none near enough."""
    room = facts.job.thing(head.room)
    if room is None:
        return
    least, most = facts.job.limits("sprinkler.from_wall")
    limits, system = facts.job.threshold("sprinkler.from_wall").written, facts.job.system
    heads = [h for h in facts.job.things("sprinkler_head") if h.room == room.key]
    for wall in room.group("walls_clockwise"):
        line = line_between(*facts.places.room(room.key).ends(wall.key))
        own = min(abs(line.distance(spot)) for spot in _spots(facts, head))
        nearest = min(abs(line.distance(spot)) for h in heads for spot in _spots(facts, h))
        if own < least - 0.0005 or (nearest > most + 0.0005 and head is heads[0]):
            yield said(
                head,
                f"{head.key} is {show(own, 'length', system)} from {wall.key}; the house keeps "
                f"{limits} from a head to the wall",
                f"move {head.key}, or add a head",
                wall,
            )


@rule(
    "envelope.sprinkler-beside-soffit",
    level=Level.ERROR,
    trades=("plumbing", "framing"),
    why="A soffit beside a head shades whatever lies behind it from the water.",
    source=_SOURCE,
    each=("sprinkler_head",),
    bad=_ROOM.replace("HIGH", "60 in").replace("OFF", "54 in"),
    good=_GOOD,
)
def sprinkler_beside_soffit(facts: Facts, head: Node) -> Iterator[Said]:
    """A soffit that hangs lower than the deflector is nearer to a head than the house keeps."""
    room = facts.job.thing(head.room)
    ceiling = room.find("ceiling") if room is not None else None
    if room is None or ceiling is None:
        return
    least, system = facts.job.limit("sprinkler.from_soffit"), facts.job.system
    for soffit in ceiling.group("soffits"):
        if not soffit.given("along") or soffit.si("drop") <= head.si("deflector"):
            continue
        line = line_between(*facts.places.room(room.key).ends(soffit.word("along")))
        free = min(abs(line.distance(s)) for s in _spots(facts, head)) - soffit.si("depth")
        if free < least - 0.0005:
            yield said(
                head,
                f"{head.key} is {show(max(free, 0.0), 'length', system)} from the soffit "
                f"{soffit.key}, which hangs below its deflector; the house keeps "
                f"{show(least, 'length', system)}",
                f"move {head.key} away from {soffit.key}, or hang it from the soffit",
                soffit,
            )
