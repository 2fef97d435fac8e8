"""The documents of a job: blocks that cite the decisions that they state."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, NamedTuple

from spec.compose.blocks import Document, cites_of
from spec.compose.context import Reader, trades_with_work
from spec.compose.coverage import unstated
from spec.finding import Finding

if TYPE_CHECKING:
    from spec.pipeline import Checked

Photos = Mapping[tuple[str, int], bytes]
"""Photographs by what they show (an address) and their number, as the files' content."""


class Composed(NamedTuple):
    """All documents of a packet, with what they leave unsaid."""

    checked: Checked
    documents: tuple[Document, ...]
    unstated: tuple[Finding, ...]


def readers(checked: Checked, photos: Photos | None = None) -> Iterator[Reader]:
    """Every trade that gets an order, in the usual order of the trades."""
    for trade in trades_with_work(checked.job):
        yield Reader(checked.facts, checked.findings, trade, photos or {}, checked.alternatives)


def orders(checked: Checked, photos: Photos | None = None) -> Iterator[tuple[Reader, Document]]:
    """One work order for every trade that has work."""
    from spec.compose.documents.work_order import work_order  # noqa: PLC0415

    for reader in readers(checked, photos):
        yield reader, work_order(reader)


def left_unsaid(checked: Checked) -> tuple[Finding, ...]:
    """Decisions that no document states to a reader who needs them; nothing else is composed."""
    from spec.compose.documents import spec_book, work_order  # noqa: PLC0415

    left_out: list[Finding] = []
    for trade in trades_with_work(checked.job):
        reader = Reader(checked.facts, checked.findings, trade, worked=False)
        left_out += unstated(reader, cites_of(work_order.decisions(reader)))
    client = Reader(checked.facts, checked.findings, worked=False)
    left_out += unstated(client, cites_of(spec_book.decisions(client)))
    return tuple(left_out)


def compose(checked: Checked, photos: Photos | None = None) -> Composed:
    """Every document of the packet, with the photographs that the job names."""
    from spec.compose.documents.calculation_sheet import calculation_sheet  # noqa: PLC0415
    from spec.compose.documents.checklist import checklist, question_lists  # noqa: PLC0415
    from spec.compose.documents.order_of_work import order_of_work  # noqa: PLC0415
    from spec.compose.documents.spec_book import spec_book  # noqa: PLC0415

    written: list[Document] = []
    left_out: list[Finding] = []
    for reader, order in orders(checked, photos):
        written.append(order)
        left_out += unstated(reader, cites_of(order.blocks))
    client = Reader(checked.facts, checked.findings, alternatives=checked.alternatives)
    book = spec_book(client)
    left_out += unstated(client, cites_of(book.blocks))
    written += [book, checklist(client), *question_lists(client), order_of_work(client)]
    written.append(calculation_sheet(client))
    return Composed(checked, tuple(written), tuple(left_out))
