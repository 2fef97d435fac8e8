"""What the shipped fonts can print, and how wide: read from a small table, without a font library.

`templates/fonts/metrics.json` is derived with the fonts; a test holds it equal to them.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass, fields, is_dataclass
from functools import cache
from pathlib import Path
from typing import Any, Literal, TypeVar

from spec.files import templates

Face = Literal["regular", "bold", "italic"]
Part = TypeVar("Part")

CONTROLS = frozenset("\n\t")
"""Characters that set text apart and are never printed themselves."""

_NOT_PRINTED = frozenset({"cites", "name", "folder", "language", "link", "anchor"})
"""Fields of blocks and scenes that name something and stand on no page."""


@dataclass(frozen=True, slots=True)
class Metrics:
    """Coverage and advance widths of the fonts; lengths as a share of the letter size."""

    family: str
    capital_height: float
    covered: frozenset[str]
    widths: dict[Face, dict[str, float]]


def folder() -> Path:
    """Where the fonts lie."""
    return templates() / "fonts"


def file(face: Face, kind: Literal["ttf", "woff2"]) -> Path:
    """One font file."""
    return folder() / f"ScantlingSans-{face.capitalize()}.{kind}"


@cache
def metrics() -> Metrics:
    """The table, read once."""
    table = json.loads((folder() / "metrics.json").read_text(encoding="utf-8"))
    widths: dict[Face, dict[str, float]] = {
        face: {chr(int(code, 16)): width / 1000 for code, width in row.items()}
        for face, row in table["widths"].items()
    }
    covered = frozenset.intersection(*(frozenset(row) for row in widths.values()))
    return Metrics(table["family"], table["capital_height"] / 1000, covered | CONTROLS, widths)


def width(text: str, size: float, face: Face = "regular") -> float:
    """Length of one line of text set at `size`, in the unit of `size`; kerning left out."""
    table = metrics().widths[face]
    return size * sum(table.get(character, 0.6) for character in text)


def missing_glyphs(text: str) -> tuple[str, ...]:
    """The characters of the text that the fonts lack, each once, in order of their codes."""
    return tuple(sorted(set(text) - metrics().covered))


def printable(text: str) -> str:
    """The text with each character that the fonts lack as a box with its code.

    >>> printable("Oak 中 1/2")
    'Oak □U+4E2D 1/2'
    """
    if metrics().covered.issuperset(text):
        return text
    covered = metrics().covered
    return "".join(c if c in covered else f"□U+{ord(c):04X}" for c in text)


def made_printable(part: Part) -> tuple[Part, frozenset[str]]:
    """A document or any part of one with all its text printable, and the characters it lacked.

    A part without such characters comes back as the same object.
    """
    missing: set[str] = set()
    return _walk(part, missing), frozenset(missing)


def _walk(part: Any, missing: set[str]) -> Any:
    if isinstance(part, str):
        lacking = missing_glyphs(part)
        missing.update(lacking)
        return printable(part) if lacking else part
    names = _fields(part)
    if names:
        values = {
            name: getattr(part, name)
            if name in _NOT_PRINTED
            else _walk(getattr(part, name), missing)
            for name in names
        }
        changed = any(value is not getattr(part, name) for name, value in values.items())
        return type(part)(**values) if changed else part
    if isinstance(part, tuple):
        items = tuple(_walk(item, missing) for item in part)
        changed = any(new is not old for new, old in zip(items, part, strict=True))
        return items if changed else part
    return part


def _fields(part: Any) -> Sequence[str]:
    """The names of the fields of a block (a named tuple) or of a scene's parts (dataclasses)."""
    if is_dataclass(part) and not isinstance(part, type):
        return [field.name for field in fields(part)]
    return getattr(part, "_fields", ())
