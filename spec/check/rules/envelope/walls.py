"""Walls, their two sides, and what stands on them."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.finding import Level
from spec.job.node import Open
from spec.quantity import show

_SLACK = 0.002
"""[m] What a rectangle may reach over the edge of its wall by rounding of the tape."""
_TWO = """
rooms:
  wine_room: {walls_clockwise: {WB: {faces: FACES}}}
  tasting_room: {walls_clockwise: {TD: {back_of: WB}}}
surroundings: {hall: {summer: {temperature: 24 °C}}}
"""
_ON_WALL = """
rooms:
  tasting_room:
    taped: {to: finish}
    height: 8 ft
    walls_clockwise:
      TA: {length: 8 ft, holes: {H1: {PLACE, size: 2 in}}}
      TB: {length: 6 ft}
      TC: {length: 8 ft}
      TD: {length: 6 ft}
"""
_HUNG = """
rooms:
  tasting_room:
    taped: {to: finish}
    height: 8 ft
    walls_clockwise:
      TA:
        length: 8 ft
        fixtures: {FX1: {is: mirror, center: 4 ft, bottom: 40 in, width: 30 in, height: 40 in,
            weight: 40 lb}}
        backing: {BK1: {for: [FX1], center: PLACE, width: 32 in, aff: 72 in, member: 2x6}}
      TB: {length: 6 ft}
      TC: {length: 8 ft}
      TD: {length: 6 ft}
"""


@rule(
    "envelope.sides-disagree",
    level=Level.ERROR,
    trades=("framing",),
    why="A wall shared by two rooms is one wall: each side has to know what lies on the other.",
    bad=_TWO.replace("FACES", "hall"),
    good=_TWO.replace("FACES", "tasting_room"),
)
def sides_disagree(facts: Facts) -> Iterator[Said]:
    """A wall is the back of a wall that says it faces something else."""
    for wall in facts.job.walls:
        back = wall.find("back_of")
        front = facts.job.thing(str(back.value)) if back is not None else None
        faces = front.find("faces") if front is not None else None
        if back is None or front is None or faces is None or faces.value is None:
            continue
        if str(faces.value) != wall.room:
            yield said(
                back,
                f"{wall.key} in {wall.room} is said to be the back of {front.key}, which faces "
                f"{faces.written}",
                f"name the wall that faces {wall.room}, or correct `faces` of {front.key}",
                faces,
            )


@rule(
    "envelope.not-lined-up",
    level=Level.ERROR,
    silence=True,
    trades=("framing", "doors", "electrical"),
    why="Two rooms meet in the openings of their wall: without one line that both know, each "
    "side is "
    "set out from its own corner.",
    bad=_TWO.replace("FACES", "tasting_room, openings: {D1: {is: door}}"),
    good=_TWO.replace("FACES", "tasting_room, openings: {D1: {is: door}}").replace(
        "back_of: WB", "back_of: WB, lines_up: {D1: 5 ft}"
    ),
)
def not_lined_up(facts: Facts) -> Iterator[Said]:
    """The back of a wall with openings does not say where one of them stands on its side."""
    for wall in facts.job.walls:
        if wall.find("back_of") is None:
            continue
        given = wall.find("lines_up")
        for opening in facts.places.openings(wall):
            if given is None or given.find(opening.key) is None:
                yield said(
                    f"{wall.address}.lines_up.{opening.key}",
                    f"nothing says where {opening.key} stands on {wall.key}, the other "
                    "side of its wall",
                    f"write `lines_up: {{{opening.key}: ...}}`: its middle from the left "
                    f"corner of {wall.key}",
                    opening,
                    f"{wall.address}.lines_up",
                    wall,
                )


@rule(
    "envelope.outside-its-wall",
    level=Level.ERROR,
    trades=("framing", "electrical", "millwork"),
    why="A place that lies beyond the corner or the ceiling was measured from the other end, or "
    "typed wrong.",
    each=("wall",),
    bad=_ON_WALL.replace("PLACE", "center: 9 ft, aff: 40 in"),
    good=_ON_WALL.replace("PLACE", "center: 7 ft, aff: 40 in"),
)
def outside_its_wall(facts: Facts, wall: Node) -> Iterator[Said]:
    """A thing reaches past a corner of its wall, above its ceiling or below its floor."""
    if not wall.children or (wall.find("back_of") is not None and not wall.find("length")):
        return
    room = facts.places.room(wall.room)
    length = room.length(wall.key)
    system = facts.job.system
    for thing in facts.places.on(wall):
        if thing.node.heading in ("millwork", "existing") or thing.node.find("inside") is not None:
            continue
        rect = thing.rect
        height = min(room.height_at(wall.key, rect.left), room.height_at(wall.key, rect.right))
        over = max(-rect.left, rect.right - length)
        high = max(-rect.bottom, rect.top - height)
        if over <= _SLACK and high <= _SLACK:
            continue
        long = over > _SLACK
        what = "end of its wall" if long else "height of its wall"
        yield said(
            thing.node,
            f"{thing.node.key} reaches {show(over if long else high, 'length', system)} past the "
            f"{what}: {wall.key} is {show(length, 'length', system)} long and "
            f"{show(height, 'length', system)} high",
            "correct its place; places are from the left corner, seen from inside, and "
            "up from the floor",
            f"{wall.address}.length" if long else f"{wall.room}.height",
        )


@rule(
    "envelope.not-placed",
    level=Level.ERROR,
    silence=True,
    trades=("framing", "electrical", "refrigeration", "millwork"),
    why="A thing that has no place on its wall, ceiling or floor is in no drawing, and is "
    "put where "
    "it is easiest.",
    bad=_ON_WALL.replace("PLACE", "aff: 40 in"),
    good=_ON_WALL.replace("PLACE", "center: 4 ft, aff: 40 in"),
)
def not_placed(facts: Facts) -> Iterator[Said]:
    """A thing stands on a surface and something of its place is missing."""
    for thing in facts.job.everything:
        if not _has_a_place(thing):
            continue
        wall = facts.places.wall_of(thing)
        try:
            if wall is not None:
                rect = facts.places.rect(thing).rect
                if thing.heading == "backing" and rect.height <= 0:
                    raise Open(f"{thing.address}.top")
            else:
                facts.places.plan(thing)
                _two_walls(thing)
                if (thing.heading in _FLAT or thing.kind in _OUTLETS) and not any(
                    thing.find(key) is not None for key in _EXTENT
                ):
                    raise Open(f"{thing.address}.extent")
        except Open as missing:
            if facts.job.state(missing.address) not in ("missing", "decided"):
                continue
            if not missing.address.startswith(f"{thing.address}."):
                continue
            if missing.address.removeprefix(f"{thing.address}.").split(".")[0] in _SIZES:
                if wall is None or any(thing.find(key) is not None for key in _UPRIGHT):
                    continue
                yield _nowhere(facts, thing, f"{thing.address}.aff")
                continue
            yield _nowhere(facts, thing, missing.address)


def _two_walls(thing: Node) -> None:
    """Raise `Open` at a place or an extent on a ceiling or floor that names one wall only."""
    for key in ("center", "centers", "extent", "edge"):
        place = thing.find(key)
        if place is not None and len(place.children) == 1:
            raise Open(place.address)


_ELSEWHERE = (
    "route",
    "where",
    "inside",
    "at",
    "along",
    "over",
    "covers",
    "pieces",
    "left_to_right",
    "boxed",
)
_FLAT = ("holes", "equipment", "backing", "millwork")
_OUTLETS = ("supply_register", "return_register")
_EXTENT = ("extent", "size", "diameter", "width", "covers")
_UPRIGHT = ("aff", "bottom", "top", "rail_aff", "covers")
_SIZES = ("width", "height", "size", "depth", "leaf", "frame", "diameter", "rise", "spring_aff")
_PLACED = (
    "openings",
    "holes",
    "existing",
    "devices",
    "lights",
    "equipment",
    "backing",
    "fixtures",
    "millwork",
)


def _has_a_place(thing: Node) -> bool:
    if not thing.surface or thing.container not in _PLACED or not thing.children:
        return False
    flat = thing.surface.endswith((".ceiling", ".floor"))
    return not any(
        thing.find(key) is not None for key in _ELSEWHERE if not (flat and key == "over")
    )


def _nowhere(facts: Facts, thing: Node, address: str) -> Said:
    room = facts.job.thing(thing.room)
    walls = [wall.key for wall in room.group("walls_clockwise")] if room is not None else []
    node = facts.job.find(address)
    if node is not None and node.children:
        named = [key for key in node.children if key in walls]
        rest = [wall for wall in walls if wall not in named]
        message = (
            f"`{node.key}` of {thing.key} names {', '.join(named) or 'no wall'}; it needs "
            "two walls at "
            f"an angle, one of {', '.join(rest)} too"
        )
        cure = (
            f"write `{node.key}: {{{walls[0]}: ..., {walls[-1]}: ...}}`"
            if walls
            else "name two walls"
        )
        return said(node, message, cure)
    key = address.removeprefix(f"{thing.address}.")
    return said(
        address,
        f"nothing says where {thing.key} is on {thing.surface}: `{key}` is missing",
        f"write `{key}` of {thing.key}",
        thing,
        *(f"{thing.address}.{other}" for other in _INSTEAD.get(key, ())),
    )


_INSTEAD = {
    "left": ("center", "right", "centers"),
    "aff": ("bottom", "top"),
    "center": ("edge", "centers"),
}


@rule(
    "envelope.backing-misses",
    level=Level.ERROR,
    trades=("framing", "millwork"),
    why="Backing beside what it is to carry is found with the screw in the air.",
    each=("backing",),
    bad=_HUNG.replace("PLACE", "1 ft"),
    good=_HUNG.replace("PLACE", "4 ft"),
)
def backing_misses(facts: Facts, backing: Node) -> Iterator[Said]:
    """A backing does not lie behind the thing that it is for."""
    wall = facts.places.wall_of(backing)
    for name in backing.words("for", ()):
        thing = facts.job.thing(name)
        if thing is None or facts.places.wall_of(thing) is not wall or wall is None:
            continue
        behind, hung = facts.places.rect(backing).rect, facts.places.rect(thing).rect
        wide, high = hung.overlap(behind)
        if wide < 0 or high < 0:
            system = facts.job.system
            yield said(
                backing,
                f"{backing.key} is for {name}, but lies from "
                f"{show(behind.left, 'length', system)} to "
                f"{show(behind.right, 'length', system)} and "
                f"{show(behind.bottom, 'length', system)} to "
                f"{show(behind.top, 'length', system)} high; {name} is at "
                f"{show(hung.left, 'length', system)} to {show(hung.right, 'length', system)}, "
                f"{show(hung.bottom, 'length', system)} to {show(hung.top, 'length', system)} high",
                f"move {backing.key} behind the fixings of {name}",
                thing,
            )


_HEAVY = ("mirror", "picture", "screen", "rail", "fold_table", "ladder", "evaporator", "gate")


@rule(
    "envelope.no-backing",
    level=Level.ERROR,
    silence=True,
    trades=("framing", "millwork"),
    why="Board carries nothing: what hangs on a wall hangs on wood that somebody put there before "
    "the board.",
    bad=_HUNG.replace("for: [FX1]", "for: []")
    .replace("for: []", "for: [TA]")
    .replace("PLACE", "1 ft"),
    good=_HUNG.replace("PLACE", "4 ft"),
)
def no_backing(facts: Facts) -> Iterator[Said]:
    """A thing that hangs has no backing, and nothing else says how it is held."""
    carried = {name for b in facts.job.things("backing") for name in b.words("for", ())}
    for thing in facts.job.everything:
        if thing.kind not in _HEAVY or not thing.surface or thing.key in carried:
            continue
        if any(thing.find(k) is not None for k in ("hung_from", "fixing", "action", "where")):
            continue
        yield said(
            thing,
            f"{thing.key} hangs on {thing.surface} and no backing is for it",
            f"add a backing with `for: [{thing.key}]` at its height, or say how it is fixed",
            f"{thing.surface}.backing",
        )
