"""The marks of a room in plain words: what each is, where, what it holds, what dims it."""

from __future__ import annotations

from collections.abc import Iterator

from spec.compose.blocks import Block, Row, Table
from spec.compose.context import Reader
from spec.compose.parts.tables import without_empty
from spec.compose.wording import kind_words, value_text, where_words
from spec.job.node import Node, Open
from spec.job.record import note, recording

_LIGHTS = "lights"
_SHOWN = ("openings", "millwork", "appliances", "fixtures", "equipment", "devices")
_INSIDE = ("doors", "drawers", "shelves", "columns", "bottle", "contains")
_DIMS = ("dimmer", "switch", "keypad", "push")


def marks(reader: Reader, room: Node) -> Iterator[Block]:
    """Two tables: what stands in the room, and its lights with what dims each."""
    things = [t for t in reader.job.everything if t.room == room.key and t.surface and t.known]
    rows = _alike([_row(reader, t) for t in things if t.heading in _SHOWN])
    if rows:
        yield without_empty(
            Table(
                "What the marks in the pictures mean",
                ("Mark", "What", "Where", "Each holds", "Inside"),
                tuple(rows),
                (0.9, 1.6, 1.8, 0.9, 1.8),
            )
        )
    lights = _alike([_light(reader, t) for t in things if t.heading == _LIGHTS])
    if lights:
        yield without_empty(
            Table(
                "Lights, and what dims or switches them",
                ("Mark", "What", "Where", "How many", "Color", "By"),
                tuple(lights),
                (0.9, 1.3, 1.9, 0.7, 0.8, 1.8),
            )
        )


def _alike(rows: list[Row]) -> list[Row]:
    """Marks of which all else is the same, in one row."""
    found: dict[tuple[str, ...], list[Row]] = {}
    for row in rows:
        found.setdefault(row.cells[1:], []).append(row)
    return [
        Row(
            (", ".join(row.cells[0] for row in same), *cells),
            frozenset().union(*(row.cites for row in same)),
        )
        for cells, same in found.items()
    ]


def _row(reader: Reader, thing: Node) -> Row:
    with recording() as read:
        inside = [
            f"{leaf.title}: {value_text(reader.job, leaf)}"
            for key in _INSIDE
            if (leaf := thing.find(key)) is not None and leaf.known and not leaf.children
        ]
        cells = (
            thing.key,
            _what(reader, thing),
            where_words(reader.job, thing),
            _holds(reader, thing),
            "\n".join(inside),
        )
    return Row(cells, frozenset(read))


def _what(reader: Reader, thing: Node) -> str:
    title = thing.find("title")
    if title is not None and isinstance(title.value, str):
        return value_text(reader.job, title)
    return kind_words(thing).capitalize()


def _holds(reader: Reader, thing: Node) -> str:
    """`96 bottles`, for a piece that holds any."""
    figures = reader.facts.figures
    if thing.heading != "millwork" or thing not in figures.made_for("storage.piece"):
        return ""
    value = figures.get("storage.piece", thing).value
    return f"{value:.0f} bottles" if value else ""


def _light(reader: Reader, thing: Node) -> Row:
    with recording() as read:
        try:
            many = str(reader.places.how_many(thing))
        except Open:
            many = ""
        color = thing.find("color")
        cells = (
            thing.key,
            _what(reader, thing),
            where_words(reader.job, thing),
            many,
            value_text(reader.job, color) if color is not None else "",
            _dimmed_by(reader, thing),
        )
    return Row(cells, frozenset(read))


def _dimmed_by(reader: Reader, light: Node) -> str:
    """The dimmer or switch up the line, with the wall on which it is."""
    at: Node | None = light
    passed: set[str] = set()
    while at is not None and at.key not in passed:
        passed.add(at.key)
        if at.kind in _DIMS:
            return f"{kind_words(at)} {at.key}, {where_words(reader.job, at)}"
        feed = at.find("controlled_by") or at.find("fed_from")
        name = str(feed.value) if feed is not None and feed.value else ""
        if feed is not None:
            note(feed.address)
        at = reader.job.thing(name) if name else None
    return ""
