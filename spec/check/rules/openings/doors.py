"""Doors of cooled rooms: glass that stays dry, seals, hinges, and a way out."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.derive.sheets import kinds
from spec.derive.sheets.surroundings import beyond
from spec.finding import Level
from spec.job.node import Open
from spec.place import plan
from spec.quantity import Quantity, show

COLD = """
surroundings: {hall: {summer: {temperature: 26 °C, humidity: 60 %}, winter: {temperature: 20 °C,
    humidity: 40 %}}}
rooms:
  wine_room:
    use: wine_storage
    climate: {temperature: 12 °C, humidity: 60 %}
    walls_clockwise:
      WB: {faces: hall, openings: {D1: {is: door, opens_into: hall, FACTS}}}
"""
LEAF = "leaf: {width: 32 in, height: 80 in, thickness: 2 in, material: white_oak, core: solid}"
_ROOM = """
rooms:
  wine_room:
    taped: {to: finish}
    height: 8 ft
    use: wine_storage
    walls_clockwise:
      WA: {length: 8 ft, openings: {D1: {is: door, PLACE, leaf: {width: 30 in, height: 80 in}}}}
      WB: {length: 6 ft}
      WC: {length: 8 ft}
      WD: {length: 6 ft}
"""


def kept(opening: Node) -> bool:
    """The opening is there already and stays."""
    return opening.word("state", "new") == "existing"


def cold(facts: Facts, opening: Node) -> Node | None:
    """The cooled room on one side of an opening, None where there is none."""
    wall = facts.places.wall_of(opening)
    if wall is None:
        return None
    names = {wall.room}
    partition = wall.find("partition")
    for other in facts.job.walls:
        link = other.find("partition")
        if partition is not None and link is not None and link.value == partition.value:
            names.add(other.room)
    rooms = (facts.job.thing(name) for name in sorted(names))
    return next((room for room in rooms if room is not None and kinds.is_cooled(room)), None)


@rule(
    "openings.locks-people-in",
    level=Level.ERROR,
    trades=("doors",),
    why="The door of a cold room opens from inside without a key, always.",
    each=("door",),
    bad=COLD.replace("FACTS", "lockset: {function: keyed both sides}"),
    good=COLD.replace("FACTS", "lockset: {function: passage}"),
)
def locks_people_in(facts: Facts, door: Node) -> Iterator[Said]:
    """The lock of a door to a cooled room needs a key from inside."""
    function = door.find("lockset.function")
    room = cold(facts, door)
    if function is not None and function.value == "keyed both sides" and room is not None:
        yield said(
            function,
            f"the lock of {door.key} is {function.written}: who is in {room.key} cannot get out "
            "without a key",
            "choose a function that is free from inside",
            room,
        )


@rule(
    "openings.no-bottom-seal",
    level=Level.ERROR,
    trades=("doors",),
    why="Cold air is heavy: it runs out under the leaf, and warm damp air comes in above it.",
    each=("door",),
    bad=COLD.replace("FACTS", "seals: {head: bulb, jambs: bulb, bottom: none, threshold: floor}"),
    good=COLD.replace(
        "FACTS", "seals: {head: bulb, jambs: bulb, bottom: drop_seal, threshold: floor}"
    ),
)
def no_bottom_seal(facts: Facts, door: Node) -> Iterator[Said]:
    """A side of the leaf of a cooled room's door has no seal."""
    room = cold(facts, door)
    seals = door.find("seals")
    if room is None or seals is None:
        return
    for side in ("head", "jambs", "bottom"):
        seal = seals.find(side)
        if seal is not None and seal.value == "none":
            yield said(
                seal,
                f"{door.key} to the cooled {room.key.replace('_', ' ')} has no seal at its {side}",
                f"choose a seal for the {side}",
                f"{room.address}.climate.temperature",
            )


@rule(
    "openings.gap-out-of-range",
    level=Level.ERROR,
    trades=("doors",),
    why="A gap that is too narrow binds in a damp summer; one that is too wide is not reached by "
    "its seal.",
    each=("door",),
    bad=COLD.replace("FACTS", "leaf: {gap: {sides: 1/8 in, head: 1/8 in, bottom: 1 in}}"),
    good=COLD.replace("FACTS", "leaf: {gap: {sides: 1/8 in, head: 1/8 in, bottom: 3/8 in}}"),
)
def gap_out_of_range(facts: Facts, door: Node) -> Iterator[Said]:
    """A gap round a leaf is outside what the house allows."""
    if door.container == "left_to_right":
        return
    for side, threshold in (
        ("sides", "leaf.side_gap"),
        ("head", "leaf.side_gap"),
        ("bottom", "leaf.bottom_gap"),
    ):
        gap = door.find(f"leaf.gap.{side}")
        if gap is None or not isinstance(gap.value, Quantity):
            continue
        least, most = facts.job.limits(threshold)
        if not least - 0.0005 <= gap.value.si <= most + 0.0005:
            limits = facts.job.threshold(threshold).written
            yield said(
                gap,
                f"the gap of {door.key} is {gap.written} at the {side}; the house keeps {limits}",
                "change the gap, or the leaf's size with it",
            )


@rule(
    "openings.too-few-hinges",
    level=Level.ERROR,
    trades=("doors",),
    why="A leaf on too few hinges sags until it drags on the floor and its seal stands off.",
    each=("door",),
    bad=COLD.replace("FACTS", f"{LEAF}, hinges: {{count: 2}}"),
    good=COLD.replace("FACTS", f"{LEAF}, hinges: {{count: 3}}"),
)
def too_few_hinges(facts: Facts, door: Node) -> Iterator[Said]:
    """A leaf has fewer hinges than its height asks for."""
    count = door.find("hinges.count")
    if count is None or not isinstance(count.value, int) or kept(door):
        return
    if facts.figures.get("openings.hinges_needed", door).value is None:
        return
    needed = facts.figures.value("openings.hinges_needed", door)
    if count.value < needed:
        yield said(
            count,
            f"{door.key} has {count.value} hinges for a leaf {door.text('leaf.height')} "
            "high; it takes "
            f"{needed:.0f}",
            f"write {needed:.0f} hinges, or choose a leaf that needs fewer",
            door.at("leaf.height"),
        )


@rule(
    "openings.hinges-too-weak",
    level=Level.ERROR,
    trades=("doors",),
    why="Hinges are rated for a leaf's weight; glass and solid wood are heavier than they look.",
    each=("door",),
    bad=COLD.replace(
        "FACTS",
        "leaf: {width: 32 in, height: 80 in, thickness: 2 in, weight: 180 lb}, hinges: "
        "{count: 3, leaf_most: 150 lb}",
    ),
    good=COLD.replace(
        "FACTS",
        "leaf: {width: 32 in, height: 80 in, thickness: 2 in, weight: 110 lb}, hinges: "
        "{count: 3, leaf_most: 150 lb}",
    ),
)
def hinges_too_weak(facts: Facts, door: Node) -> Iterator[Said]:
    """The hinges carry less than the leaf weighs, with the house's margin."""
    most = door.find("hinges.leaf_most")
    if most is None or most.value is None or kept(door):
        return
    reserve = facts.figures.value("openings.hinge_reserve", door)
    margin = facts.job.limit("hinge.margin")
    if reserve < margin:
        weight = facts.figures.value("openings.leaf_weight", door)
        yield said(
            most,
            f"the hinges of {door.key} carry a leaf of {most.written}, it weighs "
            f"{show(weight, 'mass', facts.job.system)}; the house keeps "
            f"{show(margin, 'percent', facts.job.system)} in reserve",
            "choose stronger hinges, or one more of them",
            f"{door.address}.leaf.thickness",
        )


@rule(
    "openings.opens-into-elsewhere",
    level=Level.ERROR,
    trades=("doors", "framing"),
    why="A leaf opens into one of the two rooms of its wall; anything else is the wrong door.",
    each=("door", "gate"),
    bad=COLD.replace("opens_into: hall, FACTS", "opens_into: attic").replace(
        "surroundings: {", "surroundings: {attic: {summer: {temperature: 40 °C}}, "
    ),
    good=COLD.replace("FACTS", "finish: F1").replace(", finish: F1", ""),
)
def opens_into_elsewhere(facts: Facts, opening: Node) -> Iterator[Said]:
    """A leaf opens into a place that is on neither side of its wall."""
    into = opening.find("opens_into")
    wall = facts.places.wall_of(opening)
    if into is None or into.value is None or wall is None:
        return
    try:
        far = beyond(facts, wall).key
    except Open:
        return
    if str(into.value) not in (wall.room, far) and facts.job.thing(str(into.value)) is not None:
        partition = wall.find("partition")
        if partition is not None:
            return
        yield said(
            into,
            f"{opening.key} opens into {into.written}, but its wall stands between "
            f"{wall.room} and {far}",
            f"write `opens_into: {wall.room}` or `opens_into: {far}`",
            wall.find("faces") or wall,
        )


@rule(
    "openings.nib-too-small",
    level=Level.ERROR,
    trades=("framing", "doors"),
    why="A door needs a piece of wall beside it for its casing, its hinge and the hand at "
    "its handle.",
    each=("door",),
    bad=_ROOM.replace("PLACE", "left: 1 in"),
    good=_ROOM.replace("PLACE", "left: 12 in"),
)
def nib_too_small(facts: Facts, door: Node) -> Iterator[Said]:
    """Less wall is left between the leaf and a corner than the house keeps."""
    wall = facts.places.wall_of(door)
    if wall is None or kept(door) or door.container == "left_to_right":
        return
    least = facts.job.limit("door.nib")
    frame = door.si("frame.jambs", 0.0) + door.si("frame.shim", 0.0)
    for side, left, right in plan.sides(facts.places, door):
        for corner, free in (("left", left), ("right", facts.places.length(side) - right)):
            if -frame < free and free + frame < least - 0.0005:
                system = facts.job.system
                yield said(
                    door,
                    f"{door.key} leaves {show(free + frame, 'length', system)} between "
                    "its leaf and the "
                    f"{corner} corner of {side.key} in {side.room}; the house keeps "
                    f"{show(least, 'length', system)}",
                    "move the door, or make it narrower",
                    side,
                )
