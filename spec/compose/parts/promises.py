"""What the firm promises and what the client accepted: sentence by sentence."""

from __future__ import annotations

from collections.abc import Iterator

from spec.compose.blocks import Block, Heading, Row, Table
from spec.compose.context import Reader
from spec.compose.parts.labels import called, label_of
from spec.compose.wording import value_text
from spec.job.node import Node
from spec.job.record import recording

_FEW = 5
"""A promise of a thing with more facts than this is named by the thing alone."""


def promises(reader: Reader) -> Iterator[Block]:
    """Each promise with its value, how it is measured and up to where it holds."""
    rows = [_promise(reader, node) for node in reader.job.things("promise")]
    if rows:
        yield Heading(2, "What we promise")
        yield Table(
            "Measured at the hand-over, and held against these values",
            ("", "Promise", "Value", "Where and how it is measured", "Holds up to", "Initials"),
            tuple(rows),
            (0.5, 1.2, 1.6, 2.0, 1.1, 0.8),
        )


def accepted(reader: Reader) -> Iterator[Block]:
    """What the client accepted, in the words in which it was accepted."""
    rows = [_acceptance(reader, node) for node in reader.job.things("acceptance")]
    if rows:
        yield Heading(2, "What you have accepted")
        yield Table(
            "These are no defects; each was shown or explained",
            ("", "Sentence", "About", "Accepted on", "Initials"),
            tuple(rows),
            (0.5, 3.4, 1.4, 1.0, 0.8),
        )


def in_promises(reader: Reader) -> frozenset[str]:
    """The addresses that these tables show, for the schedules to leave out."""
    things = reader.job.things("promise", "acceptance")
    return frozenset(leaf.address for thing in things for leaf in thing.leaves())


def _promise(reader: Reader, promise: Node) -> Row:
    with recording() as read:
        about = _about(reader, promise)
        value = _value(reader, about) if about is not None else ""
        cells = (
            promise.key,
            _said(reader, promise, "title"),
            value,
            _said(reader, promise, "measured"),
            _below(reader, promise, "up_to"),
            "",
        )
        _rest(reader, promise)
    return Row(cells, frozenset(read))


def _acceptance(reader: Reader, node: Node) -> Row:
    with recording() as read:
        about = _about(reader, node)
        cells = (
            node.key,
            _said(reader, node, "says"),
            called(reader.job, about.address) if about is not None else "",
            _said(reader, node, "when"),
            "",
        )
        _rest(reader, node)
    return Row(cells, frozenset(read))


def _about(reader: Reader, node: Node) -> Node | None:
    link = node.find("of")
    return reader.job.find(str(link.value)) if link is not None and link.value else None


def _value(reader: Reader, about: Node) -> str:
    """The promised value itself; of a thing of few facts all of them."""
    leaves = [leaf for leaf in about.leaves() if leaf.key not in ("is", "like")]
    if not about.children:
        return value_text(reader.job, about)
    if len(leaves) > _FEW:
        return called(reader.job, about.address)
    return "\n".join(f"{label_of(about, n)}: {value_text(reader.job, n)}" for n in leaves)


def _said(reader: Reader, node: Node, key: str) -> str:
    leaf = node.find(key)
    return value_text(reader.job, leaf) if leaf is not None else ""


def _below(reader: Reader, node: Node, key: str) -> str:
    upper = node.find(key)
    leaves = list(upper.leaves()) if upper is not None else []
    return "\n".join(f"{n.title.lower()} {value_text(reader.job, n)}" for n in leaves)


def _rest(reader: Reader, node: Node) -> None:
    """The link itself and who accepted are stated by the row: the client, by initials."""
    for key in ("of", "who"):
        _said(reader, node, key)
