"""Whose a thing is, and which trades a decision is for."""

from __future__ import annotations

from collections.abc import Iterator

from spec.job.job import Job
from spec.job.node import Node
from spec.job.schema import TRADES, Decision

OWN = "own"
_SAYS_WHO = ("installed_by", "done_by", "trade")
_CUT_AND_CLOSE = ("cut_by", "closed_by")
_SPEAKS_OF = ("for", "of", "at", "told", "over", "serves")


def thing_of(leaf: Node) -> Node:
    """The nearest thing that a leaf is a fact of: one with a kind and a name of its own.

    Where there is none (a fact of the job or of its access) the map at the top of the file.
    """
    node = leaf
    at: Node | None = leaf
    while at is not None and at.parent is not None:
        node = at
        if at.kind and at.container:
            return at
        at = at.parent
    return node


def trade_of(job: Job, thing: Node) -> str:
    """The one trade that does a thing; empty where the job and the house say nothing."""
    return next(iter(own_trades(job, thing)), "")


def own_trades(job: Job, thing: Node) -> tuple[str, ...]:
    """The trades that a thing belongs to, worked out once for each thing of a job.

    The trade's entry that it stands in; else its `installed_by`; for a hole, who cuts and who
    closes it; else its kind's trade in the house's `done_by`; else the trades of what it is for.
    """
    found = job.own_trades.get(thing.address)
    if found is None:
        found = job.own_trades[thing.address] = _own_trades(job, thing)
    return found


def _own_trades(job: Job, thing: Node) -> tuple[str, ...]:
    entry = _entry_above(thing)
    if entry is not None:
        return (name_of_trade(entry),)
    for key in _SAYS_WHO:
        said = thing.find(key)
        if said is not None and isinstance(said.value, str):
            return (_as_trade(job, said.value),)
    if thing.kind == "hole":
        both = (thing.find(key) for key in _CUT_AND_CLOSE)
        return tuple(str(n.value) for n in both if n is not None and str(n.value) in TRADES)
    by_kind = job.done_by(thing)
    if by_kind:
        return (by_kind,)
    return tuple(dict.fromkeys(_through_links(job, thing, 3)))


def _through_links(job: Job, thing: Node, depth: int) -> Iterator[str]:
    for key in _SPEAKS_OF:
        link = thing.find(key)
        if link is None or link.value is None:
            continue
        for name in link.value if isinstance(link.value, tuple) else (link.value,):
            if str(name) in TRADES:
                yield str(name)
                continue
            other = job.find(str(name))
            if other is None or depth == 0:
                continue
            target = thing_of(other)
            if job.done_by(target) or _entry_above(target) is not None:
                yield from own_trades(job, target)
            else:
                yield from _through_links(job, target, depth - 1)


def _entry_above(thing: Node) -> Node | None:
    node: Node | None = thing
    while node is not None:
        if node.kind == "trade" and node.container == "trades":
            return node
        node = node.parent
    return None


def name_of_trade(entry: Node) -> str:
    """The trade of an entry under `trades`: what it says, else its own name."""
    said = entry.find("trade")
    return str(said.value) if said is not None and said.value else entry.key


def _as_trade(job: Job, name: str) -> str:
    entry = job.thing(name)
    return name_of_trade(entry) if entry is not None and entry.kind == "trade" else name


def trades_for(job: Job, decision: Decision, thing: Node) -> tuple[str, ...]:
    """The trades whose orders must state a decision about this thing."""
    found: list[str] = []
    for trade in decision.trades:
        found += own_trades(job, thing) if trade == OWN else (trade,)
    return tuple(dict.fromkeys(found))


_OF_THE_FILE = frozenset({"scantling", "house", "lengths", "photos", "overrides"})


def _about_the_file(leaf: Node) -> bool:
    """A fact of the file and of how it is worked with, not of what is built."""
    top = leaf
    while top.parent is not None and top.parent.parent is not None:
        top = top.parent
    return top.key in _OF_THE_FILE or (top.key == "waivers" and leaf.key == "finding")


def leaves_for(job: Job, trade: str) -> tuple[Node, ...]:
    """Every decision that a trade needs, in the order of the file.

    With no trade: those that no trade needs, which the client reads in the spec book; what is
    about the file itself only the lead reads, in the checklist. A `tell` is for the trade that it
    names.
    """
    if not job.leaves_for:
        found: dict[str, list[Node]] = {"": []}
        for leaf in job.tree.leaves():
            if leaf.parent is None or _about_the_file(leaf):
                continue
            told = leaf.parent.key == "tell"
            trades = (leaf.key,) if told else trades_for(job, leaf.decision, thing_of(leaf))
            for name in trades or ("",):
                found.setdefault(name, []).append(leaf)
        job.leaves_for = {name: tuple(leaves) for name, leaves in found.items()}
    return job.leaves_for.get(trade, ())
