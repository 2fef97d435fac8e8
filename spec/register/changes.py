"""What differs between two revisions of a job, decision by decision and paper by paper."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from spec.compose import Composed
from spec.compose.blocks import Document, cites_of
from spec.compose.fingerprint import OF_THE_REVISION
from spec.compose.wording import kind_words, value_text
from spec.job.job import Job
from spec.job.node import Node
from spec.job.trades import thing_of

_OF_THE_DAY = ("lead",)
"""Folders whose documents say how far the job is, and differ on any day."""


class Change(NamedTuple):
    """One decision, or one thing as a whole, as it was and as it is; empty where there is none."""

    address: str
    was: str
    now: str
    node: Node


class Paper(NamedTuple):
    """A document that is no longer what was issued, and the changes that it states.

    `how`: `changed`, `new` or `withdrawn`.
    """

    document: Document
    how: str
    changes: tuple[Change, ...]


def changes(before: Job, after: Job) -> tuple[Change, ...]:
    """Every decision that differs, in the order of the later file, then what went away."""
    was, now = _leaves(before), _leaves(after)
    found: dict[str, Change] = {}
    for address, leaf in now.items():
        old = was.get(address)
        if old is None:
            found.setdefault(*_appeared(after, before, leaf))
        elif (texts := (_text(before, old), _text(after, leaf)))[0] != texts[1]:
            found[address] = Change(address, *texts, leaf)
    for address, leaf in was.items():
        if address not in now:
            name, gone = _appeared(before, after, leaf)
            found.setdefault(name, gone._replace(was=gone.now, now=""))
    return tuple(change for change in found.values() if not _follows(change.node, found))


def _leaves(job: Job) -> dict[str, Node]:
    return {
        leaf.address: leaf
        for leaf in job.tree.leaves()
        if leaf.parent is not None and leaf.address not in OF_THE_REVISION
    }


def _text(job: Job, leaf: Node) -> str:
    return value_text(job, leaf) or leaf.written


def _appeared(job: Job, other: Job, leaf: Node) -> tuple[str, Change]:
    """A decision that the other job lacks; its whole thing where the other lacks that."""
    thing = thing_of(leaf)
    if leaf is thing or other.find(thing.address) is not None:
        return leaf.address, Change(leaf.address, "", _text(job, leaf), leaf)
    return thing.address, Change(thing.address, "", kind_words(thing), thing)


def _follows(node: Node, found: dict[str, Change]) -> bool:
    """It is taken over from something that is in the list itself."""
    return bool(node.model) and node.model != node.address and node.model in found


def papers(before: Composed, after: Composed, found: tuple[Change, ...]) -> tuple[Paper, ...]:
    """The documents for others than the lead whose fingerprints differ, in their order."""
    old, new = _documents(before), _documents(after)
    differing = []
    for key, document in (old | new).items():
        if key in old and key in new:
            if old[key].head.fingerprint == new[key].head.fingerprint:
                continue
            how = "changed"
        else:
            how = "new" if key in new else "withdrawn"
        stated = set[str]()
        for composed, documents in ((before, old), (after, new)):
            if key in documents:
                stated |= set(_states(composed, documents[key]))
        theirs = tuple(change for change in found if _among(change.address, stated))
        differing.append(Paper(document, how, theirs))
    return tuple(differing)


def _documents(composed: Composed) -> dict[tuple[str, str], Document]:
    return {(d.folder, d.name): d for d in composed.documents if d.folder not in _OF_THE_DAY}


def _states(composed: Composed, document: Document) -> Iterator[str]:
    """What a document states, and what the figures in it were worked out from."""
    figures = composed.checked.facts.figures
    for address in cites_of(document.blocks):
        yield address
        figure = figures.at(address)
        if figure is not None:
            yield from figure.inputs


def _among(address: str, stated: set[str]) -> bool:
    return address in stated or any(each.startswith(f"{address}.") for each in stated)
