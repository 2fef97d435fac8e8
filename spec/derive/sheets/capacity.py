"""The cooling load against what the machines give: needed, given, spare, hours, water, noise."""

from __future__ import annotations

import math
from collections.abc import Iterator

from spec.derive.figure import Facts, Part, Worked, figure
from spec.derive.formulas.constants import GALLON
from spec.derive.formulas.range import NotCovered, within
from spec.derive.sheets import kinds
from spec.derive.sheets.cooling import HANDBOOK, heat_of_wine
from spec.derive.sheets.cooling_air import leaks, through_doors
from spec.derive.sheets.dividing import over
from spec.derive.sheets.machines import smallest, with_machines, with_several
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


def shares(facts: Facts, room: Node) -> Iterator[tuple[str, str]]:
    """What a room's load is made up of: in words, and the name of its figure."""
    for label, name in _SHARES:
        if any(made is room for made in facts.figures.made_for(name)):
            yield label, name


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
        for label, name in shares(facts, room)
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
    title="Capacity needed over the day",
    dimension="heat_flow",
    formula="load x (1 + least spare) x 24 / hours of running; load the mean of the day",
    source=f"{HANDBOOK}, safety factor; run time of the house standards",
    holds="spare up to 50 %; the hour with everything on stands apart",
    per=kinds.cooled_rooms,
    trades=("refrigeration",),
    ranged=True,
)
def needed(facts: Facts, room: Node) -> Worked:
    """Capacity that carries the design day within the hours that the machine may run."""
    from spec.derive.formulas import cooling as formulas  # noqa: PLC0415 - with psychrolib

    spare, _ = facts.job.limits("cooling.spare")
    hours = facts.job.limit("cooling.hours")
    mean = facts.figures.value("cooling.load", room)
    given = (
        ("load", mean, "heat_flow"),
        ("least spare", spare, "percent"),
        ("hours of running", hours, "hours_per_day"),
    )
    return Worked(formulas.capacity_needed(mean, spare, hours), given=given)


@figure(
    "cooling.margin",
    title="Capacity over what is needed",
    dimension="percent",
    formula="given / needed - 1",
    source="division; below 0 the machine is too small",
    per=with_machines,
    trades=("refrigeration",),
)
def margin(facts: Facts, room: Node) -> Worked:
    """What is given over what is needed, spare and hours of running counted, as a share."""
    given = facts.figures.value("cooling.given", room)
    needed = facts.figures.value("cooling.needed", room)
    return Worked(
        over(given, needed, "capacity needed", "W") - 1.0,
        given=(("given", given, "heat_flow"), ("needed", needed, "heat_flow")),
    )


@figure(
    "cooling.margin_of_the_others",
    title="Capacity over what is needed, the smallest machine standing by",
    dimension="percent",
    formula="(given - smallest) / needed - 1",
    source="division; of machines that run each by itself one may stand by",
    per=with_several,
)
def margin_of_the_others(facts: Facts, room: Node) -> Worked:
    """What the other machines give over what is needed while the smallest stands still."""
    given = facts.figures.value("cooling.given", room)
    idle = smallest(facts, room)
    needed = facts.figures.value("cooling.needed", room)
    return Worked(
        over(given - idle, needed, "capacity needed", "W") - 1.0,
        given=(
            ("given", given, "heat_flow"),
            ("smallest", idle, "heat_flow"),
            ("needed", needed, "heat_flow"),
        ),
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
def spare_capacity(facts: Facts, room: Node) -> Worked:
    """What is given over the mean load, as a share of the load."""
    given = facts.figures.value("cooling.given", room)
    load = facts.figures.value("cooling.load", room)
    return Worked(
        over(given, load, "load", "W") - 1.0,
        given=(("given", given, "heat_flow"), ("load", load, "heat_flow")),
    )


@figure(
    "cooling.runs",
    title="Hours of running on the design day",
    dimension="hours_per_day",
    formula="24 x load / given; load the mean of the day",
    source=HANDBOOK,
    per=with_machines,
    trades=("refrigeration", "client"),
)
def runs(facts: Facts, room: Node) -> Worked:
    """Hours in which the machine works on the design day [h]."""
    load = facts.figures.value("cooling.load", room)
    given = facts.figures.value("cooling.given", room)
    return Worked(
        24.0 * over(load, given, "capacity given", "W"),
        given=(("load", load, "heat_flow"), ("given", given, "heat_flow")),
    )


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
def pull_down(facts: Facts, room: Node) -> Worked:
    """How long the chosen machine takes, running without a stop."""
    from spec.derive.formulas import cooling as formulas  # noqa: PLC0415 - with psychrolib

    capacity = facts.figures.value("cooling.given", room)
    other = facts.figures.value("cooling.load", room) - facts.figures.value("cooling.product", room)
    heat = heat_of_wine(facts, room)
    found = formulas.pull_down_time(heat, capacity, other)
    if math.isinf(found):
        raise NotCovered("nothing is left over to cool the wine down: the machine is too small")
    given = (
        ("heat of the wine", heat, "J"),
        ("given", capacity, "heat_flow"),
        ("all other loads", other, "heat_flow"),
    )
    return Worked(found, given=given)


@figure(
    "cooling.condensate",
    title="Water that falls out in a day",
    dimension="mass",
    formula="(water of leaking air + water through the door) x 86400",
    source=f"conservation of mass; {HANDBOOK}",
    per=kinds.cooled_rooms,
    trades=("refrigeration", "plumbing"),
    ranged=True,
)
def condensate(facts: Facts, room: Node) -> Worked:
    """Water [kg/day] that leaves the room to hold its humidity on the design day."""
    from spec.derive.formulas import cooling as formulas  # noqa: PLC0415 - with psychrolib

    air, doors = leaks(facts, room), through_doors(facts, room)
    found = formulas.condensate_per_day(air + doors)
    given = (
        ("water of leaking air", air.water, "kg/s"),
        ("water through the door", doors.water, "kg/s"),
    )
    remark = _liquid(found / 1000.0, facts.job.system) if found >= 0.0 else "the room dries"
    return Worked(found, given=given, remark=remark)


def _liquid(volume: float, system: str) -> str:
    """A volume of water in what pumps are sold by."""
    if system == "imperial":
        return f"{volume / GALLON:.2f} gal"
    return show(volume, "volume", system)


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
    holds="distance, doors and the room itself are not counted; machines outdoors only where none "
    "of them stands in a room",
    per=lambda job: [n for n in job.things("noise") if kinds.says(n, "while")],
    trades=("refrigeration",),
)
def sound(facts: Facts, limit: Node) -> Worked:
    """Level of the machines of a noise limit, running together."""
    named = (facts.job.thing(name) for name in limit.words("while"))
    loud = [machine for machine in named if machine is not None and kinds.says(machine, "sound")]
    loud = [machine for machine in loud if machine.room] or loud
    if not loud:
        raise NotCovered("none of the machines has a rated sound level")
    parts = [Part(machine.key, machine.si("sound"), machine.address) for machine in loud]
    for part in parts:
        within(part.value, 0.0, 150.0, f"sound level of {part.label}", "dB")
    return Worked(10.0 * math.log10(sum(10.0 ** (p.value / 10.0) for p in parts)), tuple(parts))
