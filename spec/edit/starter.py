"""The text of a starter job: what is known, what is asked now, and what will be asked next.

What is asked, of whom and in which words comes from the annotations of the schema by the same
walk that finds omissions: a decision which the first stage needs stands open, one that the next
stage needs is a comment with its question, what is needed to order material is named.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from spec.check.omissions import question_of, unanswered
from spec.edit.features import Facts, furnish, rooms_of
from spec.edit.refused import Refused
from spec.edit.wording import OPEN, in_yaml
from spec.finding import Level
from spec.job.job import Job
from spec.job.node import Node
from spec.job.resolve import resolve
from spec.job.schema import STAGES, Decision, Shape
from spec.job.stage import reached
from spec.read import FORMAT, read_text

MOST_QUESTIONS = 15
"""Questions of a first visit; above that, the parts of a thing are asked for as one."""
_FIRST, _NEXT, _ORDER = STAGES[:3]
_WIDTH = 100
_REMARKS_FROM = 44
_ENOUGH = 2


@dataclass(frozen=True, slots=True)
class Asked:
    """A decision that stands open, with the question that goes beside it."""

    decides: str
    question: str

    @property
    def written(self) -> str:
        """The state in the file: `TBD` for what the lead decides, else with who decides."""
        return OPEN if self.decides == "lead" else f"{{open: {self.decides}}}"


def starter(
    rooms: Iterable[str],
    *,
    walls: int = 4,
    units: str = "imperial",
    having: Iterable[str] = (),
    on: date,
) -> str:
    """The text of a new job file.

    `rooms` are words such as `wine_room:cooled`, `having` those of `spec.edit.features.FEATURES`,
    `on` is the day of the first visit. Raises `Refused` for a word that is not known.
    """
    revision = {"mark": "draft", "date": on.isoformat(), "reason": _words(_FIRST).capitalize()}
    job: Facts = {
        "scantling": str(FORMAT),
        "job": {"units": units, "revision": revision},
        "people": {"client": {}, "lead": {}},
        "rooms": rooms_of(rooms, walls),
    }
    wanted = list(furnish(job, having))
    for path, key in wanted:
        thing = _node(_resolved(job).tree, path)
        shape = thing.shape.below(key)
        assert shape is not None
        _facts(job, path)[key] = _asked(thing, key, shape)
    while _ask(_resolved(job).tree, job):
        pass
    _gather(job)
    if sum(1 for _ in _open(job)) > MOST_QUESTIONS:
        for path, key in wanted:
            del _facts(job, path)[key]
    resolved = _resolved(job)
    wrong = tuple(f for f in resolved.findings if f.level is Level.ERROR)
    if wrong:
        raise Refused("a job of these words would have errors", "choose other names", wrong)
    head = (
        f"{OPEN} and {{open: ...}} are asked now. A commented key is asked at the next stage, "
        f"{_words(_NEXT)}: uncomment it and write its answer. Move each thing to its wall."
    )
    return "\n".join([*_comment(head, ""), *_Writer().lines(resolved.tree, job, ""), ""])


def _ask(node: Node, facts: Facts) -> bool:
    """Add what the first stage needs and is not there yet; whether anything was added."""
    added = False
    for key, shape in list(unanswered(node)):
        if key not in facts and not shape.heading and reached(shape.decision.before, _FIRST):
            facts[key] = {} if _has_parts(shape) else _asked(node, key, shape)
            added = True
    for key, below in node.children.items():
        if isinstance(facts.get(key), dict):
            added = _ask(below, facts[key]) or added
    return added


def _asked(node: Node, key: str, shape: Shape) -> Asked:
    decision = shape.decision
    return Asked(decision.decides, question_of(decision, node, shape.title or key))


def _has_parts(shape: Shape) -> bool:
    """Whether the first stage needs parts of a map, each asked for by itself."""
    below = (part.decision for _, part in shape.items())
    return any(d.needed != "never" and reached(d.before, _FIRST) for d in below)


def _gather(job: Facts) -> None:
    """Ask for whole maps in place of their parts, until there are few enough questions."""
    while sum(1 for _ in _open(job)) > MOST_QUESTIONS:
        maps = list(_only_asked(_resolved(job).tree, job))
        if not maps:
            return
        node, facts = max(maps, key=lambda found: Level(found[0].decision.absence).rank)
        assert node.parent is not None
        facts[node.key] = _asked(node.parent, node.key, node.shape)


def _open(facts: Facts) -> Iterator[Asked]:
    for value in facts.values():
        if isinstance(value, Asked):
            yield value
        elif isinstance(value, dict):
            yield from _open(value)


def _only_asked(node: Node, facts: Facts) -> Iterator[tuple[Node, Facts]]:
    """The maps of which nothing is known, each with the facts that it stands in."""
    for key, below in node.children.items():
        value = facts.get(key)
        if not isinstance(value, dict):
            continue
        if len(value) > 1 and all(isinstance(part, Asked) for part in value.values()):
            if below.shape.decision.ask:
                yield below, facts
        else:
            yield from _only_asked(below, value)


class _Writer:
    """Writes a job's facts in the order of the schema, each thing's own words once."""

    def __init__(self) -> None:
        self._said: set[str] = set()

    def lines(self, node: Node, facts: Facts, indent: str) -> Iterator[str]:
        """A map: what is known and asked, what the next stage asks, what an order needs."""
        coming = dict(unanswered(node))
        rows: list[tuple[str, str]] = []
        for key in (*node.shape.names, *(key for key in facts if key not in node.shape.names)):
            value, shape = facts.get(key), node.shape.below(key)
            if isinstance(value, dict):
                yield from _aligned(rows, indent)
                rows = []
                yield from self._map(node.children[key], value, indent)
            elif isinstance(value, Asked):
                rows.append((f"{key}: {value.written}", value.question))
            elif value is not None:
                rows.append((f"{key}: {in_yaml(str(value))}", ""))
            elif shape is not None and key in coming and _is_next(shape.decision):
                rows.append((f"# {key}:", question_of(shape.decision, node, shape.title or key)))
        yield from _aligned(rows, indent)
        yield from self._unaccounted(node, indent)
        later = [key for key, shape in coming.items() if shape.decision.before == _ORDER]
        if len(later) >= _ENOUGH:
            yield from _comment(f"needed to {_words(_ORDER)}: {', '.join(later)}", indent)

    def _map(self, node: Node, facts: Facts, indent: str) -> Iterator[str]:
        if not indent or node.container == "rooms":
            yield ""
        if not indent or node.kind:
            yield from self._once(f"{node.shape.title}. {node.shape.description}", indent)
        yield f"{indent}{node.key}:"
        yield from self.lines(node, facts, f"{indent}  ")

    def _unaccounted(self, node: Node, indent: str) -> Iterator[str]:
        """The headings of a surface of which nothing is said, as they stand in its `none`."""
        none = node.shape.below("none")
        left = [k for k, s in node.shape.items() if s.heading and k not in node.children]
        if left and none is not None:
            yield from self._once(f"{none.title}. {none.description}", indent)
            yield f"{indent}# none: [{', '.join(left)}]"

    def _once(self, words: str, indent: str) -> list[str]:
        new = words not in self._said
        self._said.add(words)
        return _comment(words, indent) if new else []


def _is_next(decision: Decision) -> bool:
    return reached(decision.before, _NEXT)


def _aligned(rows: list[tuple[str, str]], indent: str) -> Iterator[str]:
    if rows and not indent:
        yield ""
    widest = max((len(row) for row, remark in rows if remark), default=0)
    for row, remark in rows:
        wide = min(widest, _REMARKS_FROM)
        yield f"{indent}{row:<{wide}}  # {remark}" if remark else f"{indent}{row}"


def _comment(words: str, indent: str) -> list[str]:
    lead = f"{indent}# "
    return textwrap.wrap(
        words, _WIDTH, initial_indent=lead, subsequent_indent=lead, break_on_hyphens=False
    )


def _words(stage: str) -> str:
    return stage.replace("_", " ")


def _facts(job: Facts, path: Iterable[str]) -> Facts:
    for step in path:
        job = job[step]
    return job


def _node(top: Node, path: Iterable[str]) -> Node:
    for step in path:
        top = top.children[step]
    return top


def _resolved(job: Facts) -> Job:
    return resolve(read_text("\n".join([*_bare(job, ""), ""]), "the starter"))


def _bare(facts: Facts, indent: str) -> Iterator[str]:
    """The facts as YAML without a remark."""
    for key, value in facts.items():
        if isinstance(value, dict) and value:
            yield f"{indent}{key}:"
            yield from _bare(value, f"{indent}  ")
        else:
            written = value.written if isinstance(value, Asked) else in_yaml(str(value))
            yield f"{indent}{key}: {'{}' if value == {} else written}"
