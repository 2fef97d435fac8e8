"""The cooling load against what the machines give: needed, given, spare, hours, water, noise."""

from __future__ import annotations

import math

from spec.derive.figure import Facts, Part, Worked, figure
from spec.derive.formulas.range import NotCovered, within
from spec.derive.sheets import counting, kinds
from spec.derive.sheets.bottles import heat_capacity
from spec.derive.sheets.cooling import HANDBOOK, heat_of_wine
from spec.derive.sheets.cooling_air import leaks, through_doors
from spec.derive.sheets.counting import bottle_of
from spec.derive.sheets.dividing import over
from spec.derive.sheets.machines import with_machines
from spec.job.job import Job
from spec.job.node import Node, Open
from spec.quantity import show

_SHARES = (
    ("transmission", "cooling.transmission"),
    ("sun through glass", "cooling.sun"),
    ("leaking air", "cooling.infiltration"),
    ("open door", "cooling.doorway"),
    ("people", "cooling.people"),
    ("lights", "cooling.lights"),
    ("fans", "cooling.fans"),
    ("devices", "cooling.devices"),
    ("wine", "cooling.product"),
)


@figure(
    "cooling.load",
    title="Cooling load on the design day",
    dimension="heat_flow",
    formula="transmission + sun through glass + leaking air + open door + people + lights + fans + "
    "devices + wine; averaged over 24 hours at the design hour's temperatures",
    source=HANDBOOK,
    holds="steady surroundings; the mean of the day, no single hour",
    per=kinds.cooled_rooms,
    trades=("refrigeration", "client"),
)
def load(facts: Facts, room: Node) -> Worked:
    """All that the machine has to take out, as a mean over the day."""
    parts = [
        Part(label, facts.figures.value(name, room), f"{name}@{room.address}")
        for label, name in _SHARES
        if any(made is room for made in facts.figures.made_for(name))
    ]
    latent = _latent(facts, room)
    whole = sum(part.value for part in parts)
    return Worked(
        whole,
        tuple(parts),
        (("sensible", whole - latent, "heat_flow"), ("latent", latent, "heat_flow")),
        "" if kinds.says(room, "loading") else "no delivery of wine is counted: none is decided",
    )


def _latent(facts: Facts, room: Node) -> float:
    return leaks(facts, room).latent + through_doors(facts, room).latent


@figure(
    "cooling.needed",
    title="Capacity needed",
    dimension="heat_flow",
    formula="load x (1 + least spare) x 24 / hours of running",
    source=f"{HANDBOOK}, safety factor; run time of the house standards",
    per=kinds.cooled_rooms,
    trades=("refrigeration",),
    ranged=True,
)
def needed(facts: Facts, room: Node) -> Worked:
    """Capacity that carries the design day within the hours that the machine may run."""
    from spec.derive.formulas import cooling as formulas  # noqa: PLC0415 - with psychrolib

    spare, _ = facts.job.limits("cooling.spare")
    hours = facts.job.limit("cooling.hours")
    found = formulas.capacity_needed(facts.figures.value("cooling.load", room), spare, hours)
    return Worked(found, given=(("spare", spare, "percent"), ("hours", hours, "hours_per_day")))


@figure(
    "cooling.margin",
    title="Capacity over what is needed",
    dimension="percent",
    formula="given / needed - 1",
    source="division; below 0 the machine is too small",
    per=with_machines,
    trades=("refrigeration",),
)
def margin(facts: Facts, room: Node) -> float:
    """What is given over what is needed, spare and hours of running counted, as a share."""
    return (
        over(
            facts.figures.value("cooling.given", room),
            facts.figures.value("cooling.needed", room),
            "capacity needed",
            "W",
        )
        - 1.0
    )


@figure(
    "cooling.spare_capacity",
    title="Capacity over the load itself",
    dimension="percent",
    formula="given / load - 1",
    source="division; held against the house's spare",
    per=with_machines,
    trades=("refrigeration",),
)
def spare_capacity(facts: Facts, room: Node) -> float:
    """What is given over the mean load, as a share of the load."""
    return (
        over(
            facts.figures.value("cooling.given", room),
            facts.figures.value("cooling.load", room),
            "load",
            "W",
        )
        - 1.0
    )


@figure(
    "cooling.runs",
    title="Hours of running on the design day",
    dimension="number",
    formula="24 hours x load / given",
    source=HANDBOOK,
    per=with_machines,
    trades=("refrigeration", "client"),
)
def runs(facts: Facts, room: Node) -> float:
    """Hours in which the machine works on the design day [h]."""
    load = facts.figures.value("cooling.load", room)
    return 24.0 * over(load, facts.figures.value("cooling.given", room), "capacity given", "W")


@figure(
    "cooling.pull_down",
    title="Time in which the unit could take the heat of a delivery out",
    dimension="duration",
    formula="heat of the wine / (given - all other loads)",
    source="conservation of energy; the core of a bottle lags by hours",
    per=lambda job: [r for r in with_machines(job) if kinds.says(r, "loading")],
    trades=("refrigeration",),
    ranged=True,
)
def pull_down(facts: Facts, room: Node) -> float:
    """How long the chosen machine takes, running without a stop."""
    from spec.derive.formulas import cooling as formulas  # noqa: PLC0415 - with psychrolib

    capacity = facts.figures.value("cooling.given", room)
    other = facts.figures.value("cooling.load", room) - facts.figures.value("cooling.product", room)
    found = formulas.pull_down_time(heat_of_wine(facts, room), capacity, other)
    if math.isinf(found):
        raise NotCovered("nothing is left over to cool the wine down: the machine is too small")
    return found


def _keeps(job: Job) -> list[Node]:
    """Cooled rooms with racks and a band that their temperature may move in."""
    return [
        room
        for room in kinds.cooled_rooms(job)
        if kinds.says(room, "climate.band.temperature")
        and any(piece.room == room.key for piece in counting.storing(job))
    ]


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
    store = sum(
        facts.figures.value("storage.piece", piece)
        * heat_capacity(facts.job, bottle_of(facts, piece))
        for piece in counting.storing(facts.job)
        if piece.room == room.key
    )
    beyond = start + over(heat, conductance, "conductance of all surfaces", "W/K")
    found = formulas.hold_time(store, conductance, start, limit, beyond)
    if math.isinf(found):
        raise NotCovered("what lies beyond is no warmer than the band allows: the wine stays in it")
    return Worked(
        found,
        given=(
            ("U A", conductance, "number"),
            ("t_b", beyond, "temperature"),
            ("t_0", start, "temperature"),
            ("t_1", limit, "temperature"),
            ("C", store, "number"),
        ),
    )


@figure(
    "cooling.condensate",
    title="Water that falls out in a day",
    dimension="mass",
    formula="(water of leaking air + water through the door) x 24 hours",
    source=f"conservation of mass; {HANDBOOK}",
    per=kinds.cooled_rooms,
    trades=("refrigeration", "plumbing"),
    ranged=True,
)
def condensate(facts: Facts, room: Node) -> Worked:
    """Water [kg/day] that leaves the room to hold its humidity on the design day."""
    from spec.derive.formulas import cooling as formulas  # noqa: PLC0415 - with psychrolib

    found = formulas.condensate_per_day(leaks(facts, room) + through_doors(facts, room))
    liters = show(found / 1000.0, "volume", facts.job.system)
    remark = liters if found >= 0.0 else "the room dries"
    return Worked(found, remark=remark)


def _with_lines(job: Job) -> list[Node]:
    return [r for r in job.rooms if kinds.says(r, "cooling.lines.length")]


@figure(
    "cooling.line_reserve",
    title="Length of line that is left",
    dimension="offset",
    formula="the maker's limit - length of the lines",
    source="the maker's limit",
    per=lambda job: [r for r in _with_lines(job) if _limit(job, r) is not None],
    trades=("refrigeration",),
)
def line_reserve(facts: Facts, room: Node) -> float:
    """What the lines may still be longer."""
    unit = _limit(facts.job, room)
    if unit is None:
        raise Open(f"{room.address}.cooling.lines.to")
    room.word("cooling.lines.to")
    return unit.si("line_limit.length") - room.si("cooling.lines.length")


def _limit(job: Job, room: Node) -> Node | None:
    leaf = room.find("cooling.lines.to")
    unit = job.thing(str(leaf.value)) if leaf is not None and leaf.value is not None else None
    return unit if unit is not None and kinds.says(unit, "line_limit.length") else None


@figure(
    "cooling.sound",
    title="Machines together, as rated",
    dimension="sound",
    formula="10 log(sum(10^(L/10)))",
    source="sum of levels; the makers' ratings at their own distance",
    holds="distance, doors and the room itself are not counted",
    per=lambda job: [n for n in job.things("noise") if kinds.says(n, "while")],
    trades=("refrigeration",),
)
def sound(facts: Facts, limit: Node) -> Worked:
    """Level of the machines of a noise limit, running together."""
    parts = []
    for name in limit.words("while"):
        machine = facts.job.thing(name)
        if machine is not None and kinds.says(machine, "sound"):
            parts.append(Part(machine.key, machine.si("sound"), machine.address))
    if not parts:
        raise NotCovered("none of the machines has a rated sound level")
    for part in parts:
        within(part.value, 0.0, 150.0, f"sound level of {part.label}", "dB")
    return Worked(10.0 * math.log10(sum(10.0 ** (p.value / 10.0) for p in parts)), tuple(parts))
