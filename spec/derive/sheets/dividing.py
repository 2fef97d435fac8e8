"""Division by a decided number, which may be nonsense. Declares no figure."""

from __future__ import annotations

from spec.derive.formulas.range import positive


def over(value: float, by: float, what: str, unit: str = "") -> float:
    """A value over a number that has to be above 0; raises `OutOfRange` in words.

    value; by [unit]; what: the number in words. Returns the quotient.

    >>> over(1.0, 4.0, "rated power", "W")
    0.25
    """
    return value / positive(by, what, unit)
