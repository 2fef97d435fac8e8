"""The values that a written quantity becomes, and the refusal of one that cannot be read."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction


class QuantityError(ValueError):
    """A quantity that cannot be read: what is wrong, and what would put it right.

    Both are plain words without a full stop; together they read `message: cure`.
    """

    def __init__(self, message: str, cure: str) -> None:
        super().__init__(message, cure)
        self.message = message
        self.cure = cure

    def __str__(self) -> str:
        return f"{self.message}: {self.cure}"


@dataclass(frozen=True, slots=True)
class Quantity:
    """One value, exact in the base unit of its dimension, beside what was written.

    `written` is the text of the job file; a number that got its unit from the file's
    `lengths` has that unit added, so that it can stand alone in print. `unit` is the symbol
    of the unit (for money the currency code; for a plain 0 and for a count nothing).
    Compare `exact`, not the whole value: 12 in and 1 ft are written differently.
    """

    dimension: str
    exact: Fraction
    written: str
    unit: str = ""

    @property
    def si(self) -> float:
        """The value in the base unit of its dimension (`DIMENSIONS[...].si`)."""
        return float(self.exact)

    def __str__(self) -> str:
        return self.written


@dataclass(frozen=True, slots=True)
class Range:
    """Two values of one dimension, the lower first: `55 to 70 %`."""

    low: Quantity
    high: Quantity
    written: str

    def __str__(self) -> str:
        return self.written


@dataclass(frozen=True, slots=True)
class Size:
    """Two or three values, wide, high and deep: `600 x 820 x 570 mm`."""

    sides: tuple[Quantity, ...]
    written: str

    def __str__(self) -> str:
        return self.written


@dataclass(frozen=True, slots=True)
class Series:
    """One or more values with one unit at the end: `51 55 61 68 °F`."""

    values: tuple[Quantity, ...]
    written: str

    def __str__(self) -> str:
        return self.written
