"""The standing words of an order: method, hold points, cautions; a firm may change them."""

from __future__ import annotations

from collections.abc import Iterator

from spec.compose.blocks import Block, Heading
from spec.compose.context import Reader
from spec.compose.prose import Values, prose
from spec.compose.wording import value_text
from spec.job.record import recording


def named_values(reader: Reader) -> Values:
    """The values that standing prose may name: any address of the job."""

    def look(name: str) -> tuple[str, frozenset[str]] | None:
        node = reader.job.find(name)
        if node is None or node.children:
            return None
        with recording() as read:
            text = value_text(reader.job, node)
        return text, frozenset(read)

    return look


def standing(reader: Reader, name: str, **how: object) -> Iterator[Block]:
    """A text of the firm with the job's values, in its units, under the codes that hold."""
    metric = reader.job.system == "metric"
    yield from prose(name, named_values(reader), metric=metric, **how)  # type: ignore[arg-type]


def _part(reader: Reader, title: str, name: str, **how: object) -> Iterator[Block]:
    blocks = list(standing(reader, f"{name}/{reader.trade}", **how))
    if blocks:
        yield Heading(2, title)
        yield from blocks


def method(reader: Reader) -> Iterator[Block]:
    """How this firm does the work, in standing words."""
    yield from _part(reader, "How", "method")


def hold_points(reader: Reader) -> Iterator[Block]:
    """What must be seen and ticked before the work goes on or is covered."""
    yield from _part(reader, "Hold points", "hold_points", boxes=True)


def cautions(reader: Reader) -> Iterator[Block]:
    """Where the work can hurt someone; local codes and licensed practice decide."""
    yield Heading(2, "Cautions")
    yield from standing(reader, "cautions/everyone", tone="caution")
    yield from standing(reader, f"cautions/{reader.trade}", tone="caution")
