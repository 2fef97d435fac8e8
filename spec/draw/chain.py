"""Chains of dimensions: every stop to the next, so that the parts add up to the whole."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import pairwise

from spec.draw.scene import Dimension
from spec.quantity import show

_SAME = 1.0
"""Two stops nearer than this [mm] are one."""


@dataclass(slots=True)
class Stops:
    """Places along a line [mm], each with the addresses that put it there."""

    at: dict[float, set[str]] = field(default_factory=dict)

    def add(self, place: float, cites: Iterable[str]) -> None:
        """One more place; one that is there already gets the addresses too."""
        for known, addresses in self.at.items():
            if abs(known - place) < _SAME:
                addresses.update(cites)
                return
        self.at[place] = set(cites)

    def spans(self) -> Iterator[tuple[float, float, frozenset[str]]]:
        """From each place to the next, with what both rest on."""
        order = sorted(self.at)
        for a, b in pairwise(order):
            yield a, b, frozenset(self.at[a] | self.at[b])

    def __bool__(self) -> bool:
        return bool(self.at)


def across(stops: Stops, level: float, offset: float, system: str) -> Iterator[Dimension]:
    """A chain from left to right at a level [mm]; a positive offset sets it above."""
    for a, b, cites in stops.spans():
        yield Dimension((a, level), (b, level), length(b - a, system), offset, cites)


def upward(stops: Stops, place: float, offset: float, system: str) -> Iterator[Dimension]:
    """A chain upward at a place [mm]; a positive offset sets it to the left."""
    for a, b, cites in stops.spans():
        yield Dimension((place, a), (place, b), length(b - a, system), offset, cites)


def length(millimeters: float, system: str) -> str:
    """A length in the job's units."""
    return show(millimeters / 1000, "length", system)
