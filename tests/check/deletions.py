"""Deletes one entry of a job file at a time, in its text, and asks whether the check notices."""

from __future__ import annotations

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

OPTIONAL = frozenset({"note", "tell", "overrides", "waivers", "patches", "title"})
"""Keys that a finished job may lack without anybody missing them."""


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
    at = {(n.key_place.line, n.key_place.column): n for n in job.tree.walk() if n.parent}

    def walk(node: yaml.Node) -> Iterator[Deletion]:
        if not isinstance(node, yaml.MappingNode):
            return
        for key, value in node.value:
            found = at.get((key.start_mark.line + 1, key.start_mark.column + 1))
            if found is not None and not OPTIONAL & set(found.address.split(".")):
                end = _end(text, value)
                empty, flow = len(node.value) == 1, bool(node.flow_style)
                yield Deletion(found.address, key.start_mark.index, end, empty, flow)
            yield from walk(value)

    yield from walk(yaml.compose(text, Loader=yaml.SafeLoader))


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

    def findings_without(self, one: Deletion) -> list[Finding]:
        """What the check says of the file without an entry that it did not say of the whole."""
        source = read_text(deleted(self.text, one), "job.yaml")
        job = resolve(source, self.path.parent)
        found = check(Facts(job, place(job)))
        return [f for f in found if (f.rule, f.message) not in self.known]

    def noticed(self, one: Deletion) -> bool:
        """A new finding names the address, and holds a gate of a trade that needs it."""
        node = self.whole.job.find(one.address)
        assert node is not None
        named = [f for f in self.findings_without(one) if self._names(f, one.address, node)]
        wanted = self._trades(node)
        return any(not wanted or wanted & self._held_by(f) for f in named)

    def _names(self, finding: Finding, address: str, node: Node) -> bool:
        addresses = {spot.address for spot in finding.spots}
        if address in addresses:
            return True
        thing = bool(node.kind and node.container)
        if thing and (
            f"{node.key}" in finding.message or finding.rule == "job.tally-differs"
        ):
            return True
        return any(address.startswith(f"{a}.") and node.key in finding.message for a in addresses)

    def _trades(self, node: Node) -> frozenset[str]:
        job = self.whole.job
        found: set[str] = set()
        for below in node.walk():
            if not below.children:
                found |= set(trades_for(job, below.decision, thing_of(below)))
        return frozenset(found)

    def _held_by(self, finding: Finding) -> frozenset[str]:
        if finding.rule.endswith(".not-decided"):
            return frozenset(finding.trades)
        if finding.level is not Level.ERROR:
            return frozenset()
        spots = {spot.address for spot in finding.spots}
        return frozenset(
            trade
            for trade, on in self.rests_on.items()
            if any(s in on or any(a.startswith(f"{s}.") for a in on) for s in spots)
        )
