"""Silences: every decision that the schema asks for and the job does not answer."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from spec.finding import Finding, Level
from spec.job.job import Job
from spec.job.node import Node
from spec.job.schema import STAGES, Decision, Shape
from spec.job.stage import reached, stage
from spec.job.trades import thing_of, trades_for

_LATER_SHOWN_FROM = STAGES.index("order_material")


def omissions(job: Job) -> Iterator[Finding]:
    """One finding for each decision that is needed and absent.

    What the job's stage needs has the level of its annotation. What a later stage needs is a
    note, and is not yet asked for before material is ordered.
    """
    now = stage(job)
    for node in job.tree.walk():
        if node.container == "products" or not _asks(node):
            continue
        missing = tuple(unanswered(node))
        if missing and not _takes_from_nothing(job, node):
            for key, shape in missing:
                yield from _missing(job, node, key, shape, now)


def _takes_from_nothing(job: Job, node: Node) -> bool:
    """Its facts are to come from a product or a `like` that is not there, which was said."""
    thing = thing_of(node)
    links = (thing.children.get(key) for key in ("product", "like"))
    return any(
        link is not None and isinstance(link.value, str) and job.find(link.value) is None
        for link in links
    )


def unanswered(node: Node) -> Iterator[tuple[str, Shape]]:
    """What is needed of a thing and absent, in the order of the schema, whatever the stage."""
    for key, shape in node.shape.items():
        if key not in node.children and _needed(node, shape.decision.needed):
            yield key, shape


def _asks(node: Node) -> bool:
    """A map that is there, has its facts, and does not stand under one that is open."""
    return node.mapped and not node.not_applicable


def _needed(node: Node, needed: str | Mapping[str, Any]) -> bool:
    if isinstance(needed, str):
        return needed == "always"
    if "when" in needed:
        return any(_answers(node, path, needed.get("is")) for path in _paths(needed["when"]))
    if "unless" in needed:
        return not any(_answers(node, path, needed.get("is")) for path in _paths(needed["unless"]))
    return False


def _paths(value: Any) -> tuple[str, ...]:
    return tuple(value) if isinstance(value, list) else (str(value),)


def _answers(node: Node, path: str, words: Any) -> bool:
    below = node.find(path)
    if below is None or below.not_applicable or (below.state is not None and not below.known):
        return False
    if words is None:
        return True
    values = below.value if isinstance(below.value, tuple) else (below.value,)
    return any(_as_word(v) in words for v in values)


def _as_word(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value)


def _missing(job: Job, node: Node, key: str, shape: Shape, now: str) -> Iterator[Finding]:
    decision = shape.decision
    due = reached(decision.before, now)
    if not due and STAGES.index(now) < _LATER_SHOWN_FROM:
        return
    if shape.heading and _accounted(node, key):
        return
    address = f"{node.prefix}{key}"
    title = shape.title or key.replace("_", " ")
    question = question_of(decision, node, title)
    whose = f"{node.key} says nothing of" if node.key else "the job says nothing of"
    yield Finding(
        f"{decision.subject}.not-decided",
        Level(decision.absence) if due else Level.NOTE,
        f"{whose} `{key}`: {question}",
        f"write `{key}`, or mark it open or not applicable ({decision.decides} decides; "
        f"it must precede {decision.before.replace('_', ' ')})",
        (job.spot(address),),
        trades_for(job, decision, thing_of(node)),
        decision.before,
    )


def _accounted(node: Node, key: str) -> bool:
    none = node.find("none")
    if none is None or none.value is None:
        return False
    words = none.value if isinstance(none.value, tuple) else (none.value,)
    return key in words


def question_of(decision: Decision, node: Node, title: str, name: str = "") -> str:
    """The question that the lead would ask, about this thing, by its mark or under a `name`."""
    if not decision.ask:
        return title
    return decision.ask.replace("{mark}", name or name_in_words(node))


def name_in_words(node: Node) -> str:
    """What a question calls a thing: its mark or own word; a part by the thing that it is of."""
    upper = node.parent.shape if node.parent is not None else None
    own_word = upper is not None and upper.takes_entries and node.key not in upper.names
    named = node if own_word else thing_of(node)
    return named.key.replace("_", " ") or "the job"
