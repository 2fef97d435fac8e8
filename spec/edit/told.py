"""What the command says of an answer: what was, what is, and what follows for the questions."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from spec.check.questions import Question, questions
from spec.edit.answer import Answered
from spec.edit.refused import Refused
from spec.finding import Finding, Level
from spec.pipeline import Checked
from spec.report import finding_text, question_lines

_LISTED = 15
_LONGEST = 70


def told(done: Answered, color: bool = False) -> str:
    """The answer with its place, then what is newly said, newly asked and still asked."""
    was, now, gone = done.put.was, done.put.now, done.put.gone
    lines = [f"{done.place}: {done.address} was {_short(was)}; it is now {_short(now)}"]
    if gone:
        lines.append(f"    gone with it: {', '.join(_short(words) for words in gone)}")
    lines += [finding_text(finding, color) for finding in newly_said(done)]
    asked = {q.address for q in _asked(done.before)}
    today = _asked(done.after)
    fresh = [q for q in today if q.address not in asked]
    if fresh:
        lines += ["", "Newly asked:", *_indented(question_lines(fresh))]
    lines += _still([q for q in today if q.address in asked])
    return "\n".join(lines)


def newly_said(done: Answered) -> tuple[Finding, ...]:
    """Errors and warnings that the job had not before the answer."""
    known = {_key(f) for f in done.before.findings}
    return tuple(
        f
        for f in done.after.findings
        if f.level is not Level.NOTE
        and f.waived is None
        and not f.rule.endswith(".not-decided")
        and _key(f) not in known
    )


def refused_text(refused: Refused, color: bool = False) -> str:
    """Why nothing was written, what the edited file would say, and the cure."""
    lines = [finding_text(finding, color) for finding in refused.findings]
    lines.append(f"scantling: {refused.message}{'; ' if refused.cure else ''}{refused.cure}")
    return "\n".join(lines)


def _still(asked: list[Question]) -> Iterator[str]:
    if not asked:
        yield "\nNo other question is open at this stage."
    elif len(asked) > _LISTED:
        yield f"\n{len(asked)} questions are still open; `scantling check` lists them."
    else:
        yield f"\nStill open, {len(asked)}:"
        yield from _indented(question_lines(asked))


def _indented(lines: Iterable[str]) -> Iterator[str]:
    yield from (f"  {line}" for line in lines if line)


def _asked(checked: Checked) -> tuple[Question, ...]:
    return questions(checked.facts, checked.findings)


def _key(finding: Finding) -> tuple[str, str, int]:
    return finding.rule, finding.address, len(finding.spots)


def _short(words: str) -> str:
    line = " ".join(words.split())
    return line if len(line) <= _LONGEST else f"{line[: _LONGEST - 1]}…"
