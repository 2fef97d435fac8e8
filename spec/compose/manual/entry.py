"""What the manual says of one rule, decision or figure, for pages and for the screen alike."""

from __future__ import annotations

import re
from typing import Literal, NamedTuple

Sort = Literal["rule", "decision", "figure"]


class Entry(NamedTuple):
    """One entry: its name, what stands under it, and the page and group that it stands in.

    `facts` are label and value; `examples` are label and lines of a job file; `formulas` are in
    the notation of `spec.derive.notation`; `also` are other names under which it is found.
    """

    sort: Sort
    name: str
    title: str
    subject: str
    group: str
    words: tuple[str, ...]
    facts: tuple[tuple[str, str], ...]
    formulas: tuple[str, ...] = ()
    examples: tuple[tuple[str, str], ...] = ()
    also: tuple[str, ...] = ()


def listed(words: tuple[str, ...] | list[str], last: str = "and") -> str:
    """Words as a sentence has them.

    >>> listed(("doors",)), listed(["framing", "board", "doors"])
    ('doors', 'framing, board and doors')
    """
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"


def plain(word: str) -> str:
    """A word of the schema as a reader has it: `order_material` is order material."""
    return word.replace("_", " ")


def paragraphs(text: str) -> tuple[str, ...]:
    """The paragraphs of a docstring, each on one line.

    >>> paragraphs("One\\n  line.\\n\\nAnother.")
    ('One line.', 'Another.')
    """
    return tuple(" ".join(part.split()) for part in text.split("\n\n") if part.strip())


def quoted(text: str) -> str:
    """Text for a page: what stands between grave accents is put in quotation marks.

    >>> quoted("Needed unless `right` has a value.")
    'Needed unless “right” has a value.'
    """
    return re.sub(r"`([^`]+)`", r"“\1”", text)
