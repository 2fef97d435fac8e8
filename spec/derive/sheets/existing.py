"""What is there now: areas that come out, and what new work would cover."""

from __future__ import annotations

from spec.derive.figure import Facts, Part, Worked, figure
from spec.derive.sheets import build_up, kinds
from spec.job.job import Job
from spec.job.node import Node, Open
from spec.place.shapes import Rect
from spec.place.things import is_placed

_POINT = 2.0 * 0.0254
_PLATED = ("receptacle", "switch", "alarm", "intercom", "thermostat", "junction_box")

_COVERINGS = (
    "vinyl_tile",
    "floor_tile",
    "parquet",
    "carpet",
    "plank_floor",
    "screed",
    "wallpaper",
    "wall_tile",
    "paneling",
    "ceiling_board",
    "old_plaster",
)


def _surface(job: Job, thing: Node) -> Node | None:
    return job.find(thing.surface) if thing.surface else None


def _whole(job: Job) -> list[Node]:
    """Coverings of a whole wall, ceiling or floor of a room that something is done to."""
    found = []
    for thing in job.things(*_COVERINGS):
        covers, surface = thing.find("covers"), _surface(job, thing)
        whole = covers is not None and covers.value == "all"
        if whole and surface is not None and surface.room and thing.find("action") is not None:
            found.append(thing)
    return found


@figure(
    "existing.area",
    title="Area of what is there",
    dimension="area",
    formula="area of the surface that it covers",
    source="geometry",
    per=_whole,
    trades=("demolition",),
)
def area(facts: Facts, thing: Node) -> float:
    """Area of a covering that takes up a whole surface."""
    surface = _surface(facts.job, thing)
    if surface is None:
        raise Open(f"{thing.address}.where")
    return build_up.area(facts, surface)


def _on_walls(job: Job) -> list[Node]:
    found = []
    for wall in job.walls:
        found += [t for t in wall.group("existing") if is_placed(t) and not _across(t)]
    return found


def _across(thing: Node) -> bool:
    """A thing in the whole wall, like its reinforcement: everything is in front of it."""
    covers = thing.find("covers")
    return covers is not None and covers.value == "all"


def outline(facts: Facts, thing: Node) -> Rect:
    """The rectangle of something on a wall; 2 in (51 mm) square where only its middle is known."""
    sized = any(kinds.says(thing, key) for key in ("width", "height", "size", "diameter"))
    plated = thing.kind in _PLATED
    wall = facts.places.wall_of(thing)
    if sized or plated or wall is None or not kinds.says(thing, "aff"):
        return facts.places.rect(thing).rect
    middle = thing.si("aff")
    if kinds.says(thing, "center"):
        across = thing.si("center")
    elif kinds.says(thing, "left"):
        across = thing.si("left")
    else:
        across = facts.places.length(wall) - thing.si("right")
    return Rect(across - _POINT / 2.0, middle - _POINT / 2.0, _POINT, _POINT)


@figure(
    "existing.covered_by",
    title="New work that would cover it",
    dimension="count",
    formula='"millwork, backing and fixtures whose rectangle meets its own on the wall"',
    source="geometry",
    per=_on_walls,
    trades=("demolition", "millwork"),
)
def covered_by(facts: Facts, thing: Node) -> Worked:
    """How many new things lie in front of something that is there now; the parts name them."""
    wall = facts.places.wall_of(thing)
    if wall is None:
        raise Open(f"{thing.address}.left")
    own = outline(facts, thing)
    parts = tuple(
        Part(other.node.key, 1.0, other.node.address)
        for other in facts.places.on(wall)
        if other.node.heading in ("millwork", "fixtures", "appliances", "equipment")
        and other.rect.meets(own)
    )
    remark = ", ".join(part.label for part in parts)
    return Worked(float(len(parts)), parts, remark=remark)


@figure(
    "existing.to_carry_out",
    title="Weight to carry out",
    dimension="mass",
    formula="weight of each x how many",
    source="as written",
    per=lambda job: [
        t for t in job.everything if t.heading == "existing" and kinds.says(t, "weight")
    ],
    trades=("demolition",),
)
def to_carry_out(facts: Facts, thing: Node) -> float:
    """Weight of something that is there now."""
    return thing.si("weight") * thing.count("count", 1)
