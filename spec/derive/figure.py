"""Figures: what follows from the job, each with its formula, inputs, source and range."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from functools import cache
from typing import Any, NamedTuple

from spec.derive.formulas.range import NotCovered, OutOfRange
from spec.job.job import Job
from spec.job.node import Node, Open
from spec.job.record import Kept, note, recording
from spec.place import Places

COMMON_PRACTICE = "common practice, no source"


Given = tuple[tuple[str, float, str], ...]
"""Numbers put into a formula as (symbol, value in SI, dimension, or the unit itself: `W/K`)."""


class Part(NamedTuple):
    """One share of a figure, for example the load through one surface.

    `given` are the numbers put into the formula for this share alone.
    """

    label: str
    value: float
    address: str = ""
    given: Given = ()


class Worked(NamedTuple):
    """What a sheet gives back where a bare number is not enough.

    `given` are the numbers put into the formula; every symbol of it is there or in the parts.
    """

    value: float
    parts: tuple[Part, ...] = ()
    given: Given = ()
    remark: str = ""


class Definition(NamedTuple):
    """How one figure is made, for every thing that it is made for."""

    name: str
    title: str
    dimension: str
    formula: str
    source: str
    holds: str
    trades: tuple[str, ...]
    per: Callable[[Job], Iterable[Node]]
    work: Callable[[Facts, Node], float | Worked]
    ranged: bool

    @property
    def subject(self) -> str:
        """The subject of the sheet that it stands on."""
        return _SHEET_SUBJECT.get(self.name.partition(".")[0], self.name.partition(".")[0])


_SHEET_SUBJECT = {"storage": "millwork", "area": "envelope", "schedule": "order_of_work"}
_definitions: dict[str, Definition] = {}


@dataclass(frozen=True, slots=True)
class Figure:
    """A computed value in the SI unit of its dimension, or what it waits for."""

    definition: Definition
    thing: str
    value: float | None
    inputs: frozenset[str]
    waits_for: frozenset[str] = frozenset()
    parts: tuple[Part, ...] = ()
    given: Given = ()
    remark: str = ""
    refused: str = field(default="")
    """Why the formula cannot be used on these inputs, in words; empty where it can."""
    out_of_range: bool = False
    """Refused because a number lies where the formula does not hold, not for want of a case."""

    @property
    def address(self) -> str:
        """`name@thing`."""
        return f"{self.definition.name}@{self.thing}"


def figure(
    name: str,
    *,
    title: str,
    dimension: str,
    formula: str,
    source: str,
    holds: str = "",
    per: Callable[[Job], Iterable[Node]],
    trades: tuple[str, ...] = (),
    ranged: bool = False,
) -> Callable[[Callable[[Facts, Node], float | Worked]], Definition]:
    """Declare a figure: the decorated function gets the facts and the thing, and gives SI.

    `trades` are those in whose orders the figure is stated (`own`: the trades that its thing
    belongs to, or the first of its parts where it is of a place); of one that is `ranged` the
    calculation sheet says how far it moves over the ranges of the standards that it rests on.
    """

    def declare(work: Callable[[Facts, Node], float | Worked]) -> Definition:
        definition = Definition(
            name, title, dimension, formula, source, holds, trades, per, work, ranged
        )
        if name in _definitions:
            raise ValueError(f"figure {name} is declared twice")
        _definitions[name] = definition
        return definition

    return declare


@cache
def definitions() -> dict[str, Definition]:
    """Every figure that the sheets declare, by name."""
    from spec.derive import sheets  # noqa: PLC0415 - the sheets import this module

    for module in pkgutil.iter_modules(sheets.__path__):
        importlib.import_module(f"{sheets.__name__}.{module.name}")
    return dict(_definitions)


class Figures:
    """All figures of a job, worked out when first asked for and kept."""

    def __init__(self, facts: Facts) -> None:
        self._facts = facts
        self._known: dict[str, Figure] = {}
        self._under_way: list[str] = []

    def get(self, name: str, thing: Node) -> Figure:
        """The figure of a thing; what it read is recorded for whoever asks."""
        address = f"{name}@{thing.address}"
        found = self._known.get(address)
        if found is None:
            found = self._work(definitions()[name], thing, address)
        note(address, *found.inputs, *found.waits_for)
        return found

    def value(self, name: str, thing: Node) -> float:
        """Its value in SI; raises `Open` where it waits for a decision or cannot be worked."""
        found = self.get(name, thing)
        if found.value is None:
            raise Open(min(found.waits_for, default=found.address))
        return found.value

    def made_for(self, name: str) -> tuple[Node, ...]:
        """The things of the job for which a figure is worked out."""
        return tuple(definitions()[name].per(self._facts.job))

    def at(self, address: str) -> Figure | None:
        """A figure by its address, or None."""
        return self._known.get(address)

    def all(self) -> Iterator[Figure]:
        """Every figure of the job, in the order of their declaration."""
        for definition in definitions().values():
            for thing in definition.per(self._facts.job):
                yield self.get(definition.name, thing)

    def _work(self, definition: Definition, thing: Node, address: str) -> Figure:
        if address in self._under_way:
            raise NotCovered(f"{definition.title} of {thing.key} is worked out from itself")
        self._under_way.append(address)
        waits: frozenset[str] = frozenset()
        worked: float | Worked | None = None
        refused, out_of_range = "", False
        with recording() as read:
            try:
                worked = definition.work(self._facts, thing)
            except Open as missing:
                waits = frozenset({missing.address})
            except OutOfRange as error:
                from spec.derive.refusal import refused as in_words  # noqa: PLC0415 - few jobs

                refused = in_words(error, self._facts.job.system)
                out_of_range = not isinstance(error, NotCovered)
            finally:
                self._under_way.pop()
        read.discard(address)
        if not isinstance(worked, Worked):
            worked = Worked(worked) if worked is not None else None
        found = Figure(
            definition,
            thing.address,
            worked.value if worked else None,
            frozenset(read) - waits,
            waits,
            worked.parts if worked else (),
            worked.given if worked else (),
            worked.remark if worked else "",
            refused,
            out_of_range,
        )
        self._known[address] = found
        return found


class Facts:
    """All that is known of a job: what was decided, where it sits, what follows."""

    def __init__(self, job: Job, places: Places) -> None:
        self.job = job
        self.places = places
        self.figures = Figures(self)
        self.shared: Kept[Any] = Kept()
        """What several figures and rules rest on, worked out once, by a name and an address."""
