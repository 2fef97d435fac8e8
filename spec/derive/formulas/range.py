"""The range in which a formula holds, and the refusal outside it."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import TypeVar

_T = TypeVar("_T")


class OutOfRange(ValueError):
    """An input lies where the formula does not hold; `str()` says so in plain words.

    what: the input in words; value [unit]; low, high [unit]: the range that holds; unit: its name.
    """

    def __init__(self, what: str, value: float, low: float, high: float, unit: str) -> None:
        self.what, self.value, self.low, self.high, self.unit = what, value, low, high, unit
        super().__init__(self.said(lambda number: f"{number:g} {unit}".rstrip()))

    def said(self, shown: Callable[[float], str]) -> str:
        """The refusal with its values as `shown` writes them, each with its unit."""
        if not math.isfinite(self.value):
            return f"the {self.what} is not a number"
        value, low = shown(self.value), shown(self.low)
        if math.isinf(self.high):
            bound = "more than" if self.value == self.low else "at least"
            return f"the {self.what} is {value}; it has to be {bound} {low}"
        return f"the {self.what} is {value}; this holds from {low} to {shown(self.high)}"


class NotCovered(OutOfRange):
    """A size, kind or combination that a table or method does not cover; `str()` says which.

    says: the sentence, with what would be covered.
    """

    def __init__(self, says: str) -> None:
        self.what, self.value, self.low, self.high, self.unit = says, math.nan, 0.0, math.inf, ""
        ValueError.__init__(self, says)

    def said(self, shown: Callable[[float], str]) -> str:
        """The same sentence."""
        return self.what


def within(value: float, low: float, high: float, what: str, unit: str = "") -> float:
    """The value itself, when it lies in [low, high].

    value, low, high [unit]; what: the input in words, without an article; unit: its name.
    Raises OutOfRange outside, and for a value that is not a number.

    >>> within(20.0, -40.0, 60.0, "air temperature", "°C")
    20.0
    """
    if not (math.isfinite(value) and low <= value <= high):
        raise OutOfRange(what, value, low, high, unit)
    return value


def positive(value: float, what: str, unit: str = "") -> float:
    """The value itself, when it is above zero.

    value [unit]; what: the input in words; unit: its name. Raises OutOfRange otherwise.
    """
    if not (math.isfinite(value) and value > 0.0):
        raise OutOfRange(what, value, 0.0, math.inf, unit)
    return value


def not_negative(value: float, what: str, unit: str = "") -> float:
    """The value itself, when it is zero or more.

    value [unit]; what: the input in words; unit: its name. Raises OutOfRange otherwise.
    """
    if not (math.isfinite(value) and value >= 0.0):
        raise OutOfRange(what, value, 0.0, math.inf, unit)
    return value


def some(values: Sequence[_T], what: str) -> Sequence[_T]:
    """The values themselves, when there is at least one.

    values: any; what: what they are, in the plural. Raises NotCovered for none.
    """
    if not values:
        raise NotCovered(f"there are no {what} to reckon with")
    return values
