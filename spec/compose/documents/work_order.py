"""The work order of one trade."""

from __future__ import annotations

from spec.compose.blocks import Block, Document, cites_of
from spec.compose.context import Reader
from spec.compose.gates import gates
from spec.compose.head import document
from spec.compose.parts.gates import gate_blocks, held_lines
from spec.compose.parts.photographs import photographs
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


def decisions(reader: Reader) -> list[Block]:
    """All that states a decision in words: when and where, scope, schedules, products."""
    front = [*neighbors_in_time(reader), *schedules(reader, _FIRST), *scope(reader)]
    blocks = [*front, *not_in_this_order(reader), *schedules(reader, _THEN)]
    return [*blocks, *products(reader, cites_of(blocks))]


def work_order(reader: Reader) -> Document:
    """The two gates and what holds them, then decisions, method, figures, drawings, cautions."""
    from spec.compose.parts.drawings import drawings  # noqa: PLC0415 - checking draws nothing

    body: list[Block] = [
        *method(reader),
        *decisions(reader),
        *quantities(reader),
        *drawings(reader),
        *photographs(reader),
        *hold_points(reader),
        *cautions(reader),
        *open_items(reader),
    ]
    both = gates(reader.facts, reader.findings, reader.trade, cites_of(body))
    title = f"Work order: {reader.trade.replace('_', ' ')}"
    blocks = [*gate_blocks(both), *body]
    return document(reader.job, "work-order", reader.trade, title, blocks, held_lines(both))
