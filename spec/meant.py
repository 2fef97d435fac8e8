"""What was probably meant by a name that nobody knows."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches


def did_you_mean(
    name: str, known: Iterable[str], *, least: float = 0.5, before: Iterable[str] = ()
) -> str:
    """`; did you mean ...?` with the known name that is most like this one, where one is.

    `least` is the likeness that it needs, 0 to 1; what stands in `before` is meant rather than any.
    """
    close = [*before, *get_close_matches(name, list(known), 1, least)]
    return f"; did you mean `{close[0]}`?" if close else ""
