"""Figures that an order states: quantities, loads, sizes; how they are made stands apart."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence, Set

from spec.compose.blocks import Block, Heading, Paragraph, Row, Table, say
from spec.compose.context import Reader
from spec.compose.parts.columns import value_of
from spec.compose.parts.labels import called
from spec.compose.wording import figure_text
from spec.derive.figure import Figure
from spec.job.record import recording
from spec.job.trades import thing_of

CAPTION = "Computed from the job; local codes and licensed practice decide"
_BY_PART = frozenset({"cooling.load", "cooling.transmission"})
"""Figures of which a reader has to see what they are made up of."""


def quantities(reader: Reader, stated: Set[str] = frozenset()) -> Iterator[Block]:
    """The reader's figures, those left out that stand beside their things already."""
    by_name = _by_name(f for f in reader.stated_figures if f.address not in stated)
    if not by_name:
        return
    yield Heading(2, "Quantities and figures")
    yield Table(
        CAPTION,
        ("What", "Figures"),
        tuple(_row(reader, figures) for figures in by_name.values()),
        (1.4, 2.6),
    )
    for name, figures in by_name.items():
        if name in _BY_PART and reader.trade:
            for figure in figures:
                yield from _parts(reader, figure)


def how_made(reader: Reader) -> Iterator[Block]:
    """The formula and the source of every figure that the reader's document states, once each."""
    from spec.compose.formula import as_text  # noqa: PLC0415 - checking sets no formula

    by_name = _by_name(reader.stated_figures)
    if by_name:
        yield Table(
            "How the figures are made",
            ("What", "How", "Source"),
            tuple(
                Row((made.title, as_text(made.formula), made.source))
                for made in (figures[0].definition for figures in by_name.values())
            ),
            (1.2, 1.8, 1.6),
        )


def where_worked(reader: Reader) -> Iterator[Block]:
    """Where a trade that doubts a figure finds how it was made: it is printed once, not in each."""
    if reader.stated_figures:
        yield Paragraph(
            say(
                "How each figure is made, with its inputs and its source, stands in the "
                "calculation sheet; the lead sends it on request."
            ),
            "small",
        )


def _by_name(figures: Iterable[Figure]) -> dict[str, list[Figure]]:
    found: dict[str, list[Figure]] = {}
    for figure in figures:
        found.setdefault(figure.definition.name, []).append(figure)
    return found


def _row(reader: Reader, figures: Sequence[Figure]) -> Row:
    """One row for all things of which the same figure is stated."""
    definition = figures[0].definition
    with recording() as read:
        lines = [_line(reader, figure) for figure in figures]
    waits = any(figure.value is None for figure in figures)
    return Row((definition.title, "\n".join(lines)), frozenset(read), "held" if waits else "plain")


def _line(reader: Reader, figure: Figure) -> str:
    """`R7: 96`; of what is there only once (the calendar, what was asked for) the value alone."""
    value = value_of(reader, figure)
    name = _called(reader, figure)
    return f"{name}: {value}" if name else value


def _called(reader: Reader, figure: Figure) -> str:
    """The thing of a figure: `WA lower`, `wine room`, `RF1 refrigerator, product`."""
    node = reader.job.find(figure.thing)
    if figure.thing.startswith("access.") or node is None:
        return figure.thing.removeprefix("access.").replace(".", " ").replace("_", " ")
    if not thing_of(node).container:
        return ""
    if not node.children:
        return called(reader.job, figure.thing)
    return figure.thing.replace(".", " ").replace("_", " ")


def _parts(reader: Reader, figure: Figure) -> Iterator[Block]:
    """What a figure is made up of, with its sum."""
    if figure.value is None or len(figure.parts) < 2:
        return
    dimension = figure.definition.dimension
    with recording() as read:
        total = value_of(reader, figure)
    rows = [
        Row((part.label, figure_text(reader.job, part.value, dimension)), frozenset(read))
        for part in figure.parts
    ]
    rows.append(Row(("Together", total), frozenset(read), "total"))
    yield Table(
        f"{figure.definition.title} of {_called(reader, figure)}, by source",
        ("Source", "Share"),
        tuple(rows),
        (2, 1),
        frozenset({1}),
    )
