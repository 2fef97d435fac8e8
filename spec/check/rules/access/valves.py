"""Shut-offs of water: where a hand reaches them while the water runs."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.finding import Level
from spec.place import service

_SINK = """
rooms:
  tasting_room:
    walls_clockwise:
      TA:
        millwork: {lower: {left_to_right: {B1: {is: sink_base, width: 24 in}, B2: {is: KIND,
          width: 24 in}, B3: {is: appliance_bay, width: 24 in, contains: DW1}}}}
        appliances: {DW1: {is: dishwasher, water: cold}}
        fixtures: {SK1: {is: sink, water: cold, valve: {inside: WHERE}}}
"""
_TAKES_WATER = (
    "sink",
    "dishwasher",
    "ice_maker",
    "coffee_machine",
    "refrigerator",
    "wine_refrigerator",
    "wine_dispenser",
    "freezer",
)


@rule(
    "access.valve-shut-in",
    level=Level.ERROR,
    trades=("plumbing", "millwork"),
    why="When a hose bursts, the valve is turned by whoever stands there, in the dark, with one "
    "hand: not behind a screwed board, and not behind the machine.",
    source="IRC P2903.9.3, valves accessible; cited from memory, check the adopted edition",
    each=_TAKES_WATER,
    bad=_SINK.replace("KIND", "filler").replace("WHERE", "B2"),
    good=_SINK.replace("KIND", "cabinet").replace("WHERE", "B2"),
)
def valve_shut_in(facts: Facts, thing: Node) -> Iterator[Said]:
    """The shut-off of a thing is inside a board that does not come off, or behind an appliance."""
    valve = thing.find("valve")
    inside = valve.find("inside") if valve is not None else None
    if valve is None or inside is None or inside.value is None:
        return
    board = service.closed_in(facts.places, valve)
    if board is not None:
        yield said(
            inside,
            f"the shut-off of {thing.key} is inside {board.key}, a {board.kind}, and nothing says "
            "that it comes off",
            f"put it into a cabinet, or write at {board.key} how it is `removable`",
            board,
        )
    bay = facts.job.thing(valve.word("inside"))
    if bay is not None and bay.kind == "appliance_bay":
        what = bay.text("contains", "an appliance")
        yield said(
            inside,
            f"the shut-off of {thing.key} is in {bay.key}, behind {what}",
            "put it into the cabinet beside it",
            bay,
        )
