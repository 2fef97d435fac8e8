"""The numbers put into a formula and what came out, for all things of one kind in one table."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from spec.compose.blocks import Block, Cites, Paragraph, Row, Table, say
from spec.compose.parts.workings import Working, is_unit, packed, put_in, result, si_text, twice
from spec.derive.figure import Given
from spec.job.job import Job

_COLUMNS = 8
"""So many numbers, put in for each thing, stand in columns of their own."""
_ENOUGH = 3
"""From so many things on, the numbers of each stand in columns."""
_NARROW, _BROAD = 7, 20
"""Bounds of a column of numbers, in characters."""
_READ_WIDE = 104
"""Characters across the column of what was read."""


def worked(workings: Sequence[Working], about: str) -> Iterator[Block]:
    """What all have read, once; then each with its numbers and its result.

    Where all have numbers of the same names these are columns, and what was read stands below.
    """
    shared = _in_all([working.lines() for working in workings])
    if shared:
        yield Paragraph(say(f"For each of them: {'; '.join(shared)}."), "small")
    names = _columns(workings, shared)
    if names:
        yield from _in_columns(workings, names, shared, about)
        return
    yield Table(
        about,
        ("For", "Numbers put in", "Result", "In SI"),
        tuple(_listed(working, shared) for working in workings),
        (1, 3.9, 1.2, 1),
    )


def _in_all(lists: Sequence[Sequence[str]]) -> list[str]:
    """The lines that stand in every one of several lists, in the order of the first."""
    if len(lists) < 2:
        return []
    return [line for line in lists[0] if all(line in other for other in lists[1:])]


def _columns(workings: Sequence[Working], shared: Sequence[str]) -> tuple[str, ...]:
    """The names of the numbers that differ, where every thing has the same; else none."""
    made = {tuple((name, dimension) for name, _, dimension in w.figure.given) for w in workings}
    if len(workings) < _ENOUGH or len(made) > 1:
        return ()
    if any(working.figure.value is None for working in workings):
        return ()
    first = workings[0]
    lines = put_in(first.job, first.figure.given)
    given = zip(first.figure.given, lines, strict=True)
    names = tuple(name for (name, _, _), line in given if line not in shared)
    return names if 2 <= len(names) <= _COLUMNS else ()


def _in_columns(
    workings: Sequence[Working], names: Sequence[str], shared: Sequence[str], about: str
) -> Iterator[Block]:
    heads = heads_of(workings[0].figure.given, names)
    rows = tuple(_in_row(working, names) for working in workings)
    columns = ("For", *heads, "Result")
    yield Table(about, columns, rows, widths_of(columns, rows))
    read = [(w, [line for line in w.read_lines() if line not in shared]) for w in workings]
    if any(lines for _, lines in read):
        yield Table(
            "Read for it",
            ("For", "Value and line"),
            tuple(Row((w.figure.thing, packed(lines, _READ_WIDE))) for w, lines in read if lines),
            (1, 6.1),
        )


def widths_of(columns: Sequence[str], rows: Sequence[Row]) -> tuple[float, ...]:
    """Each column as wide as the longest line in it, within bounds."""
    cells = zip(columns, *(row.cells for row in rows), strict=True)
    longest = (max(len(line) for text in of for line in text.split("\n")) + 1 for of in cells)
    return tuple(float(min(max(wide, _NARROW), _BROAD)) for wide in longest)


def _in_row(working: Working, names: Sequence[str]) -> Row:
    figure, job = working.figure, working.job
    said, si = result(job, figure)
    own, _, remark = said.partition("\n")
    text = "\n".join(line for line in (own, "" if si == own else si, remark) if line)
    cells = cells_of(job, figure.given, names)
    return Row((figure.thing, *cells, text), _cites(working))


def heads_of(given: Given, names: Sequence[str]) -> list[str]:
    """The heads of the columns of numbers, with the unit of those that have but one."""
    return [
        f"{name}, {dimension}" if is_unit(dimension) else name
        for name, _, dimension in given
        if name in names
    ]


def cells_of(job: Job, given: Given, names: Sequence[str]) -> list[str]:
    """The numbers of those columns, each in the job's units and in SI below."""
    return [
        si_text(value, "number")
        if is_unit(dimension)
        else twice(job, value, dimension).replace(" (", "\n(")
        for name, value, dimension in given
        if name in names
    ]


def _listed(working: Working, shared: Sequence[str]) -> Row:
    figure = working.figure
    value, si = result(working.job, figure)
    own = [line for line in working.lines() if line not in shared]
    return Row(
        (figure.thing, packed(own), value, si),
        _cites(working),
        "held" if figure.value is None else "plain",
    )


def _cites(working: Working) -> Cites:
    figure = working.figure
    return frozenset({figure.address}) | figure.inputs | figure.waits_for
