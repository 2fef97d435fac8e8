"""How a figure was worked out, in words and numbers: what was put in, what came out, from where."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from pathlib import PurePath
from typing import NamedTuple

from spec.compose.wording import figure_text, state_text
from spec.derive.figure import Figure, Figures, Given
from spec.finding import Place
from spec.job.job import Job
from spec.job.node import Node
from spec.job.schema import root
from spec.job.weather import ORIGIN
from spec.quantity import Quantity, Range, Series, Size, both
from spec.quantity.dimensions import DIMENSIONS

_WIDE = 68
"""Characters across the column of the numbers put in."""
LISTED = 12
"""So many inputs are written out beside a figure; of more, those of its own thing."""
_FROM_THE_DAY = frozenset({"schedule.critical"})
_UNTIL_ORDERED = frozenset({"order_of_work.order_float"})
_NO_UNIT = frozenset({"count", "number", "day"})
_SUPERSCRIPT = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")


def si_text(value: float, dimension: str) -> str:
    """A value in the base unit of its dimension, to five figures; days have none.

    What has no dimension of its own comes with its unit.

    >>> si_text(0.0000123, "area"), si_text(0.25, "percent"), si_text(739959.0, "day")
    ('1.23 × 10⁻⁵ m²', '0.25', '')
    >>> si_text(27.2411, "W/K")
    '27.241 W/K'
    """
    if dimension == "day":
        return ""
    unit = dimension
    if not is_unit(dimension):
        unit = "" if dimension in _NO_UNIT else DIMENSIONS[dimension].si
    number, _, power = f"{value:.5g}".partition("e")
    if power:
        number = f"{number} × 10{str(int(power)).translate(_SUPERSCRIPT)}"
    return number if unit in ("", "1") else f"{number} {unit}"


def is_unit(dimension: str) -> bool:
    """No dimension of quantities, but the unit of a number that has none of its own: `W/K`."""
    return dimension not in DIMENSIONS and dimension not in _NO_UNIT


def in_file(place: Place) -> str:
    """`job.yaml:12`, the file and its line: the same wherever the file lies."""
    return f"{PurePath(place.file).name}:{place.line}"


def found_at(node: Node) -> str:
    """Where a value stands, and in which field where a weather file gives it."""
    if node.origin.startswith(ORIGIN):
        return f"{in_file(node.place)}, {node.origin.removeprefix(ORIGIN)}"
    return in_file(node.place)


def as_written(job: Job, node: Node) -> str:
    """The value as it stands in the file, its conversion in parentheses, and its state."""
    value = node.value
    text = node.written
    if isinstance(value, Quantity | Range | Size | Series):
        text = both(value, job.system)
    mark = state_text(node)
    return f"{text} ({mark})" if text and mark else text or mark


class Default(NamedTuple):
    """A value of the house standards that no file gives."""

    name: str
    title: str
    value: str
    about: str
    span: str


def default_of(name: str) -> Default | None:
    """The named default under which a threshold is known, or None."""
    thresholds = root("house").below("thresholds")
    shape = thresholds.below(name) if thresholds is not None else None
    if shape is None or "default" not in shape.schema:
        return None
    about = str(shape.schema.get("description", ""))
    span = str(shape.schema.get("range", ""))
    return Default(name, shape.title, str(shape.schema["default"]), about, span)


def standard_text(job: Job, name: str) -> str:
    """A standard of the house as it holds in the job: as written there, else its default."""
    node = job.find(name)
    if node is not None and node.known:
        return as_written(job, node)
    default = default_of(name)
    return f"{default.value} (default)" if default is not None else ""


class Working:
    """What one figure was made from: other figures, and what was read for it alone."""

    def __init__(self, job: Job, figures: Figures, figure: Figure) -> None:
        self.job = job
        self.figure = figure
        self._figures = figures

    @cached_property
    def used(self) -> tuple[str, ...]:
        """Addresses of the figures that it uses itself, not through another one."""
        return self._direct[0]

    @cached_property
    def read(self) -> tuple[str, ...]:
        """Addresses of values that no figure among those it uses has read before it."""
        return self._direct[1]

    @cached_property
    def _direct(self) -> tuple[tuple[str, ...], tuple[str, ...]]:
        inputs = self.figure.inputs
        below: set[str] = set()
        for address in inputs:
            other = self._figures.at(address)
            if other is not None:
                below |= other.inputs
        own = sorted(inputs - below)
        figures = tuple(a for a in own if self._figures.at(a) is not None)
        return figures, tuple(a for a in own if a not in figures and is_value(self.job, a))

    def lines(self) -> list[str]:
        """The numbers put into the formula, then the figures and inputs that they come from."""
        return [*put_in(self.job, self.figure.given), *self.read_lines()]

    def read_lines(self) -> list[str]:
        """The figures and inputs that its numbers come from."""
        return [*self._used(), *map(self._of_input, self._shown)]

    def besides(self) -> list[str]:
        """Addresses of all else that was read for it."""
        return [address for address in self._own if address not in self._shown]

    def _used(self) -> list[str]:
        """The figures it uses, those of one name together."""
        by_name: dict[str, list[str]] = {}
        for address in self.used:
            name, _, thing = address.partition("@")
            by_name.setdefault(name, []).append(f"{thing} = {self._value_of(address)}")
        return [f"{name}@{', '.join(things)}" for name, things in by_name.items()]

    @cached_property
    def _own(self) -> tuple[str, ...]:
        """What was read, without the models and links that only led to a value."""
        nodes = [node for node in map(self.job.find, self.read) if node is not None]
        led = {a for node in nodes for a in (node.model, node.through)}
        return tuple(address for address in self.read if address not in led)

    @cached_property
    def _shown(self) -> tuple[str, ...]:
        if len(self._own) <= LISTED:
            return self._own
        thing = self.figure.thing
        return tuple(
            a
            for a in self._own
            if a == thing or a.startswith(f"{thing}.") or self.job.find(a) is None
        )

    def _value_of(self, address: str) -> str:
        other = self._figures.at(address)
        if other is None or other.value is None:
            return "not known"
        return twice(self.job, other.value, other.definition.dimension)

    def _of_input(self, address: str) -> str:
        node = self.job.find(address)
        if node is not None:
            return f"{address} = {as_written(self.job, node)} ({found_at(node)})"
        default = default_of(address)
        return f"{address} = {default.value} (default)" if default else address


def is_value(job: Job, address: str) -> bool:
    """A value, a state or a default, as against a map that only holds them."""
    node = job.find(address)
    if node is None:
        return default_of(address) is not None
    return not node.children and bool(node.written or node.state is not None)


def packed(items: Sequence[str], wide: int = _WIDE) -> str:
    """Items in lines that hold as many as go into them, none of them broken.

    >>> print(packed(["U = 0.3 W/m²K", "A = 2 m²", "t = 20 °C"], 26))
    U = 0.3 W/m²K; A = 2 m²
    t = 20 °C
    """
    lines: list[str] = []
    for item in items:
        if lines and len(lines[-1]) + len(item) + 2 <= wide:
            lines[-1] += f"; {item}"
        else:
            lines.append(item)
    return "\n".join(lines)


def put_in(job: Job, given: Given) -> list[str]:
    """The numbers put into a formula, each with its symbol."""
    return [f"{symbol} = {twice(job, value, dimension)}" for symbol, value, dimension in given]


def twice(job: Job, value: float, dimension: str) -> str:
    """In the job's units, and in SI where that is another number; in SI where the unit is one."""
    if dimension == "number" or is_unit(dimension):
        return si_text(value, dimension)
    own, si = figure_text(job, value, dimension), si_text(value, dimension)
    if not si or dimension in _NO_UNIT:
        return own
    (number, _, unit), (exact, _, base) = own.partition(" "), si.partition(" ")
    if number.removesuffix("°") == exact:
        return own
    return si if unit == base else f"{own} ({si})"


def is_of_the_day(figure: Figure) -> bool:
    """It counts from the day on which the job is looked at, and is another one tomorrow."""
    ordered = any(address.endswith(".ordered") for address in figure.inputs)
    name = figure.definition.name
    return name in _FROM_THE_DAY or (name in _UNTIL_ORDERED and not ordered)


def result(job: Job, figure: Figure) -> tuple[str, str]:
    """The result in the job's units, with its remark, and in SI; or what it waits for.

    A count from the day is left to the reader: what was reviewed under a fingerprint stays so
    when nothing but the day has changed, and the day stands in the head.
    """
    if is_of_the_day(figure) and figure.value is not None:
        return "to be counted from the day in the head", ""
    if figure.value is None:
        waits = ", ".join(sorted(figure.waits_for))
        return (f"waits for {waits}" if waits else f"not worked out: {figure.refused}"), ""
    dimension = figure.definition.dimension
    text = figure_text(job, figure.value, dimension)
    remark = f"\n{figure.remark}" if figure.remark else ""
    return text + remark, "" if dimension in _NO_UNIT else si_text(figure.value, dimension)


def inputs_of(job: Job, figures: Sequence[Figure]) -> list[str]:
    """Every value, state and default that any of the figures has read, each once, by address."""
    read = {a for figure in figures for a in figure.inputs | figure.waits_for if "@" not in a}
    return sorted(address for address in read if is_value(job, address))
