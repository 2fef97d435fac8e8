"""An open decision with several choices is checked for each of them, one decision at a time."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace

from spec.finding import Finding, Place
from spec.job.job import Job
from spec.job.node import Node

CheckWith = Callable[[Mapping[Place, str]], Iterable[Finding]]
"""Checks the job anew with a choice taken at the place of an open decision's state."""


def open_choices(job: Job) -> tuple[Node, ...]:
    """The open decisions that name their choices."""
    return tuple(
        node
        for node in job.tree.walk()
        if node.state is not None and node.state.kind == "open" and node.state.choices
    )


def under_every_choice(
    job: Job, found: Iterable[Finding], check_with: CheckWith
) -> tuple[Finding, ...]:
    """The findings, with what arises only under some choice said of that choice.

    What arises under all choices of a decision is said once, as it is.
    """
    base = tuple(found)
    for node in open_choices(job):
        state = node.state
        assert state is not None
        by_choice = {state.chosen: {_key(f): f for f in base}}
        for choice in state.choices:
            if choice != state.chosen:
                by_choice[choice] = {_key(f): f for f in check_with({state.place: choice})}
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
            else:
                words = f"with {node.address}: {choice}, {finding.message}"
                told.append(replace(finding, message=words))
    return tuple(told)
