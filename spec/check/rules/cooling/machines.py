"""Machines: large enough, within their range, served, and closed behind a cover that fits."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.finding import Level
from spec.job import feeds
from spec.place import plan
from spec.quantity import Quantity, show


@rule(
    "cooling.breaker-against-plate",
    level=Level.ERROR,
    trades=("electrical", "refrigeration"),
    why="A breaker below the plate's minimum trips; one above its maximum lets the machine burn.",
    source="NEC 440.4, 440.22; cited from memory",
    each=("condensing_unit", "evaporator", "cooling_unit"),
    bad="""
circuits: {C1: {breaker: 30 A}}
elsewhere: {CU1: {is: condensing_unit, minimum_circuit: 13 A, maximum_overcurrent: 20 A,
    fed_from: C1}}
""",
    good="""
circuits: {C1: {breaker: 20 A}}
elsewhere: {CU1: {is: condensing_unit, minimum_circuit: 13 A, maximum_overcurrent: 20 A,
    fed_from: C1}}
""",
)
def breaker_against_plate(facts: Facts, machine: Node) -> Iterator[Said]:
    """The breaker of a machine's circuit is smaller or larger than its plate allows."""
    circuit = feeds.circuit_of(facts.job, machine)
    breaker = circuit.find("breaker") if circuit is not None else None
    if circuit is None or breaker is None or not isinstance(breaker.value, Quantity):
        return
    for key, words in (("minimum_circuit", "at least"), ("maximum_overcurrent", "at most")):
        plate = machine.find(key)
        if plate is None or not isinstance(plate.value, Quantity):
            continue
        over = breaker.value.si - plate.value.si
        if over < 0 if words == "at least" else over > 0:
            yield said(
                breaker,
                f"{circuit.key} has a breaker of {breaker.written}; the plate of "
                f"{machine.key} asks "
                f"for {words} {plate.written}",
                "change the breaker and its conductor",
                plate,
            )


@rule(
    "cooling.machine-alone",
    level=Level.ERROR,
    silence=True,
    trades=("refrigeration", "electrical"),
    why="A machine that no controller switches, or no condenser serves, is a box in the ceiling.",
    each=("evaporator",),
    bad="rooms: {wine_room: {ceiling: {equipment: {EV1: {is: evaporator}}}}}",
    good="""
elsewhere: {CU1: {is: condensing_unit, serves: EV1}}
rooms:
  wine_room:
    walls_clockwise: {WA: {devices: {CT1: {is: controller, serves: EV1}}}}
    ceiling: {equipment: {EV1: {is: evaporator}}}
""",
)
def machine_alone(facts: Facts, evaporator: Node) -> Iterator[Said]:
    """No condensing unit or no controller says that it serves an evaporator."""
    for kind in ("condensing_unit", "controller"):
        serving = [
            t
            for t in facts.job.things(kind)
            if t.find("serves") is not None and evaporator.key in t.words("serves", ())
        ]
        if not serving:
            others = facts.job.things(kind)
            yield said(
                evaporator,
                f"no {kind.replace('_', ' ')} serves {evaporator.key}",
                f"write `serves: {evaporator.key}` at the {kind.replace('_', ' ')}",
                *(f"{t.address}.serves" for t in others),
            )


@rule(
    "cooling.controller-without-sensor",
    level=Level.ERROR,
    silence=True,
    trades=("refrigeration", "electrical"),
    why="A controller that feels its own wall keeps the temperature of that wall.",
    each=("controller",),
    bad="""
rooms: {wine_room: {walls_clockwise: {WA: {devices: {CT1: {is: controller, serves: EV1}}}},
    ceiling: {equipment: {EV1: {is: evaporator}}}}}
""",
    good="""
rooms:
  wine_room:
    walls_clockwise: {WA: {devices: {CT1: {is: controller, serves: EV1}, SN1: {is: sensor,
        serves: CT1}}}}
    ceiling: {equipment: {EV1: {is: evaporator}}}
""",
)
def controller_without_sensor(facts: Facts, controller: Node) -> Iterator[Said]:
    """No sensor serves the controller of a machine, in a room that the machine cools."""
    served = [facts.job.thing(name) for name in controller.words("serves", ())]
    machines = [m for m in served if m is not None and m.kind in ("evaporator", "cooling_unit")]
    sensors = [s for s in facts.job.things("sensor") if s.word("senses", "") != "leak"]
    for machine in machines:
        here = [
            s for s in sensors if controller.key in s.words("serves", ()) and s.room == machine.room
        ]
        if not here and machine.room:
            yield said(
                controller,
                f"{controller.key} serves {machine.key} in {machine.room}, but no sensor "
                "of that room "
                f"serves {controller.key}",
                f"add a sensor with `serves: {controller.key}`",
                *(f"{s.address}.serves" for s in sensors),
            )


@rule(
    "cooling.cover-too-small",
    level=Level.ERROR,
    trades=("millwork", "refrigeration"),
    why="A machine is serviced through its cover: one that is smaller than the machine has "
    "to be cut "
    "out of the ceiling.",
    each=("cover",),
    bad="""
rooms:
  wine_room:
    taped: {to: finish}
    height: 8 ft
    walls_clockwise: {WA: {length: 9 ft}, WB: {length: 11 ft}, WC: {length: 9 ft},
        WD: {length: 11 ft}}
    ceiling:
      equipment:
        EV1: {is: evaporator, center: {WA: 60 in, WD: 50 in}, extent: {WA: 22 in, WD: 26 in}}
        CV1: {is: cover, over: EV1, center: {WA: 60 in, WD: 50 in}, extent: {WA: 20 in, WD: 30 in}}
""",
    good="""
rooms:
  wine_room:
    taped: {to: finish}
    height: 8 ft
    walls_clockwise: {WA: {length: 9 ft}, WB: {length: 11 ft}, WC: {length: 9 ft},
        WD: {length: 11 ft}}
    ceiling:
      equipment:
        EV1: {is: evaporator, center: {WA: 60 in, WD: 50 in}, extent: {WA: 22 in, WD: 26 in}}
        CV1: {is: cover, over: EV1, center: {WA: 60 in, WD: 50 in}, extent: {WA: 26 in, WD: 30 in}}
""",
)
def cover_too_small(facts: Facts, cover: Node) -> Iterator[Said]:
    """A cover in a ceiling does not reach past every machine that it is over."""
    if facts.places.wall_of(cover) is not None or not cover.surface:
        return
    least = facts.job.limit("cover.margin")
    for name in cover.words("over"):
        machine = facts.job.thing(name)
        if machine is None or machine.surface != cover.surface:
            continue
        outer = facts.places.plan(cover).outlines[0]
        for outline in facts.places.plan(machine).outlines:
            margin = plan.inside(outer, outline)
            if margin < least - 0.001:
                system = facts.job.system
                short = (
                    f"reaches {show(margin, 'length', system)} past"
                    if margin >= 0
                    else f"ends {show(-margin, 'length', system)} short of the edge of"
                )
                yield said(
                    cover,
                    f"{cover.key} {short} {name}; the house keeps "
                    f"{show(least, 'length', system)} all round",
                    f"make {cover.key} larger, or move it over {name}",
                    machine,
                )


@rule(
    "cooling.cover-too-closed",
    level=Level.ERROR,
    trades=("millwork", "refrigeration"),
    why="A cover that lets too little air through makes the machine cool itself.",
    each=("cover", "grille"),
    bad="rooms: {wine_room: {ceiling: {equipment: {CV1: {is: cover, free_area: 20 %}}}}}",
    good="rooms: {wine_room: {ceiling: {equipment: {CV1: {is: cover, free_area: 45 %}}}}}",
)
def cover_too_closed(facts: Facts, cover: Node) -> Iterator[Said]:
    """The free area of a cover is below the house's least."""
    area = cover.find("free_area")
    least = facts.job.threshold("cover.free_area")
    if area is None or not isinstance(area.value, Quantity) or area.value.dimension != "percent":
        return
    if area.value.si < least.si:
        yield said(
            area,
            f"{cover.key} is {area.written} open; the house asks for {least.written}",
            "open it more: narrower slats, wider slots",
        )
