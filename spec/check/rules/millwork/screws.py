"""Screws of racks and cabinets: none goes through the retarder behind the face."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.check.worked import worked
from spec.derive.sheets import build_up
from spec.finding import Level
from spec.job.node import Open
from spec.place.build_up import roles
from spec.place.runs import stack_of
from spec.quantity import show

_SCREWED = """
assemblies:
  A1:
    from_room_outward:
      plywood: {material: plywood, thickness: 1/2 in, role: backing}
      membrane: {material: polyethylene, thickness: 6 mil, perm: 0.06 perm, role: retarder}
      studs: {material: mineral_wool, thickness: 5-1/2 in, role: insulation}
rooms:
  wine_room:
    use: wine_storage
    taped: {to: finish}
    height: 96 in
    stacks:
      bar:
        longest_screw: LONG
        bottom_to_top: {lower: {is: cabinets, height: 42 in, depth: 12 in}}
    walls_clockwise:
      TA:
        length: 8 ft
        assembly: A1
        millwork: {lower: {left_to_right: {U1: {is: cabinet, width: 96 in}}}}
      TB: {length: 6 ft}
      TC: {length: 8 ft}
      TD: {length: 6 ft}
"""


@rule(
    "millwork.screw-through-retarder",
    level=Level.WARNING,
    trades=("millwork", "insulation"),
    why="A screw through the retarder is a hole that nobody sees and nobody tapes; water gathers "
    "round it for years.",
    bad=_SCREWED.replace("LONG", "2-1/2 in"),
    good=_SCREWED.replace("LONG", "1-1/4 in"),
)
def screw_through_retarder(facts: Facts) -> Iterator[Said]:
    """The longest screw of a stack goes deeper into its wall than the retarder lies."""
    in_wood = facts.job.limit("screw.in_wood")
    for wall, deep in worked(facts, "envelope.retarder_depth"):
        for stack in _stacks_on(facts, wall):
            if not stack.given("longest_screw"):
                continue
            if stack.si("longest_screw") > deep + in_wood + 0.0005:
                system = facts.job.system
                yield said(
                    stack.at("longest_screw"),
                    f"a screw of {stack.text('longest_screw')} through "
                    f"{show(in_wood, 'length', system)} of wood goes deeper into {wall.key} than "
                    f"its retarder lies, {show(deep, 'length', system)} behind the face",
                    "take shorter screws, or write `tell` how the hole is sealed and waive this",
                    wall,
                    *(n.address for n in build_up.through(facts, wall) if "retarder" in roles(n)),
                )


def _stacks_on(facts: Facts, wall: Node) -> list[Node]:
    if wall.kind != "wall":
        return []
    try:
        runs = facts.places.runs(wall)
    except Open:
        return []
    found = {s.address: s for run in runs if (s := stack_of(facts.job, run.node)) is not None}
    return list(found.values())
