"""Safety glass: in doors, beside them, near the floor, and marked as such."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.check.rules.openings.doors import COLD, LEAF, kept
from spec.derive.sheets.panes import glazings
from spec.finding import Level
from spec.job.node import Open
from spec.place import plan
from spec.quantity import show

_LIGHTS = "side_lights: {left: 12 in, right: 12 in, glazing: {panes: 2, safety: SAFETY}}"
_WINDOW = """
rooms:
  tasting_room:
    taped: {to: finish}
    height: 8 ft
    walls_clockwise:
      TA:
        length: 12 ft
        openings:
          D1: {is: door, state: existing, left: 30 in, width: 36 in, height: 80 in}
          N1: {is: window, left: PLACE, width: 60 in, bottom: LOW, height: 48 in,
            glazing: {panes: 2, safety: none}}
      TB: {length: 8 ft}
      TC: {length: 12 ft}
      TD: {length: 8 ft}
"""
_CODES = "IRC R308.4, IBC 2406.4; cited from memory, check the adopted edition"


@rule(
    "openings.glass-not-safe",
    level=Level.ERROR,
    trades=("doors", "glazing"),
    why="Glass in a door and beside it breaks where people fall.",
    source=f"{_CODES}: R308.4.1 in doors, R308.4.2 beside them; elsewhere glass of a class of "
    "EN 12600",
    each=("door", "glass_front"),
    bad=COLD.replace("FACTS", f"{LEAF}, glazing: {{panes: 2, safety: none}}"),
    good=COLD.replace(
        "FACTS",
        f"{LEAF}, glazing: {{panes: 2, safety: tempered}}, "
        + _LIGHTS.replace("SAFETY", "laminated"),
    ),
)
def glass_not_safe(facts: Facts, opening: Node) -> Iterator[Said]:
    """The glass of a door, of its side lights or of a glass front is no safety glass."""
    for glass in glazings(opening):
        safety = glass.find("safety")
        if safety is None or safety.value != "none" or kept(opening) or "transom" in glass.address:
            continue
        part = (
            f"the side lights of {opening.key}" if "side_lights" in glass.address else opening.key
        )
        yield said(
            safety,
            f"the glass in {part} is no safety glass",
            "write `tempered` or `laminated`, and that every pane is marked",
        )


@rule(
    "openings.window-not-safe",
    level=Level.ERROR,
    trades=("doors", "glazing"),
    why="Who misses the handle, or stumbles before a pane that comes down to the knees, falls into "
    "it.",
    source=f"{_CODES}: R308.4.2 beside a door, R308.4.3 large and low panes. A firm elsewhere "
    "writes its own measures into the house standards (England: Approved Document K, 300 mm beside "
    "a door up to 1500 mm, and below 800 mm)",
    each=("window",),
    bad=_WINDOW.replace("PLACE", "80 in").replace("LOW", "30 in"),
    good=_WINDOW.replace("PLACE", "80 in").replace("LOW", "62 in").replace("48 in", "24 in"),
)
def window_not_safe(facts: Facts, window: Node) -> Iterator[Said]:
    """New glass beside a door, or large and near the floor, is no safety glass."""
    safety = window.find("glazing.safety")
    if safety is None or safety.value != "none" or kept(window):
        return
    job, system = facts.job, facts.job.system
    cure = "write `tempered` or `laminated`, and that every pane is marked"
    rect = facts.places.rect(window).rect
    near = job.limit("glass.near_door")
    for door in (
        _doors_beside(facts, window) if rect.bottom < job.limit("glass.near_door_height") else ()
    ):
        apart = plan.between(facts.places, window, door)
        if apart < near:
            yield said(
                safety,
                f"{window.key} is {show(apart, 'length', system)} from {door.key} and no safety "
                f"glass; the house asks for that within {show(near, 'length', system)}",
                cure,
                door,
            )
    area, low = facts.places.opening_area(window), job.limit("glass.low")
    if area <= job.limit("glass.low_area") or rect.top <= job.limit("glass.low_top"):
        return
    if rect.bottom < low:
        yield said(
            safety,
            f"{window.key} has {show(area, 'area', system)} of glass that begins "
            f"{show(rect.bottom, 'length', system)} over the floor, and it is no safety glass; the "
            f"house asks for that below {show(low, 'length', system)}",
            cure,
            window.at("bottom"),
        )


def _doors_beside(facts: Facts, window: Node) -> Iterator[Node]:
    """The doors in the same wall that have a place."""
    for door in facts.job.things("door"):
        try:
            if facts.places.wall_of(door) is facts.places.wall_of(window):
                facts.places.rect(door)
                yield door
        except Open:
            continue


@rule(
    "openings.glass-not-marked",
    level=Level.ERROR,
    trades=("doors", "glazing"),
    why="The inspector reads the mark in the corner of the pane; without one it is window glass, "
    "and is taken out again.",
    source="IRC R308.1, IBC 2406.3; EN 12150-1, EN 14449; cited from memory",
    each=("door", "window", "glass_front"),
    bad=COLD.replace("FACTS", f"{LEAF}, glazing: {{panes: 2, safety: tempered, marked: no}}"),
    good=COLD.replace("FACTS", f"{LEAF}, glazing: {{panes: 2, safety: tempered, marked: yes}}"),
)
def glass_not_marked(facts: Facts, opening: Node) -> Iterator[Said]:
    """Safety glass is said to bear no mark."""
    for glass in glazings(opening):
        safety, marked = glass.find("safety"), glass.find("marked")
        if safety is None or safety.value in (None, "none") or marked is None or kept(opening):
            continue
        if marked.value is False:
            yield said(
                marked,
                f"the {safety.written} glass of {opening.key} bears no safety mark",
                "order every pane with its permanent mark, and write `marked: yes`",
                safety,
            )
