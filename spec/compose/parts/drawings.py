"""The drawings of exactly the walls that an order touches."""

from __future__ import annotations

from collections.abc import Iterator

from spec.compose.blocks import Block, Heading, Picture
from spec.compose.context import Reader
from spec.compose.wording import kind_words, room_words
from spec.draw.elevation import elevation
from spec.draw.scene import Scene
from spec.job.node import Node, Open


def drawings(reader: Reader) -> Iterator[Block]:
    """An elevation of every wall on which the trade does something, dimensioned for it."""
    own = {thing.address for thing in reader.own_work}
    pictures: list[Picture] = []
    for wall in reader.job.walls:
        touched = [t for t in reader.own_work if t.surface == wall.address]
        if not touched:
            continue
        try:
            scene = elevation(reader.facts, wall, own)
        except Open:
            continue
        pictures.append(_picture(reader, wall, scene, touched))
    if pictures:
        yield Heading(2, "Drawings")
        yield from pictures


def _picture(reader: Reader, wall: Node, scene: Scene, touched: list[Node]) -> Picture:
    room = room_words(reader.job, wall.room)
    shown = ", ".join(f"{kind_words(t)} {t.key}" for t in touched)
    faces = wall.find("faces")
    toward = f", to {str(faces.value).replace('_', ' ')}" if faces is not None else ""
    return Picture(
        scene,
        f"Wall {wall.key} of the {room}{toward}, seen from inside",
        f"Elevation of wall {wall.key} of the {room}, seen from inside, with {shown}.",
        scene.cites,
    )
