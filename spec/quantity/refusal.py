"""Why a text is no quantity of a dimension, and what would put it right.

Only reached when reading has failed, so it may take its time.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from spec.quantity.dimensions import DIMENSIONS, Dimension
from spec.quantity.notation import AMOUNT, NUMBER, RANGE, SERIES, SIGNED, TIMES, cut
from spec.quantity.units import BY_NAME, Unit
from spec.quantity.units import plain as plain_name
from spec.quantity.values import Quantity, QuantityError

Read = Callable[[str, str, Dimension, Unit | None], Quantity | None]
"""The reading of one value; given by the caller, so that this module knows no reading."""


def of(plain: str, kind: Dimension, bare: Unit | None, read: Read) -> QuantityError:
    """The refusal of a text that is no single value of the dimension."""
    return (
        _odd_number(plain, kind)
        or _wrong_prefix(plain, kind)
        or _too_many(plain, kind, bare, read)
        or _no_unit(plain, kind)
        or _other_dimension(plain, kind, read)
        or _more_words(plain, kind)
        or _unknown_unit(plain, kind)
        or QuantityError(f"{_quoted(plain)} is not {kind.title}", f"write it like {kind.sample}")
    )


def without_unit(plain: str, kind: Dimension) -> QuantityError:
    """The refusal of one or more numbers that have no unit."""
    what = "is a number" if re.fullmatch(SIGNED, plain) else "are numbers"
    return QuantityError(f"{cut(plain)} {what} without a unit", f"write {_usual(plain, kind)}")


def too_low(plain: str, kind: Dimension) -> QuantityError:
    """The refusal of a value under the dimension's least."""
    if kind.name == "temperature":
        return QuantityError(
            f"{plain} is colder than anything can be", "check the number and its unit"
        )
    return QuantityError(
        f"{plain} is less than 0, which {kind.title} cannot be", "write it without the minus sign"
    )


def too_high(plain: str, kind: Dimension) -> QuantityError:
    """The refusal of a value over the dimension's most."""
    most = {"percent": "100 %", "angle": "360°", "hours_per_day": "24 h/day"}[kind.name]
    return QuantityError(f"{plain} is more than {most}", f"write at most {most}")


def slash(plain: str, digits: str, unit: str, kind: Dimension) -> QuantityError:
    """The refusal of a slash between two numbers where no fractions are written."""
    over, _, under = digits.partition("/")
    if not over.isdigit():
        return QuantityError(
            f"{plain} has a fraction, and {kind.title} has none", "write a decimal"
        )
    return QuantityError(
        f"{plain} is two values with a slash between them: {kind.title} has no fractions",
        f"write the one that is meant, {_spelled(over, unit)} or {_spelled(under, unit)}, or a "
        "decimal",
    )


def not_a_range(plain: str, kind: Dimension, bare: Unit | None, read: Read) -> QuantityError:
    """The refusal of a text that is not two values with `to` between them."""
    dash = re.fullmatch(rf"({NUMBER})(?: ?-+ ?|\.\.+)({NUMBER}) ?(\D.*)?", plain)
    if len(RANGE.split(plain)) > 2:
        return QuantityError(
            f"{cut(plain)} has more than two values", "write the lowest and the highest"
        )
    if dash and not _reads(plain, kind, bare, read):
        return QuantityError(
            f"{plain} joins two values by a dash",
            f"write {dash[1]} to {_spelled(dash[2], dash[3] or kind.usual[0])}",
        )
    if _reads(plain, kind, bare, read):
        two = {"temperature": "20 °F to 115 °F", "percent": "55 to 70 %"}.get(
            kind.name, f"2 to 3 {kind.usual[0]}"
        )
        return QuantityError(
            f"{plain} is one value where a lowest and a highest are wanted",
            f'write two values with "to" between them, like {two}',
        )
    return of(plain, kind, bare, read)


def not_a_size(plain: str, kind: Dimension, bare: Unit | None, read: Read) -> QuantityError:
    """The refusal of a text that is not two or three values with x between them."""
    order = "write width x height, or width x height x depth, like 12 in x 24 in"
    if _reads(plain, kind, bare, read):
        return QuantityError(f"{plain} is one side where two or three are wanted", order)
    if len(TIMES.split(plain)) > 3:
        return QuantityError(f"{cut(plain)} has more than three sides", order)
    return of(plain, kind, bare, read)


def not_a_series(plain: str, kind: Dimension, bare: Unit | None, read: Read) -> QuantityError:
    """The refusal of a text that is numbers and then no unit of the dimension."""
    match = SERIES.fullmatch(plain)
    if match is None or (
        re.search(r" [+-]?[0-9]", match["unit"])
        and not any(plain_name(match["unit"]) in names for names in BY_NAME.values())
    ):
        return QuantityError(
            f"{cut(plain)} is not numbers and then one unit",
            f"write numbers with blanks between them and one unit at the end, like "
            f"51 55 61 {kind.usual[0]}",
        )
    return of(f"{match['numbers'].split(' ')[-1]} {match['unit']}", kind, bare, read)


def _quoted(words: str) -> str:
    return f'"{cut(words)}"'


def _spelled(number: str, unit: str) -> str:
    return f"{number}{unit}" if unit in ("°", "'", '"') else f"{number} {unit}"


def _usual(number: str, kind: Dimension) -> str:
    """A number with the units that a lead may have meant."""
    return " or ".join(_spelled(number, unit) for unit in kind.usual)


def _reads(plain: str, kind: Dimension, bare: Unit | None, read: Read) -> bool:
    try:
        return read(plain, plain, kind, bare) is not None
    except QuantityError:
        return False


def _odd_number(plain: str, kind: Dimension) -> QuantityError | None:
    """Nothing at all, or a number that computers or other countries write otherwise."""
    like = f"write it like {kind.sample}"
    if not plain:
        return QuantityError(f"nothing is written where {kind.title} is wanted", like)
    if re.match(r"[+-]?\.?(nan|inf|infinity|∞)\b", plain, re.IGNORECASE) or "∞" in plain:
        return QuantityError(f"{_quoted(plain)} is not a number", like)
    if re.match(r"[+-]?[0-9.]+[eE][+-]?[0-9]", plain):
        return QuantityError(
            f"{cut(plain)} is written with an exponent", "write the number out in full"
        )
    if re.search(r"[0-9]{13}", plain):
        return QuantityError(f"{cut(plain)} is too long a number to be meant", like)
    if plain.endswith("-"):
        return QuantityError(
            f"{cut(plain)} ends in a hyphen, as if something were still to come",
            f"write what comes after it, or {plain.rstrip('- ')}",
        )
    if match := re.search(r"([0-9]+)[,_]([0-9]+)", plain):
        point, none = f"{match[1]}.{match[2]}", f"{match[1]}{match[2]}"
        return QuantityError(
            f"{cut(plain)} has a comma in a number"
            if "," in match[0]
            else f"{cut(plain)} has a line in a number",
            f"write {none} or {point}, whichever is meant" if "," in match[0] else f"write {none}",
        )
    if re.match(r"[+-]?[$€£¥]", plain):
        return QuantityError(
            f"{cut(plain)} does not say which currency", "write its code, like 2400 USD"
        )
    if match := re.fullmatch(r"([0-9]+) ?: ?([0-9]+)", plain):
        if kind.name == "ratio":
            return QuantityError(
                f"{plain} does not say which is the rise",
                f"write {match[1]} to {match[2]}, the rise first",
            )
        return QuantityError(f"{plain} is not {kind.title}", like)
    return None


def _too_many(plain: str, kind: Dimension, bare: Unit | None, read: Read) -> QuantityError | None:
    """Several values where one is wanted."""
    for pattern, what in ((RANGE, "two values"), (TIMES, "a size")):
        pieces = pattern.split(plain)
        if len(pieces) > 1 and _reads(pieces[-1], kind, bare, read):
            return QuantityError(
                f"{cut(plain)} is {what} where one value is wanted", f"write one, like {pieces[-1]}"
            )
    match = SERIES.fullmatch(plain)
    if match and " " in match["numbers"]:
        last = f"{match['numbers'].rpartition(' ')[2]} {match['unit']}".rstrip()
        if _reads(last, kind, bare, read):
            return QuantityError(
                f"{cut(plain)} is several numbers where one value is wanted",
                f"write one, like {last}",
            )
    return None


def _no_unit(plain: str, kind: Dimension) -> QuantityError | None:
    match = AMOUNT.fullmatch(plain)
    if match is None or match["unit"]:
        return None
    return without_unit(plain, kind)


def _other_dimension(plain: str, kind: Dimension, read: Read) -> QuantityError | None:
    """A value that can be read, but measures something else."""
    for other in DIMENSIONS.values():
        if other is not kind and _reads(plain, other, None, read):
            return QuantityError(
                f"{plain} is {other.title}, and {kind.title} is wanted",
                f"write it like {kind.sample}",
            )
    return None


def _wrong_prefix(plain: str, kind: Dimension) -> QuantityError | None:
    """A unit of which m (a thousandth) and M (a million) are mistaken for each other."""
    match = AMOUNT.fullmatch(plain)
    if match is None or match["unit"][:1] not in ("m", "M"):
        return None
    name = match["unit"]
    meant = next(
        (
            known
            for known in BY_NAME[kind.name]
            if known[:1] in ("m", "M") and plain_name(known) == plain_name(name)
        ),
        "",
    )
    if not meant:
        return None
    small, large = "m is a thousandth", "M a million"
    return QuantityError(
        f"{_quoted(name)} is not {_quoted(meant)}: before a unit {small} and {large}",
        f"write {_spelled(match['sign'] + match['number'], meant)}, if that is meant",
    )


def _more_words(plain: str, kind: Dimension) -> QuantityError | None:
    """A value followed by words: 30 dBA at 1 m."""
    match = AMOUNT.fullmatch(plain)
    if match is None:
        return None
    words = match["unit"].split(" ")
    for count in range(len(words) - 1, 0, -1):
        name = " ".join(words[:count])
        if plain_name(name) in BY_NAME[kind.name]:
            value = _spelled(match["sign"] + match["number"], name)
            return QuantityError(
                f"{_quoted(' '.join(words[count:]))} after {value} is no part of {kind.title}",
                f"write {value} alone, and the rest under its own key or in a note",
            )
    return None


def _unknown_unit(plain: str, kind: Dimension) -> QuantityError | None:
    from difflib import get_close_matches  # noqa: PLC0415  (only when something is wrong)

    match = AMOUNT.fullmatch(plain)
    if match is None:
        return None
    number, name = match["sign"] + match["number"], match["unit"]
    if re.match(r"[0-9./-]", name):
        return QuantityError(f"{_quoted(plain)} is not one number", f"write it like {kind.sample}")
    names = BY_NAME[kind.name]
    for close in get_close_matches(plain_name(name), names, n=1, cutoff=0.6):
        return QuantityError(
            f"{_quoted(name)} is not a unit of {kind.noun}",
            f"did you mean {_spelled(number, names[close].symbol)}",
        )
    return QuantityError(
        f"{_quoted(name)} is not a unit of {kind.noun}", f"write it like {kind.sample}"
    )
