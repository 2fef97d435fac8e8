"""Which rule reads which decision and figure, and what figures are made from: found by running.

A rule is run on its bad example, a figure on the starter jobs; what they read was recorded.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache
from typing import NamedTuple

from spec.check.rule import Rule, rules
from spec.check.run import speak
from spec.compose.manual.decisions import by_pattern
from spec.compose.manual.entry import Entry
from spec.derive.figure import Facts
from spec.job.job import Job
from spec.job.node import Node
from spec.job.record import recording
from spec.job.resolve import resolve
from spec.place import place
from spec.read import read, read_text
from spec.starters import starter_folders

Names = tuple[str, ...]


class Links(NamedTuple):
    """Names by name, in both directions; decisions by their patterns."""

    read_by_rule: dict[str, Names]
    figures_of_rule: dict[str, Names]
    inputs_of_figure: dict[str, Names]
    rules_of: dict[str, Names]
    """The rules that read a decision or lean on a figure."""
    figures_of: dict[str, Names]
    """The figures that a decision goes into."""

    def of_decision(self, entry: Entry) -> tuple[Names, Names]:
        """The rules that read a decision and the figures that it goes into, whatever the kind."""
        patterns = (entry.name, *entry.also)
        return _union(self.rules_of, patterns), _union(self.figures_of, patterns)


@cache
def links() -> Links:
    """All links of the manual."""
    read_by_rule: dict[str, Names] = {}
    figures_of_rule: dict[str, Names] = {}
    for name, rule in rules().items():
        read_by_rule[name], figures_of_rule[name] = _of_rule(rule)
    inputs = _inputs()
    both = {name: (*read_by_rule[name], *figures_of_rule[name]) for name in read_by_rule}
    return Links(read_by_rule, figures_of_rule, inputs, _turned(both), _turned(inputs))


def _of_rule(rule: Rule) -> tuple[Names, Names]:
    """The decisions and the figures that a rule reads in its bad example."""
    text = f"scantling: 1\n{rule.example.bad.strip()}\n"
    job = resolve(read_text(text, "example.yaml"))
    facts = Facts(job, place(job))
    with recording() as read_there:
        said = list(speak(rule, facts))
    spoken_of = {spot.address for finding in said for spot in finding.spots}
    figures = {address.partition("@")[0] for address in read_there if "@" in address}
    return _decisions(job, read_there | spoken_of), tuple(sorted(figures))


def _inputs() -> dict[str, Names]:
    found: dict[str, set[str]] = {}
    for folder in starter_folders():
        job = resolve(read(folder / "job.yaml", "job.yaml"), folder)
        for figure in Facts(job, place(job)).figures.all():
            into = found.setdefault(figure.definition.name, set())
            into.update(_decisions(job, figure.inputs))
    return {name: tuple(sorted(names)) for name, names in sorted(found.items())}


def _decisions(job: Job, addresses: Iterable[str]) -> Names:
    """The patterns of the decisions at these addresses, figures left out."""
    found: set[str] = set()
    for address in addresses:
        if "@" in address:
            continue
        node = job.find(address)
        for pattern in patterns(node) if node is not None else (address,):
            if pattern in by_pattern():
                found.add(pattern)
                break
    return tuple(sorted(found))


def patterns(node: Node) -> Iterator[str]:
    """The patterns that a node of a job may have, with the kind of the nearest thing first."""
    keys: list[str] = []
    at = node
    while at.parent is not None:
        if at.kind and at is not node:
            yield ".".join((at.kind, *keys))
        upper = at.parent.shape
        if upper.takes_entries and at.key not in upper.names:
            keys = ["*", *keys] if at.mapped else keys
        elif at.prefix != at.parent.prefix:
            keys = [at.key, *keys]
        at = at.parent
    yield ".".join(keys)


def _union(links: dict[str, Names], names: Names) -> Names:
    return tuple(sorted({other for name in names for other in links.get(name, ())}))


def _turned(links: dict[str, Names]) -> dict[str, Names]:
    found: dict[str, list[str]] = {}
    for name, others in links.items():
        for other in others:
            found.setdefault(other, []).append(name)
    return {name: tuple(others) for name, others in found.items()}
