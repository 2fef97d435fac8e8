"""Columns of schedules as data: each cell is lines with facts, figures and words filled in.

A line names what it states in braces: `{box}` a fact of the thing by its path, `{@lighting.drop}`
a figure of it, `{!feeds}` words that are made for it. A line of which something is not there, or
is not this reader's to know, is left out.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from typing import NamedTuple

from spec.compose.context import Reader
from spec.compose.parts.labels import path_of, waits_words
from spec.compose.parts.places import how_many, whereabouts
from spec.compose.wording import figure_text, kind_words, name_words, value_text
from spec.derive.figure import Figure
from spec.derive.sheets.lighting import fed_by
from spec.job.node import Node, Open
from spec.job.record import note

_NAMED = re.compile(r"\{([@!]?[a-z_.]+)\}")


class Column(NamedTuple):
    """A column's head, its lines, and its share of the page's width."""

    title: str
    lines: tuple[str, ...]
    width: float = 1.0


class Layout(NamedTuple):
    """A table for things that a reader looks for together, of one kind or of several.

    It is used for a thing that has no more than `spare` facts besides; more make a card.
    """

    title: str
    picks: Callable[[Node], bool]
    columns: tuple[Column, ...]
    subject: str = ""
    trades: tuple[str, ...] = ()
    """Whom it is for; everybody where it is empty."""
    spare: int = 6

    @property
    def paths(self) -> frozenset[str]:
        """The paths of all facts that it has a place for."""
        named = {n for c in self.columns for line in c.lines for n in _NAMED.findall(line)}
        return frozenset(n for n in named if n[0] not in "@!")


Leaves = dict[str, list[Node]]


def by_path(thing: Node, leaves: Sequence[Node]) -> Leaves:
    """The leaves of a thing by their paths."""
    found: Leaves = {}
    for leaf in leaves:
        found.setdefault(path_of(thing, leaf), []).append(leaf)
    return found


def cell(reader: Reader, thing: Node, leaves: Leaves, column: Column) -> str:
    """The lines of one cell; what they state is recorded."""
    filled = (_filled(reader, thing, leaves, line) for line in column.lines)
    return "\n".join(line for line in filled if line)


def _filled(reader: Reader, thing: Node, leaves: Leaves, line: str) -> str:
    words: dict[str, str] = {}
    for name in _NAMED.findall(line):
        text = _value(reader, thing, leaves, name)
        if not text:
            return ""
        words[name] = text
    return _NAMED.sub(lambda found: words[found[1]], line)


def _value(reader: Reader, thing: Node, leaves: Leaves, name: str) -> str:
    if name.startswith("!"):
        try:
            return WORDS[name[1:]](reader, thing)
        except Open as missing:
            return waits_words(reader.job, (missing.address,))
    if name.startswith("@"):
        figure = reader.figures.get(thing.address, {}).get(name[1:])
        return value_of(reader, figure) if figure is not None else ""
    return ", ".join(value_text(reader.job, leaf) for leaf in leaves.get(name, ()))


def value_of(reader: Reader, figure: Figure) -> str:
    """A figure in the job's units with its remark, or what it waits for; recorded."""
    note(figure.address)
    if figure.value is None:
        if not figure.waits_for:
            return f"not worked out: {figure.refused}"
        return waits_words(reader.job, figure.waits_for)
    text = figure_text(reader.job, figure.value, figure.definition.dimension)
    return text + (f" ({figure.remark})" if figure.remark else "")


# ------------------------------------------------------------------ words that are made


def _mark(reader: Reader, thing: Node) -> str:
    """`RC4`, and below it what it is."""
    del reader
    return f"{thing.key}\n{kind_words(thing)}"


def _key(reader: Reader, thing: Node) -> str:
    del reader
    return name_words(thing)


def _where(reader: Reader, thing: Node) -> str:
    words, cites = whereabouts(reader, thing)
    note(*cites)
    return words


def _feeds(reader: Reader, thing: Node) -> str:
    """What hangs directly on it."""
    return ", ".join(_said(other, "fed_from") for other in fed_by(reader.job).get(thing.key, ()))


def _loads(reader: Reader, thing: Node) -> str:
    """Everything that is fed through it, whatever lies between."""
    fed = fed_by(reader.job)
    names: list[str] = []
    waiting = [thing.key]
    while waiting:
        for other in fed.get(waiting.pop(0), ()):
            if other.key not in names:
                names.append(_said(other, "fed_from"))
                waiting.append(other.key)
    return ", ".join(names)


def _said(thing: Node, key: str) -> str:
    note(thing.at(key).address)
    return thing.key


def _plate(reader: Reader, thing: Node) -> str:
    """The plate that it sits in, and which place it has there, from the left."""
    del reader
    row = thing.parent
    plate = row.parent if row is not None and row.key == "left_to_right" else None
    if row is None or plate is None:
        return ""
    place = list(row.children).index(thing.key) + 1
    return f"{plate.key}, place {place} of {len(row.children)} from the left"


def _how_many(reader: Reader, thing: Node) -> str:
    return how_many(reader, thing) or " "


WORDS: dict[str, Callable[[Reader, Node], str]] = {
    "mark": _mark,
    "key": _key,
    "where": _where,
    "feeds": _feeds,
    "loads": _loads,
    "plate": _plate,
    "how_many": _how_many,
}
