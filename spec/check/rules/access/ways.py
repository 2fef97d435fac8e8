"""The way in: what has to come through which door, and what is fixed to whose wall."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.check.worked import worked
from spec.finding import Level
from spec.quantity import Quantity, Size, show

_APPLIANCES = ("refrigerator", "wine_refrigerator", "freezer", "ice_maker")

_HEARD = 0.5
"""[dB] Makers rate to whole decibels: less is no difference."""
_NOISE = """
noise: {NS1: {where: tasting_room, most: MOST, while: [EV1, EV2]}}
rooms:
  tasting_room: {use: tasting}
  wine_room: {use: wine_storage, ceiling: {equipment: {EV1: {is: evaporator, sound: 41 dB},
    EV2: {is: evaporator, sound: 41 dB}}}}
"""


def _sides(node: Node) -> tuple[float, ...]:
    value = node.value
    return tuple(side.si for side in value.sides) if isinstance(value, Size) else ()


def _pieces(facts: Facts) -> Iterator[tuple[Node, tuple[float, ...]]]:
    """What comes in whole: the leaf that says its size, with its sides [m]."""
    for door in facts.job.things("door"):
        if door.word("state", "new") != "existing" and door.find("leaf.width") is not None:
            sizes = (door.si(f"leaf.{k}") for k in ("width", "height", "thickness"))
            yield door.at("leaf.width"), tuple(sizes)
    for appliance in facts.job.things(*_APPLIANCES):
        for key in ("body", "cut_out"):
            leaf = appliance.find(key)
            if leaf is not None and _sides(leaf):
                yield leaf, _sides(leaf)
                break


@rule(
    "access.piece-does-not-pass",
    level=Level.ERROR,
    trades=("doors", "glazing", "millwork", "appliances"),
    why="The largest piece is turned through every door on its way before it is ordered, not when "
    "it leans outside.",
    bad="""
access: {doors: {house_door: {clear: 30 in x 79 in}}}
rooms:
  wine_room:
    walls_clockwise:
      WA: {openings: {D1: {is: door, leaf: {width: 36 in, height: 80 in, thickness: 2 in}}}}
""",
    good="""
access: {doors: {house_door: {clear: 36 in x 79 in}}}
rooms:
  wine_room:
    walls_clockwise:
      WA: {openings: {D1: {is: door, leaf: {width: 32 in, height: 80 in, thickness: 2 in}}}}
""",
)
def piece_does_not_pass(facts: Facts) -> Iterator[Said]:
    """A leaf or an appliance is wider than a door on the way in, turned as well as it can be."""
    ways = facts.job.find("access.doors")
    if ways is None:
        return
    room = facts.job.limit("carry.clearance")
    system = facts.job.system
    for way in ways.entries():
        clear = way.find("clear")
        if clear is None or not _sides(clear):
            continue
        narrow = min(_sides(clear))
        for leaf, sides in _pieces(facts):
            middle = sorted(sides)[-2]
            if middle + room > narrow:
                yield said(
                    clear,
                    f"{way.key.replace('_', ' ')} is {show(narrow, 'length', system)} clear; "
                    f"{leaf.address.split('.')[0]} needs {show(middle, 'length', system)} and "
                    f"{show(room, 'length', system)} to carry it",
                    "find another way in, take the leaf or the frame off, or have it "
                    "made in pieces",
                    leaf,
                )


@rule(
    "access.way-in-differs",
    level=Level.ERROR,
    trades=("doors", "glazing", "millwork", "appliances"),
    why="Each piece is held against what it passes: a door that is not on the list is met on "
    "the day.",
    bad="access: {way_in: [gate, hall], doors: {gate: {clear: 3 ft x 7 ft}, porch: {clear: 3 "
    "ft x 7 ft}}}",
    good="access: {way_in: [gate, porch], doors: {gate: {clear: 3 ft x 7 ft}, porch: {clear: "
    "3 ft x 7 ft}}}",
)
def way_in_differs(facts: Facts) -> Iterator[Said]:
    """The way in names a door or corridor that is not described, or leaves one out."""
    access = facts.job.find("access")
    way = access.find("way_in") if access is not None else None
    if access is None or way is None or way.value is None:
        return
    passed = access.words("way_in")
    described: dict[str, str] = {}
    for group in ("doors", "corridors"):
        entries = access.find(group)
        for entry in entries.children.values() if entries is not None else ():
            described[entry.key] = entry.address
    for key in ("lift", "stair", "facade"):
        one = access.find(key)
        if one is not None and one.children:
            described[key] = one.address
    for name in (
        *(n for n in passed if n not in described),
        *(n for n in described if n not in passed),
    ):
        there = name in described
        yield said(
            way,
            f"{name} is {'described, but not' if there else 'on the way in, but not described'}"
            f"{' on the way in' if there else ''}",
            f"{'add it to `way_in`' if there else 'describe it under doors or corridors'}",
            described.get(name, f"access.doors.{name}"),
            access,
        )


@rule(
    "access.too-heavy-for-lift",
    level=Level.ERROR,
    trades=("glazing", "doors", "millwork", "appliances", "refrigeration", "stone"),
    why="A lift that is loaded beyond its plate stops between floors, with the glass in it.",
    bad="""
access: {lift: {load: 80 kg}}
rooms:
  tasting_room:
    walls_clockwise: {TA: {appliances: {RF1: {is: refrigerator, weight: 95 kg}}}}
""",
    good="""
access: {lift: {load: 400 kg}}
rooms:
  tasting_room:
    walls_clockwise: {TA: {appliances: {RF1: {is: refrigerator, weight: 95 kg}}}}
""",
)
def too_heavy_for_lift(facts: Facts) -> Iterator[Said]:
    """One piece weighs more than the lift carries."""
    load = facts.job.find("access.lift.load")
    if load is None or not isinstance(load.value, Quantity):
        return
    for thing in facts.job.everything:
        for path in ("weight", "leaf.weight"):
            weight = thing.find(path)
            if weight is None or not isinstance(weight.value, Quantity):
                continue
            if weight.value.dimension == "mass" and weight.value.si > load.value.si:
                yield said(
                    load,
                    f"the lift carries {load.written}, {thing.key} weighs {weight.written}",
                    "carry it up the stair or over the facade, and say so under `access`",
                    weight,
                )


@rule(
    "access.fixing-too-deep",
    level=Level.ERROR,
    trades=("framing", "glazing", "millwork"),
    why="What is fixed deeper than the neighbor allowed comes out on the neighbor's side.",
    bad="""
access: {neighbors: {flat_2: {shares: FN, fixing_depth: 50 mm}}}
rooms: {wine_room: {walls_clockwise: {FN: {deepest_fixing: 60 mm}}}}
""",
    good="""
access: {neighbors: {flat_2: {shares: FN, fixing_depth: 50 mm}}}
rooms: {wine_room: {walls_clockwise: {FN: {deepest_fixing: 40 mm}}}}
""",
)
def fixing_too_deep(facts: Facts) -> Iterator[Said]:
    """A shared wall may be drilled deeper than its neighbor allowed."""
    neighbors = facts.job.find("access.neighbors")
    for neighbor in neighbors.entries() if neighbors is not None else ():
        allowed = neighbor.find("fixing_depth")
        shared = neighbor.find("shares")
        wall = facts.job.thing(str(shared.value)) if shared is not None else None
        if allowed is None or not isinstance(allowed.value, Quantity) or wall is None:
            continue
        said_depths = [wall.find("deepest_fixing")]
        said_depths += [thing.find("no_screws") for thing in wall.group("existing")]
        for depth in said_depths:
            if depth is None or not isinstance(depth.value, Quantity):
                continue
            if depth.value.si > allowed.value.si:
                yield said(
                    depth,
                    f"{depth.address} allows {depth.written}, the neighbor allows "
                    f"{allowed.written} "
                    f"in {wall.key}",
                    f"fix no deeper than {allowed.written}, or ask the neighbor again",
                    allowed,
                )


@rule(
    "access.datum-on-nothing",
    level=Level.ERROR,
    trades=(),
    why="The line from which every height is taken is looked for where the paper says it is.",
    bad="""
datum: {zero: the floor, line: {above: 48 in, marked_on: [WE]}}
rooms: {wine_room: {walls_clockwise: {WA: {length: 9 ft}}}}
""",
    good="""
datum: {zero: the floor, line: {above: 48 in, marked_on: [WA]}}
rooms: {wine_room: {walls_clockwise: {WA: {length: 9 ft}}}}
""",
)
def datum_on_nothing(facts: Facts) -> Iterator[Said]:
    """The datum line is marked on a wall that the job does not have."""
    line = facts.job.find("datum.line")
    if line is None or line.find("marked_on") is None:
        return
    for where in line.words("marked_on"):
        if where.isupper() and " " not in where and facts.job.thing(where) is None:
            yield said(
                line.at("marked_on"),
                f"the line is marked on {where}, but no wall has this mark",
                "name the walls on which it is drawn",
            )


@rule(
    "access.louder-than-promised",
    level=Level.ERROR,
    trades=("refrigeration",),
    why="Noise is promised at a place and an hour, for all that runs then: two machines that are "
    "equally loud are 3 dB louder than one.",
    source="sum of levels by energy, ISO 9613-2 eq. 5 in its simplest form; cited from memory",
    bad=_NOISE.replace("MOST", "43 dB"),
    good=_NOISE.replace("MOST", "45 dB"),
)
def louder_than_promised(facts: Facts) -> Iterator[Said]:
    """The machines of a promise that stand in rooms of the job are together louder than it."""
    for limit, level in worked(facts, "cooling.sound"):
        parts = facts.figures.get("cooling.sound", limit).parts
        loud = [m for part in parts if (m := facts.job.thing(part.label)) is not None and m.room]
        if not loud or not limit.at("most").known or level <= limit.si("most") + _HEARD:
            continue
        alone = f"{loud[0].key} alone makes" if len(loud) == 1 else f"{_all(loud)} together make"
        yield said(
            limit.at("most"),
            f"{limit.key} promises {limit.text('most')} at most, {alone} "
            f"{show(level, 'sound', facts.job.system)}",
            "choose quieter machines, put one elsewhere, or promise what they keep",
            *(machine.at("sound") for machine in loud),
        )


def _all(things: list[Node]) -> str:
    names = [thing.key for thing in things]
    return f"{', '.join(names[:-1])} and {names[-1]}"
