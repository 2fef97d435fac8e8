"""Schedules: every decision that a reader needs, by subject and kind of thing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence, Set

from spec.compose.blocks import Block, Facts, Heading, Row
from spec.compose.context import Reader, subject_of
from spec.compose.parts.columns import Layout, by_path, value_of
from spec.compose.parts.handing import HANDING_KEYS, handing
from spec.compose.parts.labels import label_of
from spec.compose.parts.layouts import layout_for
from spec.compose.parts.places import whereabouts
from spec.compose.parts.tables import PLACE_KEYS, Member, kind_table, laid_out, only_place
from spec.compose.wording import kind_words, name_words, value_text, where_words
from spec.job.node import Node
from spec.job.record import recording
from spec.job.schema import SUBJECTS

_CARD_FROM = 9
"""A thing with more facts than this for one reader gets a card of its own."""
_PARTS_FROM, _PART_FROM = 18, 3
"""A card with more rows than this is taken apart where a part of the thing has several."""
_SILENT = frozenset({"is", "like"})
CONTROL_KEYS = frozenset({"none", "tally", "marks"})
"""Keys that say nothing to build by, only what must add up; they stand at the end."""

SUBJECT_TITLES = {
    "job": "The job",
    "access": "Getting there and living there",
    "existing": "What is there now",
    "envelope": "Walls, ceilings, floors",
    "openings": "Doors and openings",
    "cooling": "Cooling",
    "electrical": "Power and devices",
    "lighting": "Lighting",
    "millwork": "Racks, cabinets, millwork",
    "appliances": "Appliances",
    "finishes": "Finishes",
    "order_of_work": "Dates, approvals, purchases",
}


def schedules(
    reader: Reader, subjects: Sequence[str] = SUBJECTS, without: Set[str] = frozenset()
) -> Iterator[Block]:
    """Cards and tables of all that the reader needs of these subjects.

    `without` are the addresses that another part of the same document shows already.
    """
    by_subject: dict[str, list[Member]] = {}
    for thing, leaves in reader.by_thing.values():
        kept = tuple(leaf for leaf in leaves if leaf.address not in without and not _control(leaf))
        if thing.container == "products":
            continue
        for subject, part in _by_subject(reader, thing, kept).items():
            by_subject.setdefault(subject, []).append((thing, part))
    for subject in subjects:
        if subject in by_subject:
            yield Heading(2, SUBJECT_TITLES[subject])
            yield from _of_subject(reader, by_subject[subject])


def products(reader: Reader, stated: Set[str]) -> Iterator[Block]:
    """Facts of the job's products that no thing of the document has stated by now."""
    left = [
        (thing, tuple(leaf for leaf in leaves if leaf.address not in stated))
        for thing, leaves in reader.by_thing.values()
        if thing.container == "products"
    ]
    blocks = list(_of_subject(reader, [(thing, leaves) for thing, leaves in left if leaves]))
    if blocks:
        yield Heading(2, "Products")
        yield from blocks


def controls(reader: Reader) -> Iterator[Block]:
    """What must add up and builds nothing: what surfaces have none of, counts, last marks."""
    rows: list[Row] = []
    for thing, leaves in reader.by_thing.values():
        for leaf in leaves:
            if _control(leaf):
                with recording() as read:
                    text = value_text(reader.job, leaf)
                where = kind_words(thing) if not thing.container else thing.key.replace("_", " ")
                rows.append(Row((f"{where}: {label_of(thing, leaf)}", text), frozenset(read)))
    if rows:
        yield Facts("What there is none of, and what must add up", tuple(rows))


def _control(leaf: Node) -> bool:
    upper = leaf.parent
    return leaf.key in CONTROL_KEYS or (upper is not None and upper.key in CONTROL_KEYS)


def _by_subject(reader: Reader, thing: Node, leaves: Sequence[Node]) -> dict[str, tuple[Node, ...]]:
    """The facts of a thing by where a reader looks for them: those of a room stand apart."""
    found: dict[str, list[Node]] = {}
    layout = _layout(reader, thing, leaves)
    own = layout.subject if layout is not None and layout.subject else subject_of(thing)
    for leaf in _shown(leaves):
        subject = leaf.decision.subject if thing.kind == "room" else own
        found.setdefault(subject if subject in SUBJECT_TITLES else own, []).append(leaf)
    return {subject: tuple(part) for subject, part in found.items()}


def _layout(reader: Reader, thing: Node, leaves: Sequence[Node]) -> Layout | None:
    facts = [leaf for leaf in _shown(leaves) if leaf.key not in PLACE_KEYS]
    paths = frozenset(by_path(thing, facts))
    return layout_for(thing, paths, reader.trade)


def _of_subject(reader: Reader, things: Sequence[Member]) -> Iterator[Block]:
    tables: dict[str, tuple[Layout, list[Member]]] = {}
    by_kind: dict[str, list[Member]] = {}
    for thing, leaves in things:
        kept = _shown(leaves)
        layout = _layout(reader, thing, leaves)
        if layout is not None and kept:
            tables.setdefault(layout.title, (layout, []))[1].append((thing, kept))
        elif kept:
            by_kind.setdefault(kind_words(thing), []).append((thing, kept))
    for layout, members in tables.values():
        yield laid_out(reader, layout, members)
    for kind, members in by_kind.items():
        yield from _of_kind(reader, kind, members)


def _of_kind(reader: Reader, kind: str, shown: list[Member]) -> Iterator[Block]:
    alone = len(shown) == 1 and not shown[0][0].surface
    small = [(t, kept) for t, kept in shown if len(kept) < _CARD_FROM and not alone]
    if small:
        yield kind_table(reader, kind, small)
    for thing, kept in shown:
        if len(kept) >= _CARD_FROM or alone:
            yield from _card(reader, thing, kept)


def _shown(leaves: Sequence[Node]) -> tuple[Node, ...]:
    return tuple(leaf for leaf in leaves if leaf.key not in _SILENT)


def _card(reader: Reader, thing: Node, leaves: Sequence[Node]) -> Iterator[Facts]:
    """A card of a thing; facts of one part of it that are several stand on a card below."""
    title = _card_title(reader, thing)
    rows = _card_rows(reader, thing, leaves)
    counts = Counter(row.cells[0].rpartition(": ")[0] for row in rows)
    large = {part for part, many in counts.items() if part and many >= _PART_FROM}
    if len(rows) < _PARTS_FROM:
        large = set()
    apart: dict[str, list[Row]] = {"": []}
    for row in rows:
        part = _part_of(row.cells[0], large)
        label = row.cells[0].removeprefix(f"{part}: ")
        label = label[:1].upper() + label[1:]
        apart.setdefault(part, []).append(row._replace(cells=(label, *row.cells[1:])))
    for part, own in apart.items():
        if own:
            yield Facts(f"{title}: {_small(part)}" if part else title, tuple(own))


def _part_of(label: str, large: Set[str]) -> str:
    """The innermost part with a card of its own to which a label belongs."""
    part = label.rpartition(": ")[0]
    while part and part not in large:
        part = part.rpartition(": ")[0]
    return part


def _small(words: str) -> str:
    return words[:1].lower() + words[1:]


def _card_rows(reader: Reader, thing: Node, leaves: Sequence[Node]) -> list[Row]:
    rows: list[Row] = []
    words, covered = whereabouts(reader, thing)
    if words and thing.surface:
        rows.append(Row(("Where, seen from inside the room named", words), covered))
    hung = handing(reader, thing) if any(leaf.key in HANDING_KEYS for leaf in leaves) else None
    if hung is not None:
        rows.append(hung)
    for leaf in leaves:
        with recording() as read:
            text = value_text(reader.job, leaf)
        if only_place(thing, leaf, covered) or (hung is not None and leaf.address in hung.cites):
            continue
        held = leaf.state is not None and not leaf.not_applicable
        tone = "held" if held else "plain"
        rows.append(Row((label_of(thing, leaf), text), frozenset(read), tone))  # type: ignore[arg-type]
    of_it = reader.figures.get(thing.address, {}) if thing.surface else {}
    for figure in of_it.values():
        with recording() as read:
            text = value_of(reader, figure)
        rows.append(Row((f"{figure.definition.title} (computed)", text), frozenset(read)))
    return rows


def _card_title(reader: Reader, thing: Node) -> str:
    title = thing.find("title")
    name = kind_words(thing).capitalize()
    if title is not None and isinstance(title.value, str):
        name = title.value
    where = where_words(reader.job, thing) if thing.surface else ""
    key = name_words(thing)
    if key.lower() == name.lower():
        return name
    return f"{key}: {name}" + (f", {where}" if where else "")
