"""The parts of one line of YAML, found without a parser: for lines that a parser refuses.

All positions are columns from 0 in the line; a span is (first, behind the last). Braces may
go on over several lines: `entry_span` and `missing_closers` take all of them as one text.
"""

from __future__ import annotations

import re

Span = tuple[int, int]

_KEY = re.compile(
    r"""(?:(?:"(?:[^"\\]|\\.)*"|'(?:[^']|'')*')[ ]*|[^\s"'\[\]{},#][^#]*?):(?=\s|$)"""
)
_DASHES = re.compile(r"[ \t]*(?:-[ \t]+)*")
_BLANKS = re.compile(r"(?:\s|(?<=\s)#[^\n]*)*")
_QUOTED = re.compile(r"""(["'])[^\n]*?\1(?=\s*(?:,\s*(?:[\w-]+:\s|["'])|[\]}]|$))""")
_SPACE = " \t\n"
_CLOSER = {"[": "]", "{": "}"}


def indent_of(line: str) -> int:
    """How many blanks the line begins with."""
    return len(line) - len(line.lstrip(" "))


def key_end(line: str) -> int:
    """Where the line's first key ends, behind its colon; 0 where it has none."""
    match = _KEY.match(line, after_dashes(line))
    return match.end() if match else 0


def after_dashes(line: str) -> int:
    """Where the line's first word begins, behind blanks and the dashes of list items."""
    match = _DASHES.match(line)
    return match.end() if match else 0


def value_span(line: str) -> Span:
    """The value behind the line's first key (or dash), without a comment."""
    start = key_end(line) or after_dashes(line)
    start += len(line[start:]) - len(line[start:].lstrip())
    return start, max(start, _segments(line, start)[-1][1])


def entry_span(line: str, column: int) -> Span:
    """The value of the innermost entry in braces or brackets at that column.

    On a line, or a part of it, that has none, the value of the line.
    """
    start, end = value_span(line)
    inside = [
        (first, last)
        for first, last, depth in _segments(line, start)
        if depth and first <= column <= last
    ]
    if not inside:
        return start, end
    first, last = min(inside, key=lambda span: span[1] - span[0])
    first = _skip(line, first, last)
    key = _KEY.match(line, first, last)
    if key:
        first = _skip(line, key.end(), last)
    if (text := _QUOTED.match(line, first)) and text.end() > last:
        last = text.end()
    return first, first + len(line[first:last].rstrip())


def missing_closers(text: str) -> str:
    """The brackets and braces that a text opens and does not close, as they should close."""
    depth: list[str] = []
    for index, sign in _signs(text, 0):
        if sign in _CLOSER:
            depth.append(_CLOSER[sign])
        elif sign in "]}" and depth and index:
            depth.pop()
    return "".join(reversed(depth))


def hash_in(line: str, start: int) -> int:
    """Where, from `start` on, a # stands behind a blank and before a word; -1 for nowhere."""
    if "#" not in line:
        return -1
    for index, sign in _signs(line, start):
        if sign == "#" and re.match(r"#\w", line[index:]):
            return index
    return -1


def _skip(line: str, first: int, last: int) -> int:
    """Where the first word begins behind blanks, line ends and comments."""
    match = _BLANKS.match(line, first, last)
    return match.end() if match else first


def _segments(line: str, start: int) -> list[tuple[int, int, int]]:
    """Spans between the commas and brackets, with their depth; the last is the whole value."""
    found: list[tuple[int, int, int]] = []
    opened = [start]
    end = len(line)
    for index, sign in _signs(line, start):
        if sign in "[{":
            opened.append(index + 1)
        elif sign == "#":
            end = end if "\n" in line[index:] else index
        elif len(opened) > 1:
            found.append((opened[-1], index, len(opened) - 1))
            if sign == ",":
                opened[-1] = index + 1
            else:
                opened.pop()
    end = len(line[:end].rstrip())
    for depth in range(len(opened) - 1, -1, -1):
        found.append((opened[depth], max(end, opened[depth]), depth))
    return found


def _signs(line: str, start: int) -> list[tuple[int, str]]:
    """The brackets, braces and commas outside quotes and the # of a comment, with their columns."""
    found: list[tuple[int, str]] = []
    depth, fresh, index = 0, True, start
    while index < len(line):
        sign = line[index]
        if fresh and sign in "\"'":
            index = _closing(line, index)
            fresh = False
        elif sign in "[{" and (fresh or depth):
            depth += 1
            fresh = True
            found.append((index, sign))
        elif sign in "]}" and depth:
            depth -= 1
            fresh = False
            found.append((index, sign))
        elif sign == "," and depth:
            fresh = True
            found.append((index, sign))
        elif sign == "#" and index and line[index - 1] in _SPACE:
            found.append((index, sign))
            index = line.find("\n", index)
            if index < 0:
                return found
        elif sign == ":" and line[index + 1 : index + 2] in _SPACE:
            fresh = True
        elif sign not in _SPACE:
            fresh = False
        index += 1
    return found


def _closing(line: str, start: int) -> int:
    """The column of the quote that closes the one at `start`; the line's last where none does."""
    quote, index = line[start], start + 1
    while index < len(line):
        if line[index] == "\\" and quote == '"':
            index += 1
        elif line[index] == quote:
            if quote == "'" and line[index + 1 : index + 2] == "'":
                index += 1
            else:
                return index
        index += 1
    return len(line) - 1
