"""Reads a job file or a house file: text, positions, traps, scalars as written. Knows no schema."""

from __future__ import annotations

from pathlib import Path

from spec.finding import Finding, Place
from spec.read.heal import build_healed
from spec.read.report import finding, unusable
from spec.read.text import LARGEST, decode, load, tidy, too_large, unseen, without_idle_tabs
from spec.read.tree import (
    Entry,
    Mapping,
    Node,
    Scalar,
    Sequence,
    Source,
    Unreadable,
    Unusable,
)

__all__ = [
    "Entry",
    "Mapping",
    "Node",
    "Scalar",
    "Sequence",
    "Source",
    "Unreadable",
    "Unusable",
    "read",
    "read_text",
]

FORMAT = 1
"""The version of the job file's grammar that this program reads."""


WHAT = {"scantling": "a job file", "scantling_house": "a file of house standards"}
"""Which kind of file begins with which key."""


def read(path: Path, shown_as: str | None = None, version_key: str = "scantling") -> Source:
    """Reads a file. `shown_as` is its name in findings; `version_key` the key of its version.

    Raises Unusable where nothing of the file can be used.
    """
    name = shown_as if shown_as is not None else str(path)
    return read_text(decode(load(path, name), name), name, version_key)


def read_text(text: str, name: str, version_key: str = "scantling") -> Source:
    """Reads a text as if it stood in a file of that name. Raises Unusable as `read` does."""
    if len(text) > LARGEST:
        raise too_large(Place(name, 1, 1), len(text))
    text = tidy(text)
    clean, bad, findings = unseen(text, name)
    clean = without_idle_tabs(clean)
    root, more = build_healed(name, clean, text, bad) if text.strip() else (None, [])
    findings += more
    if not isinstance(root, Mapping):
        if findings and not isinstance(root, Scalar | Sequence):
            raise Unusable(findings[0], findings[1:])
        raise _no_map(root, Place(name, 1, 1), version_key)
    slips = _version(root, version_key, name)
    findings += slips
    findings.sort(key=Finding.sort_key)
    if slips:
        root = _unread(root, version_key)
    return Source(name, text, root, tuple(findings))


def _no_map(root: Node | None, start: Place, key: str) -> Unusable:
    """The refusal of a file that has no keys at its top."""
    begin = f"begin it with `{key}: {FORMAT}`"
    if root is None:
        return unusable("empty", start, "there is nothing in this file", f"{begin} and go on")
    what = "a list" if isinstance(root, Sequence) else "a text"
    cure = f"{begin} and go on with lines of the form `key: value`"
    return unusable("no-map", root.place, f"the file is {what}, where keys are due", cure)


def _version(root: Mapping, key: str, name: str) -> list[Finding]:
    """A later version of the grammar and the other kind of file are refused; else it is a slip."""
    node = root.get(key)
    other = next((k for k in WHAT if k != key and root.get(k) is not None), "")
    if other and node is None:
        raise unusable(
            "other-kind-of-file",
            Place(name, 1, 1),
            f"this is {WHAT[other]}, and {WHAT[key]} is due here",
            "name the job file; it says under `house` on which standards it rests"
            if key == "scantling"
            else f"name the house standards, a file that begins with `{key}: {FORMAT}`",
        )
    if not isinstance(node, Scalar) or node.absent or node.text == str(FORMAT):
        return []
    cure = f"write `{key}: {FORMAT}`"
    digits = node.text.split(".")[0]
    if digits.isascii() and digits.isdigit() and int(digits[:9]) > FORMAT:
        raise unusable(
            "later-version",
            node.place,
            f"this file is of version {node.text[:20]} of the grammar; this program reads {FORMAT}",
            "use a later version of the program",
        )
    return [finding("format-version", node.place, f"`{node.text[:60]}` is no version", cure)]


def _unread(root: Mapping, key: str) -> Mapping:
    """The same with the text of one key as unreadable: what is wrong with it was said."""
    return Mapping(
        tuple(
            entry._replace(value=Unreadable(entry.value.place, entry.value.text))
            if entry.key == key and isinstance(entry.value, Scalar)
            else entry
            for entry in root.entries
        ),
        root.place,
    )
