"""How wide and high a thing on a wall is, from the facts of its kind."""

from __future__ import annotations

from collections.abc import Callable

from spec.job.job import Job
from spec.job.node import Node, Open
from spec.quantity import Quantity, Size

INCH = 0.0254
PLATE_WIDTH, PLATE_HEIGHT, GANG = 2.75 * INCH, 4.5 * INCH, 1.8125 * INCH
"""A cover plate and what each further gang adds [m]; sizes of common practice, no source."""
_PLATED = (
    "receptacle",
    "plate",
    "switch",
    "dimmer",
    "controller",
    "sensor",
    "push",
    "data",
    "intercom",
    "thermostat",
    "speaker",
    "keypad",
)


_POINTS = ("existing", "devices", "lights", "equipment", "fixtures")
"""Headings whose things may be set out by their middle alone: a pipe, a hook, a wall light."""
_FACES = ("window", "roof_window", "hatch", "shutters", "mirror", "picture", "screen", "panel")
"""Things of those headings that have a face: without a height they have no place."""

_USUAL = {
    "downlight": 4 * INCH,
    "spot": 3 * INCH,
    "pendant": 5 * INCH,
    "chandelier": 5 * INCH,
    "wall_light": 5 * INCH,
    "smoke_alarm": 5 * INCH,
    "sprinkler_head": 3 * INCH,
    "sensor": 3 * INCH,
    "camera": 3 * INCH,
    "speaker": 8 * INCH,
}
"""Across, of what is made in one usual size [m]: the opening of a downlight, the canopy of a
hanging light, the plate of an alarm, the escutcheon of a sprinkler. Common practice, no source."""
SIGN = 0.1
"""How large a thing on ceiling or floor is drawn whose size is unknown [m]; it takes no place."""
_SIZED = ("extent", "diameter", "width", "size")


def usual_extent(kind: str) -> float | None:
    """How far a kind reaches that is made in one usual size [m]; None where practice has none."""
    return _USUAL.get(kind)


def has_extent(thing: Node) -> bool:
    """Whether it is known how far a thing on a ceiling or floor reaches, by itself or by kind."""
    return thing.kind in _USUAL or any(thing.find(key) is not None for key in _SIZED)


def size_of(job: Job, thing: Node) -> tuple[float, float]:
    """Width and height on the wall's elevation [m]; raises `Open` where they are not decided."""
    of_kind = _BY_KIND.get(thing.kind)
    if of_kind is not None:
        return of_kind(job, thing)
    size = _sides(thing)
    if thing.given("width") or thing.given("height"):
        wide = thing.si("width") if thing.given("width") else size[0] if size else None
        high = thing.si("height") if thing.given("height") else size[1] if size else None
        if wide is not None and high is not None:
            return wide, high
        if wide is not None:
            return wide, height_of(thing)
    if size:
        return size[0], size[1]
    if thing.given("diameter"):
        diameter = thing.si("diameter")
        return diameter, diameter
    if thing.kind in _PLATED:
        gangs = max(len(thing.group("left_to_right")), 1)
        return PLATE_WIDTH + GANG * (gangs - 1), PLATE_HEIGHT
    if thing.heading in _POINTS and thing.find("center") is not None and thing.given("aff"):
        return 0.0, 0.0
    raise Open(f"{thing.address}.width")


def height_of(thing: Node) -> float:
    """Height [m]; 0 of what may be set out as a line: a rail, a pipe, a row of devices."""
    if thing.given("height"):
        return thing.si("height")
    if thing.heading not in _POINTS or thing.kind in _FACES:
        raise Open(f"{thing.address}.height")
    return 0.0


def _sides(thing: Node) -> tuple[float, ...]:
    for key in ("size", "cut_out", "body"):
        value = thing.quantity(key, None) if thing.find(key) is not None else None
        if isinstance(value, Size):
            return tuple(side.si for side in value.sides)
        if isinstance(value, Quantity):
            return (value.si, value.si)
    return ()


def _leaves(door: Node) -> tuple[float, float]:
    """Width and height of a door's one leaf, two like leaves or two that differ, with gaps [m]."""
    pair = door.group("leaves.left_to_right")
    if pair:
        wide = sum(leaf.si("width") for leaf in pair) + door.si("leaves.meeting", 0.0)
        wide += max(leaf.si("gap.sides", 0.0) for leaf in pair) * 2
        return wide, max(_leaf_height(leaf, "") for leaf in pair)
    count = door.count("leaf.count") if door.given("leaf.count") else 1
    wide = door.si("leaf.width") * count
    wide += door.si("leaf.gap.sides", 0.0) * 2 + door.si("leaf.gap.meeting", 0.0) * (count - 1)
    return wide, _leaf_height(door, "leaf.")


def _leaf_height(thing: Node, leaf: str) -> float:
    """Height with its gaps [m]; of a leaf whose head slopes, at its higher edge."""
    height = thing.find(f"{leaf}height")
    edges = height.children if height is not None else {}
    steps = [f"{leaf}height.{edge}" for edge in edges] or [f"{leaf}height"]
    high = max(thing.si(step) for step in steps)
    return high + thing.si(f"{leaf}gap.head", 0.0) + thing.si(f"{leaf}gap.bottom", 0.0)


def rough_opening(job: Job, door: Node) -> tuple[float, float]:
    """Rough opening of a framed door [m]: leaves, gaps, frame, lights beside and over it, shim.

    Where an opening is there already, or its size is given, that stands.
    """
    if door.given("width") and door.given("height"):
        return door.si("width"), door.si("height")
    given = door.quantity("rough_opening", None) if door.find("rough_opening") else None
    if isinstance(given, Size):
        return given.sides[0].si, given.sides[1].si
    wide, high = _leaves(door)
    if door.given("side_lights"):
        for side in ("left", "right"):
            if door.given(f"side_lights.{side}"):
                wide += door.si(f"side_lights.{side}") + door.si("frame.mullions", 0.0)
    if door.given("transom"):
        high += door.si("transom.height") + door.si("frame.mullions", 0.0)
    shim = door.si("frame.shim", 0.0)
    wide += 2 * (door.si("frame.jambs", 0.0) + shim)
    high += door.si("frame.head", 0.0) + shim
    return wide, high


def _arch(job: Job, arch: Node) -> tuple[float, float]:
    bottom = arch.si("bottom", 0.0)
    return arch.si("width"), arch.si("spring_aff") + arch.si("rise") - bottom


def _backing(job: Job, backing: Node) -> tuple[float, float]:
    """As wide as it says, as high as its member is deep where it lies flat along the wall."""
    wide = backing.si("width", 0.0)
    if backing.given("height"):
        return wide, backing.si("height")
    return wide, member_depth(backing.word("member", ""))


_ACTUAL = {"4": 3.5, "6": 5.5, "8": 7.25, "10": 9.25, "12": 11.25}
"""Dressed depth of dimension lumber [in] by its nominal one: American Softwood Lumber Standard
PS 20, table 3 (from memory)."""


def member_depth(member: str) -> float:
    """Dressed depth of the first lumber size named in a text, `2x8` [m]; 0 where none is."""
    for word in member.replace(",", " ").split():
        nominal = word.partition("x")[2]
        if word[:1].isdigit() and nominal in _ACTUAL:
            return _ACTUAL[nominal] * INCH
    return 0.0


def _sink(job: Job, sink: Node) -> tuple[float, float]:
    """As wide and as high as its bowl; its cut-out lies in the counter."""
    bowl = sink.quantity("bowl")
    return bowl.sides[0].si, bowl.sides[1].si


_BY_KIND: dict[str, Callable[[Job, Node], tuple[float, float]]] = {
    "sink": _sink,
    "door": rough_opening,
    "arch": _arch,
    "backing": _backing,
}
