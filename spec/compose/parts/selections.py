"""What the client still decides: the question, the choices, the day, what waits for it."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.choices import (
    Alternative,
    changed_figures,
    changed_leaves,
    of_each_decision,
)
from spec.check.questions import Question, questions
from spec.compose.blocks import Block, Paragraph, Row, Table, say
from spec.compose.context import Reader
from spec.compose.parts.labels import called, label_of
from spec.compose.wording import figure_text, value_text
from spec.derive.figure import Figure
from spec.job.job import Job
from spec.job.node import Node
from spec.job.trades import thing_of

_TELLING = ("day", "money", "mass", "power", "bottles", "count", "area_load", "sound")
"""The dimensions of figures that a choice is made by."""


def decisions_of_client(reader: Reader) -> Iterator[Block]:
    """The client's open decisions by their days, and what each of their choices changes."""
    asked = [q for q in questions(reader.facts, reader.findings) if q.person == "client"]
    if not asked:
        yield Paragraph(say("Nothing is left for you to decide."))
        return
    asked.sort(key=lambda q: (q.by or "9", q.address))
    rows = [
        Row((q.words, q.by or "soon", _then(q), ", ".join(q.waits_for)), frozenset({q.address}))
        for q in asked
    ]
    yield Table(
        "Your decisions",
        ("Question", "Please answer by", "After which", "Waits for"),
        tuple(rows),
        (3, 1, 1.4, 1),
    )
    others = of_each_decision(reader.alternatives)
    for question in asked:
        node = reader.job.find(question.address)
        if node is not None and question.address in others:
            yield from _compared(reader, node, others[question.address])


def _then(question: Question) -> str:
    return f"{question.holds} waits after {question.last}" if question.last else ""


def _compared(reader: Reader, node: Node, group: tuple[Alternative, ...]) -> Iterator[Block]:
    """The choices side by side: what differs, and what follows from it."""
    assert node.state is not None
    jobs = (reader.job, *(other.facts.job for other in group))
    rows = [
        Row((_label(jobs, node.address, path), *(_value(job, node.address, path) for job in jobs)))
        for path in changed_leaves(node, group)
    ]
    changed = changed_figures(reader.facts, group)
    for address, figures in changed.items():
        made = next(figure for figure in figures if figure is not None)
        if made.definition.dimension in _TELLING:
            of = called(reader.job, address.partition("@")[2])
            cells = (_figure(job, figure) for job, figure in zip(jobs, figures, strict=True))
            rows.append(Row((f"{made.definition.title}: {of}", *cells)))
    choices = (node.state.chosen, *(other.choice for other in group))
    titles = tuple(choice.replace("_", " ").capitalize() for choice in choices)
    yield Table(
        f"What the choice changes: {called(reader.job, node.address)}",
        ("", *titles),
        tuple(rows),
        (1.6, *(1.6 for _ in titles)),
    )


def _label(jobs: tuple[Job, ...], address: str, path: str) -> str:
    for job in jobs:
        leaf = job.find(f"{address}.{path}")
        if leaf is not None:
            return label_of(thing_of(leaf), leaf)
    return path


def _value(job: Job, address: str, path: str) -> str:
    leaf = job.find(f"{address}.{path}")
    return value_text(job, leaf) if leaf is not None else "-"


def _figure(job: Job, figure: Figure | None) -> str:
    if figure is None or figure.value is None:
        return "-"
    return figure_text(job, figure.value, figure.definition.dimension)
