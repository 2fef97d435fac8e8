"""Circuits: breaker, conductor, load, board, and what may hang on them."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.check.worked import known, worked
from spec.finding import Level
from spec.job import feeds
from spec.quantity import Quantity, show

_CIRCUIT = """
circuits: {C1: {panelboard: PN1, voltage: 120 V, breaker: BREAKER, conductor: 12 AWG copper, length: LONG}}
elsewhere:
  PN1: {is: panelboard, where: garage, spaces_free: FREE, clear_in_front: CLEAR}
  CU1: {is: condensing_unit, voltage: VOLT, minimum_circuit: 13 A, fed_from: C1}
"""
_GOOD = (
    _CIRCUIT.replace("BREAKER", "20 A")
    .replace("LONG", "40 ft")
    .replace("FREE", "8")
    .replace("CLEAR", "40 in")
    .replace("VOLT", "120 V")
)
_SIGNALS = ("controller", "sensor", "contact", "push", "smoke_alarm", "sounder")


@rule(
    "electrical.conductor-too-thin",
    level=Level.ERROR,
    trades=("electrical",),
    why="A conductor that carries less than its breaker lets through is the fuse.",
    source="NEC 240.4(D), 310.16; IEC 60364-5-52; cited from memory, check the adopted edition",
    bad="circuits: {C1: {voltage: 120 V, breaker: 30 A, conductor: 12 AWG copper}}",
    good="circuits: {C1: {voltage: 120 V, breaker: 20 A, conductor: 12 AWG copper}}",
)
def conductor_too_thin(facts: Facts) -> Iterator[Said]:
    """The breaker of a circuit is larger than its conductor allows."""
    for circuit, most in worked(facts, "electrical.breaker_most"):
        breaker = circuit.find("breaker")
        if breaker is None or not isinstance(breaker.value, Quantity):
            continue
        if breaker.value.si > most + 1e-6:
            machines = [t for t in feeds.on_circuit(facts.job, circuit) if t.find("minimum_circuit")]
            if machines:
                continue
            yield said(
                circuit.at("conductor"),
                f"{circuit.key} has {circuit.text('conductor')} behind a breaker of {breaker.written}; "
                f"it allows {show(most, 'current', facts.job.system)}",
                "take a thicker conductor or a smaller breaker",
                breaker,
            )


@rule(
    "electrical.conductor-too-thin-for-machine",
    level=Level.ERROR,
    trades=("electrical",),
    why="A machine's plate may allow a larger breaker than the conductor's usual one, but never a "
    "conductor below the plate's minimum circuit.",
    source="NEC 440.4, 310.16; cited from memory, check the adopted edition",
    bad=_GOOD.replace("13 A", "24 A"),
    good=_GOOD,
)
def conductor_too_thin_for_machine(facts: Facts) -> Iterator[Said]:
    """The conductor of a machine's circuit carries less than the plate's minimum circuit."""
    for circuit, most in worked(facts, "electrical.breaker_most"):
        for machine in feeds.on_circuit(facts.job, circuit):
            plate = machine.find("minimum_circuit")
            if plate is not None and isinstance(plate.value, Quantity) and plate.value.si > most:
                yield said(
                    circuit.at("conductor"),
                    f"{circuit.key} has {circuit.text('conductor')}, good for "
                    f"{show(most, 'current', facts.job.system)}; the plate of {machine.key} asks for "
                    f"{plate.written}",
                    "take a thicker conductor",
                    plate,
                )


@rule(
    "electrical.circuit-overloaded",
    level=Level.ERROR,
    trades=("electrical",),
    why="A breaker that is loaded to its rating trips on the evening of the first tasting.",
    source="NEC 210.20(A), continuous loads at 125 %; cited from memory",
    bad=_GOOD.replace("minimum_circuit: 13 A", "minimum_circuit: 26 A"),
    good=_GOOD,
)
def circuit_overloaded(facts: Facts) -> Iterator[Said]:
    """What hangs on a circuit, continuous loads weighted, is more than its breaker."""
    for circuit, used in worked(facts, "electrical.used"):
        if used > 1:
            loads = [t.key for t in feeds.on_circuit(facts.job, circuit)]
            current = known(facts, "electrical.weighted", circuit) or 0.0
            yield said(
                circuit.at("breaker"),
                f"{circuit.key} carries {show(current, 'current', facts.job.system)} "
                f"({', '.join(loads)}) on a breaker of {circuit.text('breaker')}",
                "move some of it to another circuit",
                *loads,
            )


@rule(
    "electrical.voltage-lost",
    level=Level.WARNING,
    trades=("electrical",),
    why="On a long thin cable lights dim and motors get hot.",
    source="NEC 210.19(A) informational note; IEC 60364-5-52 annex G; cited from memory",
    bad=_GOOD.replace("40 ft", "300 ft"),
    good=_GOOD,
)
def voltage_lost(facts: Facts) -> Iterator[Said]:
    """More voltage is lost in a circuit's cable than the house allows."""
    most = facts.job.limit("circuit.voltage_drop")
    for circuit, lost in worked(facts, "electrical.drop"):
        if lost > most:
            yield said(
                circuit.at("length"),
                f"{circuit.key} loses {show(lost, 'percent', facts.job.system)} of its voltage over "
                f"{circuit.text('length')} of {circuit.text('conductor')}; the house allows "
                f"{show(most, 'percent', facts.job.system)}",
                "take a thicker conductor",
                circuit.at("conductor"),
            )


@rule(
    "electrical.board-full",
    level=Level.ERROR,
    trades=("electrical",),
    why="A board without free ways needs another board, and a permit, and a week.",
    each=("panelboard",),
    bad=_GOOD.replace("spaces_free: 8", "spaces_free: 0"),
    good=_GOOD,
)
def board_full(facts: Facts, board: Node) -> Iterator[Said]:
    """The circuits of the job need more ways than the board has free."""
    free = board.find("spaces_free")
    left = known(facts, "electrical.ways_left", board)
    if free is not None and left is not None and left < 0:
        circuits = [c.key for c in facts.job.things("circuit") if c.word("panelboard", "") == board.key]
        yield said(
            free,
            f"{board.key} has {free.written} free ways, {', '.join(circuits)} need {-left:.0f} more",
            "join circuits, or set another board",
            *(f"{name}.panelboard" for name in circuits),
        )


@rule(
    "electrical.board-nearly-full",
    level=Level.NOTE,
    trades=("electrical",),
    why="The next thing that the client wants needs a way too.",
    each=("panelboard",),
    bad=_GOOD.replace("spaces_free: 8", "spaces_free: 1"),
    good=_GOOD,
)
def board_nearly_full(facts: Facts, board: Node) -> Iterator[Said]:
    """Fewer ways stay free than the house keeps."""
    free = board.find("spaces_free")
    spare = facts.job.limit("circuit.spare_ways")
    left = known(facts, "electrical.ways_left", board)
    if free is not None and left is not None and 0 <= left < spare:
        yield said(
            free,
            f"{board.key} has {left:.0f} free ways left after this job; the house keeps {spare:.0f}",
            "tell the client before the wall is closed",
        )


@rule(
    "electrical.no-room-at-board",
    level=Level.ERROR,
    trades=("electrical", "millwork"),
    why="Whoever works at a live board needs to step back from it.",
    source="NEC 110.26(A)(1); cited from memory, check the adopted edition",
    each=("panelboard",),
    bad=_GOOD.replace("40 in", "24 in"),
    good=_GOOD,
)
def no_room_at_board(facts: Facts, board: Node) -> Iterator[Said]:
    """Less space is clear before a board than the house keeps."""
    clear = board.find("clear_in_front")
    least = facts.job.threshold("panelboard.clear")
    if clear is not None and isinstance(clear.value, Quantity) and clear.value.si < least.si - 0.015:
        yield said(
            clear,
            f"{clear.written} are clear before {board.key}; the house keeps {least.written}",
            "clear the space, or move the board",
        )


@rule(
    "electrical.voltage-differs",
    level=Level.ERROR,
    trades=("electrical", "refrigeration", "appliances"),
    why="A machine on the wrong voltage burns out or does not start.",
    bad=_GOOD.replace("CU1: {is: condensing_unit, voltage: 120 V", "CU1: {is: condensing_unit, voltage: 240 V"),
    good=_GOOD,
)
def voltage_differs(facts: Facts) -> Iterator[Said]:
    """A machine asks for another voltage than its circuit has."""
    for thing in facts.job.things(*feeds.MACHINES):
        own = thing.find("voltage")
        circuit = feeds.circuit_of(facts.job, thing)
        other = circuit.find("voltage") if circuit is not None else None
        if own is None or other is None or circuit is None:
            continue
        if not isinstance(own.value, Quantity) or not isinstance(other.value, Quantity):
            continue
        if abs(own.value.si - other.value.si) > 11:
            yield said(
                own,
                f"{thing.key} asks for {own.written}, its circuit {circuit.key} has {other.written}",
                "feed it from a circuit of its voltage",
                other,
            )


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
    "electrical.never-together",
    level=Level.ERROR,
    trades=("electrical",),
    why="A fault in a lamp must not stop a pump or a machine: what may never share a breaker may not "
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
    for thing in facts.job.things(*feeds.LUMINAIRES, *feeds.MACHINES, "driver", "receptacle", "controller"):
        if thing.find("fed_from") is None or _given_up(thing):
            continue
        way = feeds.upstream(facts.job, thing)
        if way and not any(node.kind == "circuit" for node in way):
            last = way[-1]
            if last.kind in ("condensing_unit", "evaporator") or last.find("fed_from") is not None:
                continue
            yield said(
                f"{last.address}.fed_from",
                f"the power of {thing.key} comes over {' → '.join(n.key for n in way)} and no farther",
                f"write `fed_from` at {last.key}",
                thing,
            )


def _given_up(thing: Node) -> bool:
    action = thing.find("action")
    return action is not None and "remove" in action.written


@rule(
    "electrical.feeds-nothing",
    level=Level.ERROR,
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
    if isinstance(rated.value, Quantity) and isinstance(breaker.value, Quantity):
        if rated.value.si < breaker.value.si:
            yield said(
                rated,
                f"{switch.key} is rated {rated.written}, the breaker of {circuit.key} {breaker.written}",
                "choose a disconnect of at least the breaker's rating",
                breaker,
            )


@rule(
    "electrical.no-disconnect",
    level=Level.ERROR,
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
