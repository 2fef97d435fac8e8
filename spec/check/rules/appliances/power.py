"""Appliances on their circuits: alone, and with the plug where it can be reached."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.check.rules.appliances.around import APPLIANCES, stands_in
from spec.derive.sheets.lighting import fed_by
from spec.finding import Level
from spec.place.shapes import Rect
from spec.quantity import Quantity, show

_COLD = ("refrigerator", "wine_refrigerator", "freezer", "ice_maker")
_BAR = """
circuits: {C1: {voltage: 120 V, breaker: 20 A}, C2: {voltage: 120 V, breaker: 20 A}}
rooms:
  tasting_room:
    taped: {to: finish}
    height: 8 ft
    stacks: {bar: {bottom_to_top: {lower: {is: cabinets, height: 34-1/2 in, depth: 24 in}}}}
    walls_clockwise:
      TA:
        length: 8 ft
        millwork:
          lower:
            left: 0
            width: 4 ft
            left_to_right:
              B1: {is: cabinet, width: 24 in, back: open at RC1}
              B2: {is: appliance_bay, width: 24 in, takes: lower, contains: RF1}
        devices:
          RC1: {is: receptacle, center: AT, aff: 12 in, fed_from: C1}
          RC2: {is: receptacle, center: 72 in, aff: 16 in, fed_from: OTHER}
        appliances:
          RF1: {is: refrigerator, cut_out: 24 in x 34-1/2 in x 24 in, fed_from: RC1 CORD}
      TB: {length: 6 ft}
      TC: {length: 8 ft}
      TD: {length: 6 ft}
"""


def _bar(at: str = "16 in", other: str = "C2", cord: str = "") -> str:
    return _BAR.replace("AT", at).replace("OTHER", other).replace("CORD", cord)


def _plug(facts: Facts, appliance: Node) -> Node | None:
    fed = appliance.find("fed_from")
    found = facts.job.thing(str(fed.value)) if fed is not None and fed.value is not None else None
    return found if found is not None and found.kind == "receptacle" else None


@rule(
    "appliances.receptacle-behind",
    level=Level.ERROR,
    trades=("electrical", "appliances"),
    why="A plug behind a built-in machine holds it an inch off the wall, and nobody can pull it.",
    each=APPLIANCES,
    bad=_bar(at="36 in"),
    good=_bar(),
)
def receptacle_behind(facts: Facts, appliance: Node) -> Iterator[Said]:
    """A receptacle lies in the back zone of an appliance."""
    found = stands_in(facts, appliance)
    wall = facts.places.wall_of(found[0]) if found is not None else None
    if found is None or wall is None:
        return
    _, placed = found
    zone = Rect(placed.left, placed.bottom, placed.width, placed.height)
    for thing in facts.places.on(wall):
        if thing.node.kind == "receptacle" and zone.meets(thing.rect, 0.003):
            system = facts.job.system
            yield said(
                thing.node,
                f"receptacle {thing.node.key}, middle {show(thing.rect.center, 'length', system)} "
                "from "
                f"the left corner of {wall.key}, lies behind {appliance.key}, which stands from "
                f"{show(placed.left, 'length', system)} to "
                f"{show(placed.left + placed.width, 'length', system)}",
                "put it into the cabinet beside the machine",
                appliance,
            )


@rule(
    "appliances.circuit-shared",
    level=Level.ERROR,
    trades=("electrical",),
    why="Somebody's kettle trips the breaker on a Friday, and the refrigerator is warm on Monday.",
    each=_COLD,
    bad=_bar(other="C1"),
    good=_bar(),
)
def circuit_shared(facts: Facts, appliance: Node) -> Iterator[Said]:
    """A machine that keeps things cold shares its circuit with anything else."""
    plug = _plug(facts, appliance)
    fed = (plug or appliance).find("fed_from")
    circuit = facts.job.thing(str(fed.value)) if fed is not None and fed.value is not None else None
    if circuit is None or circuit.kind != "circuit":
        return
    own = {appliance.key, plug.key if plug is not None else ""}
    others = [thing for thing in fed_by(facts.job).get(circuit.key, []) if thing.key not in own]
    if others:
        yield said(
            appliance.at("fed_from"),
            f"{appliance.key} is on {circuit.key}, which also feeds "
            f"{', '.join(thing.key for thing in others)}",
            f"give {appliance.key} a circuit of its own",
            circuit,
        )


@rule(
    "appliances.cord-too-short",
    level=Level.ERROR,
    trades=("electrical", "appliances"),
    why="A cord that ends before the receptacle gets an extension behind the cabinet, where it is "
    "hot and nobody sees it.",
    each=APPLIANCES,
    bad=_bar(at="6 in", cord=", cord: 10 in"),
    good=_bar(at="16 in", cord=", cord: 48 in"),
)
def cord_too_short(facts: Facts, appliance: Node) -> Iterator[Said]:
    """The receptacle of an appliance is farther from its bay than its cord is long."""
    cord, plug, found = appliance.find("cord"), _plug(facts, appliance), stands_in(facts, appliance)
    if cord is None or not isinstance(cord.value, Quantity) or plug is None or found is None:
        return
    if facts.places.wall_of(plug) is not facts.places.wall_of(found[0]):
        return
    at, placed = facts.places.rect(plug).rect.center, found[1]
    away = max(placed.left - at, at - placed.left - placed.width)
    if away > cord.value.si:
        yield said(
            cord,
            f"the cord of {appliance.key} is {cord.written} long, {plug.key} is "
            f"{show(away, 'length', facts.job.system)} from its bay",
            f"move {plug.key} nearer, or have the machine wired",
            plug,
        )


@rule(
    "appliances.water-without-plumber",
    level=Level.ERROR,
    trades=("plumbing", "appliances"),
    why="Water to an ice maker is nobody's, until the machine stands there.",
    each=APPLIANCES,
    bad="""
trades: {appliances: {firm: Quist Machines}}
rooms: {bar_room: {walls_clockwise: {TA: {appliances: {IM1: {is: ice_maker, water: 1/4 in tube}}}}}}
""",
    good="""
trades: {appliances: {firm: Quist Machines}, plumbing: {firm: Quist Pipes}}
rooms: {bar_room: {walls_clockwise: {TA: {appliances: {IM1: {is: ice_maker, water: 1/4 in tube}}}}}}
""",
)
def water_without_plumber(facts: Facts, appliance: Node) -> Iterator[Said]:
    """An appliance takes water or drains it, and the job has no plumber."""
    trades = facts.job.things("trade")
    known = {trade.key for trade in trades}
    for trade in trades:
        known.update(trade.words("also", ()) if trade.find("also") is not None else ())
        known.add(trade.word("trade", "") if trade.find("trade") is not None else "")
    if not trades or "plumbing" in known:
        return
    for key in ("water", "drain"):
        leaf = appliance.find(key)
        if leaf is not None and leaf.value not in (None, "none"):
            yield said(
                leaf,
                f"{appliance.key} has `{key}: {leaf.written}`, but no trade of the job is plumbing",
                "add `plumbing` under `trades`, or mark it not applicable with a reason",
                "trades",
            )
