"""The order of work for the lead: what is bought and made by when, and when each visit begins."""

from __future__ import annotations

from spec.compose.blocks import Document
from spec.compose.context import Reader
from spec.compose.head import document
from spec.compose.parts.dates import order_list, visits_in_order


def order_of_work(reader: Reader) -> Document:
    """The list of orders with their days, then the visits as a chart and as a table."""
    blocks = [*order_list(reader), *visits_in_order(reader)]
    return document(reader.job, "order-of-work", "lead", "Order of work", blocks)
