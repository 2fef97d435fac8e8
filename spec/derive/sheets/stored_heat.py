"""The heat that full racks hold, and how long it keeps them cool."""

from __future__ import annotations

import math

from spec.derive.figure import Facts, Worked, figure
from spec.derive.formulas.range import NotCovered
from spec.derive.sheets import counting, kinds
from spec.derive.sheets.bottles import heat_capacity
from spec.derive.sheets.counting import bottle_of
from spec.derive.sheets.dividing import over
from spec.job.job import Job
from spec.job.node import Node


def _keeps(job: Job) -> list[Node]:
    """Cooled rooms with racks and a band that their temperature may move in."""
    return [
        room
        for room in kinds.cooled_rooms(job)
        if kinds.says(room, "climate.band.temperature")
        and any(piece.room == room.key for piece in counting.storing(job))
    ]


def heat_stored(facts: Facts, room: Node) -> float:
    """Heat capacity of the wine and glass of a room's full racks [J/K]."""
    return sum(
        facts.figures.value("storage.piece", piece)
        * heat_capacity(facts.job, bottle_of(facts, piece))
        for piece in counting.storing(facts.job)
        if piece.room == room.key
    )


@figure(
    "cooling.holds",
    title="Time until full racks leave their band, cooling off",
    dimension="duration",
    formula="C ln((t_b - t_0) / (t_b - t_1)) / (U A); C of wine and glass, t_b the mean beyond "
    "weighted by U A",
    source="one store of heat behind one resistance",
    holds="every place full, door shut, summer design air all the time, air leaks left out",
    per=_keeps,
    trades=("client",),
)
def holds(facts: Facts, room: Node) -> Worked:
    """How long the room keeps its wine within the band without cooling."""
    from spec.derive.formulas import cooling as formulas  # noqa: PLC0415 - with psychrolib

    passing = facts.figures.get("cooling.transmission", room)
    heat = facts.figures.value("cooling.transmission", room)
    conductance = next(value for name, value, _ in passing.given if name == "U A")
    start = room.si("climate.temperature")
    limit = start + room.si("climate.band.temperature")
    store = heat_stored(facts, room)
    beyond = start + over(heat, conductance, "conductance of all surfaces", "W/K")
    found = formulas.hold_time(store, conductance, start, limit, beyond)
    if math.isinf(found):
        raise NotCovered("what lies beyond is no warmer than the band allows: the wine stays in it")
    return Worked(
        found,
        given=(
            ("U A", conductance, "W/K"),
            ("t_b", beyond, "temperature"),
            ("t_0", start, "temperature"),
            ("t_1", limit, "temperature"),
            ("C", store, "J/K"),
        ),
    )
