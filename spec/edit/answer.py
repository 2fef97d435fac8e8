"""One answer put into the text of a job, and what the job says before and after it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import yaml

from spec.edit.aim import Aim, aim
from spec.edit.putting import inserted, nested, replaced
from spec.edit.refused import Refused
from spec.edit.spans import Item, Spans
from spec.edit.wording import Answer, answer_of
from spec.finding import Finding, Level, Place
from spec.job.job import Job
from spec.job.node import Node
from spec.job.resolve import resolve
from spec.pipeline import Checked, check_source
from spec.read import Source, Unusable, read_text


@dataclass(frozen=True, slots=True)
class Put:
    """An answer put into a text: what was there, what is now, and the whole text with it.

    `gone` is what the state that it takes the place of carried besides its word.
    """

    was: str
    now: str
    gone: tuple[str, ...]
    text: str


@dataclass(frozen=True, slots=True)
class Answered:
    """An answer with its place, and the job before and after it; nothing is on disk yet."""

    address: str
    place: Place
    put: Put
    before: Checked
    after: Checked

    @property
    def text(self) -> str:
        """The whole text with the answer in it."""
        return self.put.text


def answered(
    source: Source, folder: Path, address: str, typed: str, on: date | None = None
) -> Answered:
    """Put what was typed at an address of a job and check the job anew.

    Raises `Refused` where it cannot be put there or the job could be read less well with it.
    """
    before = check_source(source, folder, on=on)
    done = put(source, before.job, address, typed)
    new = _read(done.text, source.name)
    job = resolve(new, folder, on=on)
    _refuse_errors(before.job, job, address)
    node = job.find(address)
    if node is None:
        raise Refused(f"nothing has the address `{address}`", "write it as `show` prints it")
    after = check_source(new, folder, on=on)
    return Answered(node.address, node.place, done, before, after)


def _read(text: str, name: str) -> Source:
    try:
        return read_text(text, name)
    except Unusable as error:
        raise Refused("the answer was not written", "", (error.finding,)) from None


def put(source: Source, job: Job, address: str, typed: str) -> Put:
    """Put what was typed at an address of a job, unchecked. Raises `Refused`."""
    answer = answer_of(typed)
    spans = _spans(source)
    at = aim(job, spans, address)
    gone: tuple[str, ...] = ()
    if at.upper is not None:
        text = inserted(spans, at.upper, at.shape, at.keys, answer)
    else:
        assert at.item is not None
        if not at.keys:
            answer = _chosen(spans, at, answer)
            _refuse_a_thing(spans, at, answer)
        gone = _carried(spans, at.item, job.find(address) if not at.keys else None)
        text = replaced(spans, at.item, nested(at.keys, answer, at.item.in_braces))
    return Put(_was(spans, at), answer.in_yaml(False), gone, text)


def _spans(source: Source) -> Spans:
    try:
        return Spans(source.name, source.text)
    except yaml.YAMLError:
        slips = tuple(f for f in source.findings if f.level is Level.ERROR)
        raise Refused("the file has slips that must be mended first", "", slips) from None


def _was(spans: Spans, at: Aim) -> str:
    if at.item is not None:
        return spans.written(at.item.value) or "nothing"
    node = at.node
    if node is None:
        return "not written"
    if node.origin in ("", "its heading"):
        return f"{node.written} from its heading" if node.written else "not written"
    source = node.through or node.model or node.origin
    return f"{node.written or 'a map'} by {source} ({node.place})"


def _chosen(spans: Spans, at: Aim, answer: Answer) -> Answer:
    """The facts of a choice in place of its name."""
    node, item = at.node, at.item
    choices = node.state.choices if node is not None and node.state is not None else ()
    if item is None or answer.state or answer.text not in choices:
        return answer
    either = next(i.value for i in item.value.items if i.key == "either")
    value = next(i.value for i in either.items if i.key == answer.text)
    return Answer(spans.written(value), as_typed=True)


def _carried(spans: Spans, item: Item, node: Node | None) -> tuple[str, ...]:
    """What a state says besides its own word."""
    if node is None or node.state is None or item.value.form != "map":
        return ()
    return tuple(
        f"{entry.key}: {spans.written(entry.value)}"
        for entry in item.value.items
        if entry.key != node.state.kind
    )


def _refuse_a_thing(spans: Spans, at: Aim, answer: Answer) -> None:
    """A thing with all its facts on lines of their own is not thrown away for one answer."""
    node, item = at.node, at.item
    if node is None or item is None or node.state is not None or item.value.form != "map":
        return
    if "\n" in spans.text[item.value.start : item.value.end]:
        raise Refused(
            f"`{node.address}` has facts of its own on several lines ({node.place})",
            f"answer one of them, for example {node.address}.{item.value.items[0].key}, or take "
            "them out in the file first",
        )


def _refuse_errors(before: Job, after: Job, address: str) -> None:
    """Refuse an edit that adds an error of reading, of the schema or of links."""
    known = Counter(_key(f) for f in _errors(before))
    new = Counter(_key(f) for f in _errors(after))
    wrong = [
        finding
        for finding in _errors(after)
        if new[_key(finding)] > known[_key(finding)] or finding.address == address
    ]
    if wrong:
        said = {f.message for f in _errors(before)}
        fresh = [f for f in wrong if f.message not in said or f.address == address]
        raise Refused("the answer was not written", "", tuple(fresh or wrong))


def _errors(job: Job) -> Iterable[Finding]:
    return (f for f in job.findings if f.level is Level.ERROR)


def _key(finding: Finding) -> tuple[str, str]:
    return finding.rule, finding.address
