"""Figures that an order states: quantities, loads, sizes, each with what it was made from."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from spec.compose.blocks import Block, Heading, Row, Table
from spec.compose.context import Reader
from spec.compose.wording import figure_text
from spec.derive.figure import Figure


def quantities(reader: Reader) -> Iterator[Block]:
    """The figures whose declaration names the trade (for the client: those named `client`)."""
    who = reader.trade or "client"
    by_name: dict[str, list[Figure]] = {}
    for figure in reader.facts.figures.all():
        if who in figure.definition.trades:
            by_name.setdefault(figure.definition.name, []).append(figure)
    if not by_name:
        return
    yield Heading(2, "Quantities and figures")
    yield Table(
        "Computed from the job; local codes and licensed practice decide",
        ("What", "Figures", "How they are made"),
        tuple(_row(reader, figures) for figures in by_name.values()),
        (1.4, 2.0, 2.2),
    )


def _row(reader: Reader, figures: Sequence[Figure]) -> Row:
    """One row for all things of which the same figure is stated."""
    definition = figures[0].definition
    made = f"{definition.formula}. Source: {definition.source}"
    cites: set[str] = set()
    for figure in figures:
        cites |= {figure.address} | figure.inputs | figure.waits_for
    waits = any(figure.value is None for figure in figures)
    lines = [_line(reader, figure) for figure in figures]
    return Row(
        (definition.title, "\n".join(lines), made), frozenset(cites), "held" if waits else "plain"
    )


def _line(reader: Reader, figure: Figure) -> str:
    thing = reader.job.find(figure.thing)
    of = (thing.key if thing is not None else figure.thing).replace("_", " ")
    if figure.value is None:
        return f"{of}: waits for {', '.join(sorted(figure.waits_for)) or figure.refused}"
    text = figure_text(reader.job, figure.value, figure.definition.dimension)
    return f"{of}: {text}" + (f" ({figure.remark})" if figure.remark else "")
