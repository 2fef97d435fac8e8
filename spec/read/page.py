"""The text that is being read, with its lines: places, excerpts, what stands behind a value."""

from __future__ import annotations

import re
from bisect import bisect_right
from dataclasses import dataclass
from functools import cached_property

from spec.finding import Place
from spec.read.report import shown

_HASH = re.compile(r"#[^\s#]\S*")
_BEHIND = re.compile(r"[ \t]+(#[^\s#][^\n]*)")
_FAR = 400  # characters of a line that can matter to a reader
_WORDS = re.compile(r"[^\W_]")


@dataclass(frozen=True)
class Page:
    """A text to be read and what its writer wrote.

    `text` may have stand-ins where it was healed; `written` is the text before that. Both
    have the same lines and columns, so an index means the same place in either.
    """

    name: str
    text: str
    written: str

    @cached_property
    def starts(self) -> list[int]:
        """The index of each line's first character."""
        starts = [0]
        index = self.written.find("\n")
        while index >= 0:
            starts.append(index + 1)
            index = self.written.find("\n", index + 1)
        return starts

    @cached_property
    def hashes(self) -> frozenset[int]:
        """The lines (from 0) in which a # stands behind a blank and before a word."""
        return frozenset(
            self.line_of(match.start())
            for match in _HASH.finditer(self.text)
            if self.text[match.start() - 1] in " \t" and _is_text(match.group())
        )

    @property
    def count(self) -> int:
        """How many lines there are."""
        return len(self.starts)

    def with_text(self, text: str) -> Page:
        """The page with another healed text of the same lines and columns."""
        page = Page(self.name, text, self.written)
        page.__dict__["starts"] = self.starts
        return page

    def line_of(self, index: int) -> int:
        """The line (from 0) in which the character of that index stands."""
        return bisect_right(self.starts, index) - 1

    def place(self, index: int) -> Place:
        """The place of the character of that index."""
        line = self.line_of(index)
        return Place(self.name, line + 1, index - self.starts[line] + 1)

    def line(self, number: int) -> str:
        """A line (from 0) as written, without its end."""
        start = self.starts[number]
        if number + 1 < len(self.starts):
            return self.written[start : self.starts[number + 1] - 1]
        return self.written[start:]

    def text_line(self, number: int) -> str:
        """A line (from 0) of the healed text."""
        start = self.starts[number]
        if number + 1 < len(self.starts):
            return self.text[start : self.starts[number + 1] - 1]
        return self.text[start:]

    def at(self, index: int) -> tuple[int, int]:
        """Line and column (from 0) of an index; behind the end of the text, of its last words."""
        if index >= len(self.written):
            index = max(0, len(self.written.rstrip()) - 1)
        number = self.line_of(index)
        return number, index - self.starts[number]

    def before(self, number: int) -> int | None:
        """The nearest line above that has more than a comment in the healed text."""
        for each in range(number - 1, -1, -1):
            line = self.text_line(each).strip()
            if line and not line.startswith("#"):
                return each
        return None

    def behind(self, end: int) -> str:
        """The text from a # that stands directly behind a value ending at `end`, or nothing."""
        match = _BEHIND.match(self.text, end)
        return match.group(1).rstrip() if match and _is_text(match.group(1)) else ""

    def shown(self, start: int, end: int, instead: str) -> tuple[str, str]:
        """The line of `start` as written, and with the span from `start` to `end` replaced."""
        text, first = self.written, self.starts[self.line_of(start)]
        stop = text.find("\n", end, end + _FAR)
        tail = text[end:stop] if stop >= 0 else text[end : end + _FAR]
        return shown(text[max(first, start - _FAR) : start], text[start:end], tail, instead)


def _is_text(comment: str) -> bool:
    """Whether what follows on the # begins with a word or a number, and is no ruled line."""
    return bool(_WORDS.search(comment.split(None, 1)[0]))
