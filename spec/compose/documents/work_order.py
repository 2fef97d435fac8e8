"""The work order of one trade: what one needs at the door first, what one looks up once last."""

from __future__ import annotations

from collections import Counter

from spec.check.choices import settled
from spec.compose.blocks import Block, Document, Heading, cites_of
from spec.compose.context import Reader, subject_of
from spec.compose.gates import gates
from spec.compose.head import document
from spec.compose.parts.brief import brief, in_brief
from spec.compose.parts.fixing import fixing
from spec.compose.parts.floors import floors, in_floors
from spec.compose.parts.gates import gate_blocks, held_lines
from spec.compose.parts.layers import in_layers, layers
from spec.compose.parts.own_finishes import in_own_finishes, own_finishes, surfaces_to_clean
from spec.compose.parts.photographs import photographs
from spec.compose.parts.prose import cautions, hold_points, method
from spec.compose.parts.quantities import quantities, where_worked
from spec.compose.parts.runs import in_runs, runs
from spec.compose.parts.schedules import controls, products, schedules
from spec.compose.parts.scope import scope
from spec.compose.parts.work import neighbors_in_time, not_in_this_order, open_items

_BUILT = (
    "existing",
    "envelope",
    "openings",
    "cooling",
    "electrical",
    "lighting",
    "millwork",
    "appliances",
    "finishes",
)
_HOME = {"refrigeration": "cooling", "demolition": "existing", "glazing": "openings"}
"""The subject that a trade opens its order at, whatever else it has to do."""
_LAST = ("access", "order_of_work", "job")


def decisions(reader: Reader) -> list[Block]:
    """All that states a decision in words; what only says again what others do is left out."""
    front = [*brief(reader), *neighbors_in_time(reader), *scope(reader)]
    return [*front, *_built(reader), *_looked_up(reader)]


def work_order(reader: Reader) -> Document:
    """Release, head, scope; schedules and drawings; how and with what care; the rest at the end."""
    from spec.compose.parts.drawings import drawings  # noqa: PLC0415 - checking draws nothing

    body = _body(reader)
    blocks: list[Block] = [
        *_front(reader),
        *body,
        *quantities(reader, cites_of(body)),
        *drawings(reader),
        *photographs(reader),
        *hold_points(reader),
        *method(reader),
        *cautions(reader),
        *_back(reader),
        *where_worked(reader),
    ]
    both = gates(
        reader.facts,
        reader.findings,
        reader.trade,
        cites_of(blocks),
        settled(reader.job, reader.alternatives),
    )
    title = f"Work order: {reader.trade.replace('_', ' ')}"
    return document(
        reader.job,
        "work-order",
        reader.trade,
        title,
        [*gate_blocks(reader.job, both), *blocks],
        held_lines(both),
    )


def _front(reader: Reader) -> list[Block]:
    """What one needs before one comes, and what one comes for."""
    return [
        *brief(reader),
        *neighbors_in_time(reader),
        *scope(reader),
        *not_in_this_order(reader),
    ]


def _body(reader: Reader) -> list[Block]:
    """What is built, and what it is fixed to."""
    return [*_built(reader), *fixing(reader)]


def _built(reader: Reader) -> list[Block]:
    """Runs, layers and finishes as the trade looks for them, then the rest."""
    shown = in_runs(reader) | in_layers(reader) | in_own_finishes(reader) | in_floors(reader)
    blocks: list[Block] = [
        *runs(reader),
        *layers(reader),
        *own_finishes(reader),
        *surfaces_to_clean(reader),
        *floors(reader),
        *schedules(reader, _by_own_work(reader), shown),
    ]
    return [*blocks, *products(reader, cites_of(blocks))]


def _by_own_work(reader: Reader) -> list[str]:
    """The subjects, first those in which the trade has most to do."""
    counts = Counter(subject_of(thing) for thing in reader.own_work)
    home = _HOME.get(reader.trade, "")
    return sorted(_BUILT, key=lambda subject: (subject != home, -counts[subject]))


def _back(reader: Reader) -> list[Block]:
    """What one looks up once: the way in, papers and dates, what must add up."""
    return [
        Heading(1, "To look up"),
        *open_items(reader),
        *_looked_up(reader),
    ]


def _looked_up(reader: Reader) -> list[Block]:
    return [
        *schedules(reader, _LAST, in_brief(reader)),
        *controls(reader),
    ]
