"""The tree between reading and typing: states told from values, nothing typed yet."""

from __future__ import annotations

from collections.abc import Mapping as MappingABC
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from spec.finding import Place
from spec.job.states import Fault, StateKind, faults, kind_of
from spec.read import Entry, Mapping, Node, Scalar, Sequence, Unreadable


class State(NamedTuple):
    """What stands in place of a decided value."""

    kind: StateKind
    place: Place
    who: str = ""
    due: str = ""
    why: str = ""
    ask: str = ""
    asked: str = ""
    until: str = ""
    waits_for: tuple[str, ...] = ()
    choices: tuple[str, ...] = ()
    chosen: str = ""
    note: str = ""
    faults: tuple[Fault, ...] = ()


@dataclass(slots=True)
class Raw:
    """A value with its place and where it came from.

    `value` is a map, a list of leaves, a text, or None where there is no value to work with.
    """

    value: dict[str, Raw] | list[Raw] | str | None
    place: Place
    key_place: Place
    state: State | None = None
    origin: str = ""
    through: str = ""
    keys: dict[str, Place] = field(default_factory=dict)

    def map(self) -> dict[str, Raw]:
        """The entries of a map; nothing for any other value."""
        return self.value if isinstance(self.value, dict) else {}

    def text(self, key: str) -> str:
        """The text under a key, empty where there is none."""
        below = self.map().get(key)
        return below.value if below is not None and isinstance(below.value, str) else ""

    def inherited(self, origin: str, through: str = "") -> Raw:
        """A deep copy that says where it came from."""
        value = self.value
        if isinstance(value, dict):
            value = {key: below.inherited(origin, through) for key, below in value.items()}
        elif isinstance(value, list):
            value = [below.inherited(origin, through) for below in value]
        return replace(self, value=value, origin=self.origin or origin, through=through)


Choose = MappingABC[Place, str]
"""Which of its choices an open decision is taken to have, by the place of its state."""


def raw_of(node: Node, choose: Choose, key_place: Place | None = None) -> Raw:
    """Turn what was read into raw values, states told from values."""
    at = key_place or node.place
    if isinstance(node, Scalar):
        if node.absent:
            return Raw(None, node.place, at, State("unreadable", node.place, who="lead"))
        if node.text == "TBD" and not node.quoted:
            return Raw(None, node.place, at, State("open", node.place))
        return Raw(node.text, node.place, at)
    if isinstance(node, Unreadable):
        state = State("unreadable", node.place, who="lead", why=node.written)
        return Raw(None, node.place, at, state)
    if isinstance(node, Sequence):
        return Raw([raw_of(item, choose) for item in node.items], node.place, at)
    state_kind = kind_of(node)
    if state_kind:
        return _stated(node, state_kind, choose, at)
    value = {entry.key: raw_of(entry.value, choose, entry.place) for entry in node.entries}
    return Raw(value, node.place, at)


def _stated(node: Mapping, kind: StateKind, choose: Choose, at: Place) -> Raw:
    entries: dict[str, Entry] = {entry.key: entry for entry in node.entries}
    first = entries[kind]

    def text(key: str) -> str:
        entry = entries.get(key)
        return entry.value.text if entry and isinstance(entry.value, Scalar) else ""

    waits = entries.get("waits_for")
    waits_for: tuple[str, ...] = ()
    if waits:
        nodes = waits.value.items if isinstance(waits.value, Sequence) else (waits.value,)
        waits_for = tuple(n.text for n in nodes if isinstance(n, Scalar))
    working: Raw | None = None
    choices: tuple[str, ...] = ()
    chosen = ""
    either = entries.get("either")
    if either and isinstance(either.value, Mapping):
        alternatives = {e.key: e.value for e in either.value.entries}
        choices = tuple(alternatives)
        wish = choose.get(node.place, text("meanwhile"))
        chosen = wish if wish in alternatives else (choices[0] if choices else "")
        if chosen:
            working = raw_of(alternatives[chosen], choose)
    elif "meanwhile" in entries:
        working = raw_of(entries["meanwhile"].value, choose)
    elif kind == "assumed":
        working = raw_of(first.value, choose)
    wrong = [*faults(node, kind)]
    if working is not None and working.state is not None and working.state.kind != "unreadable":
        cure = "write a value to work with, or mark the decision open without one"
        wrong.append(Fault(working.place, f"`{kind}` has no value to work with", cure))
    reason = text(kind)
    state = State(
        "unreadable" if kind == "not_applicable" and not reason.strip() else kind,
        node.place,
        who=reason if kind == "open" else text("who"),
        due=text("due"),
        why=text("why") if kind in ("open", "assumed") else reason,
        ask=text("ask"),
        asked=text("asked"),
        until=text("until"),
        waits_for=waits_for,
        choices=choices,
        chosen=chosen,
        note=text("note"),
        faults=tuple(wrong),
    )
    return Raw(working.value if working else None, node.place, at, state)
