"""Leaves: what they stand before when open, and their room to shut in a damp summer."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.check.rules.openings.doors import COLD, LEAF
from spec.check.worked import worked
from spec.finding import Level
from spec.place import moving
from spec.quantity import show

_DOOR = """
rooms:
  tasting_room:
    taped: {to: finish}
    height: 8 ft
    walls_clockwise:
      TA:
        length: 12 ft
        openings: {D1: {is: door, left: 48 in, opens_into: tasting_room, hinges_on: left,
            opens_to: 170°, leaf: {width: 32 in, height: 80 in}}}
        devices: {S1: {is: dimmer, center: PLACE, aff: 48 in}}
      TB: {length: 8 ft}
      TC: {length: 12 ft}
      TD: {length: 8 ft}
"""
_SLAB = COLD.replace("FACTS", LEAF[:-1] + ", gap: {sides: SIDES}}")


@rule(
    "openings.switch-behind-leaf",
    level=Level.ERROR,
    trades=("electrical", "doors", "metalwork"),
    why="A switch is found on the side where the hand comes in; behind the open leaf nobody finds "
    "it, and the leaf strikes it.",
    each=("door", "gate"),
    bad=_DOOR.replace("PLACE", "30 in"),
    good=_DOOR.replace("PLACE", "92 in"),
)
def switch_behind_leaf(facts: Facts, opening: Node) -> Iterator[Said]:
    """A switch or another device worked by hand is behind a leaf when it stands open."""
    for device, near in moving.behind_leaf(facts.places, opening):
        yield said(
            device,
            f"{device.key} is behind the leaf of {opening.key} when that stands open, "
            f"{show(near, 'length', facts.job.system)} from it",
            f"move {device.key} beyond the leaf, or to the other side of {opening.key}",
            opening,
        )


@rule(
    "openings.leaf-binds",
    level=Level.ERROR,
    trades=("doors",),
    why="A leaf that has swollen in its frame holds somebody in a cold room, or stands open all "
    "summer.",
    source="Wood Handbook FPL-GTR-282 ch. 13",
    bad=_SLAB.replace("SIDES", "1/8 in"),
    good=_SLAB.replace("SIDES", "1/8 in").replace(
        "core: solid", "core: foam, build: {stiles: 5 in, top_rail: 5 in, bottom_rail: 10 in}"
    ),
)
def leaf_binds(facts: Facts) -> Iterator[Said]:
    """A leaf of solid wood swells to a side more than its gap there."""
    for door, swells in worked(facts, "openings.leaf_swells"):
        gap = door.at("leaf.gap.sides")
        if swells > door.si("leaf.gap.sides"):
            yield said(
                gap,
                f"the leaf of {door.key} swells {show(swells, 'length', facts.job.system)} to each "
                f"side in the dampest air beside it; its gap is {gap.written}",
                "take a leaf of stiles and rails, or one of a core that stays as it is; or a wider "
                "gap with deeper seals",
                door.at("leaf.material"),
            )
