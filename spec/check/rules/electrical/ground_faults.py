"""Receptacles in garages, basements, outdoors and damp rooms; sockets of metric circuits."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.check.rules.electrical.sinks import gone, protected
from spec.derive.formulas.range import NotCovered
from spec.derive.sheets import kinds
from spec.derive.sheets.wires import wire
from spec.finding import Level
from spec.job import feeds
from spec.job.node import Open
from spec.quantity import Quantity

_PLACES = ("outdoors", "garage", "basement", "crawl_space", "kitchen", "bathroom", "laundry")
_ROOMS = ("kitchen", "bathroom", "laundry")
_GARAGE = """
surroundings: {car_bay: {place: garage}}
circuits: {C1: {breaker: 20 A, conductor: 12 AWG copper, protection: PROTECTION}}
elsewhere: {RC1: {is: receptacle, where: Car bay beside the board, fed_from: C1}}
"""
_SOCKET = """
circuits: {C1: {breaker: 16 A, conductor: 2.5 mm² copper, protection: PROTECTION,
    residual_current: {trips_at: 30 mA, group: own}}}
rooms: {tasting_room: {walls_clockwise: {TA: {devices: {RC1: {is: receptacle, fed_from: C1}}}}}}
"""


@rule(
    "electrical.damp-place-unprotected",
    level=Level.ERROR,
    trades=("electrical",),
    why="On concrete, on wet ground and in a cold damp room the body is the better way to earth: "
    "a device trips before the heart does.",
    source="NEC 210.8(A) and (B): garages, basements, outdoors, kitchens, bathrooms, laundries, "
    "damp and wet places (article 100: cold stores); cited from memory, check the adopted edition",
    each=("receptacle",),
    bad=_GARAGE.replace("PROTECTION", "arc_fault"),
    good=_GARAGE.replace("PROTECTION", "[arc_fault, ground_fault]"),
)
def damp_place_unprotected(facts: Facts, receptacle: Node) -> Iterator[Said]:
    """A receptacle on American wiring in such a place has no ground-fault protection."""
    circuit = feeds.circuit_of(facts.job, receptacle)
    if circuit is None or _metric(circuit) is not False or _stays(receptacle):
        return
    found = _damp(facts, receptacle)
    if found is not None and not protected(facts, receptacle):
        place, named = found
        yield said(
            receptacle,
            f"{receptacle.key} is in {place}, and nothing says that it is protected against "
            "ground faults",
            f"write `ground_fault: yes` at {receptacle.key}, or `protection: ground_fault` at "
            f"{circuit.key}",
            named,
            circuit.find("protection") or circuit,
        )


@rule(
    "electrical.sockets-unprotected",
    level=Level.ERROR,
    trades=("electrical",),
    why="Anybody plugs anything into a socket: a frayed lead kills where nothing trips.",
    source="IEC 60364-4-41:2005/A1:2017, 411.3.3: sockets up to 32 A for anybody; cited from "
    "memory, check the national edition",
    each=("circuit",),
    bad=_SOCKET.replace("PROTECTION", "none"),
    good=_SOCKET.replace("PROTECTION", "residual_current"),
)
def sockets_unprotected(facts: Facts, circuit: Node) -> Iterator[Said]:
    """A metric circuit feeds sockets and hangs on no residual-current device."""
    sockets = _sockets(facts, circuit)
    bare = [socket for socket in sockets if not protected(facts, socket)]
    if bare:
        yield said(
            circuit.find("protection") or circuit,
            f"{circuit.key} feeds {', '.join(s.key for s in bare)}, and nothing says that it "
            "hangs on a residual-current device",
            f"write `protection: residual_current` at {circuit.key}, and on which device",
            *bare,
        )


@rule(
    "electrical.trips-too-late",
    level=Level.ERROR,
    trades=("electrical",),
    why="A device for 300 mA guards the house against fire and nobody against the current.",
    source="IEC 60364-4-41:2005/A1:2017, 411.3.3 and 415.1: 30 mA; cited from memory, check the "
    "national edition",
    each=("circuit",),
    bad=_SOCKET.replace("PROTECTION", "residual_current").replace("30 mA", "300 mA"),
    good=_SOCKET.replace("PROTECTION", "residual_current"),
)
def trips_too_late(facts: Facts, circuit: Node) -> Iterator[Said]:
    """Sockets hang on a residual-current device that trips above the house's limit for people."""
    trips, most = circuit.find("residual_current.trips_at"), facts.job.threshold("socket.trips_at")
    if trips is None or not isinstance(trips.value, Quantity) or trips.value.si <= most.si:
        return
    sockets = [s for s in _sockets(facts, circuit) if s.find("ground_fault") is None]
    if sockets:
        yield said(
            trips,
            f"{', '.join(s.key for s in sockets)} hang behind a device that trips at "
            f"{trips.written}; for people it is {most.written}",
            f"choose a device for {most.written}",
            *sockets,
        )


def _sockets(facts: Facts, circuit: Node) -> list[Node]:
    """The sockets that a metric circuit feeds and that are no business of the past."""
    if _metric(circuit) is not True:
        return []
    fed = feeds.on_circuit(facts.job, circuit)
    return [t for t in fed if t.kind == "receptacle" and not _stays(t)]


def _metric(circuit: Node) -> bool | None:
    """Whether a circuit is wired by IEC rather than by NEC sizes; None where nobody says."""
    try:
        return wire(circuit, "conductor").gauge is None
    except (Open, NotCovered):
        return None


def _stays(receptacle: Node) -> bool:
    """It was there before and stays as it is, or goes."""
    return receptacle.word("state", "new") == "existing" or gone(receptacle)


def _damp(facts: Facts, receptacle: Node) -> tuple[str, Node] | None:
    """The place that asks for protection, in words, and what says that it is one."""
    room = facts.job.thing(receptacle.room)
    if room is not None:
        use = room.find("use")
        if use is not None and use.value in _ROOMS:
            return f"a {use.value}", use
        if use is not None and kinds.is_cooled(room):
            return "a cooled room, a damp place", use
        for wall in room.group("walls_clockwise"):
            faces = wall.find("faces")
            if faces is not None and faces.value == "ground":
                return "a basement", faces
        return None
    where = receptacle.find("where")
    for around in facts.job.things("surrounding") if where is not None else ():
        if where is not None and around.key.replace("_", " ") in where.written.lower():
            says = around.find("place")
            word = str(says.value) if says is not None and says.value else around.key
            if around.find("from") is not None:
                word = "outdoors"
            if word in _PLACES:
                lies = word if word == "outdoors" else f"a {word.replace('_', ' ')}"
                return ("the open" if word == "outdoors" else lies), says or around
    return None
