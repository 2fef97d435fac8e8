"""Measures that no line may break: 7' 6-1/2", 1067 mm, 2026-05-04."""

from __future__ import annotations

import re
from collections.abc import Iterator

SPACE, HYPHEN = "\u00a0", "\u2011"
_FRACTION = r"[\d.,/⁄½⅛¼⅜⅝¾⅞⅓⅔-]"
_UNITS = (
    "mm|cm|m|in|ft|m²|m³|°C|°F|K|W|kW|V|A|VA|Hz|Pa|kPa|kg|lb|psf|L|cfm|dB|dBA|lx|perm|h|min|AWG|%"
)
MEASURE = re.compile(
    rf"""\d[\d.,]*['′]\ {_FRACTION}+["″]?   # feet and inches
    |\d{_FRACTION}*\ (?:{_UNITS})(?!\w)      # a number and its unit
    |\d[\d./]*(?:-\d[\d./]*)+["″]?        # whole and fraction, dates, ranges""",
    re.VERBOSE,
)


def pieces(text: str) -> Iterator[tuple[str, bool]]:
    """The text in order, cut into measures (true) and all else.

    >>> list(pieces("at 7' 6-1/2\\" (2299 mm) by 2026-05-04"))
    [('at ', False), ('7\\' 6-1/2"', True), (' (', False), ('2299 mm', True), (') by ', False), \
('2026-05-04', True)]
    """
    end = 0
    for found in MEASURE.finditer(text):
        if found.start() > end:
            yield text[end : found.start()], False
        yield found[0], True
        end = found.end()
    if end < len(text):
        yield text[end:], False


def unbreakable(text: str) -> str:
    """The text with spaces and hyphens in its measures that hold the line together."""
    return "".join(
        piece.replace(" ", SPACE).replace("-", HYPHEN) if whole else piece
        for piece, whole in pieces(text)
    )
