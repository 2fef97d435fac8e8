"""On which side a leaf hangs, in words for both sides of the wall."""

from __future__ import annotations

from spec.compose.blocks import Row
from spec.compose.context import Reader
from spec.compose.wording import room_words
from spec.job.node import Node
from spec.job.record import recording

HANDING_KEYS = frozenset({"opens_into", "hinges_on"})
_OTHER = {"left": "right", "right": "left"}


def handing(reader: Reader, opening: Node) -> Row | None:
    """`Standing in the tasting room, the leaf comes toward you, hinges on your right ...`."""
    with recording() as read:
        if not (opening.has("opens_into") and opening.has("hinges_on")):
            return None
        into, side = opening.word("opens_into"), opening.word("hinges_on")
    if any(node.state is not None for node in map(opening.at, HANDING_KEYS)):
        return None
    seen = f"hinges on your {side}" if side in _OTHER else "hinges on both sides"
    words = f"Standing in the {room_words(reader.job, into)}: it opens toward you, {seen}."
    other = _other_side(reader, opening, into)
    if other:
        seen = f"hinges on your {_OTHER[side]}" if side in _OTHER else "hinges on both sides"
        words += (
            f"\nStanding in the {room_words(reader.job, other)}: it opens away from you, {seen}."
        )
    return Row(("Handing", words), frozenset(read))


def _other_side(reader: Reader, opening: Node, into: str) -> str:
    """The room or surrounding from which the leaf goes away."""
    wall = opening
    while wall.kind != "wall" and wall.parent is not None:
        wall = wall.parent
    faces = wall.find("faces")
    across = str(faces.value) if faces is not None and faces.value is not None else ""
    across = across or _beyond(reader, wall)
    return across if into == opening.room else opening.room


def _beyond(reader: Reader, wall: Node) -> str:
    """The room that has the same partition on its side, empty where there is none."""
    own = wall.find("partition")
    if own is None or own.value is None:
        return ""
    for other in reader.job.walls:
        same = other.find("partition")
        if same is not None and same.value == own.value and other.room != wall.room:
            return other.room
    return ""
