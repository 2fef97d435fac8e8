"""A leaf as written becomes a typed value, by what the schema says it is."""

from __future__ import annotations

import re
from datetime import date, timedelta
from typing import Any

from spec.job.raw import Raw
from spec.job.schema import Shape
from spec.quantity import Quantity, QuantityError, Range, Series, Size, parse

_YES = {"yes": True, "true": True, "no": False, "false": False}
_COUNT = re.compile(r"^[0-9]{1,9}$")
_NUMBER = re.compile(r"^-?[0-9]{1,9}(\.[0-9]{1,9})?$")
_DATE = re.compile(r"^\d{4}-\d{2}-\d{2}$")

Typed = Quantity | Range | Size | Series | int | float | bool | date | str | tuple[Any, ...]


class Unread(ValueError):
    """A value that is not what its place asks for: what is wrong, and what would put it right."""

    def __init__(self, message: str, cure: str) -> None:
        super().__init__(message)
        self.message = message
        self.cure = cure


def typed(raw: Raw, shape: Shape, bare_length: str | None) -> Typed:
    """The value of a leaf; raises `Unread` in words for the lead."""
    if isinstance(raw.value, list):
        if any(item.state is not None for item in raw.value):
            raise Unread(
                "a list cannot be open in part",
                "mark the whole list: {open: client, meanwhile: [...]}",
            )
        if any(not isinstance(item.value, str) for item in raw.value):
            raise Unread(
                "a list holds marks, words or quantities, nothing that has parts",
                "give each a mark of its own and write it as a map entry",
            )
        dimension, form = shape.quantity
        if dimension and form not in ("heights", "one"):
            raise Unread(
                f"a list stands where one {form} is due",
                "write the numbers with spaces between them and the unit once at the end",
            )
        values: list[Any] = []
        for item in raw.value:
            value = _scalar(str(item.value), shape.item, bare_length)
            values += value if isinstance(value, tuple) else (value,)
        return tuple(values)
    return _scalar(str(raw.value), shape, bare_length)


def _scalar(text: str, shape: Shape, bare_length: str | None) -> Typed:
    if not text.strip():
        raise Unread(
            "a blank text says nothing",
            "write the answer, or who decides it: {open: client}",
        )
    dimension, form = shape.quantity
    if dimension:
        try:
            return parse(text, dimension, form, bare_length)
        except QuantityError as error:
            raise Unread(error.message, error.cure) from None
    as_typed: Typed = _TYPES.get(shape.scalar, _text)(text)
    return as_typed


def _text(text: str) -> str:
    return text


def _count(text: str) -> int:
    if not _COUNT.match(text):
        raise Unread(f"`{text}` is not a count", "write a whole number, for example 3")
    return int(text)


def _number(text: str) -> float:
    if not _NUMBER.match(text):
        raise Unread(f"`{text}` is not a number", "write a plain number, for example 0.85")
    return float(text)


def _yes_no(text: str) -> bool:
    if text.lower() not in _YES:
        raise Unread(f"`{text}` is neither yes nor no", "write yes or no")
    return _YES[text.lower()]


def _date(text: str) -> date:
    try:
        if not _DATE.match(text):
            raise ValueError
        return date.fromisoformat(text)
    except ValueError:
        raise Unread(
            f"`{text}` is not a day of the calendar", "write year-month-day, for example 2026-11-06"
        ) from None


def _dates(text: str) -> date | tuple[date, ...]:
    """One day, or every day of a span: `2026-12-21 to 2027-01-02`."""
    first, _, last = text.partition(" to ")
    start = _date(first.strip())
    if not last:
        return start
    end = _date(last.strip())
    if end < start:
        raise Unread(f"`{text}` ends before it begins", "write the earlier day first")
    return tuple(start + timedelta(days=n) for n in range((end - start).days + 1))


_TYPES: dict[str, Any] = {
    "count": _count,
    "number": _number,
    "yes_no": _yes_no,
    "date": _date,
    "dates": _dates,
}
