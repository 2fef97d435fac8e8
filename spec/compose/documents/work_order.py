"""The work order of one trade."""

from __future__ import annotations

from spec.compose.blocks import Block, Document, cites_of
from spec.compose.context import Reader
from spec.compose.gates import gates
from spec.compose.head import document
from spec.compose.parts.drawings import drawings
from spec.compose.parts.gates import gate_blocks, held_lines
from spec.compose.parts.prose import cautions, hold_points, method
from spec.compose.parts.quantities import quantities
from spec.compose.parts.schedules import products, schedules
from spec.compose.parts.work import neighbors_in_time, not_in_this_order, open_items, scope

_FIRST = ("job", "access")
_THEN = (
    "existing",
    "envelope",
    "openings",
    "cooling",
    "electrical",
    "lighting",
    "millwork",
    "appliances",
    "finishes",
    "order_of_work",
)


def body(reader: Reader, *, drawn: bool = True) -> list[Block]:
    """When and where, scope, schedules, quantities, drawings, hold points, cautions, what is open."""
    blocks: list[Block] = [
        *neighbors_in_time(reader),
        *schedules(reader, _FIRST),
        *scope(reader),
        *not_in_this_order(reader),
        *method(reader),
        *schedules(reader, _THEN),
    ]
    blocks += products(reader, cites_of(blocks))
    return [
        *blocks,
        *quantities(reader),
        *(drawings(reader) if drawn else ()),
        *hold_points(reader),
        *cautions(reader),
        *open_items(reader),
    ]


def work_order(reader: Reader) -> Document:
    """The body, headed by the two gates and what holds them."""
    stated = body(reader)
    both = gates(reader.facts, reader.findings, reader.trade, cites_of(stated))
    title = f"Work order: {reader.trade.replace('_', ' ')}"
    blocks = [*gate_blocks(both), *stated]
    return document(reader.job, "work-order", reader.trade, title, blocks, held_lines(both))
