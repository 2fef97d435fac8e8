"""Rules, decisions and figures explained on the screen, in the words of the manual."""

from __future__ import annotations

from collections.abc import Iterator

from spec.compose.formula import as_text
from spec.compose.manual.decisions import by_pattern
from spec.compose.manual.entry import Entry
from spec.compose.manual.figures import figures
from spec.compose.manual.findings import finding_entry, findings

_LISTED = 3
"""So many patterns of an entry are listed where a bare key is several decisions."""


def explained(name: str) -> str | None:
    """What the manual says under a name, as text; None where it says nothing.

    A name is a rule's, a figure's (also with the thing that it is worked out for), or a
    decision's: its pattern (`door.leaf.width`), or its last keys where these are one decision
    only. Where they are several, they are listed.
    """
    declared = findings().get(name) or figures().get(name.partition("@")[0])
    if declared is not None:
        return _text(declared)
    exact = by_pattern().get(name, ())
    if exact:
        return "\n\n".join(_text(entry, name) for entry in exact)
    family = finding_entry(name)
    if family is not None:
        return _text(family)
    ending = {
        pattern: entries
        for pattern, entries in by_pattern().items()
        if pattern.endswith(f".{name}")
    }
    found = dict.fromkeys(entry for entries in ending.values() for entry in entries)
    if len(found) == 1:
        return _text(next(iter(found)), next(iter(ending)))
    return "\n".join(_candidates(name, tuple(found), set(ending))) if found else None


def names() -> Iterator[str]:
    """Every name that can be explained, bare keys too."""
    yield from findings()
    yield from figures()
    yield from by_pattern()
    yield from dict.fromkeys(pattern.rpartition(".")[2] for pattern in by_pattern())


def _candidates(name: str, entries: tuple[Entry, ...], ending: set[str]) -> Iterator[str]:
    yield f"`{name}` is asked in several places:"
    yield ""
    for entry in entries:
        patterns = [p for p in (entry.name, *entry.also) if p in ending]
        more = len(patterns) - _LISTED
        tail = f" and {more} more" if more > 0 else ""
        yield f"  {', '.join(patterns[:_LISTED])}{tail}"
        yield f"      {entry.words[0] if entry.words else entry.title}"


def _text(entry: Entry, asked_as: str = "") -> str:
    """One entry as text."""
    level = dict(entry.facts).get("Level")
    about = f"{level}, {entry.subject}" if level else f"{entry.sort}, {entry.subject}"
    lines = [f"{asked_as or entry.name}  ({about})", ""]
    if not entry.words or not entry.words[0].startswith(entry.title):
        lines += [entry.title, ""]
    for words in entry.words:
        lines += [words, ""]
    lines += [f"    {as_text(formula)}" for formula in entry.formulas]
    lines += [""] * bool(entry.formulas)
    for label, text in entry.facts:
        if label not in ("Level", "Also", "Also asked of"):
            lines.append(f"{label}: " + text.replace("\n", "\n    or "))
    for label, text in entry.examples:
        lines += ["", f"{label}:", *(f"    {line}" for line in text.strip("\n").splitlines())]
    return "\n".join(lines)
