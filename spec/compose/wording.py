"""Decisions in words: values as written with their conversion, states, places, names of things."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

from spec.job.job import Job
from spec.job.node import Node
from spec.job.raw import State
from spec.job.record import note
from spec.quantity import Quantity, Range, Series, Size, both, show


def value_text(job: Job, node: Node) -> str:
    """A leaf as a reader sees it; it is recorded as stated."""
    note(*node.cites)
    text = _written(job, node)
    mark = state_text(node)
    if text and mark:
        return f"{text} ({mark})"
    return text or mark


def _written(job: Job, node: Node) -> str:
    value = node.value
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Quantity | Range | Size | Series):
        return both(value, job.system)
    if isinstance(value, tuple) and value and all(isinstance(v, date) for v in value):
        return _days(value)
    if isinstance(value, tuple):
        parts = [both(v, job.system) if isinstance(v, Quantity) else str(v) for v in value]
        return ", ".join(_plain_word(node, part) for part in parts)
    visit = job.find(node.written) if "." in node.written else None
    if visit is not None and visit.kind == "visit":
        return visit.address.replace(".", ": ").replace("_", " ")
    return _plain_word(node, node.written)


def _days(days: tuple[Any, ...]) -> str:
    """Days that follow each other as spans: `2026-12-21 to 2027-01-02`."""
    spans: list[tuple[date, date]] = []
    for day in days:
        if spans and (day - spans[-1][1]).days == 1:
            spans[-1] = (spans[-1][0], day)
        else:
            spans.append((day, day))
    return ", ".join(str(a) if a == b else f"{a} to {b}" for a, b in spans)


def _plain_word(node: Node, text: str) -> str:
    """Words of the schema lose their underscores; what the lead wrote stays as it is."""
    if node.shape.scalar in ("text", "path", "date", "dates"):
        return text
    return text.replace("_", " ")


def state_text(node: Node) -> str:
    """What stands in place of a decision, in words; empty where it is decided."""
    state = node.state
    if state is None:
        return ""
    return _STATES[state.kind](state)


def _open(state: State) -> str:
    words = ["OPEN"]
    if state.who:
        words.append(f"{state.who} decides")
    if state.due:
        words.append(f"by {state.due}")
    if state.waits_for:
        words.append(f"waits for {', '.join(state.waits_for)}")
    if state.choices:
        words.append(f"choices: {', '.join(state.choices)}; shown here: {state.chosen}")
    return words[0] + (": " + ", ".join(words[1:]) if words[1:] else "")


def _assumed(state: State) -> str:
    until = f" until {state.until}" if state.until else ""
    return f"ASSUMED{until}" + (f", by {state.due}" if state.due else "")


def _none(state: State) -> str:
    return f"none: {state.why}" if state.why else "none"


def _dropped(state: State) -> str:
    return f"taken out: {state.why}"


def _unreadable(state: State) -> str:
    return f"COULD NOT BE READ: {state.why}"


_STATES: dict[str, Callable[[State], str]] = {
    "open": _open,
    "assumed": _assumed,
    "not_applicable": _none,
    "dropped": _dropped,
    "unreadable": _unreadable,
}


def figure_text(job: Job, value: float, dimension: str) -> str:
    """A computed value in the job's units."""
    if dimension == "count":
        return f"{value:.0f}"
    if dimension == "day":
        return date.fromordinal(round(value)).isoformat()
    if dimension == "number":
        return f"{value:.3g}"
    return show(value, dimension, job.system)


def length_text(job: Job, meters: float) -> str:
    """A computed length in the job's units."""
    return show(meters, "length", job.system)


def name_words(thing: Node) -> str:
    """The name of a thing: its mark, or the words that lead to it (`racks crown`)."""
    return thing.key if thing.surface else thing.address.replace(".", " ").replace("_", " ")


def kind_words(node: Node) -> str:
    """The kind of a thing in words."""
    return (node.kind or node.key).replace("_", " ")


def room_words(job: Job, name: str) -> str:
    """The name of a room in words."""
    return name.replace("_", " ")


def where_words(job: Job, thing: Node) -> str:
    """The surface that a thing is on and the room in which it is, in words."""
    surface = job.find(thing.surface) if thing.surface else None
    room = room_words(job, thing.room) if thing.room else ""
    if surface is None:
        return room or "elsewhere"
    name = surface.key
    if surface.kind == "wall":
        return f"wall {name}, {room}"
    return f"{name} of the {room}"


def thing_words(job: Job, thing: Node) -> str:
    """`door D1 in wall WB, wine room`."""
    title = thing.find("title")
    name = str(title.value) if title is not None and title.value else kind_words(thing)
    where = where_words(job, thing) if thing.surface else ""
    return f"{name} {thing.key}" + (f", {where}" if where else "")
