"""The finish schedule: every surface of every room, its finish, and where that was said."""

from __future__ import annotations

from collections.abc import Iterator

from spec.compose.blocks import Block, Row, Table
from spec.compose.context import Reader
from spec.compose.wording import room_words, value_text
from spec.job.finishes import finish_at
from spec.job.node import Node
from spec.job.record import recording

_OF_ROOM = ("base", "crown", "millwork", "metal", "plates", "trim")


def finish_schedule(reader: Reader) -> Iterator[Block]:
    """One table per room: surface, finish with material, color and sheen, and its origin."""
    for room in reader.job.rooms:
        rows: list[Row] = []
        for wall in room.group("walls_clockwise"):
            rows += _row(reader, wall, "walls", f"wall {wall.key}")
        for part in ("ceiling", "floor"):
            surface = room.find(part)
            if surface is not None and surface.children:
                rows += _row(reader, surface, part, part)
        for part in _OF_ROOM:
            rows += _row(reader, room, part, part)
        if rows:
            yield Table(
                f"Finishes of the {room_words(reader.job, room.key)}",
                ("Surface", "Finish", "Material, color, sheen", "Said at"),
                tuple(rows),
                (1, 1.6, 2.4, 1.2),
            )


def _row(reader: Reader, at: Node, part: str, label: str) -> Iterator[Row]:
    with recording() as read:
        leaf = finish_at(reader.job, at, part)
        if leaf is None:
            return
        finish = reader.job.thing(str(leaf.value))
        name, look = str(leaf.value), ""
        if finish is not None:
            title = finish.find("title")
            name = f"{finish.key} {title.value if title is not None else ''}".strip()
            parts = [finish.find(key) for key in ("material", "color", "sheen")]
            look = ", ".join(value_text(reader.job, p) for p in parts if p is not None)
            if title is not None:
                value_text(reader.job, title)
    yield Row((label, name, look, leaf.address), frozenset(read))
