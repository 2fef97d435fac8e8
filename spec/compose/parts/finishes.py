"""The finish schedule: every surface of every room, its finish, and for what that was said."""

from __future__ import annotations

from collections.abc import Iterator

from spec.compose.blocks import Block, Row, Table
from spec.compose.context import Reader
from spec.compose.wording import name_words, room_words, value_text
from spec.job.finishes import bands, finish_at
from spec.job.node import Node
from spec.job.record import recording
from spec.job.trades import thing_of

_OF_ROOM = ("base", "crown", "millwork", "metal", "plates", "trim")


def finish_schedule(reader: Reader) -> Iterator[Block]:
    """One table per room: surface, finish with material, color and sheen, and its origin."""
    for room in reader.job.rooms:
        rows: list[Row] = []
        for wall in room.group("walls_clockwise"):
            rows += _row(reader, wall, "walls", f"wall {wall.key}")
        rows = _merged(rows)
        for part in ("ceiling", "floor"):
            surface = room.find(part)
            if surface is not None and surface.children:
                rows += _row(reader, surface, part, part)
        for part in _OF_ROOM:
            rows += _row(reader, room, part, part)
        if rows:
            yield Table(
                f"Finishes of the {room_words(reader.job, room.key)}",
                ("Surface", "Finish", "Material, color, sheen", "Said for"),
                tuple(rows),
                (1, 1.6, 2.4, 1.2),
            )


def _row(reader: Reader, at: Node, part: str, label: str) -> Iterator[Row]:
    found = finish_at(reader.job, at, part)
    if found is None:
        return
    line = found.find("up_to")
    for leaf in bands(found) or (found,):
        with recording() as read:
            where = label
            if line is not None:
                where += f", {leaf.key} the line at {value_text(reader.job, line)}"
            cells = (where, *_look(reader, leaf), _said_for(reader, leaf))
        yield Row(cells, frozenset(read))


def _said_for(reader: Reader, leaf: Node) -> str:
    """For what a finish was named: everything, a room, or this wall or thing alone."""
    if leaf.address.startswith("finishes_everywhere."):
        return "everywhere, unless said otherwise"
    thing = thing_of(leaf)
    if thing.kind == "room":
        return f"the {room_words(reader.job, thing.key)}"
    return f"{name_words(thing)} alone"


def _merged(rows: list[Row]) -> list[Row]:
    """Walls that get the same, said at the same place, in one row."""
    found: dict[tuple[str, ...], list[Row]] = {}
    for row in rows:
        found.setdefault(row.cells[1:], []).append(row)
    return [
        Row(
            ("\n".join(row.cells[0] for row in same), *cells),
            frozenset().union(*(row.cites for row in same)),
        )
        for cells, same in found.items()
    ]


def _look(reader: Reader, leaf: Node) -> tuple[str, str]:
    """Name and look of the finish that a leaf names."""
    finish = reader.job.thing(str(leaf.value)) if leaf.value is not None else None
    name = value_text(reader.job, leaf)
    if finish is None:
        return name, ""
    title = finish.find("title")
    if title is not None:
        name = f"{name} {value_text(reader.job, title)}"
    parts = [finish.find(key) for key in ("material", "color", "sheen")]
    return name, ", ".join(value_text(reader.job, p) for p in parts if p is not None)
