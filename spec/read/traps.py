"""YAML's traps that a parser does not see: found in what it made of a map or a list.

Each function takes the pieces of one map or list and gives its entries or items; what was
not read as its writer meant it becomes Unreadable, with a finding that shows the line as
written and as it should be.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from spec.finding import Finding, Level, Place
from spec.read.page import Page
from spec.read.report import Findings, finding, in_quotes
from spec.read.tree import Entry, Node, Scalar, Unreadable

_NULLS = frozenset({"~", "null", "Null", "NULL"})
_DATE = re.compile(r"\d{4}-\d{2}-\d{2}")
_HAS_LETTER = re.compile(r"[^\W\d_]")
_DECIMAL_COMMA = re.compile(r"([-+]?\d+),(\d+(?:\s.*)?)")
_STUCK = re.compile(r"([A-Za-z_]\w*):(\S.*)", re.DOTALL)
_HANGING = re.compile(r"(?:max|min|not|at|if)\b", re.IGNORECASE)


@dataclass(slots=True)
class Piece:
    """A node with the span of text that it was read from; in a map, with its key."""

    node: Node
    start: int
    end: int
    key: Piece | None = None


def entries(page: Page, pieces: list[Piece], in_braces: bool, findings: Findings) -> list[Entry]:
    """The entries of a map, each key once, with what its traps left."""
    found: list[Entry] = []
    seen: dict[str, Place] = {}
    index, count = 0, len(pieces)
    while index < count:
        piece = pieces[index]
        index += 1
        key, node = piece.key, piece.node
        assert key is not None
        if not isinstance(key.node, Scalar):
            if not isinstance(key.node, Unreadable):
                findings.append(_no_word(page, key, page.text[key.start : key.end]))
            continue
        name, place = key.node.text, key.node.place
        if key.node.absent:
            findings.append(_no_key(place))
            continue
        cut = index
        while in_braces and cut < count and _is_cut(page, piece, pieces[cut]):
            cut += 1
        if cut > index:
            node = _join(page, piece, pieces[index:cut], findings)
            index = cut
        elif isinstance(node, Scalar):
            node = _value(page, key, piece, node, findings)
        if not name.isidentifier():
            node = _key(page, key, piece, node, findings)
        if name in seen:
            findings.append(_twice(page, name, place, seen[name]))
            continue
        seen[name] = place
        if isinstance(node, Unreadable) and (stuck := _STUCK.fullmatch(name)):
            name = stuck[1]
        found.append(Entry(name, place, node))
    return found


def items(page: Page, pieces: list[Piece], in_brackets: bool, findings: Findings) -> list[Node]:
    """The items of a list."""
    found: list[Node] = []
    for number, piece in enumerate(pieces):
        node = piece.node
        if isinstance(node, Scalar) and not node.quoted:
            if node.absent or node.text in _NULLS:
                findings.append(_no_item(node))
                node = Scalar("", node.place, quoted=False, absent=True)
            elif in_brackets and number and _HANGING.match(node.text):
                _hanging(page, pieces[number - 1], piece, findings)
        found.append(node)
    return found


def _no_item(node: Scalar) -> Finding:
    said = f"`{node.text}` says nothing here" if node.text else "nothing stands behind this dash"
    cure = "write the item, or take it away"
    return finding("item-without-value", node.place, said, cure)


def _is_cut(page: Page, piece: Piece, after: Piece) -> bool:
    """Whether `after` is no entry but the rest of the sentence that `piece` begins."""
    return (
        (isinstance(piece.node, Unreadable) or bool(_text(piece)))
        and _is_bare(page, after)
        and not _STUCK.fullmatch(_text(after.key))
    )


def _is_bare(page: Page, piece: Piece) -> bool:
    """Whether a piece in braces is a text alone, with no colon behind it."""
    key = piece.key
    return (
        key is not None
        and isinstance(key.node, Scalar)
        and not key.node.absent
        and isinstance(piece.node, Scalar)
        and piece.node.absent
        and ":" not in page.text[key.end : piece.start + 1]
    )


def _text(piece: Piece | None) -> str:
    node = piece.node if piece is not None else None
    if isinstance(node, Unreadable):
        return node.written
    return node.text if isinstance(node, Scalar) else ""


def _join(page: Page, piece: Piece, rest: list[Piece], findings: Findings) -> Node:
    halves = [_text(piece), *(_text(each.key) for each in rest)]
    sentence = ", ".join(halves)
    assert rest[-1].key is not None and rest[0].key is not None
    number = page.text[piece.start : rest[0].key.end]
    if len(rest) == 1 and (match := _DECIMAL_COMMA.fullmatch(number)):
        written, fixed = page.shown(piece.start, rest[0].key.end, f"{match[1]}.{match[2]}")
        what = f"a comma cuts `{number}` in two: decimals are written with a point"
        findings.append(
            finding(
                "decimal-comma",
                piece.node.place,
                f"{what}; written: {written}",
                f"write: {fixed}",
            )
        )
        return Unreadable(piece.node.place, number)
    written, fixed = page.shown(piece.start, rest[-1].key.end, in_quotes(sentence))
    key = _text(piece.key)
    others = " and ".join(f"`{half}`" for half in halves[1:9])
    others += " …" if len(halves) > 9 else ""
    one = "a comma cut this sentence in two"
    several = one if len(rest) == 1 else "commas cut this sentence in pieces"
    findings.append(
        finding(
            "comma-cut-a-sentence",
            rest[0].key.node.place,
            f"{several}, `{key}: {halves[0]}` and {others}:"
            f" put it in quotes or on its own line; written: {written}",
            f"write: {fixed}",
        )
    )
    return Unreadable(piece.node.place, sentence)


def _value(page: Page, key: Piece, piece: Piece, node: Scalar, findings: Findings) -> Node:
    """The value of one key, where it is there; a null is reported."""
    name = _text(key)
    if not node.absent and (node.quoted or node.text not in _NULLS):
        return node
    if _is_bare(page, piece) and (stuck := _STUCK.fullmatch(name)):
        written, fixed = page.shown(key.start, key.end, f"{stuck[1]}: {stuck[2]}")
        findings.append(
            finding(
                "colon-without-blank",
                key.node.place,
                f"a colon needs a blank behind it; written: {written}",
                f"write: {fixed}",
            )
        )
        return Unreadable(node.place, stuck[2])
    instead = f"{name}: TBD" if " " not in name else f"{in_quotes(name)}: TBD"
    written, fixed = page.shown(key.start, max(piece.end, key.end), instead)
    said = f"`{node.text}` says nothing here" if node.text else f"nothing stands behind `{name}`"
    findings.append(
        finding(
            "key-without-value",
            key.node.place,
            f"{said}; written: {written}",
            f"write its value, or TBD while it is not decided: {fixed}",
        )
    )
    return Scalar("", node.place, quoted=False, absent=True)


def _key(page: Page, key: Piece, piece: Piece, node: Node, findings: Findings) -> Node:
    """What stands behind a key that may be no word: nothing of it is read where it is none."""
    name = _text(key)
    if any(each.isspace() for each in name):
        if _is_bare(page, piece):
            return Unreadable(node.place, name)
        word = "_".join(name.split())
        comma = page.text[max(0, key.start - 80) : key.start].rstrip().endswith(",")
        hint = " (if the comma before it cut a sentence, put that in quotes)" if comma else ""
        written, fixed = page.shown(key.start, key.end, word)
        findings.append(
            finding(
                "key-with-blanks",
                key.node.place,
                f"`{name}` is a key of several words{hint}; written: {written}",
                f"a key is one word: {fixed}",
            )
        )
    elif not _HAS_LETTER.search(name) and not _DATE.fullmatch(name):
        findings.append(_no_word(page, key, name))
    else:
        return node
    span = (piece.start, piece.end) if piece.end > piece.start else (key.start, key.end)
    return Unreadable(node.place, " ".join(page.text[span[0] : span[1]].split()))


def _no_word(page: Page, key: Piece, name: str) -> Finding:
    if name == "<<":
        cure = "nothing is merged here; `like:` with the mark of the other thing does that"
    else:
        written, fixed = page.shown(
            key.start, key.end, f"no_{name}" if name.isdigit() else "a_word"
        )
        cure = f"begin it with a letter: {fixed} (written: {written})"
    return finding("key-is-no-word", key.node.place, f"the key `{name}` is not a word", cure)


def _no_key(place: Place) -> Finding:
    return finding(
        "value-without-key",
        place,
        "a colon stands here with no key before it",
        "write the key before the colon, or put the text in quotes",
    )


def _twice(page: Page, name: str, second: Place, first: Place) -> Finding:
    if first.line == second.line:
        told = f"in line {first.line}: {_line(page, first)}"
    else:
        told = f"in line {first.line}: {_line(page, first)}; "
        told += f"and in line {second.line}: {_line(page, second)}"
    return finding(
        "duplicate-key",
        second,
        f"`{name}` stands twice in the same map, {told}",
        f"the first is read; take one of the two out, or name the second anew: {name}_2",
        first,
    )


def _line(page: Page, place: Place) -> str:
    index = page.starts[place.line - 1] + place.column - 1
    return page.shown(index, index, "")[0]


def _hanging(page: Page, before: Piece, piece: Piece, findings: Findings) -> None:
    if not _text(before):
        return
    sentence = f"{_text(before)}, {_text(piece)}"
    written, fixed = page.shown(before.start, piece.end, in_quotes(sentence))
    findings.append(
        finding(
            "comma-in-a-list",
            piece.node.place,
            f"`{_text(piece)}` is an item of its own here; written: {written}",
            f"if it belongs to the item before it, write: {fixed}",
            level=Level.NOTE,
        )
    )
