"""What the machines of a cooled room give: those inside it, and its share of those outside."""

from __future__ import annotations

from spec.derive.figure import Facts, Part, Worked, figure
from spec.derive.sheets import kinds
from spec.derive.sheets.cooling import machines
from spec.derive.sheets.dividing import over
from spec.derive.sheets.surroundings import outside, weather
from spec.job.job import Job
from spec.job.node import Node, Open


def with_machines(job: Job) -> list[Node]:
    """The cooled rooms in which a machine hangs."""
    return [r for r in kinds.cooled_rooms(job) if machines(r, "evaporator", "cooling_unit")]


def outside_machines(facts: Facts, room: Node) -> list[Node]:
    """The condensing units with a capacity that serve an evaporator of a room."""
    keys = {machine.key for machine in machines(room, "evaporator")}
    return [
        unit
        for unit in facts.job.things("condensing_unit")
        if kinds.says(unit, "serves")
        and kinds.says(unit, "capacity.value")
        and keys & set(unit.words("serves"))
    ]


def _share(facts: Facts, unit: Node, room: Node) -> float:
    """Which share of a condensing unit serves a room: by what the evaporators that it feeds give.

    By their number where one of them says nothing of what it gives.
    """
    served = [m for name in unit.words("serves") if (m := facts.job.thing(name)) is not None]
    here = [machine for machine in served if machine.room == room.key]
    if all(kinds.says(machine, "capacity.value") for machine in served):
        whole = sum(machine.si("capacity.value") for machine in served)
        own = sum(machine.si("capacity.value") for machine in here)
        return over(own, whole, "capacity of the evaporators", "W")
    return len(here) / len(served)


def with_several(job: Job) -> list[Node]:
    """The cooled rooms with more than one machine that runs by itself."""
    return [room for room in with_machines(job) if len(_by_themselves(job, room)) > 1]


def _by_themselves(job: Job, room: Node) -> list[Node]:
    """Cooling units and, for the evaporators that they serve, condensing units."""
    keys = {machine.key for machine in machines(room, "evaporator")}
    far = [u for u in job.things("condensing_unit") if kinds.says(u, "serves")]
    alone = machines(room, "cooling_unit")
    return [*alone, *(u for u in far if keys & set(u.words("serves")))]


def smallest(facts: Facts, room: Node) -> float:
    """What the smallest of the machines gives that run each by itself [W]. Raises `Open`."""
    alone = [m.si("capacity.value") for m in machines(room, "cooling_unit")]
    inside = machines(room, "evaporator")
    for unit in outside_machines(facts, room):
        fed = [m for m in inside if m.key in unit.words("serves")]
        given = sum(m.si("capacity.value") for m in fed)
        alone.append(min(given, unit.si("capacity.value") * _share(facts, unit, room)))
    if len(alone) < max(2, len(_by_themselves(facts.job, room))):
        raise Open(f"{room.address}.cooling")
    return min(alone)


def air_at(facts: Facts, unit: Node, season: str) -> tuple[float, Node]:
    """Temperature of the air at a condenser [°C] on the design day, and where it is decided.

    The place that the unit rejects its heat into; else the one whose name stands in the words of
    where it is; else the open air. Raises `Open`.
    """
    place = _rejects_into(facts, unit)
    if place is not None and not outside(facts, place):
        return weather(facts, place, season).temperature, place
    climate = facts.job.find("climate")
    if climate is None:
        raise Open("climate")
    return climate.si(f"design.{season}.temperature"), climate.at(f"design.{season}.temperature")


def _rejects_into(facts: Facts, unit: Node) -> Node | None:
    if kinds.says(unit, "rejects_into"):
        return facts.job.thing(unit.word("rejects_into"))
    where = unit.text("where", "").lower()
    named = (p for p in facts.job.things("surrounding") if p.key.replace("_", " ") in where)
    return next(named, None)


def condensers_of(facts: Facts, machine: Node) -> list[Node]:
    """The units outside that serve an evaporator; a unit that has its own condenser is its own."""
    if machine.kind != "evaporator":
        return [machine]
    units = facts.job.things("condensing_unit")
    return [u for u in units if kinds.says(u, "serves") and machine.key in u.words("serves")]


def rooms_of(facts: Facts, machine: Node) -> list[Node]:
    """The cooled rooms in which a machine, or the evaporators that it serves, take heat out."""
    served = (
        [facts.job.thing(name) for name in machine.words("serves", ())]
        if machine.kind == "condensing_unit"
        else [machine]
    )
    names = dict.fromkeys(thing.room for thing in served if thing is not None)
    rooms = (facts.job.thing(name) for name in names if name)
    return [room for room in rooms if room is not None and kinds.is_cooled(room)]


@figure(
    "cooling.given",
    title="Capacity given",
    dimension="heat_flow",
    formula="sum of the cooling units + min(sum of the evaporators, sum of the condensing units); "
    "what they give at their plates' conditions; of a condensing unit that serves other rooms too, "
    "the share of this room's evaporators",
    source="the makers' plates",
    holds="at the plate's room and outdoor temperatures, which stand in the job",
    per=with_machines,
    trades=("refrigeration",),
)
def given(facts: Facts, room: Node) -> Worked:
    """What the chosen machines take out at the conditions of their plates."""
    inside = machines(room, "evaporator", "cooling_unit")
    rated = [machine for machine in inside if kinds.says(machine, "capacity.value")]
    outside = outside_machines(facts, room)
    if not rated and not outside:
        raise Open(f"{inside[0].address}.capacity.value")
    own = [Part(m.key, m.si("capacity.value"), m.address) for m in rated]
    far = [Part(u.key, u.si("capacity.value") * _share(facts, u, room), u.address) for u in outside]
    for machine in (*rated, *outside):
        for at in ("capacity.at.room", "capacity.at.outdoors"):
            machine.has(at)
    alone = sum(p.value for p, m in zip(own, rated, strict=True) if m.kind == "cooling_unit")
    split = sum(part.value for part in own) - alone, sum(part.value for part in far)
    return Worked(alone + min((value for value in split if value > 0.0), default=0.0), (*own, *far))
