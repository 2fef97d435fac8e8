"""What figures are made up of: the shares of each, with the sum where they add up to it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from spec.compose.blocks import Block, Row, Table
from spec.compose.parts.worked import cells_of, heads_of, widths_of
from spec.compose.parts.workings import is_of_the_day, packed, put_in, result, si_text, twice
from spec.compose.wording import figure_text
from spec.derive.figure import Figure, Part
from spec.job.job import Job

_COLUMNS = 7
"""So many shares, the same of every figure, stand in columns of their own."""


def shares(job: Job, figures: Sequence[Figure]) -> Iterator[Block]:
    """One table of the shares of all figures of a kind, as short as it can be without a loss.

    Shares with numbers of their own have a row each; those that every figure has are columns; of
    others one row holds those of a figure. A figure's only share is the figure.
    """
    title = f"{figures[0].definition.title}: part by part"
    made = [f for f in figures if f.definition.dimension != "day" and not _named_already(f)]
    made = [figure for figure in made if not is_of_the_day(figure)]
    if any(part.given for figure in made for part in figure.parts):
        yield _worked_out(job, title, made)
        return
    made = [figure for figure in made if not _is_whole(figure)]
    if not made:
        return
    names = [tuple(part.label for part in figure.parts) for figure in made]
    alike = len(made) > 1 and len(set(names)) == 1 and len(names[0]) <= _COLUMNS
    if alike and not any("\n" in name for name in names[0]):
        rows = tuple(_in_columns(job, figure) for figure in made)
        columns = ("For", *names[0], "Sum")
        yield Table(title, columns, rows, widths_of(columns, rows))
    else:
        rows = tuple(_in_one(job, figure) for figure in made)
        if any(row.cells[-1] for row in rows):
            yield Table(title, ("For", "Shares", "Sum"), rows, (1, 3.9, 1.2))
        else:
            bare = tuple(Row(row.cells[:-1]) for row in rows)
            yield Table(title, ("For", "Shares"), bare, (1, 5.1))


def _named_already(figure: Figure) -> bool:
    """It has no shares, or they are figures that stand among the numbers put in."""
    return all("@" in part.address and part.address in figure.inputs for part in figure.parts)


def _worked_out(job: Job, title: str, figures: Sequence[Figure]) -> Table:
    """Shares with numbers of their own: in columns where all have the same names."""
    given = {tuple((n, d) for n, _, d in part.given) for f in figures for part in f.parts}
    names = [name for name, _ in next(iter(given))]
    if len(given) > 1 or len(names) > _COLUMNS:
        rows = tuple(row for figure in figures for row in _worked(job, figure))
        return Table(title, ("For", "Part", "Share", "In SI"), rows, (1.4, 2.2, 1, 1))
    first = next(part for figure in figures for part in figure.parts)
    columns = ("For", "Part", *heads_of(first.given, names), "Share")
    rows = tuple(row for figure in figures for row in _beside(job, figure, names))
    return Table(title, columns, rows, widths_of(columns, rows))


def _beside(job: Job, figure: Figure, names: Sequence[str]) -> Iterator[Row]:
    """Each share with its numbers in columns; then the sum."""
    for part in figure.parts:
        share = _share(job, figure, part).replace(" (", "\n(")
        yield Row((figure.thing, part.label, *cells_of(job, part.given, names), share))
    whole = _sum(job, figure).replace(" (", "\n(")
    if len(figure.parts) > 1 and whole:
        yield Row((figure.thing, "sum", *("" for _ in names), whole), tone="total")


def _worked(job: Job, figure: Figure) -> Iterator[Row]:
    """Each share with the numbers put into the formula for it; then the sum."""
    dimension = figure.definition.dimension
    for part in figure.parts:
        label = part.label
        if part.given:
            label = f"{label}\n{packed(put_in(job, part.given), _PART_WIDE)}"
        share = figure_text(job, part.value, dimension)
        yield Row((figure.thing, label, share, si_text(part.value, dimension)))
    if len(figure.parts) > 1 and adds_up(figure):
        whole, si = result(job, figure)
        yield Row((figure.thing, "sum", whole.partition("\n")[0], si), tone="total")


_PART_WIDE = 48
"""Characters across the column of a part."""


def _in_columns(job: Job, figure: Figure) -> Row:
    cells = [*(_share(job, figure, part) for part in figure.parts), _sum(job, figure)]
    return Row((figure.thing, *(cell.replace(" (", "\n(") for cell in cells)))


def _in_one(job: Job, figure: Figure) -> Row:
    named = [f"{part.label} {_share(job, figure, part)}" for part in figure.parts]
    return Row((figure.thing, packed(named), _sum(job, figure)))


def _share(job: Job, figure: Figure, part: Part) -> str:
    return twice(job, part.value, figure.definition.dimension)


def _sum(job: Job, figure: Figure) -> str:
    """The whole, where the shares add up to it."""
    if figure.value is None or not adds_up(figure):
        return ""
    return twice(job, figure.value, figure.definition.dimension)


def _is_whole(figure: Figure) -> bool:
    return len(figure.parts) == 1 and adds_up(figure)


def adds_up(figure: Figure) -> bool:
    """The shares of a figure add up to it."""
    total = sum(part.value for part in figure.parts)
    return figure.value is not None and abs(total - figure.value) <= 1e-9 * abs(total)
