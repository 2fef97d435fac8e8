"""A laid-out formula as MathML Core (W3C), one line of it at a time.

Symbols are told to stay the letters that they are and are slanted by the style sheet: the
mathematical alphabets of Unicode, which a browser would put in their place, are in no font that
travels with the page. Names are identifiers as well: `mtext` counts as room, and signs beside
it lose theirs.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from html import escape
from typing import Any

Part = Mapping[str, Any]


def mathml(line: Part) -> str:
    """One line of a layout as a `math` element.

    >>> mathml({"is": "root", "a": {"is": "word", "text": "rail height"}})
    '<math><msqrt><mi mathvariant="normal">rail height</mi></msqrt></math>'
    """
    return f"<math>{_made(line)}</math>"


def _made(part: Part) -> str:
    kind = part["is"]
    if kind in _LEAVES:
        return _LEAVES[kind].format(escape(part["text"]))
    return _OUTER[kind](part)


def _two(tag: str) -> Callable[[Part], str]:
    return lambda part: f"<{tag}>{_made(part['a'])}{_made(part['b'])}</{tag}>"


_LEAVES = {
    "var": '<mi mathvariant="normal" class="symbol">{}</mi>',
    "word": '<mi mathvariant="normal">{}</mi>',
    "number": "<mn>{}</mn>",
    "op": '<mo lspace="0.25em" rspace="0.25em">{}</mo>',
    "tight": '<mo stretchy="false" largeop="false" lspace="0" rspace="0">{}</mo>',
    "thin": '<mspace width="0.16em"></mspace>',
}
_OUTER: dict[str, Callable[[Part], str]] = {
    "row": lambda part: f"<mrow>{''.join(map(_made, part['parts']))}</mrow>",
    "frac": _two("mfrac"),
    "sub": _two("msub"),
    "sup": _two("msup"),
    "root": lambda part: f"<msqrt>{_made(part['a'])}</msqrt>",
}
