"""From what was written to exact values."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from typing import Literal, overload

from spec.quantity import notation, refusal, special
from spec.quantity.dimensions import DIMENSIONS, WITH_FRACTIONS, Dimension
from spec.quantity.units import BY_NAME, Unit, find
from spec.quantity.values import Quantity, QuantityError, Range, Series, Size

SHAPES = ("one", "range", "one_or_range", "size", "series", "heights")
"""What `parse` can be asked for. `heights` is read like `one`: a list of them is a list."""

PARTS = {("ft", "in"): 12, ("lb", "oz"): 16, ("h", "min"): 60, ("min", "s"): 60, ("days", "h"): 24}
"""Units that may follow one another, and how many of the second make one of the first."""


@overload
def parse(
    text: str,
    dimension: str,
    shape: Literal["one", "heights"] = "one",
    bare_unit: str | None = None,
) -> Quantity: ...
@overload
def parse(
    text: str, dimension: str, shape: Literal["range"], bare_unit: str | None = None
) -> Range: ...
@overload
def parse(
    text: str, dimension: str, shape: Literal["one_or_range"], bare_unit: str | None = None
) -> Quantity | Range: ...
@overload
def parse(
    text: str, dimension: str, shape: Literal["size"], bare_unit: str | None = None
) -> Size: ...
@overload
def parse(
    text: str, dimension: str, shape: Literal["series"], bare_unit: str | None = None
) -> Series: ...
@overload
def parse(
    text: str, dimension: str, shape: str, bare_unit: str | None = None
) -> Quantity | Range | Size | Series: ...
def parse(
    text: str, dimension: str, shape: str = "one", bare_unit: str | None = None
) -> Quantity | Range | Size | Series:
    """The value of a text, exact.

    `dimension` is a key of DIMENSIONS, `shape` one of SHAPES. `bare_unit` is the unit of
    numbers that stand without one (the job's `lengths`); it is used only where it is a unit
    of the dimension. QuantityError for what cannot be read, in words for the job's lead;
    KeyError for an unknown dimension and ValueError for an unknown shape, which are the
    program's own mistakes.
    """
    return _parse(text, dimension, shape, bare_unit)


@lru_cache(maxsize=8192)
def _parse(
    text: str, dimension: str, shape: str, bare_unit: str | None
) -> Quantity | Range | Size | Series:
    kind = DIMENSIONS[dimension]
    if len(text) > notation.LONGEST:
        raise QuantityError(
            f"{len(text)} characters are too many for {kind.title}", f"write it like {kind.sample}"
        )
    plain, written = notation.clean(text), text.strip()
    bare = find(dimension, bare_unit) if bare_unit else None
    match shape:
        case "one" | "heights":
            return _one(plain, written, kind, bare)
        case "range":
            return _range(plain, written, kind, bare)
        case "one_or_range":
            if read(plain, written, kind, bare) is None and notation.RANGE.search(plain):
                return _range(plain, written, kind, bare)
            return _one(plain, written, kind, bare)
        case "size":
            return _size(plain, written, kind, bare)
        case "series":
            return _series(plain, written, kind, bare)
    raise ValueError(f"unknown shape {shape!r}")


def _one(plain: str, written: str, kind: Dimension, bare: Unit | None) -> Quantity:
    quantity = read(plain, written, kind, bare)
    if quantity is None:
        raise refusal.of(plain, kind, bare, read)
    return quantity


def read(plain: str, written: str, kind: Dimension, bare: Unit | None) -> Quantity | None:
    """One value from a cleaned text, or None where the text is none of this dimension.

    QuantityError where it is of this dimension and still cannot be.
    """
    if plain.endswith("-"):
        return None
    reader = special.READERS.get(kind.name)
    if reader is not None and (found := reader(plain)) is not None:
        return _checked(Quantity(kind.name, found[0], written, found[1]), kind, plain)
    amount = notation.AMOUNT.fullmatch(plain)
    if amount is None:
        return None
    sign, digits, name = amount.groups()
    if name:
        unit = BY_NAME[kind.name].get(name) or find(kind.name, name)
        if unit is None:
            return _compound(plain, written, kind)
    elif bare is not None:
        unit, written = bare, f"{written} {bare.symbol}"
    elif notation.number(digits) or kind.zero_needs_unit:
        return None
    else:
        return Quantity(kind.name, Fraction(0), written)
    if "/" in digits and kind.name not in WITH_FRACTIONS and unit.symbol != "hp":
        raise refusal.slash(plain, digits, name or unit.symbol, kind)
    value = notation.number(digits)
    if sign == "-":
        value = -value
    if unit.offset:
        value += unit.offset
    return _checked(Quantity(kind.name, value * unit.factor, written, unit.symbol), kind, plain)


def _compound(plain: str, written: str, kind: Dimension) -> Quantity | None:
    """Two numbers of which the second is part of the first: 9 ft 1-7/16 in."""
    match = notation.COMPOUND.fullmatch(plain)
    if match is None:
        return None
    sign, digits, name, second, second_name = match.groups()
    large, small = find(kind.name, name), find(kind.name, second_name) if second_name else None
    if large is None:
        return None
    if small is None:
        if second_name or large.symbol != "ft":
            return None
        raise QuantityError(
            f"{plain} has feet and then a number without an inch mark",
            f"write {sign}{digits}' {second}\"",
        )
    parts = PARTS.get((large.symbol, small.symbol))
    if parts is None:
        return None
    whole, part = notation.number(digits), notation.number(second)
    if whole.denominator != 1:
        raise QuantityError(
            f"{plain} has {small.symbol} after {digits} {large.symbol}, which are not whole",
            f"write whole {large.symbol} before the {small.symbol}",
        )
    if part >= parts:
        raise QuantityError(
            f"{plain} has {second} {small.symbol} after the {large.symbol}, and {parts} "
            f"{small.symbol} are 1 {large.symbol.removesuffix('s')}",
            f"check both figures, and write fewer than {parts} {small.symbol} after {large.symbol}",
        )
    exact = whole * large.factor + part * small.factor
    if sign == "-":
        exact = -exact
    return _checked(Quantity(kind.name, exact, written, small.symbol), kind, plain)


def _checked(quantity: Quantity, kind: Dimension, plain: str) -> Quantity:
    """The quantity, if its value lies within the dimension's bounds."""
    if kind.least is not None and quantity.exact < kind.least:
        raise refusal.too_low(plain, kind)
    if kind.most is not None and quantity.exact > kind.most:
        raise refusal.too_high(plain, kind)
    return quantity


def _several(pieces: list[str], plain: str, kind: Dimension, bare: Unit | None) -> list[Quantity]:
    """Values of which the last gives its unit to those that have none."""
    amounts = [notation.AMOUNT.fullmatch(piece) for piece in pieces]
    names = [amount["unit"] if amount else None for amount in amounts]
    unit = names[-1] or ""
    if not unit and any(names[:-1]) and pieces[-1] != "0":
        raise QuantityError(
            f"the last number of {notation.cut(plain)} has no unit while one before it has",
            "write one unit at the end, or a unit after each number",
        )
    bare_numbers = bare is None and all(name == "" for name in names)
    if bare_numbers and read(pieces[-1], pieces[-1], kind, bare) is None:
        raise refusal.without_unit(plain, kind)
    if any(character.isdigit() for character in unit) and find(kind.name, unit) is None:
        unit = ""  # feet and inches: a number before them could be either
    spelled = [
        f"{piece} {unit}" if name == "" and unit else piece
        for piece, name in zip(pieces, names, strict=True)
    ]
    return [_one(piece, piece, kind, bare) for piece in spelled]


def _range(plain: str, written: str, kind: Dimension, bare: Unit | None) -> Range:
    pieces = notation.RANGE.split(plain)
    if len(pieces) != 2:
        raise refusal.not_a_range(plain, kind, bare, read)
    low, high = _several(pieces, plain, kind, bare)
    if low.exact > high.exact:
        raise QuantityError(
            f"{plain} goes from the higher to the lower", "write the lower value first"
        )
    return Range(low, high, written + high.written[len(pieces[1]) :])


def _size(plain: str, written: str, kind: Dimension, bare: Unit | None) -> Size:
    pieces = notation.TIMES.split(plain)
    if len(pieces) not in (2, 3):
        raise refusal.not_a_size(plain, kind, bare, read)
    sides = _several(pieces, plain, kind, bare)
    return Size(tuple(sides), written + sides[-1].written[len(pieces[-1]) :])


def _series(plain: str, written: str, kind: Dimension, bare: Unit | None) -> Series:
    match = notation.SERIES.fullmatch(plain)
    if match is None:
        raise refusal.of(plain, kind, bare, read)
    numbers, name = match["numbers"], match["unit"]
    if doubt := notation.TWO_OR_ONE.search(numbers):
        raise QuantityError(
            f"{doubt[1]} {doubt[2]} can be one number or two in a series",
            f"write {doubt[1]}-{doubt[2]} for one number",
        )
    if name and find(kind.name, name) is None and kind.name != "money":
        raise refusal.not_a_series(plain, kind, bare, read)
    pieces = numbers.replace(",", "").split(" ")
    if not name and bare is None and any(read(p, p, kind, bare) is None for p in pieces):
        raise refusal.without_unit(plain, kind)
    values = tuple(_one(piece, piece, kind, bare) for piece in _with(pieces, name))
    return Series(values, written if name or bare is None else f"{written} {bare.symbol}")


def _with(pieces: list[str], name: str) -> list[str]:
    return [f"{piece} {name}" for piece in pieces] if name else pieces
