"""The way in: the largest pieces against doors, corridors, lift and stair, and who carries them."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from contextvars import Context
from typing import NamedTuple

from spec.derive.figure import COMMON_PRACTICE, Facts, Part, Worked, figure
from spec.derive.formulas.range import NotCovered
from spec.derive.sheets import kinds
from spec.derive.sheets.appliances import KINDS as APPLIANCES
from spec.derive.sheets.dividing import over
from spec.job.job import Job
from spec.job.node import Node, Open
from spec.job.record import note, recording
from spec.job.trades import OWN
from spec.quantity import Size

_BUILT_ON_SITE = ("filler", "gap", "peg_rack")
_MACHINES = ("evaporator", "condensing_unit", "cooling_unit")


class Load(NamedTuple):
    """Something that is carried in as one; its sides [m], smallest first.

    `read` are the addresses that its sides were read from.
    """

    node: Node
    sides: tuple[float, float, float]
    read: frozenset[str] = frozenset()


def _load(node: Node, *sides: float) -> Load:
    small, middle, long = sorted(sides)
    return Load(node, (small, middle, long))


def carried(facts: Facts) -> tuple[Load, ...]:
    """All that is carried in as one piece and whose size is decided.

    What is still open is left out: the largest known piece is what the way in is held against.
    Looking at a piece does not yet rest on it: `_the_tightest` notes what was read for that one.
    """
    return Context().run(_looked_at, facts)


def _looked_at(facts: Facts) -> tuple[Load, ...]:
    found: list[Load] = []
    for maker in (_millwork, _leaves, _panes, _bodies):
        loads = maker(facts)
        while True:
            with recording() as read:
                load = next(loads, None)
            if load is None:
                break
            found.append(load._replace(read=frozenset(read)))
    return tuple(found)


def _the_tightest(facts: Facts, play: Callable[[Load], float]) -> Worked:
    """The least play of all pieces; raises `NotCovered` where no size is decided."""
    loads = sorted(((play(load), load) for load in carried(facts)), key=lambda pair: pair[0])
    if not loads:
        raise NotCovered("no piece that is carried in has its size decided")
    least, load = loads[0]
    note(*load.read)
    parts = tuple(Part(one.node.key, left, one.node.address) for left, one in loads[:5])
    return Worked(least, parts, remark=f"{load.node.key} is the tightest")


def _millwork(facts: Facts) -> Iterator[Load]:
    """The largest piece that a stack names, else each of its pieces as drawn."""
    named = [s for s in facts.job.things("stack") if kinds.says(s, "largest_piece")]
    for stack in named:
        value = stack.quantity("largest_piece")
        if isinstance(value, Size) and len(value.sides) == 3:
            yield _load(stack, *(side.si for side in value.sides))
    for wall in facts.job.walls:
        if not wall.group("millwork"):
            continue
        for run in facts.places.runs(wall):
            for piece in run.pieces:
                if piece.turned or piece.node.kind in _BUILT_ON_SITE or piece.depth is None:
                    continue
                if kinds.stack_of_piece(facts.job, piece.node) in named:
                    continue
                facts.places.runs(wall)  # each piece rests on its run, not the first one alone
                yield _load(piece.node, piece.width, piece.height, piece.depth)


def _leaves(facts: Facts) -> Iterator[Load]:
    for door in facts.job.things("door", "gate"):
        state = door.find("state")
        if state is not None and state.value == "existing":
            continue
        if not all(kinds.says(door, f"leaf.{key}") for key in ("width", "height")):
            continue
        if door.at("leaf.height").children:
            continue
        thick = door.si("leaf.thickness") if kinds.says(door, "leaf.thickness") else 0.05
        yield _load(door, door.si("leaf.width"), door.si("leaf.height"), thick)


def _panes(facts: Facts) -> Iterator[Load]:
    for pane in facts.job.things("fixed"):
        front = pane.parent.parent if pane.parent is not None else None
        if front is None or not kinds.says(pane, "width") or not kinds.says(front, "height"):
            continue
        high = pane.si("height") if kinds.says(pane, "height") else front.si("height")
        thick = front.si("thickness") if kinds.says(front, "thickness") else 0.05
        yield _load(pane, pane.si("width"), high, thick)


def _bodies(facts: Facts) -> Iterator[Load]:
    for thing in facts.job.things(*APPLIANCES, *_MACHINES):
        for path in ("body", "size", "cut_out"):
            if not kinds.says(thing, path):
                continue
            value = thing.quantity(path)
            if isinstance(value, Size) and len(value.sides) == 3:
                if thing.room:
                    yield _load(thing, *(side.si for side in value.sides))
                break


# ------------------------------------------------------------------ through doors and round corners


def _passage(node: Node, path: str) -> tuple[float, float]:
    value = node.quantity(path)
    if not isinstance(value, Size) or len(value.sides) < 2:
        raise Open(node.at(path).address)
    return value.sides[0].si, value.sides[1].si


def play(clear: tuple[float, float], load: Load) -> float:
    """Least play of a piece carried end-on through a clear opening [m]; below 0 it does not go.

    Its smallest side goes across, its middle side upright, or the other way round.
    """
    wide, high = clear
    a, b, _ = load.sides
    return max(min(wide - a, high - b), min(wide - b, high - a))


def _tightest(facts: Facts, clear: tuple[float, float]) -> Worked:
    return _the_tightest(facts, lambda load: play(clear, load))


def _entries(path: str, having: str) -> kinds.Per:
    def find(job: Job) -> list[Node]:
        node = job.find(path)
        found = node.entries() if node is not None else ()
        return [entry for entry in found if kinds.says(entry, having)]

    return find


_CARRIED = "clear opening - the smaller two sides of the piece; the tightest piece"
_WHOSE_IT_IS = (OWN,)


@figure(
    "access.door_play",
    title="Play of the largest piece through the door",
    dimension="offset",
    formula=_CARRIED,
    source="geometry",
    holds="pieces as wide as in their run and as high as their tier; pegs are put up on site",
    per=_entries("access.doors", "clear"),
    trades=_WHOSE_IT_IS,
)
def door_play(facts: Facts, door: Node) -> Worked:
    """What the tightest piece leaves of a door's clear opening; below 0 it does not go through."""
    return _tightest(facts, _passage(door, "clear"))


def _one(path: str, having: str) -> kinds.Per:
    def find(job: Job) -> list[Node]:
        node = job.find(path)
        there = node is not None and not node.not_applicable and kinds.says(node, having)
        return [node] if node is not None and there else []

    return find


@figure(
    "access.facade_play",
    title="Play of the largest piece through the facade",
    dimension="offset",
    formula=_CARRIED,
    source="geometry",
    per=_one("access.facade", "clear"),
    trades=_WHOSE_IT_IS,
)
def facade_play(facts: Facts, facade: Node) -> Worked:
    """What the tightest piece leaves of the opening in the facade."""
    return _tightest(facts, _passage(facade, "clear"))


@figure(
    "access.lift_play",
    title="Play of the largest piece in the lift",
    dimension="offset",
    formula="min(car - the piece standing upright, the lift's door - the piece); the tightest "
    "piece",
    source="geometry; pieces are not leaned",
    per=_one("access.lift", "car"),
    trades=_WHOSE_IT_IS,
)
def lift_play(facts: Facts, lift: Node) -> Worked:
    """What the tightest piece leaves of the car, standing upright in it."""
    car = lift.quantity("car")
    if not isinstance(car, Size) or len(car.sides) != 3:
        raise Open(lift.at("car").address)
    wide, high, deep = (side.si for side in car.sides)
    small, large = sorted((wide, deep))
    door = _passage(lift, "door") if kinds.says(lift, "door") else None

    def left(load: Load) -> float:
        a, b, c = load.sides
        fits = min(small - a, large - b, high - c)
        return fits if door is None else min(fits, play(door, load))

    return _the_tightest(facts, left)


def longest_round(one: float, other: float, thick: float) -> float:
    """Longest thing that goes level round a square corner between two corridors [m].

    one, other [m]: clear widths; thick [m]: how wide the thing is in plan. Source: the least over
    the angle a of (one cos a + other sin a - thick) / (sin a cos a).

    >>> round(longest_round(1.0, 1.0, 0.0), 3)
    2.828
    """
    if thick >= min(one, other):
        return 0.0
    angles = (math.radians(degrees / 4.0) for degrees in range(4, 357))
    return min(
        (one * math.cos(a) + other * math.sin(a) - thick) / (math.sin(a) * math.cos(a))
        for a in angles
    )


@figure(
    "access.turn_play",
    title="Length left when the largest piece is turned",
    dimension="offset",
    formula="longest thing that goes round the corner - the piece; on edge or upright",
    source="least over the angle of (a cos + b sin - t) / (sin cos)",
    holds="a square corner, carried level or upright",
    per=_entries("access.corridors", "turn_to"),
    trades=_WHOSE_IT_IS,
)
def turn_play(facts: Facts, corridor: Node) -> Worked:
    """What the tightest piece could be longer and still turn; below 0 it does not go round."""
    one, other = corridor.si("clear"), corridor.si("turn_to")
    high = corridor.si("height") if kinds.says(corridor, "height") else math.inf

    def left(load: Load) -> float:
        a, b, c = load.sides
        ways = [
            longest_round(one, other, in_plan) - length
            for in_plan, upright, length in ((a, b, c), (b, a, c), (a, c, b))
            if upright <= high
        ]
        return max(ways, default=-c)

    return _the_tightest(facts, left)


@figure(
    "access.stair_play",
    title="Play of the largest piece on the stair",
    dimension="offset",
    formula="clear width and headroom - the smaller two sides of the piece; the tightest piece",
    source="geometry; turns of the stair are judged on site",
    per=_one("access.stair", "clear"),
    trades=_WHOSE_IT_IS,
)
def stair_play(facts: Facts, stair: Node) -> Worked:
    """What the tightest piece leaves of a straight flight."""
    high = stair.si("headroom") if kinds.says(stair, "headroom") else math.inf
    return _tightest(facts, (stair.si("clear"), high))


# ------------------------------------------------------------------ who carries


def _weighed(job: Job) -> list[Node]:
    return [
        thing
        for thing in job.things(*APPLIANCES, *_MACHINES, "ladder", "mirror", "cover", "chandelier")
        if kinds.says(thing, "weight")
    ]


@figure(
    "access.carriers",
    title="People to carry it",
    dimension="count",
    formula="weight / what one person is asked to carry; rounded up",
    source=f"{COMMON_PRACTICE}; load constant of the NIOSH lifting equation, from memory",
    per=_weighed,
    trades=_WHOSE_IT_IS,
)
def carriers(facts: Facts, thing: Node) -> Worked:
    """How many people a thing takes."""
    weight = thing.si("weight")
    return Worked(
        float(
            math.ceil(
                over(weight, facts.job.limit("carry.each"), "load of one person", "kg") - 1e-9
            )
        ),
        given=(("weight", weight, "mass"),),
    )


@figure(
    "access.leaf_carriers",
    title="People to carry the leaf",
    dimension="count",
    formula="weight of the leaf / what one person is asked to carry; rounded up",
    source=f"{COMMON_PRACTICE}; load constant of the NIOSH lifting equation, from memory",
    per=lambda job: [
        d
        for d in job.things("door")
        if kinds.says(d, "leaf.width") and not kinds.says(d, "leaves")
        if not (kinds.says(d, "state") and str(getattr(d.find("state"), "value", "")) == "existing")
    ],
    trades=("doors", "glazing"),
)
def leaf_carriers(facts: Facts, door: Node) -> float:
    """How many people a leaf takes."""
    weight = facts.figures.value("openings.leaf_weight", door)
    return float(
        math.ceil(over(weight, facts.job.limit("carry.each"), "load of one person", "kg") - 1e-9)
    )
