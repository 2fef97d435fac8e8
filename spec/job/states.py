"""The words of a state (open, assumed, not applicable, dropped), and what may stand beside."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from typing import Literal, NamedTuple

from spec.finding import Place
from spec.meant import did_you_mean
from spec.read import Entry, Mapping, Scalar, Unreadable

StateKind = Literal["open", "assumed", "not_applicable", "dropped", "unreadable"]

_KEYS: dict[StateKind, tuple[str, ...]] = {
    "open": (
        *("open", "due", "waits_for", "ask", "asked", "meanwhile", "either", "why"),
        *("note", "tell"),
    ),
    "assumed": ("assumed", "until", "due", "who", "why", "note", "tell"),
    "not_applicable": ("not_applicable", "who", "when", "note", "tell"),
    "dropped": ("dropped", "note"),
}
STATES = tuple(_KEYS)
"""The words that begin a state."""
_THINGS = frozenset({"is", "like", "product"})
_DAYS = ("due", "when")
_DAY = re.compile(r"^\d{4}-\d{2}-\d{2}$")


class Fault(NamedTuple):
    """What is wrong with the way in which a state is written, and what would put it right."""

    place: Place
    message: str
    cure: str


def kind_of(node: Mapping) -> StateKind | None:
    """The state that a map is; None for a map of facts.

    A map that begins with a state's word is that state, slips in its other keys included. `open`
    with a figure behind it is a width.
    """
    keys = [entry.key for entry in node.entries]
    for kind, known in _KEYS.items():
        if kind not in keys:
            continue
        if set(keys) <= set(known):
            return kind
        value = node.entries[0].value
        figure = isinstance(value, Scalar) and value.text[:1].isdigit() and kind == "open"
        if keys[0] == kind and not figure and _THINGS.isdisjoint(keys):
            return kind
    return None


def faults(node: Mapping, kind: StateKind) -> Iterator[Fault]:
    """What is wrong with the keys of a state."""
    known = _KEYS[kind]
    words = kind.replace("_", " ")
    for entry in node.entries:
        if entry.key not in known:
            yield Fault(
                entry.place,
                f"`{entry.key}` is not known beside `{kind}`{did_you_mean(entry.key, known)}",
                f"what may stand beside it: {', '.join(known[1:])}",
            )
        elif entry.key in _DAYS and not _is_day(entry):
            yield Fault(
                entry.value.place,
                f"`{entry.key}` is no day of the calendar",
                "write year-month-day, for example 2026-11-06",
            )
        elif entry.key == kind and kind != "assumed" and not _is_text(entry):
            yield Fault(
                entry.value.place,
                f"behind `{kind}` stands no text",
                "write who decides" if kind == "open" else f"write in words why it is {words}",
            )
    yield from _choices(node)


def _is_text(entry: Entry) -> bool:
    value = entry.value
    if not isinstance(value, Scalar):
        return isinstance(value, Unreadable)
    return value.absent or bool(value.text.strip())  # nothing at all was reported when read


def _is_day(entry: Entry) -> bool:
    value = entry.value
    if not isinstance(value, Scalar):
        return isinstance(value, Unreadable)
    try:
        return bool(value.absent or (_DAY.match(value.text) and date.fromisoformat(value.text)))
    except ValueError:
        return False


def _choices(node: Mapping) -> Iterator[Fault]:
    entries = {entry.key: entry.value for entry in node.entries}
    either = entries.get("either")
    if either is None:
        return
    if not isinstance(either, Mapping) or len(either.entries) < 2:
        yield Fault(
            either.place,
            "`either` does not name two choices or more",
            "give each choice a small word: either: {stone: {...}, oak: {...}}",
        )
        return
    meanwhile = entries.get("meanwhile")
    names = [entry.key for entry in either.entries]
    if meanwhile is not None and not (isinstance(meanwhile, Scalar) and meanwhile.text in names):
        yield Fault(
            meanwhile.place,
            "`meanwhile` is none of the choices",
            f"write one of: {', '.join(names)}",
        )
