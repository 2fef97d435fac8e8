"""Circuits: breaker, conductor, load, board, and what may hang on them."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.check.worked import known, worked
from spec.finding import Level
from spec.job import feeds
from spec.quantity import Quantity, show

_CIRCUIT = """
circuits: {C1: {panelboard: PN1, voltage: 120 V, breaker: BREAKER, conductor: 12 AWG copper,
    length: LONG}}
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
_ON_THE_WAY = ("disconnect", "junction_box", "controller", "sensor")
"""What a circuit of a machine passes, or a signal of it: no load of its own."""


@rule(
    "electrical.conductor-too-thin",
    level=Level.ERROR,
    trades=("electrical",),
    why="A conductor that carries less than its breaker lets through is the fuse.",
    source="NEC 240.4(B), (D) and (G); IEC 60364-5-52; cited from memory, check the "
    "adopted edition",
    bad="circuits: {C1: {voltage: 120 V, breaker: 30 A, conductor: 12 AWG copper}}",
    good="circuits: {C1: {voltage: 120 V, breaker: 20 A, conductor: 12 AWG copper}}",
)
def conductor_too_thin(facts: Facts) -> Iterator[Said]:
    """The breaker of a circuit is larger than its conductor allows."""
    for circuit, most in worked(facts, "electrical.breaker_most"):
        breaker = circuit.find("breaker")
        if breaker is None or not isinstance(breaker.value, Quantity):
            continue
        if breaker.value.si > most + 1e-6 and not _by_its_plates(facts, circuit):
            yield said(
                circuit.at("conductor"),
                f"{circuit.key} has {circuit.text('conductor')} behind a breaker of "
                f"{breaker.written}; "
                f"it allows {show(most, 'current', facts.job.system)}",
                "take a thicker conductor or a smaller breaker; a larger one only where the plates "
                "of all that it feeds name it (`maximum_overcurrent`)",
                breaker,
            )


def _by_its_plates(facts: Facts, circuit: Node) -> bool:
    """Only cooling hangs on it, and every plate names its largest breaker (NEC 240.4(G))."""
    loads = [t for t in feeds.on_circuit(facts.job, circuit) if t.kind not in _ON_THE_WAY]
    return bool(loads) and all(t.find("maximum_overcurrent") is not None for t in loads)


@rule(
    "electrical.conductor-too-thin-for-machine",
    level=Level.ERROR,
    trades=("electrical",),
    why="A machine's plate may allow a larger breaker than the conductor's usual one, but never a "
    "conductor below the plate's minimum circuit.",
    source="NEC 440.4(B), 440.35, 440.32, table 310.16; cited from memory, check the adopted "
    "edition",
    bad=_GOOD.replace("13 A", "24 A"),
    good=_GOOD,
)
def conductor_too_thin_for_machine(facts: Facts) -> Iterator[Said]:
    """The conductor of a machine's circuit carries less than the plates on it ask for."""
    for circuit, carries in worked(facts, "electrical.carries"):
        needed = known(facts, "electrical.weighted", circuit)
        if needed is not None and needed > carries + 1e-6:
            plates = [
                plate
                for machine in feeds.on_circuit(facts.job, circuit)
                if (plate := machine.find("minimum_circuit")) is not None
            ]
            system = facts.job.system
            yield said(
                circuit.at("conductor"),
                f"{circuit.key} has {circuit.text('conductor')}, good for "
                f"{show(carries, 'current', system)}; what hangs on it asks for "
                f"{show(needed, 'current', system)}, plates as they are",
                "take a thicker conductor",
                *plates,
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
                f"{circuit.key} loses {show(lost, 'percent', facts.job.system)} of its "
                "voltage over "
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
        circuits = [
            c.key for c in facts.job.things("circuit") if c.word("panelboard", "") == board.key
        ]
        yield said(
            free,
            f"{board.key} has {free.written} free ways, {', '.join(circuits)} need "
            f"{-left:.0f} more",
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
            f"{board.key} has {left:.0f} free ways left after this job; the house keeps "
            f"{spare:.0f}",
            "tell the client before the wall is closed",
        )


@rule(
    "electrical.voltage-differs",
    level=Level.ERROR,
    trades=("electrical", "refrigeration", "appliances"),
    why="A machine on the wrong voltage burns out or does not start.",
    bad=_GOOD.replace(
        "CU1: {is: condensing_unit, voltage: 120 V", "CU1: {is: condensing_unit, voltage: 240 V"
    ),
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
                f"{thing.key} asks for {own.written}, its circuit {circuit.key} has "
                f"{other.written}",
                "feed it from a circuit of its voltage",
                other,
            )
