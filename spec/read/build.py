"""From the events of libyaml to the tree: one pass, no recursion, every scalar as written."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass, field

import yaml
from yaml._yaml import CParser
from yaml._yaml import Mark as CMark
from yaml.events import (
    AliasEvent,
    CollectionEndEvent,
    CollectionStartEvent,
    DocumentStartEvent,
    Event,
    MappingStartEvent,
    NodeEvent,
    ScalarEvent,
)

from spec.finding import Place
from spec.read import signs, traps
from spec.read.line import after_dashes, indent_of, key_end
from spec.read.page import Page
from spec.read.report import DEEPEST, Findings, too_deep
from spec.read.text import control_character, has_unseen
from spec.read.traps import Piece
from spec.read.tree import Mapping, Node, Scalar, Sequence, Unreadable

_QUOTES = frozenset({"'", '"'})
_BLOCKS = frozenset({"|", ">"})


@dataclass(slots=True)
class _Open:
    """A map or a list whose end has not come yet."""

    start: int
    place: Place
    is_map: bool
    in_braces: bool
    pieces: list[Piece] = field(default_factory=list)
    key: Piece | None = None


def events(text: str) -> Iterator[Event]:
    """The events of a YAML text. Raises yaml.YAMLError where it cannot be read."""
    parser = CParser(text)
    try:
        while (event := parser.get_event()) is not None:
            yield event
    finally:
        parser.dispose()


@dataclass(slots=True)
class Healed:
    """What was taken out of a text so that it can be read.

    `masks`: index of a covered value -> what was written there. `emptied`: number (from 0) of
    a line below which lines were taken out -> the first of them.
    """

    masks: dict[int, str] = field(default_factory=dict)
    emptied: dict[int, str] = field(default_factory=dict)


class Runaway(Exception):
    """A quoted text went on over lines that are no part of it; `start` is its opening quote."""

    def __init__(self, start: int) -> None:
        super().__init__(start)
        self.start = start


class Builder:
    """Builds the tree of one text.

    `bad` are the indices of characters that cannot be printed, in order.
    """

    def __init__(self, page: Page, healed: Healed, bad: list[int]) -> None:
        self.page = page
        self.size = len(page.text)
        self.masks = healed.masks
        self.emptied = healed.emptied
        self.bad = bad
        self.findings = Findings()
        self.root: Node | None = None
        self.open: list[_Open] = []

    def build(self) -> Node | None:
        """The root of the first document; None where there is nothing.

        Raises yaml.YAMLError, Runaway, or Unusable.
        """
        documents = 0
        for event in events(self.page.text):
            if isinstance(event, ScalarEvent):
                self._scalar(event)
            elif isinstance(event, CollectionStartEvent):
                self._begin(event)
            elif isinstance(event, CollectionEndEvent):
                self._end(event)
            elif isinstance(event, AliasEvent):
                self._alias(event)
            elif isinstance(event, DocumentStartEvent):
                documents += 1
                if documents > 1:
                    place = self.page.place(_index(event.start_mark))
                    self.findings.append(signs.second_document(place))
                    break
        return self.root

    def _scalar(self, event: ScalarEvent) -> None:
        mark, last = event.start_mark, event.end_mark
        assert mark is not None
        assert last is not None
        start, end, style = mark.index, last.index, event.style
        place = Place(self.page.name, mark.line + 1, mark.column + 1)
        if start >= self.size:  # libyaml counts one line more behind a last line without an end
            place = self.page.place(start)
        node: Node
        if start in self.masks:
            node = Unreadable(place, self.masks[start])
        elif event.anchor is not None or event.tag is not None:
            self._marked(event, start, end)
            node = Unreadable(place, self.page.text[start:end])
        elif self.bad and self._is_bad(start, end):
            node = Unreadable(place, self.page.written[start:end])
        elif "\t" in event.value:
            self.findings.append(signs.tab_inside(self.page, place, start, end))
            node = Unreadable(place, self.page.text[start:end].rstrip())
        elif style == '"' and (unseen := has_unseen(event.value)):
            self.findings.append(control_character(place, unseen))
            node = Unreadable(place, self.page.text[start:end])
        else:
            if self.emptied and not event.value and mark.line in self.emptied:
                node = Unreadable(place, self.emptied[mark.line])
            else:
                node = Scalar(event.value, place, bool(style), not (style or event.value))
            if last.line > mark.line and style in _QUOTES:
                self._check_quote(mark.line, last.line, start)
        if last.line in self.page.hashes and style not in _BLOCKS:
            node = self._behind(node, start, end)
        self._add(Piece(node, start, end))

    def _begin(self, event: CollectionStartEvent) -> None:
        mark = event.start_mark
        assert mark is not None
        place = Place(self.page.name, mark.line + 1, mark.column + 1)
        if len(self.open) >= DEEPEST:
            raise too_deep(place)
        if event.anchor is not None or event.tag is not None:
            self._marked(event, mark.index, _index(event.end_mark))
        is_map = isinstance(event, MappingStartEvent)
        self.open.append(_Open(mark.index, place, is_map, bool(event.flow_style)))

    def _end(self, event: CollectionEndEvent) -> None:
        frame = self.open.pop()
        end = _index(event.end_mark)
        node: Node
        if frame.is_map:
            entries = traps.entries(self.page, frame.pieces, frame.in_braces, self.findings)
            node = Mapping(tuple(entries), frame.place)
        else:
            items = traps.items(self.page, frame.pieces, frame.in_braces, self.findings)
            node = Sequence(tuple(items), frame.place)
        if frame.in_braces and self.page.hashes:
            node = self._behind(node, frame.start, end)
        self._add(Piece(node, frame.start, end))

    def _alias(self, event: AliasEvent) -> None:
        start, end = _index(event.start_mark), _index(event.end_mark)
        place = self.page.place(start)
        self.findings.append(signs.alias(self.page, place, start, end))
        self._add(Piece(Unreadable(place, self.page.text[start:end]), start, end))

    def _marked(self, event: NodeEvent, start: int, end: int) -> None:
        sign = "&" if event.anchor is not None else "!"
        place = self.page.place(start)
        self.findings.append(signs.anchor_or_tag(self.page, place, start, end, sign))

    def _is_bad(self, start: int, end: int) -> bool:
        first = bisect_left(self.bad, start)
        return first < len(self.bad) and self.bad[first] < end

    def _behind(self, node: Node, start: int, end: int) -> Node:
        lost = self.page.behind(end)
        if lost:
            node, found = signs.cut_by_hash(self.page, node, start, end, lost)
            self.findings.append(found)
        return node

    def _check_quote(self, first: int, last: int, start: int) -> None:
        """A quoted text may go on only on lines that are indented deeper than its key."""
        indent = indent_of(self.page.line(first))
        for number in range(first + 1, last + 1):
            line = self.page.line(number)
            starts_anew = key_end(line) or after_dashes(line) > indent_of(line)
            if starts_anew and indent_of(line) <= indent:
                raise Runaway(start)

    def _add(self, piece: Piece) -> None:
        if not self.open:
            self.root = piece.node
            return
        frame = self.open[-1]
        if not frame.is_map:
            frame.pieces.append(piece)
        elif frame.key is None:
            frame.key = piece
        else:
            piece.key, frame.key = frame.key, None
            frame.pieces.append(piece)


def _index(mark: yaml.Mark | CMark | None) -> int:
    assert mark is not None
    return mark.index
