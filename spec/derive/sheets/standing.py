"""Machines that stand on the floor: what they press on it, full."""

from __future__ import annotations

from spec.derive.figure import Facts, Worked, figure
from spec.derive.formulas import weights
from spec.derive.sheets import kinds
from spec.derive.sheets.appliances import KINDS
from spec.derive.sheets.surroundings import as_found
from spec.job.job import Job
from spec.job.node import Node, Open
from spec.quantity import Size


def allowable_under(facts: Facts, thing: Node) -> Node | None:
    """The leaf with the allowable load of the floor under a thing, also that of an old floor."""
    room = facts.job.thing(thing.room)
    floor = room.find("floor") if room is not None else None
    if floor is None:
        return None
    for surface in (floor, as_found(facts, floor)):
        if surface is not None and kinds.says(surface, "allowable_load"):
            return surface.find("allowable_load")
    return None


def _standing(job: Job) -> list[Node]:
    return [
        machine
        for machine in job.things(*KINDS)
        if (kinds.says(machine, "weight_full") or kinds.says(machine, "weight"))
        and (kinds.says(machine, "body") or kinds.says(machine, "cut_out"))
    ]


@figure(
    "appliances.floor_pressure",
    title="Load on the floor under the machine",
    dimension="area_load",
    formula="weight x g / footprint; full where that is stated",
    source="m g / A; above the allowable by a licensed engineer",
    holds="spread over the footprint of the body, else of the cut-out",
    per=_standing,
    trades=("appliances",),
)
def floor_pressure(facts: Facts, machine: Node) -> Worked:
    """What an appliance presses on the floor under it."""
    path = "body" if kinds.says(machine, "body") else "cut_out"
    size = machine.quantity(path)
    if not isinstance(size, Size) or len(size.sides) < 3:
        raise Open(machine.at(path).address)
    mass = facts.figures.value("appliances.weight", machine)
    area = size.sides[0].si * size.sides[2].si
    return Worked(
        weights.pressure(mass, area), given=(("weight", mass, "mass"), ("footprint", area, "area"))
    )
