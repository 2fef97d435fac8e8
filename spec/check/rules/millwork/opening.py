"""Room for what opens and rolls: drawers, doors of cabinets and appliances, ladders."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.finding import Level
from spec.place import moving

_BAR = """
rooms:
  tasting_room:
    taped: {to: finish}
    height: 8 ft
    stacks: {bar: {bottom_to_top: {lower: {is: cabinets, height: 36 in, depth: 24 in}}}}
    walls_clockwise:
      TA: {length: 12 ft, millwork: {lower: {left: 0, width: 4 ft, left_to_right: {B1: {is: drawers,
          width: 4 ft}}}}}
      TB: {length: 12 ft}
      TC: {length: 12 ft}
      TD: {length: 12 ft}
    floor: {millwork: {TL1: {is: table, center: {TA: PLACE, TD: 24 in}, extent: {TA: 30 in,
        TB: 30 in}, height: 30 in}}}
"""
_LADDER = """
rooms:
  wine_room:
    taped: {to: finish}
    height: 9 ft
    stacks: {racks: {bottom_to_top: {upper: {is: racks, height: 100 in, depth: 14 in}}}}
    walls_clockwise:
      WA: {length: 10 ft, millwork: {upper: {left_to_right: {R1: {width: 10 ft, columns: 28}}}},
          fixtures: {LD1: {is: ladder, along: [R1], rail_aff: 84 in, stand_off: 4 in,
          angle: 4 to 1}}}
      WB: {length: 10 ft}
      WC: {length: 10 ft}
      WD: {length: 10 ft}
    floor: {millwork: {IS1: {is: table, center: {WA: PLACE, WD: 60 in}, extent: {WA: 24 in,
        WB: 24 in}, height: 36 in}}}
"""


@rule(
    "millwork.opens-against",
    level=Level.ERROR,
    trades=("millwork", "appliances"),
    why="A drawer or a door that meets something half way never opens farther.",
    each=("room",),
    bad=_BAR.replace("PLACE", "50 in"),
    good=_BAR.replace("PLACE", "80 in"),
)
def opens_against(facts: Facts, room: Node) -> Iterator[Said]:
    """A drawer, or the door of a cabinet or an appliance, meets what stands before it."""
    standing = facts.places.standing(room)
    for node, piece, opened in moving.fronts(facts.places, room):
        for thing in moving.met_by_front(opened, piece, standing):
            yield said(
                node,
                f"{node.key} opens against {thing.key}",
                f"move {thing.key} out of its way, or let {node.key} open another way",
                thing,
            )


@rule(
    "millwork.ladder-blocked",
    level=Level.ERROR,
    trades=("millwork",),
    why="A ladder that rolls against something stops short of the racks that it was bought for.",
    each=("ladder",),
    bad=_LADDER.replace("PLACE", "48 in"),
    good=_LADDER.replace("PLACE", "80 in"),
)
def ladder_blocked(facts: Facts, ladder: Node) -> Iterator[Said]:
    """Something stands in the travel of a ladder."""
    room = facts.job.thing(ladder.room)
    if room is None:
        return
    for thing in moving.met_by_ladder(facts.places, ladder, facts.places.standing(room)):
        yield said(
            ladder,
            f"{thing.key} stands in the travel of {ladder.key} along {ladder.text('along')}",
            f"move {thing.key}, or let {ladder.key} stop before it",
            thing,
        )
