"""How far figures move while one standard of the house moves over its range.

Nothing is estimated: the figure is worked out again, with all that it rests on, for the least and
for the most that the standard may be. Only who asks pays for it.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from spec.derive.figure import Facts, Figure
from spec.quantity import Range


class Reach(NamedTuple):
    """A figure at the least and at the most of one standard that it rests on, all else as it is."""

    standard: str
    span: Range
    figure: Figure
    least: Figure
    most: Figure


class Ranges:
    """Works the figures of a job out again at the ends of the ranges of its standards."""

    def __init__(self, facts: Facts) -> None:
        self._facts = facts
        self._at: dict[str, tuple[Range, Facts, Facts] | None] = {}

    def of(self, figure: Figure) -> Iterator[Reach]:
        """What each standard with a range does to a figure that has a value."""
        thing = self._facts.job.find(figure.thing)
        if thing is None or figure.value is None or not figure.definition.ranged:
            return
        for standard in sorted(figure.inputs):
            ends = self._ends(standard)
            if ends is not None:
                span, *facts = ends
                name = figure.definition.name
                least, most = (end.figures.get(name, thing) for end in facts)
                yield Reach(standard, span, figure, least, most)

    def _ends(self, standard: str) -> tuple[Range, Facts, Facts] | None:
        if standard not in self._at:
            job, places = self._facts.job, self._facts.places
            span = job.range_of(standard)
            self._at[standard] = None
            if span is not None:
                ends = (job.instead(standard, end) for end in (span.low, span.high))
                least, most = (Facts(end, places) for end in ends)
                self._at[standard] = span, least, most
        return self._at[standard]
