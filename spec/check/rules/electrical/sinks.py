"""Receptacles within reach of water."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.finding import Level
from spec.job import feeds
from spec.job.node import Open
from spec.place import plan
from spec.quantity import show

_TRIPS = ("ground_fault", "residual_current")
_GONE = ("remove", "dispose")
_BAR = """
circuits: {C1: {breaker: 20 A, protection: PROTECTION}}
rooms:
  tasting_room:
    taped: {to: finish}
    height: 8 ft
    walls_clockwise:
      TA:
        length: 9 ft
        devices: {RC1: {is: receptacle, center: 60 in, aff: 44 in, fed_from: C1}}
        fixtures: {SK1: {is: sink, center: 30 in, bowl: 18 in x 8 in x 16 in, rim_aff: 36 in}}
      TB: {length: 6 ft}
      TC: {length: 9 ft}
      TD: {length: 6 ft}
"""


@rule(
    "electrical.near-sink-unprotected",
    level=Level.ERROR,
    trades=("electrical",),
    why="A hand in the sink and the other at a plug is how people die at bars: near water a "
    "device trips before the heart does.",
    source="NEC 210.8(A)(7), 210.8(B); IEC 60364-4-41, 411.3.3; cited from memory",
    each=("receptacle",),
    bad=_BAR.replace("PROTECTION", "none"),
    good=_BAR.replace("PROTECTION", "ground_fault"),
)
def near_sink_unprotected(facts: Facts, receptacle: Node) -> Iterator[Said]:
    """A receptacle near a sink has no ground-fault protection, of its own or of its circuit."""
    if gone(receptacle) or protected(facts, receptacle):
        return
    near, system = facts.job.limit("receptacle.near_sink"), facts.job.system
    for sink in facts.job.things("sink"):
        try:
            apart = plan.between(facts.places, receptacle, sink)
        except Open:
            continue
        if apart < near:
            circuit = feeds.circuit_of(facts.job, receptacle)
            yield said(
                receptacle,
                f"{receptacle.key} is {show(apart, 'length', system)} from the sink "
                f"{sink.key} and nothing says that it is protected against ground faults; the "
                f"house asks for that within {show(near, 'length', system)}",
                f"write `ground_fault: yes` at {receptacle.key}, or `protection: ground_fault` "
                "at its circuit",
                sink,
                *((circuit.find("protection") or circuit,) if circuit is not None else ()),
            )


def gone(receptacle: Node) -> bool:
    """It is taken out in this job."""
    action = receptacle.words("action", ()) if receptacle.find("action") else ()
    return any(word in _GONE for word in action)


def protected(facts: Facts, receptacle: Node) -> bool:
    """It trips itself, or something on the way of its power does; open counts as protected."""
    for thing in (receptacle, *feeds.upstream(facts.job, receptacle)):
        own = thing.find("ground_fault")
        if own is not None and own.value is not False:
            return True
        kept = thing.find("protection")
        if kept is not None and (
            kept.value is None or not {*_TRIPS}.isdisjoint(thing.words("protection"))
        ):
            return True
    return False
