"""The questions that a job still asks, by the person who can answer them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from spec.check.omissions import name_in_words, question_of
from spec.derive.figure import Facts
from spec.derive.sheets.deciding import first_to_wait, undecided
from spec.finding import Finding, Level, Place
from spec.job.job import Job
from spec.job.node import Node
from spec.job.trades import thing_of


class Question(NamedTuple):
    """One open decision: what is asked, whom, by when, and what it waits for.

    `last` is the last day on which the answer holds nobody up, `holds` the trade that orders or
    starts on it, `latest` the day after which the last day of the job moves too; empty where no
    visit is dated.
    """

    words: str
    address: str
    person: str
    due: str
    place: Place
    waits_for: tuple[str, ...] = ()
    last: str = ""
    holds: str = ""
    latest: str = ""

    @property
    def by(self) -> str:
        """The day by which it is asked for: as written, else the last that holds nobody up."""
        return self.due or self.last


def questions(facts: Facts, findings: Iterable[Finding]) -> tuple[Question, ...]:
    """Every open or assumed decision, and every silence that the job's stage does not allow."""
    job = facts.job
    asked = [_of_state(facts, node) for node in undecided(job)]
    asked += [
        Question(f.message.partition(": ")[2], f.address, _decider(job, f.address), "", f.place)
        for f in findings
        if f.rule.endswith(".not-decided") and f.level is not Level.NOTE
    ]
    return tuple(sorted(asked, key=lambda q: (q.place, q.address)))


def _of_state(facts: Facts, node: Node) -> Question:
    state = node.state
    assert state is not None
    job = facts.job
    about = node.parent if node.parent is not None else node
    thing = about if about.key else node
    words = state.ask or question_of(node.decision, thing, node.title, in_words(job, thing))
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
        *_last_day(facts, node),
    )


def in_words(job: Job, part: Node) -> str:
    """A thing as one speaks of it to somebody who knows no marks: `the counter of the bar`."""
    thing = thing_of(part)
    if thing.container == "bottom_to_top":
        stack = thing
        while stack.parent is not None and stack.kind != "stack":
            stack = stack.parent
        return f"the {_plain(thing.key)} of the {_plain(stack.key)}"
    if thing.kind == "approval":
        sample, of = (thing.find(key) for key in ("sample", "of"))
        names = of.value if of is not None and isinstance(of.value, tuple) else ()
        if of is not None and isinstance(of.value, str):
            names = (of.value,)
        about = [in_words(job, other) for name in names if (other := job.find(str(name)))]
        what = f", {sample.written}" if sample is not None and sample.written else ""
        return f"the sample of {' and '.join(about)} ({thing.key}{what})" if about else thing.key
    if not thing.kind or not thing.container or thing.kind in ("room", "wall", "trade", "person"):
        return name_in_words(part)
    if thing.container == "stacks":
        return f"the {_plain(thing.key)}"
    title = thing.find("title")
    name = str(title.value) if title is not None and title.value else _plain(thing.kind)
    return f"the {_small(name)} {thing.key}"


def _plain(word: str) -> str:
    return word.replace("_", " ")


def _small(words: str) -> str:
    """Words within a sentence; a name with capitals or figures of its own stays as it is."""
    rest = words[1:]
    own = rest != rest.lower() or any(letter.isdigit() for letter in rest)
    return words if own else words[:1].lower() + rest


def _last_day(facts: Facts, node: Node) -> tuple[str, str, str]:
    waiting = first_to_wait(facts, node)
    if waiting is None:
        return "", "", ""
    latest = waiting.latest.isoformat() if waiting.latest is not None else ""
    return waiting.dated.isoformat(), waiting.trade, latest


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
