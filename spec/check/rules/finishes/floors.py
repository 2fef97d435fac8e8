"""Floors: where they stop, on which level, on how dry a slab."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.check.rules.finishes.surfaces import GOOD
from spec.derive.sheets import kinds
from spec.derive.sheets.surroundings import beyond
from spec.derive.sheets.wood_movement import floor_of
from spec.finding import Level
from spec.job.finishes import finish_at
from spec.job.node import Open
from spec.place.entries import begins_at_floor
from spec.quantity import Quantity, show

_OAK = """
finishes: {F1: {is: wood_floor, material: white_oak, fixed: floating, moisture: 6 % to 8 %,
    gap: GAP}}
rooms:
  tasting_room:
    climate: {temperature: 22 °C, humidity: 60 %}
    taped: {to: finish}
    height: 8 ft
    finishes: {floor: F1}
    walls_clockwise: {TA: {length: 16 ft}, TB: {length: 12 ft}, TC: {length: 16 ft},
        TD: {length: 12 ft}}
    floor: {level: 0}
"""
_BONDED = ("tile", "wood_floor", "stone")


@rule(
    "finishes.floor-stops-nowhere",
    level=Level.ERROR,
    silence=True,
    trades=("flooring",),
    why="A floor that goes on into the next room stops on a line that somebody draws, or where the "
    "floor layer's day ends.",
    bad=GOOD.replace(
        "stops: {O1: {line: face of the arch, meets: stone, strip: bronze}}", "level: 0"
    ),
    good=GOOD,
)
def floor_stops_nowhere(facts: Facts) -> Iterator[Said]:
    """No floor says on which line it stops in a door or an opening that one walks through."""
    stops: set[str] = set()
    for floor in kinds.surfaces(facts.job):
        if floor.key == "floor" and floor.find("stops") is not None:
            stops |= set(floor.at("stops").children)
    for wall in facts.job.walls:
        for opening in wall.group("openings"):
            if opening.kind not in ("door", "arch", "cased_opening", "glass_front"):
                continue
            if opening.word("state", "new") == "existing" or not begins_at_floor(opening):
                continue
            partition = wall.word("partition", "")
            if opening.key in stops or partition in stops or wall.key in stops:
                continue
            yield said(
                opening,
                f"no floor says where it stops in {opening.key}",
                f"write under `floor.stops` of {wall.room}: `{opening.key}: "
                f"{{line: ..., meets: ..., "
                "strip: ...}`",
                f"{wall.room}.floor.stops",
                f"{wall.room}.floor.stops.{opening.key}",
            )


@rule(
    "finishes.step-at-opening",
    level=Level.ERROR,
    trades=("flooring", "doors"),
    why="A step that no drawing shows is stumbled over, and the door does not close over it.",
    bad="""
rooms:
  wine_room: {floor: {level: 0}, walls_clockwise: {WB: {faces: tasting_room,
      openings: {O1: {is: arch}}}}}
  tasting_room: {floor: {level: -1 in}}
""",
    good="""
rooms:
  wine_room: {floor: {level: 0}, walls_clockwise: {WB: {faces: tasting_room,
      openings: {O1: {is: arch}}}}}
  tasting_room: {floor: {level: 0}}
""",
)
def step_at_opening(facts: Facts) -> Iterator[Said]:
    """The finished floors on both sides of an opening differ by more than the house's step."""
    most = facts.job.limit("floor.step")
    for wall in facts.job.walls:
        if not any(
            o.kind in ("door", "arch", "cased_opening", "gate") and begins_at_floor(o)
            for o in wall.group("openings")
        ):
            continue
        try:
            far = beyond(facts, wall)
        except Open:
            continue
        here, there = _level(facts, wall.room), _level(facts, far.key)
        if here is None or there is None or abs(here[1] - there[1]) <= most + 0.0002:
            continue
        if _drawn(facts, wall, far.key, abs(here[1] - there[1])):
            continue
        step = show(abs(here[1] - there[1]), "length", facts.job.system)
        yield said(
            there[0],
            f"the floors of {wall.room} ({here[0].written}) and {far.key} "
            f"({there[0].written}) differ by "
            f"{step} where one walks through {wall.key}",
            "bring them level, or write the `step` of its strip or ramp under `stops`",
            here[0],
        )


def _drawn(facts: Facts, wall: Node, beyond_it: str, step: float) -> bool:
    """Whether a stop of either floor at an opening of the wall says a step of this height."""
    for name in (wall.room, beyond_it):
        room = facts.job.thing(name)
        for opening in wall.group("openings"):
            stop = room.find(f"floor.stops.{opening.key}.step") if room is not None else None
            if stop is not None and isinstance(stop.value, Quantity):
                return abs(abs(stop.value.si) - step) <= 0.0015
    return False


def _level(facts: Facts, name: str) -> tuple[Node, float] | None:
    room = facts.job.thing(name)
    level = room.find("floor.level") if room is not None and room.kind == "room" else None
    if level is None:
        return None
    same = level.find("same_as")
    if same is not None and same.value is not None:
        return _level(facts, str(same.value)) if str(same.value) != name else None
    if isinstance(level.value, Quantity):
        return level, level.value.si
    return None


@rule(
    "finishes.slab-too-wet",
    level=Level.ERROR,
    trades=("flooring",),
    why="Water that rises out of a slab lifts tile, turns adhesive to soup and blackens wood.",
    source="ASTM F2170, relative humidity in concrete; limit of the house, cited from memory",
    bad="""
finishes: {F1: {is: tile, material: limestone}}
readings: {RD1: {of: wine_room.floor, slab_humidity: 88 %}}
rooms: {wine_room: {finishes: {floor: F1}, floor: {structure: slab_on_ground}}}
""",
    good="""
finishes: {F1: {is: tile, material: limestone}}
readings: {RD1: {of: wine_room.floor, slab_humidity: 71 %}}
rooms: {wine_room: {finishes: {floor: F1}, floor: {structure: slab_on_ground}}}
""",
)
def slab_too_wet(facts: Facts) -> Iterator[Said]:
    """A slab under a bonded floor was read above the house's limit."""
    most = facts.job.threshold("slab.most_humidity")
    readings = facts.job.find("readings")
    for reading in readings.entries() if readings is not None else ():
        wet = reading.find("slab_humidity")
        of = reading.find("of")
        floor = facts.job.find(str(of.value)) if of is not None and of.value else None
        if wet is None or floor is None or not isinstance(wet.value, Quantity):
            continue
        leaf = finish_at(facts.job, floor, "floor")
        finish = facts.job.thing(str(leaf.value)) if leaf is not None else None
        if finish is not None and finish.kind in _BONDED and wet.value.si > most.si:
            yield said(
                wet,
                f"{reading.key} found {wet.written} in the slab of {floor.address}; under "
                f"{finish.key} the house takes {most.written} at most",
                "let it dry and read again, or lay a membrane that its maker warrants for it",
                leaf or floor,
                floor,
            )


@rule(
    "finishes.floor-has-no-room",
    level=Level.WARNING,
    trades=("flooring", "millwork"),
    why="A floor of wood that reaches the walls lifts in the middle in its first damp summer, or "
    "presses the base off.",
    source="Wood Handbook FPL-GTR-282 ch. 13",
    each=("room",),
    bad=_OAK.replace("GAP", "1/8 in"),
    good=_OAK.replace("GAP", "2 in"),
)
def floor_has_no_room(facts: Facts, room: Node) -> Iterator[Said]:
    """A floor of wood that is not glued swells more than is left free at the walls."""
    finish = floor_of(facts.job, room)
    gap = finish.find("gap") if finish is not None else None
    if finish is None or gap is None or not isinstance(gap.value, Quantity):
        return
    if "glue" in finish.word("fixed", ""):
        return
    swells, system = facts.figures.value("finishes.floor_swells", room), facts.job.system
    if swells > gap.value.si:
        yield said(
            gap,
            f"{finish.key} swells {show(swells, 'length', system)} to each side in "
            f"{room.key.replace('_', ' ')}; {gap.written} are free at the walls",
            "leave more, or glue it down",
            room,
        )
