"""Wood from the shop to the rooms: what leaves, tops and floors swell across their grain."""

from __future__ import annotations

from spec.derive.figure import Facts, Given, Worked, figure
from spec.derive.formulas import wood
from spec.derive.sheets import kinds
from spec.derive.sheets.kinds import stack_of_tier
from spec.derive.sheets.surroundings import beyond, weather
from spec.job.finishes import finish_at
from spec.job.job import Job
from spec.job.node import Node, Open
from spec.quantity import Range

_HANDBOOK = "Wood Handbook FPL-GTR-282 ch. 13, eq. 4-5 for the moisture; flat-sawn"
_HOLDS = "6 to 14 % of moisture"


def _solid(job: Job) -> list[Node]:
    """New doors with a solid leaf or stiles of a wood that is known, and gaps at their sides."""
    return [
        door
        for door in job.things("door")
        if door.word("state", "new") == "new"
        and kinds.says(door, "leaf.gap.sides")
        and _species(door, "leaf.material")
        and (kinds.says(door, "leaf.build") or _is(door, "leaf.core", "solid"))
    ]


def _wooden_tops(job: Job) -> list[Node]:
    return [
        tier
        for stack in job.things("stack")
        for tier in kinds.tiers_of(stack)
        if tier.kind == "top" and _species(tier, "material")
    ]


def _species(node: Node, path: str) -> bool:
    leaf = node.find(path)
    return leaf is not None and leaf.value in wood.SPECIES


def _is(node: Node, path: str, word: str) -> bool:
    leaf = node.find(path)
    return leaf is not None and leaf.value == word


def floor_of(job: Job, room: Node) -> Node | None:
    """The wooden floor finish of a room; None where it has another, or none that is decided."""
    floor = room.find("floor")
    leaf = finish_at(job, floor, "floor") if floor is not None else None
    finish = job.thing(str(leaf.value)) if leaf is not None and leaf.value is not None else None
    if finish is None or finish.kind != "wood_floor" or not _species(finish, "material"):
        return None
    return finish


@figure(
    "openings.leaf_swells",
    title="Swelling of the leaf to each side",
    dimension="length",
    formula="width x C x (moisture it settles at - moisture on arrival) / 2",
    source=_HANDBOOK,
    holds=f"{_HOLDS}; the damper of the two airs; across the stiles where they are said, else "
    "across the leaf",
    per=_solid,
    trades=("doors",),
)
def leaf_swells(facts: Facts, door: Node) -> Worked:
    """How much nearer the edge of a leaf comes to each jamb."""
    wall = facts.places.wall_of(door)
    room = facts.job.thing(wall.room) if wall is not None else None
    if wall is None or room is None:
        raise Open(f"{door.address}.opens_into")
    settles = max(_settles(facts, side) for side in (room, beyond(facts, wall)))
    stiles = 2.0 * door.si("leaf.build.stiles", 0.0) if kinds.says(door, "leaf.build") else 0.0
    width = stiles or door.si("leaf.width")
    swells, given = _moved(width, door.word("leaf.material"), arrival(facts, None), settles)
    return Worked(max(swells, 0.0) / 2.0, given=given)


@figure(
    "millwork.movement",
    title="Movement of the top across its grain",
    dimension="length",
    formula="width x C x (moisture it settles at - moisture on arrival)",
    source=_HANDBOOK,
    holds=_HOLDS,
    per=_wooden_tops,
    trades=("millwork",),
)
def movement(facts: Facts, tier: Node) -> Worked:
    """How much wider or narrower a wooden top becomes in its room."""
    room, stack = facts.job.thing(tier.room), stack_of_tier(tier)
    if room is None or stack is None:
        raise Open(tier.address)
    arrives, settles = arrival(facts, stack), _settles(facts, room)
    moved, given = _moved(tier.si("depth"), tier.word("material"), arrives, settles)
    return Worked(abs(moved), given=given, remark="it swells" if moved > 0.0 else "it shrinks")


@figure(
    "finishes.floor_swells",
    title="Swelling of the wooden floor to each side",
    dimension="length",
    formula="width x C x (moisture it settles at - moisture on arrival) / 2",
    source=_HANDBOOK,
    holds=f"{_HOLDS}; across the longest wall, unless it is glued, which holds most of it back",
    per=lambda job: [room for room in job.rooms if floor_of(job, room) is not None],
    trades=("flooring",),
)
def floor_swells(facts: Facts, room: Node) -> Worked:
    """How much nearer a floor of wood comes to the walls of its room."""
    finish = floor_of(facts.job, room)
    if finish is None:
        raise Open(f"{room.address}.finishes.floor")
    finished = facts.places.room(room.key)
    width = max(finished.length(wall) for wall in finished.walls)
    arrives, settles = arrival(facts, finish), _settles(facts, room)
    swells, given = _moved(width, finish.word("material"), arrives, settles)
    return Worked(max(swells, 0.0) / 2.0, given=given)


def _settles(facts: Facts, place: Node) -> float:
    """Moisture at which wood settles in the summer air of a place [%]."""
    air = weather(facts, place, "summer")
    return wood.equilibrium_moisture(air.temperature, air.damp(f"{place.address}.climate"))


def _moved(
    width: float, name: str, arrives: tuple[float, float], settles: float
) -> tuple[float, Given]:
    """The larger change of a width [m], below 0 when it shrinks, and what was put in."""
    moved = {start: wood.movement(width, name, "tangential", start, settles) for start in arrives}
    start, worst = max(moved.items(), key=lambda pair: abs(pair[1]))
    return worst, (
        ("width", width, "length"),
        ("C", wood.species(name).tangential * 100.0, "number"),
        ("moisture on arrival", start / 100.0, "percent"),
        ("moisture it settles at", settles / 100.0, "percent"),
    )


def arrival(facts: Facts, said_at: Node | None) -> tuple[float, float]:
    """Moisture of wood on arrival [%], from and to: its own, else the house's."""
    if said_at is not None and kinds.says(said_at, "moisture"):
        value = said_at.quantity("moisture")
        if isinstance(value, Range):
            return value.low.si * 100.0, value.high.si * 100.0
    low, high = facts.job.limits("wood.moisture")
    return low * 100.0, high * 100.0
