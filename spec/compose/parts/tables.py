"""Tables of things: those laid out for a trade, and for the rest one table for each kind."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence, Set

from spec.compose.blocks import Row, Table
from spec.compose.context import Reader
from spec.compose.parts.columns import Layout, by_path, cell
from spec.compose.parts.labels import label_of
from spec.compose.parts.places import SEEN, located, whereabouts
from spec.compose.wording import name_words, value_text
from spec.job.node import Node
from spec.job.record import recording

Member = tuple[Node, tuple[Node, ...]]
"""A thing with the facts of it that a reader needs."""

_COLUMNS = 4
"""Facts that most things of a kind have stand in columns of their own; the rest in one."""
PLACE_KEYS = frozenset({"left", "right", "center", "centers", "edge", "bottom", "top", "aff"})


def only_place(thing: Node, leaf: Node, covered: Set[str]) -> bool:
    """Whether a fact says no more than where a thing is, and that is stated in figures already."""
    if leaf.address not in covered or leaf.state is not None:
        return False
    upper = leaf.parent
    if upper is not thing and upper is not None and upper.parent is thing:
        return upper.key in PLACE_KEYS
    return upper is thing and leaf.key in PLACE_KEYS


# ------------------------------------------------------------------ laid out for a trade


def laid_out(reader: Reader, layout: Layout, members: Sequence[Member]) -> Table:
    """The table of a layout: columns that say nothing for this reader are left out."""
    rows = [_laid_out_row(reader, layout, thing, leaves) for thing, leaves in members]
    titles = (*(column.title for column in layout.columns), "Further")
    widths = (*(column.width for column in layout.columns), 1.5)
    return without_empty(Table(layout.title, titles, tuple(rows), widths))


def without_empty(table: Table) -> Table:
    """The table without the columns in which no row says anything; figures stay left-aligned."""
    kept = [i for i in range(len(table.columns)) if any(row.cells[i] for row in table.rows)]
    return table._replace(
        columns=tuple(table.columns[i] for i in kept),
        rows=tuple(r._replace(cells=tuple(r.cells[i] for i in kept)) for r in table.rows),
        widths=tuple(table.widths[i] for i in kept),
    )


def _laid_out_row(reader: Reader, layout: Layout, thing: Node, leaves: Sequence[Node]) -> Row:
    paths = by_path(thing, leaves)
    with recording() as read:
        cells = [cell(reader, thing, paths, column) for column in layout.columns]
        place = located(reader, thing)
        covered = place[1] if place is not None else frozenset()
        rest = _rest(reader, thing, _left_over(layout, paths, cells, reader), covered)
    return Row((*cells, "\n".join(rest)), frozenset(read))


def _left_over(
    layout: Layout, paths: dict[str, list[Node]], cells: Sequence[str], reader: Reader
) -> list[Node]:
    """The facts for which the layout has no place, or whose line had something missing."""
    text = "\n".join(cells)
    left: list[Node] = []
    for path, leaves in paths.items():
        said = path in layout.paths and all(value_text(reader.job, n) in text for n in leaves)
        left += () if said else leaves
    return left


def _rest(
    reader: Reader, thing: Node, leaves: Sequence[Node], covered: frozenset[str]
) -> list[str]:
    lines: dict[str, list[str]] = {}
    for leaf in leaves:
        text = value_text(reader.job, leaf)
        if not only_place(thing, leaf, covered):
            lines.setdefault(label_of(thing, leaf), []).append(text)
    return [f"{label}: {'; '.join(values)}" for label, values in lines.items()]


# ------------------------------------------------------------------ one table for each kind


def kind_table(reader: Reader, kind: str, members: Sequence[Member]) -> Table:
    """A table of all things of a kind, with the facts that most of them have in columns."""
    usual = _usual_columns(members)
    placed = any(thing.surface for thing, _ in members)
    columns = ["Mark" if placed else "Name"]
    columns += [f"Where, {SEEN}"] if placed else []
    columns += list(usual)
    built: list[tuple[list[str], list[str], frozenset[str]]] = []
    for thing, leaves in members:
        with recording() as read:
            cells, rest = _cells(reader, thing, leaves, usual, placed)
        built.append((cells, rest, frozenset(read)))
    further = any(rest for _, rest, _ in built)
    rows = [
        Row((*cells, "\n".join(rest)) if further else tuple(cells), cites)
        for cells, rest, cites in built
    ]
    if further:
        columns.append("Further")
    widths = [0.7, *([1.8] if placed else []), *(1.0 for _ in usual), *([2.4] if further else [])]
    return Table(kind.capitalize(), tuple(columns), tuple(rows), tuple(widths))


def _usual_columns(members: Sequence[Member]) -> tuple[str, ...]:
    if len(members) == 1:
        return ()
    counts: Counter[str] = Counter()
    for thing, leaves in members:
        labels = (label_of(thing, leaf) for leaf in leaves if leaf.key not in PLACE_KEYS)
        counts.update([*dict.fromkeys(labels)])
    half = len(members) / 2
    usual = [label for label, n in counts.most_common() if n > half]
    return tuple(usual[:_COLUMNS])


def _cells(
    reader: Reader, thing: Node, leaves: Sequence[Node], usual: Sequence[str], placed: bool
) -> tuple[list[str], list[str]]:
    cells = [name_words(thing)]
    covered: frozenset[str] = frozenset()
    if placed:
        words, covered = whereabouts(reader, thing)
        cells.append(words)
    by_label: dict[str, list[str]] = {}
    for leaf in leaves:
        text = value_text(reader.job, leaf)
        if not only_place(thing, leaf, covered):
            by_label.setdefault(label_of(thing, leaf), []).append(text)
    cells += ["; ".join(by_label.pop(label, [""])) for label in usual]
    rest = [f"{label}: {'; '.join(values)}" for label, values in by_label.items()]
    return cells, rest
