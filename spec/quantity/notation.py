"""How numbers are written: decimals, inch fractions, primes, the signs of other keyboards.

Nothing here knows a dimension or a unit.
"""

from __future__ import annotations

import re
from fractions import Fraction

from spec.quantity.values import QuantityError

LONGEST = 400
"""Characters of the longest text that is read as a quantity (a series of 12 needs about 80)."""

LARGEST = 10**9
"""A larger number is a slip, whatever its unit."""

DIGITS = "[0-9]{1,12}"
NUMBER = rf"(?:{DIGITS}[ -]{DIGITS}/{DIGITS}|{DIGITS}/{DIGITS}|{DIGITS}(?:\.{DIGITS})?|\.{DIGITS})"
SIGNED = rf"[+-]?{NUMBER}"
_TIGHT = (
    rf"[+-]?(?:{DIGITS}-{DIGITS}/{DIGITS}|{DIGITS}/{DIGITS}|{DIGITS}(?:\.{DIGITS})?|\.{DIGITS})"
)

AMOUNT = re.compile(rf"(?P<sign>[+-]?)(?P<number>{NUMBER}) ?(?P<unit>.*)")
"""One number and whatever follows it."""

COMPOUND = re.compile(
    rf"(?P<sign>[+-]?)(?P<number>{NUMBER}) ?(?P<unit>[^0-9 -]+)[ -]{{0,3}}"
    rf"(?P<second>{NUMBER}) ?(?P<second_unit>[^0-9]*)"
)
"""Two numbers with a unit each, of which the second is part of the first: 7' 6-1/2"."""

TWO_OR_ONE = re.compile(rf"(?:^|[ -])({DIGITS}),? ({DIGITS}/{DIGITS})")
"""In a series: a whole number, a blank and a fraction, which may be one number or two."""

SERIES = re.compile(rf"(?P<numbers>{_TIGHT}(?:,? {_TIGHT})*) ?(?P<unit>.*)")
"""Numbers with blanks between them and one unit at the end."""

RANGE = re.compile(r" to (?=[+-]?[0-9.])")
TIMES = re.compile(r" ?[xX×] ?(?=[+-]?[0-9.])")

_FRACTIONS = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅕": "1/5", "⅖": "2/5",
    "⅗": "3/5", "⅘": "4/5", "⅙": "1/6", "⅚": "5/6", "⅐": "1/7", "⅛": "1/8", "⅜": "3/8",
    "⅝": "5/8", "⅞": "7/8", "⅑": "1/9", "⅒": "1/10",
}  # fmt: skip
_ONE_CHARACTER = re.compile(rf"([0-9][ -]?)?([{''.join(_FRACTIONS)}])")
_SIGNS = str.maketrans(
    {
        **dict.fromkeys("\u2010\u2011\u2012\u2013\u2014\u2212\ufe63\uff0d", "-"),
        **dict.fromkeys("\u00a0\u2007\u2009\u200a\u202f\u3000", " "),
        **dict.fromkeys("\u200b\ufeff\u2060", None),
        **dict.fromkeys("′’‘ʹ´＇", "'"),
        **dict.fromkeys("″”“ʺ＂", '"'),
        "⁄": "/",
        "∕": "/",
        "º": "°",
        "˚": "°",
    }
)


def clean(text: str) -> str:
    """The text on one line with plain blanks, hyphens, primes and fractions.

    >>> clean("7′ 6½″"), clean(" −18 °C")
    ('7\\' 6 1/2"', '-18 °C')
    """
    if not text.isascii():
        text = text.translate(_SIGNS)
        text = _ONE_CHARACTER.sub(_spelled, text)
    text = text.replace("''", '"') if "''" in text else text
    return " ".join(text.split())


def _spelled(match: re.Match[str]) -> str:
    whole, fraction = match.groups()
    return f"{whole[0]} {_FRACTIONS[fraction]}" if whole else _FRACTIONS[fraction]


def number(text: str) -> Fraction:
    """The exact value of a number that matched NUMBER, up to LARGEST.

    QuantityError for a fraction over 0, for a mixed number whose fraction is one or more
    (`3-5/4` is a slip and not a notation) and for a larger number.

    >>> number("90-1/2"), number("5/8"), number("2.4"), number(".5")
    (Fraction(181, 2), Fraction(5, 8), Fraction(12, 5), Fraction(1, 2))
    """
    if "/" in text:
        value = _fraction(text)
    elif "." in text:
        before, _, after = text.partition(".")
        value = Fraction(int((before or "0") + after), 10 ** len(after))
    else:
        value = Fraction(int(text))
    if value > LARGEST:
        raise QuantityError(f"{text} is too large to be meant", "check the number and its unit")
    return value


def _fraction(text: str) -> Fraction:
    whole, _, rest = text.replace(" ", "-").rpartition("-")
    over, _, under = rest.partition("/")
    upper, lower = int(over), int(under)
    if not lower:
        raise QuantityError(f"{text} divides by 0", "write the fraction like 1/2")
    if not whole:
        return Fraction(upper, lower)
    if upper >= lower:
        raise QuantityError(
            f"the fraction in {text} is one or more", "write a fraction under one, like 3-1/4"
        )
    return Fraction(int(whole) * lower + upper, lower)


def cut(text: str) -> str:
    """The text, or its beginning, short enough for a message."""
    return text if len(text) <= 60 else f"{text[:57]}..."
