"""A chart of days: a bar for each visit, a line for each thing on its way, weeks across."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import date, timedelta
from typing import NamedTuple

from spec.draw.scene import Circle, Label, Polygon, Polyline, Scene, Shape

_NAMES, _WIDTH = 50.0, 170.0
_ROW, _BAR = 4.6, 3.0
_LETTERS = 2.1


class Bar(NamedTuple):
    """One row: from its first to its last day.

    `slips_to`: the last day to which it may slip; `tight`: what the end hangs on; `stops`: at its
    end work stops until somebody has looked; `coming`: it is ordered, and on its way.
    """

    name: str
    first: date
    last: date
    slips_to: date | None = None
    tight: bool = False
    stops: bool = False
    coming: bool = False


def chart(bars: Sequence[Bar]) -> Scene:
    """The rows from top to bottom as they are given; at least one."""
    first = min(bar.first for bar in bars)
    first -= timedelta(days=first.weekday())
    last = max(max(bar.last, bar.slips_to or bar.last) for bar in bars)
    last += timedelta(days=7 - last.weekday())
    day = (_WIDTH - _NAMES) / (last - first).days
    foot = -_ROW * len(bars)
    shapes = [*_weeks(first, last, day, foot)]
    for row, bar in enumerate(bars):
        shapes += _row(bar, -_ROW * (row + 0.5), lambda d: _NAMES + (d - first).days * day)
    return Scene(tuple(shapes), _WIDTH)


def _weeks(first: date, last: date, day: float, foot: float) -> Iterator[Shape]:
    """A line for every Monday; the day beside those between which there is room."""
    weeks = (last - first).days // 7
    every = max(1, -(-weeks // 10))
    for week in range(weeks + 1):
        x = _NAMES + 7 * week * day
        named = week % every == 0
        yield Polyline(((x, _ROW * 0.3 if named else 0.0), (x, foot)), pen="quiet")
        if named and week < weeks:
            monday = first + timedelta(days=7 * week)
            yield Label((x + 0.6, _ROW * 0.6), f"{monday:%m-%d}", _LETTERS, "start")


def _row(bar: Bar, y: float, at: Callable[[date], float]) -> Iterator[Shape]:
    half, one = _BAR / 2, timedelta(days=1)
    yield Label((_NAMES - 1.5, y), bar.name, _LETTERS, "end", strong=bar.tight)
    left, right = at(bar.first), at(bar.last + one)
    if bar.slips_to is not None and bar.slips_to > bar.last:
        yield Polyline(((right, y), (at(bar.slips_to + one), y)), pen="hidden")
    if bar.coming:
        yield Polyline(((left, y), (right, y)), pen="outline" if bar.tight else "thin")
        for x in (left, right):
            yield Circle((x, y), 0.8, fill="dark" if bar.tight else "paper")
        return
    box = ((left, y - half), (right, y - half), (right, y + half), (left, y + half))
    yield Polygon(box, pen="thin", fill="dark" if bar.tight else "light")
    if bar.stops:
        tip = ((right, y - half), (right + half, y), (right, y + half))
        yield Polygon(tip, pen="thin", fill="paper")
