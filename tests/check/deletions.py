"""Deletes one entry of a job file at a time, in its text, and asks whether the check notices."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import yaml

from spec.check.run import check
from spec.compose import orders
from spec.compose.blocks import cites_of
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
        if n.parent and not _kept_default(n)
    }

    def walk(node: yaml.Node) -> Iterator[Deletion]:
        if not isinstance(node, yaml.MappingNode):
            return
        for key, value in node.value:
            found = at.get((key.start_mark.line + 1, key.start_mark.column + 1))
            if found is not None and OPTIONAL.keys().isdisjoint(found.address.split(".")):
                end = _end(text, value)
                empty, flow = len(node.value) == 1, bool(node.flow_style)
                yield Deletion(found.address, key.start_mark.index, end, empty, flow)
            yield from walk(value)

    yield from walk(yaml.compose(text, Loader=yaml.SafeLoader))


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
    return re.search(rf"(?<![\w.]){re.escape(name)}(?!\w)", finding.message) is not None


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

    def without(self, one: Deletion) -> tuple[Job, list[Finding]]:
        """The job without an entry, and what the check says of it that it did not say of the whole."""
        source = read_text(deleted(self.text, one), "job.yaml")
        job = resolve(source, self.path.parent)
        found = check(Facts(job, place(job)))
        return job, [f for f in found if (f.rule, f.message) not in self.known]

    def noticed(self, one: Deletion) -> bool:
        """A new finding names the address, and holds a gate of a trade that needs it."""
        node = self.whole.job.find(one.address)
        assert node is not None
        job, found = self.without(one)
        named = [f for f in found if self._names(f, one.address, node)]
        wanted = self._trades(node)
        return any(not wanted or wanted & self._held_by(f, job) for f in named)

    def _names(self, finding: Finding, address: str, node: Node) -> bool:
        addresses = {spot.address for spot in finding.spots}
        if address in addresses:
            return True
        if any(address.startswith(f"{a}.") for a in addresses) and _says(finding, node.key):
            return True
        if node.container or node.shape.container:
            return self._names_entry(finding, node)
        return node.key in ("product", "like") and bool(addresses & self._through(node))

    @staticmethod
    def _names_entry(finding: Finding, node: Node) -> bool:
        """A whole entry is missed by its name, or by its count; a heading by any of its entries."""
        if finding.rule == "job.tally-differs":
            return True
        lost = [node] if node.container else list(node.children.values())
        spots = {spot.address for spot in finding.spots}
        return any(_says(finding, one.key) or one.address in spots for one in lost)

    @staticmethod
    def _through(link: Node) -> set[str]:
        """What a thing had through its `product` or `like`: missing that is missing the link."""
        assert link.parent is not None
        origin = f"{link.key} {link.value}"
        return {n.address for n in link.parent.walk() if n.origin == origin}

    def _trades(self, node: Node) -> frozenset[str]:
        job = self.whole.job
        found: set[str] = set()
        for below in node.walk():
            if not below.children:
                found |= set(trades_for(job, below.decision, thing_of(below)))
        return frozenset(found)

    def _held_by(self, finding: Finding, job: Job) -> frozenset[str]:
        """The trades whose gates it holds in the job without the entry, where that is still cited."""
        if finding.rule.endswith(".not-decided"):
            return frozenset(finding.trades)
        if finding.level is not Level.ERROR:
            return frozenset()
        spots = {s.address for s in finding.spots if job.find(s.address) is not None}
        return frozenset(
            trade
            for trade, on in self.rests_on.items()
            if any(s in on or any(a.startswith(f"{s}.") for a in on) for s in spots)
        )
