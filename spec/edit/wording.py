"""An answer as typed on the command line, and as it is written in a job file.

| typed | written |
|---|---|
| `9 ft`, `left`, `Dark tea` | the value, in quotes where YAML would read it otherwise |
| `TBD` | open, decided by whom the schema names |
| `open: client` | `{open: client}` |
| `assumed: 9 ft` | `{assumed: 9 ft}` |
| `not applicable: one storey` | `{not_applicable: one storey}` |
| `{open: client, due: 2026-11-06}`, `[remove, dispose]` | as typed: a map, a list, a whole state |
| `"open: 9 to 5"` | as typed: a text in quotes is a text |
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass

from spec.edit.refused import Refused
from spec.job.states import STATES
from spec.read import Mapping, Scalar, Sequence, Unusable, read_text
from spec.read.report import in_quotes

OPEN = "TBD"
_STATE = re.compile(r"(\w+(?: \w+)?):\s+(.+)", re.DOTALL)
_NEVER_PLAIN = frozenset({OPEN})


@dataclass(frozen=True, slots=True)
class Answer:
    """What is to be written: a text, a text under a state's word, or YAML as it was typed."""

    text: str
    state: str = ""
    as_typed: bool = False

    def in_yaml(self, in_braces: bool) -> str:
        """The answer as it stands behind its key."""
        if self.as_typed:
            return self.text
        if self.state:
            return f"{{{self.state}: {in_yaml(self.text, True)}}}"
        return in_yaml(self.text, in_braces)


def answer_of(typed: str) -> Answer:
    """The answer that was typed. Raises `Refused` where it is none."""
    said = typed.strip()
    if not said:
        raise Refused("the answer is empty", "write the value, or TBD while nobody knows it")
    if said == OPEN:
        return Answer(OPEN, as_typed=True)
    if said[0] in "[{\"'" and said[-1] in "]}\"'":
        return _typed_yaml(said)
    state = _STATE.fullmatch(said)
    word = state[1].replace(" ", "_") if state else ""
    if state and word in STATES:
        return Answer(state[2], word)
    return Answer(said)


def in_yaml(text: str, in_braces: bool = False) -> str:
    """A text as YAML on one line: plain where the reader reads just that, else in quotes."""
    tries = (text, in_quotes(text)) if text not in _NEVER_PLAIN else (in_quotes(text),)
    return next(
        (t for t in tries if _read_back(t, in_braces) == text), json.dumps(text, ensure_ascii=False)
    )


def _read_back(written: str, in_braces: bool) -> str | None:
    """What the reader makes of a text behind a key; None where it stumbles over it."""
    value = f"{{before: 1, x: {written}, after: 1}}" if in_braces else written
    try:
        source = read_text(f"scantling: 1\nx: {value}\nafter: 1\n", "answer")
    except Unusable:
        return None
    node = source.root.get("x")
    if isinstance(node, Mapping) and in_braces:
        node = node.get("x") if len(node.entries) == 3 else None
    plain = isinstance(node, Scalar) and not node.absent and len(source.root.entries) == 3
    return node.text if isinstance(node, Scalar) and plain and not source.findings else None


def _typed_yaml(said: str) -> Answer:
    """A map, a list or a quoted text as it would stand in the file."""
    line = " ".join(said.split("\n"))
    source = read_text(f"scantling: 1\nx: {line}\nafter: 1\n", "the answer")
    wrong = next(iter(source.findings), None)
    if wrong is not None:
        raise Refused(f"the answer cannot be read: {wrong.message}", wrong.cure)
    node = source.root.get("x")
    if len(source.root.entries) != 3 or not isinstance(node, Mapping | Sequence | Scalar):
        raise Refused("the answer is more than one value", "give one map, one list or one text")
    return Answer(line, as_typed=True)
