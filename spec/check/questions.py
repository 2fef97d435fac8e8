"""The questions that a job still asks, by the person who can answer them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from spec.check.omissions import question_of
from spec.finding import Finding, Level, Place
from spec.job.job import Job
from spec.job.node import Node


@dataclass(frozen=True, slots=True)
class Question:
    """One open decision: what is asked, whom, by when, and what it waits for."""

    words: str
    address: str
    person: str
    due: str
    place: Place
    waits_for: tuple[str, ...] = ()


def questions(job: Job, findings: Iterable[Finding]) -> tuple[Question, ...]:
    """Every open or assumed decision, and every silence that the job's stage does not allow."""
    asked = [
        _of_state(node)
        for node in job.tree.walk()
        if node.state is not None and node.state.kind in ("open", "assumed") and not node.model
    ]
    asked += [
        Question(f.message.partition(": ")[2], f.address, _decider(job, f.address), "", f.place)
        for f in findings
        if f.rule.endswith(".not-decided") and f.level is not Level.NOTE
    ]
    return tuple(sorted(asked, key=lambda q: (q.place, q.address)))


def _of_state(node: Node) -> Question:
    state = node.state
    assert state is not None
    about = node.parent if node.parent is not None else node
    thing = about if about.key else node
    words = state.ask or question_of(node.decision, thing, node.title)
    if state.kind == "assumed":
        until = f" (until {state.until})" if state.until else ""
        words = f"Please confirm {node.title[:1].lower()}{node.title[1:]}: {node.written}{until}"
    if state.choices:
        words += f" ({' or '.join(state.choices)})"
    return Question(
        words,
        node.address,
        state.who or node.decision.decides,
        state.due,
        state.place,
        state.waits_for,
    )


def _decider(job: Job, address: str) -> str:
    upper = job.find(address.rpartition(".")[0]) or job.tree
    below = upper.shape.below(address.rpartition(".")[2])
    return below.decision.decides if below is not None else "lead"


def by_person(asked: Iterable[Question]) -> dict[str, tuple[Question, ...]]:
    """The questions grouped by whom they are put to, the lead first."""
    groups: dict[str, list[Question]] = {}
    for question in asked:
        groups.setdefault(question.person, []).append(question)
    order = sorted(groups, key=lambda person: (person != "lead", person))
    return {person: tuple(groups[person]) for person in order}
