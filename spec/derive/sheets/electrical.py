"""Circuits: what hangs on each, breaker and conductor, voltage lost, boxes, places in the board."""

from __future__ import annotations

from typing import NamedTuple

from spec.derive.figure import Facts, Part, Worked, figure
from spec.derive.formulas import circuits, takeoff
from spec.derive.sheets import kinds
from spec.derive.sheets.dividing import over
from spec.derive.sheets.lighting import LUMINAIRES, fed_by, input_of
from spec.derive.sheets.wires import carries as carried_by
from spec.derive.sheets.wires import largest_breaker as breaker_for
from spec.derive.sheets.wires import resistance, wire
from spec.job import feeds
from spec.job.job import Job
from spec.job.node import Node

_LONG = 3.0
"""[h/day] From here on a load is continuous: NEC 2023 article 100."""
_MACHINES = (
    "evaporator",
    "condensing_unit",
    "cooling_unit",
    "condensate_pump",
    "fan",
    "humidifier",
    "heater",
    "refrigerator",
    "wine_refrigerator",
    "freezer",
    "ice_maker",
)
"""Kinds that run for hours by themselves."""


class _Load(NamedTuple):
    """A load: apparent power [VA], whether it runs three hours or more, what it counts for [VA]."""

    thing: Node
    power: float
    continuous: bool
    weighted: float


def _loads(facts: Facts, circuit: Node) -> list[_Load]:
    """All loads on a circuit, whatever they pass through, in the order of the file."""
    fed = fed_by(facts.job)
    found: list[_Load] = []
    waiting, seen = [circuit.key], {circuit.key}
    while waiting:
        for thing in fed.get(waiting.pop(0), []):
            if thing.key in seen:
                continue
            seen.add(thing.key)
            thing.word("fed_from")
            load = _load(facts, thing, circuit)
            if load is not None:
                found.append(load)
            if thing.kind != "driver":
                waiting.append(thing.key)
    return found


def _load(facts: Facts, thing: Node, circuit: Node) -> _Load | None:
    if thing.kind == "driver" or (thing.kind in LUMINAIRES and kinds.says(thing, "watts")):
        power = input_of(facts, thing)
        return _Load(thing, power, *_weighted(power, _lit_long(facts, thing)))
    volts = thing.si("voltage") if kinds.says(thing, "voltage") else circuit.si("voltage")
    if kinds.says(thing, "minimum_circuit"):
        # The plate's minimum circuit has the 125 % in it.
        least = thing.si("minimum_circuit") * volts
        power = thing.si("running") * volts if kinds.says(thing, "running") else least
        return _Load(thing, power, True, least)
    if kinds.says(thing, "running"):
        power = thing.si("running") * volts
    elif kinds.says(thing, "watts"):
        power = thing.si("watts")
    else:
        return None
    return _Load(thing, power, *_weighted(power, thing.kind in _MACHINES))


def _weighted(power: float, continuous: bool) -> tuple[bool, float]:
    return continuous, power * (circuits.CONTINUOUS if continuous else 1.0)


def _lit_long(facts: Facts, light: Node) -> bool:
    """Lights count as continuous unless their room's use says less than three hours a day."""
    room = facts.job.thing(light.room)
    if room is None or not kinds.says(room, "use_pattern.lights"):
        return True
    return room.si("use_pattern.lights") >= _LONG


def _american(facts: Facts, circuit: Node) -> bool:
    return wire(circuit, "conductor").gauge is not None


def _phases(circuit: Node) -> circuits.System:
    return "three_phase" if circuit.count("phases", 1) == 3 else "single_phase"


@figure(
    "electrical.connected",
    title="Connected load",
    dimension="apparent_power",
    formula="sum of all that is fed from it; drivers at their input, machines at their plate",
    source="sum",
    holds="what is plugged into receptacles by anybody is not counted",
    per=kinds.of_kind("circuit"),
    trades=("electrical",),
)
def connected(facts: Facts, circuit: Node) -> Worked:
    """Apparent power of all loads of a circuit."""
    parts = tuple(
        Part(load.thing.key, load.power, load.thing.address) for load in _loads(facts, circuit)
    )
    remark = "" if parts else "nothing that states its power; receptacles for cords only"
    return Worked(sum(p.value for p in parts), parts, remark=remark)


@figure(
    "electrical.current",
    title="Current with everything on",
    dimension="current",
    formula="connected load / voltage",
    source="definition",
    per=kinds.of_kind("circuit"),
    trades=("electrical",),
)
def current(facts: Facts, circuit: Node) -> float:
    """Current of all loads of a circuit."""
    return circuits.current(
        facts.figures.value("electrical.connected", circuit),
        circuit.si("voltage"),
        system=_phases(circuit),
    )


@figure(
    "electrical.weighted",
    title="Current that breaker and conductor are held against",
    dimension="current",
    formula="(other loads + 1.25 x continuous loads) / voltage; a plate's minimum circuit as it is",
    source="NEC 2023 210.19(A)(1), 210.20(A); a plate's minimum circuit 440.4(B), 440.35; a "
    "machine without one 440.32: check the adopted edition; metric circuits without the 1.25, "
    "IEC 60364-4-43 433.1",
    holds="lights count as continuous unless the room's use says less than 3 h/day",
    per=kinds.of_kind("circuit"),
    trades=("electrical",),
)
def weighted(facts: Facts, circuit: Node) -> Worked:
    """Current with continuous loads times 1.25 where American sizes are used."""
    american = _american(facts, circuit)
    loads = _loads(facts, circuit)
    parts = tuple(
        Part(load.thing.key, load.weighted if american else load.power, load.thing.address)
        for load in loads
    )
    continuous = sum(load.power for load in loads if load.continuous)
    volts = circuit.si("voltage")
    return Worked(
        circuits.current(sum(p.value for p in parts), volts, system=_phases(circuit)),
        tuple(Part(p.label, over(p.value, volts, "voltage", "V"), p.address) for p in parts),
        (("continuous", continuous, "apparent_power"),),
    )


@figure(
    "electrical.used",
    title="Share of the breaker that is used",
    dimension="percent",
    formula="weighted current / breaker",
    source="division; above 1 the circuit is overloaded",
    per=kinds.of_kind("circuit"),
    trades=("electrical",),
)
def used(facts: Facts, circuit: Node) -> float:
    """Weighted current over the breaker's rating."""
    weighs = facts.figures.value("electrical.weighted", circuit)
    return over(weighs, circuit.si("breaker"), "breaker", "A")


@figure(
    "electrical.breaker_most",
    title="Largest breaker on this conductor",
    dimension="current",
    formula="by table",
    source="NEC 2023 240.4(B), (D), 240.6(A); IEC 60364-5-52 table B.52.2 method A2, seen quoted: "
    "check the adopted edition",
    holds="copper, one circuit in a cable, air of 30 °C; a cooling unit's plate goes before it",
    per=kinds.of_kind("circuit", having="conductor"),
    trades=("electrical",),
)
def breaker_most(facts: Facts, circuit: Node) -> float:
    """Largest breaker that protects the circuit's conductor."""
    return breaker_for(wire(circuit, "conductor"))


def _for_machines(job: Job) -> list[Node]:
    """Circuits of whose load a machine's plate says the minimum circuit."""
    plated = {
        circuit.key
        for thing in job.things(*feeds.MACHINES)
        if kinds.says(thing, "minimum_circuit")
        and (circuit := feeds.circuit_of(job, thing)) is not None
    }
    return [circuit for circuit in job.things("circuit") if circuit.key in plated]


@figure(
    "electrical.carries",
    title="What the conductor of a machine's circuit carries",
    dimension="current",
    formula="by table",
    source="NEC 2023 table 310.16 at 60 °C, 110.14(C), held against 440.32 or, with a plate's "
    "minimum circuit, 440.35; IEC 60364-5-52 table B.52.2 method A2; seen quoted: check the "
    "adopted edition",
    holds="copper, one circuit in a cable, air of 30 °C; 240.4(D) does not limit it, 240.4(G)",
    per=_for_machines,
    trades=("electrical",),
)
def carries(facts: Facts, circuit: Node) -> float:
    """Current that the conductor of a machine's circuit may carry all day."""
    return carried_by(wire(circuit, "conductor"))


@figure(
    "electrical.drop",
    title="Voltage drop",
    dimension="percent",
    formula="2 r L I / U; r in Ω/m, with everything on | sqrt(3) r L I / U; three phases",
    source="Ohm's law; NEC ch. 9 table 8 within 0.4 %; IEC 60364-5-52 annex G",
    holds="power factor 1, all loads at the far end",
    per=kinds.of_kind("circuit", having="length"),
    trades=("electrical",),
)
def drop(facts: Facts, circuit: Node) -> Worked:
    """Share of the voltage that is lost in the circuit's cable."""
    current, length = facts.figures.value("electrical.current", circuit), circuit.si("length")
    ohms, volts = resistance(facts.job, circuit, "conductor"), circuit.si("voltage")
    found = circuits.voltage_drop(current, length, ohms, volts, system=_phases(circuit))
    given = (
        ("r", ohms, "Ω/m"),
        ("L", length, "length"),
        ("I", current, "current"),
        ("U", volts, "voltage"),
        ("lost", found.volts, "voltage"),
    )
    return Worked(found.share, given=given)


@figure(
    "electrical.cable",
    title="Cable of the circuit, with waste",
    dimension="length",
    formula="length x (1 + waste)",
    source="waste of the house standards",
    per=kinds.of_kind("circuit", having="length"),
    trades=("electrical",),
)
def cable(facts: Facts, circuit: Node) -> float:
    """Length of cable to buy for the home run of a circuit."""
    return takeoff.with_waste(circuit.si("length"), facts.job.limit("cable.waste"))


def _circuits_of(job: Job, board: Node) -> list[Node]:
    found = []
    for circuit in job.things("circuit"):
        leaf = circuit.find("panelboard")
        if leaf is not None and leaf.value == board.key:
            found.append(circuit)
    return found


@figure(
    "electrical.ways_left",
    title="Free ways left in the board",
    dimension="number",
    formula="free ways - ways of the new circuits; two where both poles of a split supply feed "
    "it, three for three phases",
    source="count",
    per=kinds.of_kind("panelboard", having="spaces_free"),
    trades=("electrical",),
)
def ways_left(facts: Facts, board: Node) -> Worked:
    """Ways that stay free after this job."""
    parts = []
    for circuit in _circuits_of(facts.job, board):
        circuit.word("panelboard")
        parts.append(Part(circuit.key, float(_poles(circuit, board)), circuit.address))
    free = board.count("spaces_free")
    return Worked(
        free - sum(p.value for p in parts), tuple(parts), (("free", float(free), "count"),)
    )


def _poles(circuit: Node, board: Node) -> int:
    if circuit.count("phases", 1) == 3:
        return 3
    supply = board.text("voltage", "")
    split = supply.replace(" ", "").startswith("120/")
    return 2 if split and circuit.si("voltage") > 200.0 else 1


@figure(
    "electrical.board_load",
    title="Load added to the board",
    dimension="apparent_power",
    formula="sum of the connected loads of its circuits",
    source="sum; no demand factor",
    per=lambda job: [b for b in job.things("panelboard") if _circuits_of(job, b)],
    trades=("electrical",),
)
def board_load(facts: Facts, board: Node) -> Worked:
    """Connected load of all circuits of this job on a board."""
    parts = tuple(
        Part(c.key, facts.figures.value("electrical.connected", c), c.address)
        for c in _circuits_of(facts.job, board)
    )
    return Worked(sum(p.value for p in parts), parts)
