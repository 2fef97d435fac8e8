"""How the reader puts a finding: a rule name, a place, the line as written and as it should be."""

from __future__ import annotations

from spec.finding import Finding, Level, Place, Spot
from spec.read.tree import Unusable

DEEPEST = 60
"""Maps and lists inside one another; a job of three rooms has some twelve."""
MOST = 1000
"""Findings of the reader in one file; a lead's worst first evening made fifty."""
_AROUND = 48
_LONGEST = 132


def finding(
    rule: str, place: Place, message: str, cure: str, *more: Place, level: Level = Level.ERROR
) -> Finding:
    """A finding of the reader; `more` are the other places of a conflict."""
    spots = tuple(Spot("", each) for each in (place, *more))
    return Finding(f"reading.{rule}", level, message, cure, spots)


class Findings(list[Finding]):
    """The findings of one file, in the order in which they were made.

    Raises Unusable when there are more than a person would read.
    """

    def append(self, each: Finding) -> None:
        """Adds one finding."""
        if len(self) >= MOST:
            what = f"there are {MOST} slips up to this line: this is hardly a job file"
            cure = "check that it is the right file, and put those right first"
            raise Unusable(finding("too-many-slips", each.place, what, cure), self)
        super().append(each)


def too_deep(place: Place) -> Unusable:
    """The refusal of a file whose maps and lists stand too deep in one another."""
    return unusable(
        "too-deep",
        place,
        f"maps and lists stand more than {DEEPEST} deep in one another here",
        "check the brackets, braces and indents up to this line",
    )


def unusable(rule: str, place: Place, message: str, cure: str) -> Unusable:
    """The refusal of a whole file, to be raised."""
    return Unusable(finding(rule, place, message, cure))


def shown(head: str, written: str, tail: str, instead: str) -> tuple[str, str]:
    """A line as written, and with `instead` in place of `written`, both short enough to print.

    A long line is cut around the place; an ellipsis stands for what was left out. What stood
    on several lines comes on one.
    """
    long = len((head + written + tail).strip()) > _LONGEST
    if long and len(head.lstrip()) > _AROUND:
        head = "…" + head[-_AROUND:]
    if long and len(tail.rstrip()) > _AROUND:
        tail = tail[:_AROUND] + "…"
    return _one_line(head + _short(written) + tail), _one_line(head + _short(instead) + tail)


def _short(words: str) -> str:
    return words if len(words) <= _LONGEST else words[:_LONGEST] + "…"


def _one_line(words: str) -> str:
    return " ".join(line.strip() for line in words.split("\n")).strip()


def in_quotes(words: str) -> str:
    """The text as a quoted YAML text on one line."""
    if '"' not in words and "\\" not in words:
        return f'"{words}"'
    return "'" + words.replace("'", "''") + "'"
