"""What is decided and makes no room, no run and no place all the same."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial

from spec.check.rule import Facts, Node, Said, rule, said
from spec.finding import Level
from spec.job.node import Contradicted, Open
from spec.place.plan import past
from spec.place.sizes import has_extent
from spec.quantity import show

_SLACK = 0.002
"""[m] What an outline may reach through a wall by rounding of the tape."""
_TAPED = """
rooms:
  tasting_room:
    taped: {to: finish}
    height: 8 ft
    diagonals: {TA-TC: DIAGONAL}
    walls_clockwise:
      TA: {length: 16 ft}
      TB: {length: 12 ft}
      TC: {length: 16 ft}
      TD: {length: 12 ft}
"""
_LIT = """
rooms:
  tasting_room:
    taped: {to: finish}
    height: 8 ft
    walls_clockwise:
      TA: {length: 8 ft}
      TB: {length: 6 ft}
      TC: {length: 8 ft}
      TD: {length: 6 ft}
    ceiling: {lights: {L1: {is: downlight, center: {TA: PLACE, TD: 4 ft}}}}
"""


@rule(
    "envelope.cannot-be-set-out",
    level=Level.ERROR,
    trades=("framing", "electrical", "millwork"),
    why="Measurements that make no room and places that make no point are in no drawing: what "
    "rests on them would be built from nothing.",
    bad=_TAPED.replace("DIAGONAL", "40 ft"),
    good=_TAPED.replace("DIAGONAL", "20 ft"),
)
def cannot_be_set_out(facts: Facts) -> Iterator[Said]:
    """A room, a run or a place cannot be, though all that it takes is decided."""
    told: set[str] = set()
    for at, work in _set_out(facts):
        try:
            work()
        except Contradicted as error:
            if error.address not in told:
                yield said(error.address, error.message, error.cure, *error.also)
            told.add(error.address)
        except Open as missing:
            if missing.address in told or _unreadable(at):
                continue
            if not _leads_nowhere(facts, missing.address):
                continue
            told.add(missing.address)
            yield said(
                missing.address,
                f"`{missing.address}` is decided, and the place of {at.key} does not follow",
                "correct it, or say the place in another way",
                at,
            )


def _set_out(facts: Facts) -> Iterator[tuple[Node, Callable[[], object]]]:
    """Everything that has a shape or a place, with what works it out."""
    places = facts.places
    for space in facts.job.things("room", "as_found"):
        if space.find("taped") is not None:
            yield space, partial(places.taping, space)
    for room in facts.job.rooms:
        yield room, partial(places.room, room.key)
    for wall in facts.job.walls:
        yield wall, partial(places.runs, wall)
    for thing in facts.job.everything:
        if thing.surface and thing.children and thing.kind != "wall":
            if places.wall_of(thing) is not None:
                yield thing, partial(places.rect, thing)
            elif thing.surface.endswith((".ceiling", ".floor")):
                yield thing, partial(places.plan, thing)


def _leads_nowhere(facts: Facts, address: str) -> bool:
    """Whether a decision is made with a value that can be read, and something waits for it."""
    node = facts.job.find(address)
    return node is not None and node.value is not None and node.standing == "decided"


def _unreadable(at: Node) -> bool:
    return any(n.standing == "unreadable" for n in (at, *at.group("walls_clockwise")))


@rule(
    "envelope.outside-its-room",
    level=Level.ERROR,
    trades=("electrical", "framing", "refrigeration"),
    why="A place that lies beyond a wall was measured off another wall, or typed wrong.",
    bad=_LIT.replace("PLACE", "9 ft"),
    good=_LIT.replace("PLACE", "3 ft"),
)
def outside_its_room(facts: Facts) -> Iterator[Said]:
    """A thing on a ceiling or floor lies beyond the walls of its room, or reaches through one."""
    system = facts.job.system
    for thing in facts.job.everything:
        flat = thing.children and thing.surface.endswith((".ceiling", ".floor"))
        if not flat or thing.find("covers") is not None:
            continue
        try:
            corners = facts.places.room_of(thing).corners
            outlines = facts.places.plan(thing).outlines
        except Open:
            continue
        reach = max(
            (past(corners, outline, whole=has_extent(thing)) for outline in outlines), default=0.0
        )
        if reach > _SLACK:
            place = next(k for k in ("center", "centers", "edge") if thing.find(k) is not None)
            yield said(
                thing.at(place),
                f"{thing.key} on {thing.surface} lies {show(reach, 'length', system)} beyond the "
                f"walls of {thing.room.replace('_', ' ')}",
                "correct its place; it is measured square off the walls that it names",
                f"{thing.room}.walls_clockwise",
            )
