"""Figures that an order states: quantities, loads, sizes, each with what it was made from."""

from __future__ import annotations

from collections.abc import Iterator

from spec.compose.blocks import Block, Heading, Row, Table
from spec.compose.context import Reader
from spec.compose.wording import figure_text
from spec.derive.figure import Figure


def quantities(reader: Reader) -> Iterator[Block]:
    """The figures whose declaration names the trade (for the client: those named `client`)."""
    who = reader.trade or "client"
    found = [f for f in reader.facts.figures.all() if who in f.definition.trades]
    if not found:
        return
    yield Heading(2, "Quantities and figures")
    yield Table(
        "Computed from the job; local codes and licensed practice decide",
        ("What", "Of", "Figure", "How it is made"),
        tuple(_row(reader, figure) for figure in found),
        (1.6, 1.2, 1.2, 2.4),
    )


def _row(reader: Reader, figure: Figure) -> Row:
    thing = reader.job.find(figure.thing)
    of = (thing.key if thing is not None else figure.thing).replace("_", " ")
    made = f"{figure.definition.formula}. Source: {figure.definition.source}"
    if figure.value is None:
        waits = ", ".join(sorted(figure.waits_for)) or figure.refused
        text = f"waits for {waits}"
    else:
        text = figure_text(reader.job, figure.value, figure.definition.dimension)
        if figure.remark:
            made = f"{made}. {figure.remark}"
    cites = frozenset({figure.address}) | figure.inputs | figure.waits_for
    tone = "plain" if figure.value is not None else "held"
    return Row((figure.definition.title, of, text, made), cites, tone)  # type: ignore[arg-type]
