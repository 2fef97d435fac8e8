"""Disconnects: one in sight of every machine that is wired, near it, and strong enough."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.finding import Level
from spec.job import feeds
from spec.quantity import Quantity


@rule(
    "electrical.disconnect-too-small",
    level=Level.ERROR,
    trades=("electrical",),
    why="A switch rated below its breaker welds shut on the day it has to open.",
    each=("disconnect",),
    bad="""
circuits: {C1: {breaker: 20 A}}
elsewhere: {DS1: {is: disconnect, rated: 15 A, fed_from: C1}}
""",
    good="""
circuits: {C1: {breaker: 20 A}}
elsewhere: {DS1: {is: disconnect, rated: 30 A, fed_from: C1}}
""",
)
def disconnect_too_small(facts: Facts, switch: Node) -> Iterator[Said]:
    """A disconnect is rated for less than the breaker before it."""
    circuit = feeds.circuit_of(facts.job, switch)
    rated, breaker = switch.find("rated"), circuit.find("breaker") if circuit is not None else None
    if rated is None or breaker is None or circuit is None:
        return
    if not isinstance(rated.value, Quantity) or not isinstance(breaker.value, Quantity):
        return
    if rated.value.si < breaker.value.si:
        yield said(
            rated,
            f"{switch.key} is rated {rated.written}, the breaker of {circuit.key} "
            f"{breaker.written}",
            "choose a disconnect of at least the breaker's rating",
            breaker,
        )


@rule(
    "electrical.no-disconnect",
    level=Level.ERROR,
    silence=True,
    trades=("electrical", "refrigeration"),
    why="Whoever works on a machine has to see that it is off, and that nobody switches it on.",
    source="NEC 440.14; cited from memory, check the adopted edition",
    each=("condensing_unit",),
    bad="""
circuits: {C1: {breaker: 20 A}}
elsewhere: {CU1: {is: condensing_unit, fed_from: C1}}
""",
    good="""
circuits: {C1: {breaker: 20 A}}
elsewhere:
  DS1: {is: disconnect, in_sight_of: CU1, fed_from: C1}
  CU1: {is: condensing_unit, fed_from: DS1}
""",
)
def no_disconnect(facts: Facts, unit: Node) -> Iterator[Said]:
    """No disconnect is in sight of a condensing unit that is wired."""
    if unit.word("connection", "wired") == "plugged" or unit.find("fed_from") is None:
        return
    switches = facts.job.things("disconnect")
    if not any(unit.key in s.words("in_sight_of", ()) for s in switches if s.children):
        yield said(
            unit,
            f"no disconnect is in sight of {unit.key}",
            f"add a disconnect with `in_sight_of: {unit.key}` and feed {unit.key} from it",
            *(f"{s.address}.in_sight_of" for s in switches),
        )


@rule(
    "electrical.disconnect-too-far",
    level=Level.ERROR,
    trades=("electrical", "refrigeration"),
    why="Who has his hands in a machine has to see the switch, and whoever goes near it.",
    source="NEC 440.14, article 100, in sight: visible and not more than 50 ft away; cited from "
    "memory, check the adopted edition",
    each=("disconnect",),
    bad="elsewhere: {CU1: {is: condensing_unit}, DS1: {is: disconnect, in_sight_of: CU1, "
    "distance: 70 ft}}",
    good="elsewhere: {CU1: {is: condensing_unit}, DS1: {is: disconnect, in_sight_of: CU1, "
    "distance: 6 ft}}",
)
def disconnect_too_far(facts: Facts, switch: Node) -> Iterator[Said]:
    """A disconnect is farther from its machine than one sees."""
    away, most = switch.find("distance"), facts.job.threshold("disconnect.in_sight")
    if away is not None and isinstance(away.value, Quantity) and away.value.si > most.si:
        yield said(
            away,
            f"{switch.key} is {away.written} from the machine; the house takes {most.written} as "
            "in sight",
            "set it beside the machine",
            *([seen] if (seen := switch.find("in_sight_of")) is not None else []),
        )
