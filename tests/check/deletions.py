"""Deletes one entry of a job file at a time, in its text, and asks whether the check notices."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path

import yaml

from spec.check.run import check
from spec.compose import orders
from spec.compose.blocks import cites_of
from spec.compose.gates import _touches as touches
from spec.compose.gates import reached_by
from spec.derive.figure import Facts
from spec.finding import Finding, Level
from spec.job.job import Job
from spec.job.node import Node
from spec.job.resolve import resolve
from spec.job.trades import thing_of, trades_for
from spec.pipeline import Checked, check_file
from spec.place import place
from spec.read import read_text

OPTIONAL: dict[str, str] = {
    "note": "a remark that reaches nobody",
    "tell": "a sentence beside the decisions, for one trade",
    "title": "a name in words beside the mark",
    "overrides": "without one the house standards hold, which is a decision too",
    "waivers": "without one the finding is there again",
    "patches": "without one the finish of the whole surface holds",
    "photos": "more of them help, none is owed",
    "person.firm": "a client has none",
    "person.reached": "phone and e-mail are asked for; this is when",
    "person.keys": "asked for under access",
    "person.deputy": "most have none",
    "approval.due": "counted back from the order, and done once `when` is there",
    "asked": "when it was asked is history once it is answered",
    "paper": "where a letter is filed, for the office",
    "reading.with": "the instrument, where the number alone does not say it",
    "phases": "one where nothing is said",
    "outlets": "two where nothing is said",
    "maker": "the product's own word stands for it",
    "model": "the product's own word stands for it",
    "person.address": "only a neighbor's is of use",
    "person.contact": "only a body's, beside its name",
    "approval.sample": "a letter or a consent shows none",
    "access.closed": "the calendar has the days off",
    "received": "a receipt, once it is there",
    "weight_full": "the weight is asked for; full is for the floor",
    "free_for": "why a gap is free, in words",
    "contents": "what a drawer is for, in words",
    "finish_other_side": "both sides alike where nothing is said",
    "snow_roof": "only where there is snow",
    "layer.laid": "as its maker says where nothing is said",
    "layer.fixing": "as its maker says where nothing is said",
    "visit.gives": "said in the order of the trade that takes it",
    "visit.present": "nobody else need be there",
    "visit.does": "the name of the visit says it where this does not",
    "furnished_by": "who fits it buys it where nothing else is said",
    "installed_by": "the house's `done_by` says it where nothing else is said",
    "access.which": "which door, in words; the door itself is asked for",
    "open_shelf.stemware": "without it there are no hanging glasses",
    "touch_up": "the tins are asked for at hand-over",
    "unfinished.material": "raw wood has no coat to name",
    "tier.finish": "a gap shows the finish of its wall",
    "glazing.coating": "the U-value is asked for; its maker's sheet says how it is reached",
    "glazing.space": "the U-value is asked for; its maker's sheet says how it is reached",
    "finish.lot": "only where a lot differs from the next",
    "trade.also": "what the firm does besides, said by those other trades",
    "certified": "only where the law asks for a certificate",
    "light_strip.cable_out": "at the end that is fed where nothing is said",
    "strip.cable_out": "at the end that is fed where nothing is said",
    "gap.finish": "a gap shows the finish of its wall",
}
"""Keys that a finished job may lack without anybody missing them, each with the reason."""


@dataclass(frozen=True)
class Deletion:
    """One entry to delete: its address, where its text starts and ends, and what it leaves."""

    address: str
    start: int
    end: int
    empties: bool
    flow: bool


def deletions(text: str, job: Job) -> Iterator[Deletion]:
    """Every entry of the file that has an address: leaves, things and headings."""
    at = {
        (n.key_place.line, n.key_place.column): n
        for n in job.tree.walk()
        if n.parent and not n.model and not _kept_default(n)
    }

    def walk(node: yaml.Node) -> Iterator[Deletion]:
        if not isinstance(node, yaml.MappingNode):
            return
        for key, value in node.value:
            found = at.get((key.start_mark.line + 1, key.start_mark.column + 1))
            if found is not None and not _optional(found):
                end = _end(text, value)
                empty, flow = len(node.value) == 1, bool(node.flow_style)
                yield Deletion(found.address, key.start_mark.index, end, empty, flow)
            yield from walk(value)

    root = yaml.compose(text, Loader=yaml.SafeLoader)
    assert root is not None
    yield from walk(root)


def _kept_default(node: Node) -> bool:
    """An `is` that nobody wrote: the heading gave it, and it stands where its thing stands."""
    return node.origin == "its heading" or (
        node.key == "is" and node.parent is not None and node.key_place == node.parent.key_place
    )


def _end(text: str, value: yaml.Node) -> int:
    """Where the text of a value ends; a block ends with its last line that says something."""
    end = value.end_mark.index
    while end > value.start_mark.index and text[end - 1] in " \n":
        end -= 1
    if isinstance(value, yaml.CollectionNode) and not value.flow_style and value.value:
        last = value.value[-1]
        return _end(text, last[1] if isinstance(last, tuple) else last)
    return end


def deleted(text: str, one: Deletion) -> str:
    """The file without this entry."""
    start, end = one.start, one.end
    if one.empties:
        return text[:start] + ("" if one.flow else "{}") + text[end:]
    if one.flow:
        after = end
        while text[after] in " \n":
            after += 1
        if text[after] == ",":
            return text[:start] + text[after + 1 :].lstrip(" ")
        before = start - 1
        while text[before] != ",":
            before -= 1
        return text[:before] + text[end:]
    line = text.rfind("\n", 0, start) + 1
    following = text.find("\n", end)
    return text[:line] + text[following + 1 :]


def _says(finding: Finding, name: str) -> bool:
    """Whether the message speaks of a mark or word as such."""
    return re.search(rf"(?<![\w.]){re.escape(name)}(?![\w.])", finding.message) is not None


_LINKS = ("product", "like", "same_as", "is", "back_of", "on", "partition")
"""Links through which facts come: one that is gone is missed by any fact that came through it, and
a kind by any fact that cannot be read without it."""
_PLACING = ("left", "right", "center", "centers", "edge", "extent", "width", "bottom", "top", "aff")
"""Facts that place a thing, in each other's stead: one that is gone is missed by any of them."""
_SAY_WHOSE = ("of", "for")
"""Links that say whose a paper is: without one, no trade can be named."""
_SUMS = (
    "job.tally-differs",
    "job.last-mark-differs",
    "millwork.run-does-not-fit",
    "millwork.stack-does-not-fit",
    "millwork.hardware-missing",
    "millwork.filler-out-of-range",
    "millwork.holds-too-few",
    "envelope.cannot-be-set-out",
    "envelope.layers-do-not-add-up",
)
"""Control totals: what is lost from a row, or from the walls of a room, is found by its sum."""


def _still_said(node: Node, job: Job) -> bool:
    """The job says the same without the entry: it only repeated what it takes over."""
    there = job.find(node.address)
    return there is not None and _leaves(there) == _leaves(node)


def _falls_back(node: Node, job: Job) -> bool:
    """Without the entry the job takes over what its model or product says: it was an override."""
    there = job.find(node.address)
    return there is not None and bool(there.model) and not node.model


def _leaves(node: Node) -> list[tuple[str, str]]:
    return [(leaf.address, leaf.written) for leaf in node.leaves()]


def _optional(node: Node) -> bool:
    """A key that the list names, alone or with the kind of its thing, or what stands under it."""
    at: Node | None = node
    while at is not None:
        if {at.key, f"{_kind_above(at)}.{at.key}", at.container} & OPTIONAL.keys():
            return True
        at = at.parent
    return False


def _kind_above(node: Node) -> str:
    thing = thing_of(node.parent) if node.parent is not None else node
    return thing.kind or thing.key


class Watch:
    """A finished job, and whether the deletion of one of its entries would be noticed."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.text = path.read_text(encoding="utf-8")
        self.whole: Checked = check_file(path, shown_as="job.yaml")
        self.known = {(f.rule, f.message) for f in self.whole.findings}
        self.rests_on = {
            reader.trade: reached_by(reader.facts, cites_of(order.blocks))
            for reader, order in orders(self.whole)
        }

    def all(self) -> list[Deletion]:
        """Every entry that can be deleted."""
        return list(deletions(self.text, self.whole.job))

    def without(self, one: Deletion) -> tuple[Facts, list[Finding]]:
        """What is known of the job without an entry, and what the check newly says of it."""
        source = read_text(deleted(self.text, one), "job.yaml")
        job = resolve(source, self.path.parent)
        facts = Facts(job, place(job))
        return facts, [f for f in check(facts) if (f.rule, f.message) not in self.known]

    def noticed(self, one: Deletion) -> bool:
        """A new finding names the address, and holds a gate of a trade that needs it."""
        node = self.whole.job.find(one.address)
        assert node is not None
        facts, found = self.without(one)
        if _still_said(node, facts.job) or _falls_back(node, facts.job):
            return True
        named = [f for f in found if self._names(f, one, node)]
        wanted = self._trades(node)
        return any(not wanted or wanted & self._held_by(f, facts) for f in named)

    def _names(self, finding: Finding, one: Deletion, node: Node) -> bool:
        """A finding names an entry at its address, above it by its word, or below it."""
        addresses = {spot.address for spot in finding.spots}
        above = node.parent.address if node.parent is not None else ""
        if one.address in addresses or (one.empties and above in addresses):
            return True
        if any(one.address.startswith(f"{a}.") for a in addresses) and _says(finding, node.key):
            return True
        if any(a.startswith(f"{one.address}.") for a in addresses):
            return True
        if addresses & self._taken_over.get(one.address, set()):
            return True
        if node.key in _PLACING:
            return bool(addresses & {f"{above}.{key}" for key in _PLACING})
        if node.key in _LINKS:
            return any(a.startswith(f"{above}.") or a == above for a in addresses)
        return bool(node.children or node.container) and self._names_entry(finding, node)

    def _names_entry(self, finding: Finding, node: Node) -> bool:
        """A whole entry is missed by name, or by a sum it was part of; a map by any entry in it."""
        if finding.rule in _SUMS:
            return True
        lost = [n for n in node.walk() if n.container] or [node]
        spots = {spot.address for spot in finding.spots}
        return any(
            _says(finding, one.key) or _says(finding, one.address) or one.address in spots
            for one in lost
        )

    @cached_property
    def _taken_over(self) -> dict[str, set[str]]:
        found: dict[str, set[str]] = {}
        for node in self.whole.job.tree.walk():
            at = node.model
            while at:
                found.setdefault(at, set()).add(node.address)
                at = at.rpartition(".")[0] if "." in at else ""
        return found

    def _trades(self, node: Node) -> frozenset[str]:
        """Whose gate is to be held: any one's for what is missed by whoever waits for it."""
        job = self.whole.job
        waited_for = {node.container, node.key} & {"visits", "approvals"}
        if node.key in _SAY_WHOSE or waited_for:
            return frozenset()
        found: set[str] = set()
        for below in node.walk():
            if not below.children:
                found |= set(trades_for(job, below.decision, thing_of(below)))
        return frozenset(found)

    def _held_by(self, finding: Finding, facts: Facts) -> frozenset[str]:
        """The trades whose gates a finding holds in the job without the entry."""
        if finding.rule.endswith(".not-decided"):
            return frozenset(finding.trades)
        if finding.level is not Level.ERROR:
            return frozenset()
        standing = replace(
            finding, spots=tuple(s for s in finding.spots if _stands(s.address, finding, facts.job))
        )
        return frozenset(t for t, on in self.rests_on.items() if touches(facts, standing, on))


def _stands(address: str, finding: Finding, job: Job) -> bool:
    """An order written without the entry can still cite this address."""
    return job.find(address) is not None or finding.rule.startswith("reading.")
