"""What a starter job may be asked to have: where each thing stands in the file, and its mark."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import Any, NamedTuple

from spec.edit.refused import Refused
from spec.job.schema import Shape, root
from spec.job.validate import close_word

Facts = dict[str, Any]
"""Facts of a job file as they are nested in it: texts, maps, and what is asked."""

COOLED = "cooled"
"""In place of the use of a room: a wine store with a climate of its own."""
_COOLED_USE = "wine_storage"
_ROOM = re.compile(r"^[a-z][a-z0-9_]*$")
_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
LEAST_WALLS, MOST_WALLS = 3, 12


class Feature(NamedTuple):
    """A thing of a kind, in the cooled room or the one `beside` it; its wall is counted from 0.

    `path` leads to the thing from its wall, its room or the job; `section` says that its tier has
    to stand in a section of the room. With `of`, it is no thing of its own but a decision about
    the thing of that feature.
    """

    kind: str
    mark: str = ""
    path: tuple[str, ...] = ()
    wall: int = 0
    beside: bool = False
    section: bool = False
    of: str = ""


_LOWER = ("millwork", "lower")
_SECTION = ("stacks", "bar", "bottom_to_top")
FEATURES = {
    "door": Feature("door", "D1", ("openings",)),
    "side_lights": Feature("side_lights", of="door"),
    "existing_window": Feature("window", "X1", ("existing",), wall=1),
    "racks": Feature("racks", "R1", (*_LOWER, "left_to_right"), wall=2),
    "ladder": Feature("ladder", "LD1", ("fixtures",), wall=2),
    "cabinets": Feature("cabinet", "B1", (*_LOWER, "left_to_right"), 1, beside=True, section=True),
    "counter": Feature("top", "counter", _SECTION, beside=True, section=True),
    "refrigerator": Feature("refrigerator", "RF1", ("appliances",), wall=1, beside=True),
    "chandelier": Feature("chandelier", "L1", ("ceiling", "lights"), beside=True),
    "panelboard": Feature("panelboard", "PN1", ("elsewhere",)),
}
"""By the trade's word. The walls are a beginning: the lead moves each thing to its own."""
_OF_A_ROOM = ("stacks", "ceiling")
_OF_THE_JOB = ("elsewhere",)


def rooms_of(asked: Iterable[str], walls: int) -> dict[str, Facts]:
    """Rooms with their walls, from words such as `wine_room:cooled`, `tasting_room`, `den:living`.

    Raises `Refused` for a word that names no room or no use.
    """
    if not LEAST_WALLS <= walls <= MOST_WALLS:
        raise Refused(f"a room of {walls} walls", f"say {LEAST_WALLS} to {MOST_WALLS}")
    uses = _uses()
    rooms: dict[str, Facts] = {}
    letters: set[str] = set()
    for word in asked:
        name, _, use = word.strip().partition(":")
        name = "_".join(name.split()).lower()
        if not _ROOM.match(name) or name in rooms:
            twice = "is named twice" if name in rooms else "is no name of a room"
            raise Refused(f"`{name}` {twice}", "write small letters, for example wine_room")
        if use and use not in (COOLED, *uses):
            raise Refused(
                f"`{use}` is no use of a room{close_word(use, [COOLED, *uses])}",
                f"write one of: {', '.join((COOLED, *uses))}",
            )
        letter = _letter(name, letters)
        letters.add(letter)
        rooms[name] = _room(
            use or next((u for u in uses if u in name.split("_")), ""), letter, walls
        )
    if not rooms:
        raise Refused("the job has no room", f"name one: --room wine_room:{COOLED}")
    return rooms


def _uses() -> tuple[str, ...]:
    return tuple(known("rooms", "*", "use").schema["enum"])


def known(*path: str) -> Shape:
    """What the schema says at a path of a job file, `*` for any entry."""
    shape = root()
    for step in path:
        form = shape.for_map()
        below = form.entry if step == "*" else form.below(step)
        if below is None:
            raise KeyError(".".join(path))
        shape = below
    return shape


def _letter(name: str, taken: set[str]) -> str:
    """The letter that a room's walls begin with: its own first one that no other room has."""
    own = [letter.upper() for letter in name if letter.isalpha()]
    free = [letter for letter in (*own, *_LETTERS) if letter not in taken]
    if not free:
        raise Refused("there are more rooms than letters", "name fewer rooms")
    return str(free[0])


def _room(use: str, letter: str, walls: int) -> Facts:
    cooled = use in (COOLED, _COOLED_USE)
    room: Facts = {"use": _COOLED_USE if cooled else use} if use else {}
    if cooled:
        room |= {"climate": {}, "cooling": {}}
    marks = [f"{letter}{_LETTERS[n]}" for n in range(walls)]
    return room | {"walls_clockwise": {mark: {"is": "wall"} for mark in marks}}


def furnish(job: Facts, asked: Iterable[str]) -> Iterator[tuple[list[str], str]]:
    """Put things into the rooms of a job; gives the decisions about them that are asked at once.

    Each is the path of its thing and its key. Raises `Refused` for an unknown word.
    """
    for word in dict.fromkeys(asked):
        feature = FEATURES.get(word)
        if feature is None:
            raise Refused(
                f"`{word}` is nothing that a starter can have{close_word(word, list(FEATURES))}",
                f"choose from: {', '.join(FEATURES)}",
            )
        thing = FEATURES[feature.of] if feature.of else feature
        path = _path(job, thing)
        if thing.section:
            _at(job, [*path[:2], *_SECTION, _LOWER[-1]])["is"] = "cabinets"
        _at(job, path)["is"] = thing.kind
        if feature.of:
            yield path, feature.kind


def _path(job: Facts, feature: Feature) -> list[str]:
    rooms: dict[str, Facts] = job["rooms"]
    if feature.path[0] in _OF_THE_JOB:
        return [*feature.path, feature.mark]
    cooled = [name for name, room in rooms.items() if "cooling" in room]
    others = [name for name in rooms if name not in cooled]
    name = [*others, *cooled][0] if feature.beside else [*cooled, *others][0]
    if feature.path[0] in _OF_A_ROOM:
        return ["rooms", name, *feature.path, feature.mark]
    wall = list(rooms[name]["walls_clockwise"])[feature.wall]
    return ["rooms", name, "walls_clockwise", wall, *feature.path, feature.mark]


def _at(job: Facts, path: list[str]) -> Facts:
    """The map at a path, made where it is not there."""
    for step in path:
        job = job.setdefault(step, {})
    return job
