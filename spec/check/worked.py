"""Figures as rules ask for them: every thing that a figure is made for, where it has a value."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from spec.derive.figure import Facts
from spec.job.node import Node


def worked(facts: Facts, name: str) -> Iterator[tuple[Node, float]]:
    """Each thing with its figure [SI]; what waits or has no formula is left out."""
    for thing in facts.figures.made_for(name):
        found = facts.figures.get(name, thing)
        if found.value is not None:
            yield thing, found.value


def known(facts: Facts, name: str, thing: Node) -> float | None:
    """The figure of one thing [SI], None where it waits or is not made for it."""
    return facts.figures.get(name, thing).value


def day(value: float) -> date:
    """A figure of dimension `day` as a date."""
    return date.fromordinal(int(value))
