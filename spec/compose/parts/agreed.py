"""What was agreed and measured, whole: whom to ring, changes, surveys, readings.

A trade is told the part of these that it builds by; the client signs them, and reads all of each.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from spec.compose.blocks import Block, Facts, Heading, Row, Table
from spec.compose.context import Reader
from spec.compose.parts.labels import called, label_of
from spec.compose.parts.tables import without_empty
from spec.compose.wording import value_text
from spec.job.node import Node
from spec.job.record import recording

_KINDS = ("change", "reading", "person")
_REACHED = ("name", "firm", "contact", "phone", "email", "reached")
_OF_CHANGE = frozenset({"what", "of", "why", "price", "days", "asked", "asked_on", "told"})
_OF_READING = frozenset({"of", "where", "who", "when"})
_OF_SURVEY = frozenset({"result", "where", "means"})
_SILENT = frozenset({"is", "like", "visits"})


def whom_to_ring(reader: Reader) -> Iterator[Block]:
    """The lead's name, firm and number on the first page, for the years after the hand-over."""
    lead = reader.job.find("lead")
    found = [lead.find(key) for key in _REACHED] if lead is not None else []
    rows = []
    for node in found:
        if node is not None and node.known:
            with recording() as read:
                text = value_text(reader.job, node)
            rows.append(Row((node.title, text), frozenset(read)))
    if rows:
        yield Heading(2, "Whom to ring")
        yield Facts("", tuple(rows))


def agreed(reader: Reader) -> Iterator[Block]:
    """People, changes, surveys and readings, each with all that is written of it."""
    yield from _table(
        "Who decides what, and how each is reached",
        ("", "Name", "Firm", "Phone", "E-mail", "Decides", "Further"),
        (0.8, 1.2, 1.2, 0.8, 1.4, 1.0, 1.2),
        [_person(reader, node) for node in reader.job.things("person")],
    )
    yield from _table(
        "Changes since the price was agreed",
        ("", "What changes", "Why", "Price", "Days", "Asked", "Further"),
        (0.5, 2.0, 1.6, 0.7, 0.5, 1.0, 1.6),
        [_change(reader, node) for node in reader.job.things("change")],
    )
    yield from _table(
        "Surveys",
        ("", "Result", "Where", "What follows", "Further"),
        (0.9, 0.9, 1.4, 2.0, 1.4),
        [_survey(reader, node) for node in _surveys(reader)],
    )
    yield from _table(
        "Readings before the work",
        ("", "Of", "Where", "Reading", "Read by", "Read on"),
        (0.5, 1.3, 1.3, 2.0, 0.8, 0.9),
        [_reading(reader, node) for node in reader.job.things("reading")],
    )


def in_agreed(reader: Reader) -> frozenset[str]:
    """The addresses that these tables show, for the schedules to leave out."""
    things = [*reader.job.things(*_KINDS), *_surveys(reader)]
    return frozenset(leaf.address for thing in things for leaf in _leaves(thing))


def _surveys(reader: Reader) -> list[Node]:
    surveys = reader.job.find("surveys")
    return [node for node in surveys.children.values() if node.children] if surveys else []


def _leaves(thing: Node) -> list[Node]:
    return [leaf for leaf in thing.leaves() if not _below(thing, leaf) & _SILENT]


def _below(thing: Node, leaf: Node) -> set[str]:
    keys: set[str] = set()
    at: Node | None = leaf
    while at is not None and at is not thing:
        keys.add(at.key)
        at = at.parent
    return keys


def _table(
    title: str, columns: tuple[str, ...], widths: tuple[float, ...], rows: Sequence[Row]
) -> Iterator[Block]:
    if rows:
        yield without_empty(Table(title, columns, tuple(rows), widths))


def _person(reader: Reader, node: Node) -> Row:
    keys = ("name", "firm", "phone", "email", "decides")
    with recording() as read:
        said = [_said(reader, node, key) for key in keys]
        cells = (node.key.replace("_", " "), *said, _rest(reader, node, {*keys}))
    return Row(cells, frozenset(read))


def _change(reader: Reader, node: Node) -> Row:
    with recording() as read:
        of = node.find("of")
        what = [_said(reader, node, "what")]
        if of is not None and isinstance(of.value, tuple | str):
            value_text(reader.job, of)
            names = of.value if isinstance(of.value, tuple) else (of.value,)
            what.append(", ".join(called(reader.job, str(name)) for name in names))
        asked = [_said(reader, node, key) for key in ("asked", "asked_on")]
        cells = (
            node.key,
            "\n".join(word for word in what if word),
            *(_said(reader, node, key) for key in ("why", "price", "days")),
            "\n".join(word for word in asked if word),
            _rest(reader, node, _OF_CHANGE - {"told"}),
        )
    return Row(cells, frozenset(read))


def _survey(reader: Reader, node: Node) -> Row:
    with recording() as read:
        cells = (
            node.key.replace("_", " ").capitalize(),
            *(_said(reader, node, key) for key in ("result", "where", "means")),
            _rest(reader, node, _OF_SURVEY),
        )
    return Row(cells, frozenset(read))


def _reading(reader: Reader, node: Node) -> Row:
    with recording() as read:
        of = node.find("of")
        about = called(reader.job, str(of.value)) if of is not None and of.value else ""
        _said(reader, node, "of")
        cells = (
            node.key,
            about,
            _said(reader, node, "where"),
            _rest(reader, node, _OF_READING),
            *(_said(reader, node, key) for key in ("who", "when")),
        )
    return Row(cells, frozenset(read))


def _said(reader: Reader, node: Node, key: str) -> str:
    leaf = node.find(key)
    return value_text(reader.job, leaf) if leaf is not None and not leaf.children else ""


def _rest(reader: Reader, node: Node, shown: set[str] | frozenset[str]) -> str:
    lines = [
        f"{label_of(node, leaf)}: {value_text(reader.job, leaf)}"
        for leaf in _leaves(node)
        if not (leaf.parent is node and leaf.key in shown)
    ]
    return "\n".join(lines)
