"""The calculation sheet: every figure with its work, for an engineer to check by hand."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from spec.compose.blocks import (
    Block,
    Document,
    Formula,
    Heading,
    Paragraph,
    Row,
    Table,
    say,
)
from spec.compose.context import Reader
from spec.compose.head import document
from spec.compose.parts import sections
from spec.compose.parts.schedules import SUBJECT_TITLES
from spec.compose.parts.shares import shares
from spec.compose.parts.worked import worked
from spec.compose.parts.workings import (
    Working,
    as_written,
    default_of,
    found_at,
    inputs_of,
    packed,
    result,
    standard_text,
)
from spec.compose.prose import prose
from spec.derive.figure import Definition, Figure
from spec.derive.notation import cases
from spec.derive.uncertain import Ranges, Reach
from spec.job.job import Job
from spec.job.node import Node
from spec.job.schema import SUBJECTS
from spec.quantity import both

_READ_WIDE = 94
"""Characters across the column of what was read."""


def calculation_sheet(reader: Reader) -> Document:
    """By subject and figure: formula, numbers, result, shares, source, range; then all inputs."""
    figures = list(reader.facts.figures.all())
    ranges = Ranges(reader.facts)
    blocks: list[Block] = [
        *prose("engineer/who_decides", tone="caution"),
        *prose("engineer/calculation_sheet"),
    ]
    for subject in SUBJECTS:
        by_name: dict[str, list[Figure]] = {}
        for figure in figures:
            if figure.definition.subject == subject:
                by_name.setdefault(figure.definition.name, []).append(figure)
        if by_name:
            blocks.append(Heading(1, SUBJECT_TITLES[subject]))
        for of_kind in by_name.values():
            blocks += _figures(reader, of_kind)
            if of_kind[0].definition.name == sections.OF:
                blocks += sections.sections(reader, of_kind)
            if of_kind[0].definition.ranged:
                blocks += _over_ranges(reader.job, ranges, of_kind)
    blocks += _inputs(reader.job, figures)
    return document(reader.job, "calculation-sheet", "engineer", "Calculation sheet", blocks)


def _figures(reader: Reader, figures: Sequence[Figure]) -> Iterator[Block]:
    """One kind of figure, for all things that it is worked out for."""
    definition = figures[0].definition
    yield Heading(2, definition.title)
    for case in cases(definition.formula):
        yield Formula(case)
    workings = [Working(reader.job, reader.facts.figures, figure) for figure in figures]
    yield from worked(workings, _about(definition))
    besides = {a.partition(".")[0] for working in workings for a in working.besides()}
    if besides:
        named = ", ".join(sorted(besides))
        yield Paragraph(say(f"Read besides, each under “Inputs as read”: {named}."), "small")
    yield from shares(reader.job, figures)


def _about(definition: Definition) -> str:
    holds = f" Holds for: {definition.holds}." if definition.holds else ""
    return f"Figure {definition.name}. Source: {definition.source}.{holds}"


def _over_ranges(job: Job, ranges: Ranges, figures: Sequence[Figure]) -> Iterator[Block]:
    """How far the figures move over the range of each standard, one moved at a time."""
    reaches = [reach for figure in figures for reach in ranges.of(figure)]

    def shows(reach: Reach) -> bool:
        """The difference survives rounding for print."""
        made = reach.least, reach.figure, reach.most
        return len({result(job, figure)[0] for figure in made}) > 1

    rows = tuple(
        Row(
            (
                reach.figure.thing,
                f"{reach.standard} = {standard_text(job, reach.standard)}",
                both(reach.span, job.system),
                result(job, reach.least)[0],
                result(job, reach.most)[0],
            ),
            frozenset({reach.figure.address}),
        )
        for reach in reaches
        if shows(reach)
    )
    title = figures[0].definition.title
    if rows:
        yield Table(
            f"{title}: worked out again at the ends of what a standard may be, all else as above",
            ("For", "Standard, as used", "May be", "At the least", "At the most"),
            rows,
            (0.9, 2.2, 1.6, 1.4, 1.4),
        )
    still: dict[str, list[Reach]] = {}
    for reach in reaches:
        if not shows(reach):
            still.setdefault(reach.standard, []).append(reach)
    for standard, alike in still.items():
        ends, things = both(alike[0].span, job.system), ", ".join(r.figure.thing for r in alike)
        said = f"{standard} at the ends of {ends} makes no difference that shows to {things}."
        yield Paragraph(say(said), "small")


def _inputs(job: Job, figures: Sequence[Figure]) -> Iterator[Block]:
    """Every value that went into a figure, as written and where; then the named defaults."""
    read: dict[str, list[Node]] = {}
    defaults: list[Row] = []
    for address in inputs_of(job, figures):
        node = job.find(address)
        default = default_of(address)
        if node is not None:
            read.setdefault(address.rpartition(".")[0], []).append(node)
        elif default is not None:
            cells = (address, default.title, default.value, default.span, default.about)
            defaults.append(Row(cells, frozenset({address})))
    yield Heading(1, "Inputs as read")
    yield Table(
        "From the job file and the house standards",
        ("Address", "As written, and in the file"),
        tuple(_read_of(job, of, nodes) for of, nodes in sorted(read.items())),
        (1.6, 5.5),
    )
    if defaults:
        yield Table(
            "Defaults of the house standards, which no file gives otherwise",
            ("Name", "What", "Default", "May be", "About"),
            tuple(defaults),
            (1.2, 1.4, 0.9, 0.9, 2.4),
        )


def _read_of(job: Job, of: str, nodes: Sequence[Node]) -> Row:
    """What was read of one thing, or of one part of it."""
    items = [f"{node.key} = {as_written(job, node)} ({found_at(node)})" for node in nodes]
    known = all(node.known for node in nodes)
    cites = frozenset(node.address for node in nodes)
    return Row((of or "the job", packed(items, _READ_WIDE)), cites, "plain" if known else "held")
