"""The tree of a job file: scalars as written, maps, lists, and what could not be read."""

from __future__ import annotations

from collections.abc import Sequence as ManyOf
from typing import NamedTuple

from spec.finding import Finding, Place


class Scalar(NamedTuple):
    """A text, exactly as written (a plain text over several lines as YAML folds it).

    `place` is its first character, of the opening quote where it has one. `absent`
    marks a key with nothing after it: the text is empty and the place is just behind the key.
    """

    text: str
    place: Place
    quoted: bool
    absent: bool = False


class Entry(NamedTuple):
    """One key of a map and what stands behind it; `place` is the key's."""

    key: str
    place: Place
    value: Node


class Mapping(NamedTuple):
    """A map; its entries in file order, each key once."""

    entries: tuple[Entry, ...]
    place: Place

    def get(self, key: str) -> Node | None:
        """The value of a key, or None where the map has no such key."""
        return next((entry.value for entry in self.entries if entry.key == key), None)


class Sequence(NamedTuple):
    """A list; its items in file order."""

    items: tuple[Node, ...]
    place: Place


class Unreadable(NamedTuple):
    """A value that could not be read as its writer meant it: a finding says why.

    From here on it counts as open. `written` is the text as it stands in the file.
    """

    place: Place
    written: str


Node = Scalar | Mapping | Sequence | Unreadable


class Source(NamedTuple):
    """A file that was read: its name as given, its text, its tree, and what was wrong in it.

    `text` has line feeds for all line ends and no byte-order mark; places count in it.
    `findings` are in file order; their addresses are empty, since no schema is known here.
    """

    name: str
    text: str
    root: Mapping
    findings: tuple[Finding, ...]


class Unusable(Exception):
    """A file of which nothing can be used; `finding` says what, where, and what would help.

    `others` are the slips found before that one.
    """

    def __init__(self, finding: Finding, others: ManyOf[Finding] = ()) -> None:
        super().__init__(f"{finding.place}: {finding.message}")
        self.finding = finding
        self.others = tuple(others)
