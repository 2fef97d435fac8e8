"""Lines that stand where none may stand: tabs, wrong indents, dashes among keys, no colon."""

from __future__ import annotations

import re
from typing import NamedTuple

from spec.finding import Finding
from spec.read.line import after_dashes, indent_of, key_end
from spec.read.page import Page
from spec.read.report import finding, in_quotes
from spec.read.slips import Slip

_TAB = re.compile(r" *\t")
_STUCK = re.compile(r"([A-Za-z_]\w*):(\S.*)")


class Misplaced(NamedTuple):
    """Lines (from 0) that were not read, from `start` up to but not with `end`, and why."""

    start: int
    end: int
    finding: Finding


def has_tab(line: str) -> bool:
    """Whether a tab stands in the line's indent."""
    return bool(_TAB.match(line)) and bool(line.strip())


def tabs(page: Page, number: int) -> Misplaced:
    """The run of lines that tabs indent."""
    end = number + 1
    while end < page.count and (has_tab(page.line(end)) or not page.line(end).strip()):
        end += 1
    while end > number + 1 and not page.line(end - 1).strip():
        end -= 1
    lines = "this line" if end == number + 1 else f"the lines {number + 1} to {end}"
    column = page.line(number).index("\t")
    found = finding(
        "tab",
        page.place(page.starts[number] + column),
        f"a tab indents {lines}; nothing of that was read: {page.line(number).strip()[:100]}",
        "indent with blanks, two for each step; most editors can turn all tabs into blanks",
    )
    return Misplaced(number, end, found)


def percent(page: Page, number: int) -> Misplaced:
    """A line that begins with a percent sign."""
    told = f"a line that begins with % is not read; written: {page.line(number).strip()[:100]}"
    cure = "take it out, or write it as a comment behind `# `"
    place = page.place(page.starts[number])
    return Misplaced(number, number + 1, finding("sign-at-the-start", place, told, cure))


def without_colon(page: Page, number: int) -> int | None:
    """The line, this one or the one before, that is a text alone among keys; None if neither."""
    line = page.line(number)
    if not key_end(line) and not line[: after_dashes(line)].strip():
        return number
    before = page.before(number)
    if before is None:
        return None
    above = page.text_line(before)
    alone = not key_end(above) and not above[: after_dashes(above)].strip()
    return before if alone and indent_of(above) == indent_of(line) else None


def no_colon_slip(words: str) -> Slip:
    """A text alone where a key is due."""
    if stuck := _STUCK.fullmatch(words):
        what = "a colon needs a blank behind it"
        return Slip("colon-without-blank", what, f"{stuck[1]}: {stuck[2]}")
    if words == "...":
        return Slip("several-documents", "three dots end the document here", f"# {words}")
    what = "this line has no key with a colon, and is not indented as a part of the one above"
    instead = f"{words}: TBD" if words.isidentifier() else f"note: {in_quotes(words)}"
    return Slip("line-without-key", what, instead)


def misplaced(page: Page, number: int, said: str) -> Misplaced:
    """The lines that go with one that stands where none may stand."""
    line = page.line(number)
    depth = indent_of(line)
    dash = bool(line[: after_dashes(line)].strip())
    before = page.before(number)
    above = page.line(before).strip() if before is not None else ""
    same = dash or "mapping values" in said
    end = number + 1
    while end < page.count:
        each = page.line(end)
        deeper = indent_of(each) > depth or (
            same and indent_of(each) == depth and dash == each.lstrip().startswith("- ")
        )
        if each.strip() and not deeper:
            break
        end += 1
    while end > number + 1 and not page.line(end - 1).strip():
        end -= 1
    if dash:
        rule, what = "dash-among-keys", "a list item stands where a key is due"
        cure = "write a key and a colon in place of the dash, or indent the list under its key"
    elif "'-'" in said:
        rule, what = "key-among-items", "a key stands where a list item with its dash is due"
        cure = "put `- ` before it, or begin it where the key of the list begins"
    elif "mapping values" in said and before is not None:
        rule, what = (
            "indent",
            f"this stands deeper than `{above[:60]}`, which has its value already",
        )
        cure = f"begin it in column {indent_of(page.line(before)) + 1}, where that line begins"
    else:
        rule, what = "indent", "this begins in a column where no key above it begins"
        cure = f"begin it in column {_columns(page, number)}, as the line that it belongs with"
    if end > number + 1:
        what += f"; the lines {number + 1} to {end} were not read"
    start = page.starts[number] + depth
    told = f"{what}; written: {line.strip()[:100]}"
    return Misplaced(number, end, finding(rule, page.place(start), told, cure))


def _columns(page: Page, number: int) -> str:
    """The columns in which the keys above a line begin that are still open there."""
    columns: list[int] = []
    before = page.before(number)
    while before is not None and (not columns or columns[-1] > 1):
        column = after_dashes(page.text_line(before)) + 1
        if not columns or column < columns[-1]:
            columns.append(column)
        before = page.before(before)
    return " or ".join(str(column) for column in reversed(columns[:4]))
