"""Where each key and each value of a YAML text begins and ends, so that it can be edited."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Literal

from yaml.events import (
    CollectionEndEvent,
    CollectionStartEvent,
    DocumentEndEvent,
    Event,
    MappingStartEvent,
    ScalarEvent,
)

from spec.edit.wording import in_yaml
from spec.finding import Place
from spec.read.build import events
from spec.read.page import Page
from spec.read.text import unseen, without_idle_tabs

Form = Literal["nothing", "text", "block_text", "map", "list"]

_COMMENT = re.compile(r"(?:^|(?<=\s))#[^\n]*", re.MULTILINE)


@dataclass(slots=True)
class Value:
    """A value with its span and, of a text, what it says.

    `in_braces` is said of itself, not of what it stands in.
    """

    form: Form
    start: int
    end: int
    in_braces: bool = False
    text: str = ""
    items: list[Item] = field(default_factory=list)
    parts: list[Value] = field(default_factory=list)


@dataclass(slots=True)
class Item:
    """One entry of a map: its key's span, its value, and whether it stands within braces."""

    key: str
    start: int
    end: int
    value: Value
    in_braces: bool


_Frame = tuple[Value, list[tuple[int, int, str]]]
"""A map or list whose end has not come yet, with the key that waits for its value."""


class Spans:
    """The spans of a text. Raises yaml.YAMLError where the text as it stands cannot be read."""

    def __init__(self, name: str, text: str) -> None:
        self.text = text
        self.page = Page(name, text, text)
        self._items: dict[int, Item] = {}
        self.top = self._built()

    def item_at(self, place: Place) -> Item | None:
        """The entry whose key stands at a place of this file, or None."""
        if place.file != self.page.name:
            return None
        return self._items.get(self.page.starts[place.line - 1] + place.column - 1)

    def written(self, value: Value) -> str:
        """A value as it stands, on one line and without comments; lists and maps in braces."""
        if value.form == "map":
            inside = [f"{item.key}: {self._inside(item.value)}" for item in value.items]
            return f"{{{', '.join(inside)}}}"
        if value.form == "list":
            return f"[{', '.join(self._inside(part) for part in value.parts)}]"
        return " ".join(self.text[value.start : value.end].split())

    def _inside(self, value: Value) -> str:
        """A value within braces, where a text on a line of its own may need quotes."""
        quoted = self.text[value.start : value.start + 1] in "\"'"
        if value.form in ("map", "list", "nothing") or quoted:
            return self.written(value)
        return in_yaml(value.text, True)

    def comments(self, start: int, value: Value) -> list[str]:
        """The comments between an index and the end of a value, in their order."""
        masked = list(self.text[start : value.end])
        for first, last in self._texts(value):
            masked[first - start : last - start] = "x" * (last - first)
        return [match.group().rstrip() for match in _COMMENT.finditer("".join(masked))]

    def _texts(self, value: Value) -> Iterator[tuple[int, int]]:
        """The spans of the texts and keys in a value: a # in them is no comment."""
        if value.form == "text":
            yield value.start, value.end
        elif value.form == "block_text":
            yield min(self.line_end(value.start) + 1, value.end), value.end
        for item in value.items:
            yield item.start, item.end
            yield from self._texts(item.value)
        for part in value.parts:
            yield from self._texts(part)

    def colon(self, item: Item) -> int:
        """The index behind the colon of an entry."""
        return self.text.index(":", item.end) + 1

    def line_end(self, index: int) -> int:
        """The index of the end of the line in which an index stands."""
        end = self.text.find("\n", index)
        return end if end >= 0 else len(self.text)

    def line_start(self, index: int) -> int:
        """The index of the first character of the line in which an index stands."""
        return self.text.rfind("\n", 0, index) + 1

    def _built(self) -> Value:
        clean = without_idle_tabs(unseen(self.text, self.page.name)[0])
        top = Value("nothing", 0, 0)
        stack: list[_Frame] = [(top, [])]
        for event in events(clean):
            if isinstance(event, DocumentEndEvent):
                break
            if isinstance(event, CollectionStartEvent):
                form: Form = "map" if isinstance(event, MappingStartEvent) else "list"
                start, _ = _span(event)
                opened = Value(form, start, start, bool(event.flow_style))
                stack.append((opened, []))
            elif isinstance(event, ScalarEvent):
                self._take(stack, _scalar(event, clean), event.value)
            elif isinstance(event, CollectionEndEvent):
                done, _ = stack.pop()
                done.end = _span(event)[1] if done.in_braces else _last_end(done)
                self._take(stack, done, "")
        return top.parts[0] if top.parts else top

    def _take(self, stack: list[_Frame], value: Value, text: str) -> None:
        upper, key = stack[-1]
        if upper.form != "map":
            upper.parts.append(value)
        elif not key:
            key.append((value.start, value.end, text))
        else:
            start, end, name = key.pop()
            item = Item(name, start, end, value, upper.in_braces)
            upper.items.append(item)
            self._items[start] = item


def _span(event: Event) -> tuple[int, int]:
    start, end = event.start_mark, event.end_mark
    assert start is not None
    assert end is not None
    return start.index, end.index


def _scalar(event: ScalarEvent, text: str) -> Value:
    start, end = _span(event)
    if start == end:
        return Value("nothing", start, end)
    form: Form = "block_text" if event.style in ("|", ">") else "text"
    return Value(form, start, start + len(text[start:end].rstrip()), text=event.value)


def _last_end(value: Value) -> int:
    """Where the last part of a map or list in block style ends."""
    if value.items:
        last = value.items[-1]
        return max(last.value.end, last.end)
    return value.parts[-1].end if value.parts else value.start
