"""An open decision with several choices is checked for each of them, one decision at a time."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from typing import NamedTuple

from spec.derive.figure import Facts, Figure
from spec.finding import Finding, Place
from spec.job.job import Job
from spec.job.node import Node

With = Callable[[Mapping[Place, str]], Facts]
"""All that is known of the job with a choice taken at the place of an open decision's state."""


class Alternative(NamedTuple):
    """The job with another choice of one open decision than the one it is worked out with."""

    address: str
    choice: str
    facts: Facts
    findings: tuple[Finding, ...]


def alternatives(
    job: Job, known: With, check: Callable[[Facts], Iterable[Finding]]
) -> tuple[Alternative, ...]:
    """Every other choice of every open decision that names its choices, each checked."""
    found: list[Alternative] = []
    for node in job.tree.walk():
        state = node.state
        if state is None or state.kind != "open":
            continue
        for choice in state.choices:
            if choice != state.chosen:
                facts = known({state.place: choice})
                found.append(Alternative(node.address, choice, facts, tuple(check(facts))))
    return tuple(found)


def of_each_decision(
    others: Iterable[Alternative],
) -> dict[str, tuple[Alternative, ...]]:
    """The alternatives by the decision that they are of."""
    found: dict[str, list[Alternative]] = {}
    for other in others:
        found.setdefault(other.address, []).append(other)
    return {address: tuple(group) for address, group in found.items()}


def settled(job: Job, others: Iterable[Alternative]) -> frozenset[str]:
    """The facts of an undecided thing that are the same whatever is chosen."""
    same: set[str] = set()
    for address, group in of_each_decision(others).items():
        node = job.find(address)
        for leaf in node.leaves() if node is not None else ():
            if leaf.state is None and all(_same(leaf, other) for other in group):
                same.add(leaf.address)
    return frozenset(same)


def _same(leaf: Node, other: Alternative) -> bool:
    there = other.facts.job.find(leaf.address)
    return there is not None and there.value is not None and there.value == leaf.value


def changed_leaves(node: Node, group: Iterable[Alternative]) -> Iterator[str]:
    """The paths under an undecided thing whose values a choice changes, in the file's order."""
    group = tuple(group)
    paths: dict[str, None] = {}
    for root in (node, *(other.facts.job.find(other.address) for other in group)):
        if root is not None:
            paths |= {leaf.address.removeprefix(root.prefix): None for leaf in root.leaves()}
    for path in paths:
        mine = node.find(path)
        if mine is None or not all(_same(mine, other) for other in group):
            yield path


def changed_figures(
    facts: Facts, group: Iterable[Alternative]
) -> dict[str, tuple[Figure | None, ...]]:
    """The figures that a choice changes, by address: as it stands, then under each other choice."""
    every = [
        {figure.address: figure for figure in known.figures.all()}
        for known in (facts, *(other.facts for other in group))
    ]
    addresses = dict.fromkeys(address for known in every for address in known)
    found = {address: tuple(known.get(address) for known in every) for address in addresses}
    return {
        address: figures
        for address, figures in found.items()
        if len({figure.value if figure is not None else None for figure in figures}) > 1
    }


def under_every_choice(
    job: Job, found: Iterable[Finding], others: Iterable[Alternative]
) -> tuple[Finding, ...]:
    """The findings, with what arises only under some choice said of that choice.

    What arises under all choices of a decision is said once, as it is; a waiver that is for one
    choice is not unused.
    """
    base = tuple(found)
    for address, group in of_each_decision(others).items():
        node = job.find(address)
        assert node is not None and node.state is not None
        by_choice = {node.state.chosen: {_key(f): f for f in base}}
        by_choice |= {other.choice: {_key(f): f for f in other.findings} for other in group}
        base = _told_by_choice(node, by_choice)
    return tuple(sorted(base, key=Finding.sort_key))


def _key(finding: Finding) -> tuple[str, str, str]:
    return (finding.rule, finding.address, finding.message)


def _told_by_choice(
    node: Node, by_choice: Mapping[str, Mapping[tuple[str, str, str], Finding]]
) -> tuple[Finding, ...]:
    told: list[Finding] = []
    always = set.intersection(*(set(found) for found in by_choice.values()))
    for choice, found in by_choice.items():
        for key, finding in found.items():
            if key in always:
                if choice == next(iter(by_choice)):
                    told.append(finding)
            elif finding.rule != "job.waiver-unused":
                words = f"with {node.address}: {choice}, {finding.message}"
                told.append(replace(finding, message=words))
    return tuple(told)
