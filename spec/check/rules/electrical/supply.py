"""What hangs on which circuit: alone, never together, with a way to the board."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.finding import Level
from spec.job import feeds


@rule(
    "electrical.dedicated-circuit-shared",
    level=Level.ERROR,
    trades=("electrical",),
    why="A circuit is kept for one thing so that nothing else can stop it.",
    each=("circuit",),
    bad="""
circuits: {C1: {dedicated: yes}}
elsewhere: {CU1: {is: condensing_unit, fed_from: C1}}
rooms: {wine_room: {walls_clockwise: {WA: {devices: {RC1: {is: receptacle, fed_from: C1}}}}}}
""",
    good="""
circuits: {C1: {dedicated: yes}, C2: {dedicated: no}}
elsewhere: {CU1: {is: condensing_unit, fed_from: C1}}
rooms: {wine_room: {walls_clockwise: {WA: {devices: {RC1: {is: receptacle, fed_from: C2}}}}}}
""",
)
def dedicated_circuit_shared(facts: Facts, circuit: Node) -> Iterator[Said]:
    """Things of different kinds hang on a circuit that is dedicated."""
    dedicated = circuit.find("dedicated")
    if dedicated is None or dedicated.value is not True:
        return
    direct = list(feeds.fed_from(facts.job, circuit))
    kinds = {thing.kind for thing in direct}
    if len(kinds) > 1:
        yield said(
            dedicated,
            f"{circuit.key} is dedicated, but feeds {', '.join(t.key for t in direct)}",
            "give each its own circuit, or do not call it dedicated",
            *(t.at("fed_from") for t in direct),
        )


@rule(
    "electrical.not-dedicated",
    level=Level.ERROR,
    silence=True,
    trades=("electrical",),
    why="Cooling and refrigerators have circuits of their own, and say so, so that nobody hangs a "
    "heater on them later.",
    each=("circuit",),
    bad="""
circuits: {C1: {breaker: 20 A}}
elsewhere: {CU1: {is: condensing_unit, fed_from: C1}}
""",
    good="""
circuits: {C1: {breaker: 20 A, dedicated: yes}}
elsewhere: {CU1: {is: condensing_unit, fed_from: C1}}
""",
)
def not_dedicated(facts: Facts, circuit: Node) -> Iterator[Said]:
    """A circuit feeds cooling or a refrigerator and does not say that it is dedicated."""
    dedicated = circuit.find("dedicated")
    if dedicated is not None and (dedicated.value is True or dedicated.value is None):
        return
    for thing in feeds.on_circuit(facts.job, circuit):
        if _sort(thing) in ("cooling", "refrigerator"):
            yield said(
                f"{circuit.address}.dedicated",
                f"{circuit.key} feeds {thing.key} and is not said to be dedicated",
                f"write `dedicated: yes` at {circuit.key}",
                thing,
                circuit,
            )
            return


@rule(
    "electrical.own-device-shared",
    level=Level.ERROR,
    trades=("electrical",),
    why="A residual-current device that is one circuit's own protects that circuit alone; "
    "two on it are "
    "a line that was copied and not changed.",
    each=("circuit",),
    bad="""
circuits:
  C1: {breaker: 10 A, residual_current: {trips_at: 30 mA, group: own_1}}
  C2: {like: C1}
""",
    good="""
circuits:
  C1: {breaker: 10 A, residual_current: {trips_at: 30 mA, group: own_1}}
  C2: {like: C1, residual_current: {trips_at: 30 mA, group: own_2}}
""",
)
def own_device_shared(facts: Facts, circuit: Node) -> Iterator[Said]:
    """Two circuits name the same device of their own."""
    if not _group(circuit).startswith("own"):
        return
    for other in facts.job.things("circuit"):
        if other is circuit:
            return
        if _group(other) == _group(circuit):
            yield said(
                circuit.at("residual_current.group"),
                f"{circuit.key} and {other.key} both hang on the residual-current device "
                f"{_group(circuit)}, each as its own",
                "give each its own, or call the group by what it shares",
                other.at("residual_current.group"),
                circuit.at("residual_current"),
            )


@rule(
    "electrical.never-together",
    level=Level.ERROR,
    trades=("electrical",),
    why="A fault in a lamp must not stop a pump or a machine: what may never share a breaker "
    "may not "
    "share a residual-current device either.",
    each=("circuit",),
    bad="""
circuits:
  C1: {never_with: lights, residual_current: {trips_at: 30 mA, group: a}}
  C2: {residual_current: {trips_at: 30 mA, group: a}}
rooms: {wine_room: {ceiling: {lights: {L1: {is: downlight, fed_from: C2}}}}}
""",
    good="""
circuits:
  C1: {never_with: lights, residual_current: {trips_at: 30 mA, group: own_1}}
  C2: {residual_current: {trips_at: 30 mA, group: a}}
rooms: {wine_room: {ceiling: {lights: {L1: {is: downlight, fed_from: C2}}}}}
""",
)
def never_together(facts: Facts, circuit: Node) -> Iterator[Said]:
    """A circuit shares its breaker or residual-current device with what it may never be with."""
    apart = circuit.find("never_with")
    if apart is None or apart.value is None:
        return
    for other in facts.job.things("circuit"):
        shared = other is circuit or _group(other) == _group(circuit) != ""
        if not shared:
            continue
        for thing in feeds.on_circuit(facts.job, other):
            sort = _sort(thing)
            if sort in circuit.words("never_with"):
                yield said(
                    apart,
                    f"{circuit.key} may never be with {sort}, but {thing.key} hangs on "
                    f"{'it' if other is circuit else f'{other.key}, behind the same device'}",
                    "give it a breaker and a residual-current device of its own",
                    thing.at("fed_from"),
                )


def _group(circuit: Node) -> str:
    return circuit.word("residual_current.group", "") if circuit.find("residual_current") else ""


def _sort(thing: Node) -> str:
    if thing.kind in feeds.LUMINAIRES or thing.kind == "driver":
        return "lights"
    if thing.kind == "receptacle":
        return "receptacles"
    if thing.kind in ("evaporator", "condensing_unit", "cooling_unit"):
        return "cooling"
    if thing.kind == "condensate_pump":
        return "pumps"
    return "refrigerator" if "refrigerator" in thing.kind else ""


@rule(
    "electrical.machine-behind-a-switch",
    level=Level.ERROR,
    trades=("electrical", "refrigeration"),
    why="What must never stop is not put behind what somebody switches off on leaving.",
    bad="""
rooms:
  wine_room:
    walls_clockwise: {WA: {devices: {S1: {is: switch}}}}
    ceiling: {equipment: {EV1: {is: evaporator, fed_from: S1}}}
""",
    good="""
circuits: {C1: {breaker: 15 A}}
rooms:
  wine_room:
    walls_clockwise: {WA: {devices: {S1: {is: switch}}}}
    ceiling: {equipment: {EV1: {is: evaporator, fed_from: C1}}}
""",
)
def machine_behind_a_switch(facts: Facts) -> Iterator[Said]:
    """Cooling, a pump or a refrigerator is fed through a switch or a dimmer."""
    for thing in facts.job.things(*feeds.MACHINES):
        for control in feeds.upstream(facts.job, thing):
            if control.kind in ("switch", "dimmer", "keypad"):
                yield said(
                    thing.at("fed_from"),
                    f"{thing.key} is fed through the {control.kind} {control.key}",
                    "feed it from a circuit, without a switch on the way",
                    control,
                )


@rule(
    "electrical.no-way-to-the-board",
    level=Level.ERROR,
    trades=("electrical",),
    why="Whatever draws power hangs on a circuit in the end; what does not, is left without.",
    bad="""
rooms:
  tasting_room:
    walls_clockwise: {TA: {devices: {S1: {is: switch}}}}
    ceiling: {lights: {L1: {is: downlight, fed_from: S1}}}
""",
    good="""
circuits: {C1: {breaker: 15 A}}
rooms:
  tasting_room:
    walls_clockwise: {TA: {devices: {S1: {is: switch, fed_from: C1}}}}
    ceiling: {lights: {L1: {is: downlight, fed_from: S1}}}
""",
)
def no_way_to_the_board(facts: Facts) -> Iterator[Said]:
    """The way of the power from a luminaire or a machine ends before it comes to a circuit."""
    for thing in facts.job.things(
        *feeds.LUMINAIRES, *feeds.MACHINES, "driver", "receptacle", "controller"
    ):
        if thing.find("fed_from") is None or _given_up(thing):
            continue
        way = feeds.upstream(facts.job, thing)
        if way and not any(node.kind == "circuit" for node in way):
            last = way[-1]
            if last.kind in ("condensing_unit", "evaporator") or last.find("fed_from") is not None:
                continue
            yield said(
                f"{last.address}.fed_from",
                f"the power of {thing.key} comes over {' → '.join(n.key for n in way)} "
                "and no farther",
                f"write `fed_from` at {last.key}",
                thing,
            )


def _given_up(thing: Node) -> bool:
    action = thing.find("action")
    return action is not None and "remove" in action.written


@rule(
    "electrical.feeds-nothing",
    level=Level.ERROR,
    silence=True,
    trades=("electrical",),
    why="A circuit, a dimmer or a driver that feeds nothing has lost what it was for.",
    bad="circuits: {C1: {breaker: 15 A}}",
    good="""
circuits: {C1: {breaker: 15 A}}
elsewhere: {CU1: {is: condensing_unit, fed_from: C1}}
""",
)
def feeds_nothing(facts: Facts) -> Iterator[Said]:
    """Nothing says that it is fed from a circuit, a dimmer, a switch, a driver or a disconnect."""
    feeding = set()
    for thing in facts.job.everything:
        link = thing.find("fed_from")
        if link is not None and link.value is not None:
            feeding.add(str(link.value))
        controls = thing.find("controlled_by")
        if controls is not None and controls.value is not None:
            feeding |= set(thing.words("controlled_by"))
    for source in facts.job.things("circuit", "dimmer", "switch", "driver", "disconnect"):
        paired = source.find("paired_with") is not None or source.find("serves") is not None
        if source.key not in feeding and source.children and not paired:
            yield said(
                source,
                f"nothing is fed from the {source.kind} {source.key}",
                f"write `fed_from: {source.key}` at what hangs on it, or mark it not applicable",
            )
