"""Two things in one place: of a wall, of a ceiling, of a floor."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.finding import Level
from spec.job.node import Open
from spec.place import collisions
from spec.place.collisions import Collision
from spec.quantity import show

_CEILING = """
rooms:
  wine_room:
    taped: {to: finish}
    height: 8 ft
    walls_clockwise: {WA: {length: 9 ft}, WB: {length: 11 ft}, WC: {length: 9 ft},
        WD: {length: 11 ft}}
    ceiling:
      lights: {L1: {is: downlight, diameter: 6 in, center: {WA: PLACE, WD: 50 in}}}
      equipment:
        EV1: {is: evaporator, center: {WA: 60 in, WD: 50 in}, extent: {WA: 22 in, WD: 26 in}}
"""


@rule(
    "envelope.things-overlap",
    level=Level.ERROR,
    trades=("framing", "electrical", "refrigeration", "millwork"),
    why="Two things that are drawn in one place are cut in by two trades: the second to come finds "
    "the first.",
    bad=_CEILING.replace("PLACE", "66 in"),
    good=_CEILING.replace("PLACE", "30 in"),
)
def things_overlap(facts: Facts) -> Iterator[Said]:
    """Two things take the same place of a wall, a ceiling or a floor, and neither knows it."""
    for wall in facts.job.walls:
        try:
            found = collisions.on_wall(facts.places, wall)
        except Open:
            continue
        for hit in found:
            yield _overlap(facts, hit, "high")
    for room in facts.job.rooms:
        ceiling = room.find("ceiling")
        try:
            found = collisions.on_ceiling(facts.places, ceiling) if ceiling is not None else []
            found += collisions.on_floor(facts.places, room, facts.places.standing(room))
        except Open:
            continue
        for hit in found:
            yield _overlap(facts, hit, "deep")


def _overlap(facts: Facts, hit: Collision, second: str) -> Said:
    system = facts.job.system
    wide, high = (show(size, "length", system) for size in (hit.wide, hit.high))
    other = hit.other.key + (f" (with {', '.join(n.key for n in hit.also)})" if hit.also else "")
    places = " and ".join(
        f"{node.key} at {show(along, 'length', system)} and {show(off, 'length', system)}"
        for node, (along, off) in ((hit.one, hit.at_one), (hit.other, hit.at_other))
    )
    off = (
        f"middles from the left corner of {hit.surface.key} and up from the floor"
        if second == "high"
        else f"middles off {' and '.join(hit.off)}"
    )
    return said(
        hit.one,
        f"{hit.one.key} and {other} take the same place of {_words(hit.surface)}, "
        f"{wide} wide and {high} {second}: {places} ({off})",
        "move one of them, or write at one what it has to do with the other: `inside`, `over`, "
        "`for`",
        hit.other,
        *hit.also,
    )


def _words(surface: Node) -> str:
    if surface.kind == "wall":
        return surface.key
    return f"the {surface.key} of {surface.room.replace('_', ' ')}"
