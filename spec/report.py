"""What the command prints: findings, questions, things."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

from spec.check.questions import Question, by_person, questions
from spec.compose.blocks import Row, Table
from spec.finding import Finding, Level
from spec.job.node import Node
from spec.job.stage import stage
from spec.meant import did_you_mean
from spec.pipeline import Checked

_COLORS = {Level.ERROR: "\x1b[31m", Level.WARNING: "\x1b[33m", Level.NOTE: "\x1b[36m"}
_PLAIN = "\x1b[0m"
_SILENCE = ".not-decided"


@dataclass(frozen=True)
class Shown:
    """A checked job with everything that is to be printed of it."""

    checked: Checked
    findings: tuple[Finding, ...]
    so_far: bool

    @cached_property
    def asked(self) -> tuple[Question, ...]:
        """The questions; none of half a file."""
        return () if self.so_far else questions(self.checked.facts, self.findings)

    @cached_property
    def told(self) -> tuple[Finding, ...]:
        """The findings told as such: before anything is ordered a silence is a question."""
        if stage(self.checked.job) not in ("first_visit", "measure"):
            return self.findings
        as_questions = {(q.address, q.place) for q in self.asked}
        return tuple(
            f
            for f in self.findings
            if not (f.rule.endswith(_SILENCE) and (f.address, f.place) in as_questions)
        )

    @property
    def status(self) -> int:
        """Exit status: 1 where an unwaived error is told, else 0."""
        return int(any(f.level is Level.ERROR and f.waived is None for f in self.told))


def finding_text(finding: Finding, color: bool = False) -> str:
    """`file:line:column: level: message [rule]`, its cure, and a line for each other place."""
    level = str(finding.level)
    if color:
        level = f"{_COLORS[finding.level]}{level}{_PLAIN}"
    waived = f" (waived by {finding.waived.who}: {finding.waived.why})" if finding.waived else ""
    lines = [f"{finding.place}: {level}: {finding.message} [{finding.rule}]{waived}"]
    if finding.cure and finding.waived is None:
        lines.append(f"    {finding.cure}")
    lines += [
        f"{spot.place}: note: the other side{': ' if spot.address else ''}{spot.address}"
        for spot in finding.spots[1:]
    ]
    return "\n".join(lines)


def findings_text(shown: Shown, color: bool = False) -> str:
    """Slips of writing, then findings in the order of the file, questions by person, sums.

    What was typed otherwise than it was meant comes first and apart: it may be the cause of much
    that follows. At the first visit silences are questions, not findings: they are printed as
    such only.
    """
    slips = shown.checked.source.findings
    lines = [finding_text(f, color) for f in slips]
    others = [finding_text(f, color) for f in shown.told if f not in slips]
    if slips and others:
        lines += ["", "What else is to be said, once these are mended:"]
    lines += others
    lines += question_lines(shown.asked)
    lines.append(_sums(shown))
    return "\n".join(lines)


def question_lines(asked: Iterable[Question]) -> Iterator[str]:
    """The questions in groups by the person to whom they are put, each with its place."""
    for person, theirs in by_person(asked).items():
        yield ""
        yield f"Questions for {person.replace('_', ' ')}:"
        for question in theirs:
            yield f"  {question.place}: {question.words}{_by_when(question)} [{question.address}]"


def _by_when(question: Question) -> str:
    due = [f"by {question.due}"] if question.due else []
    if question.last:
        due.append(f"{question.holds} waits after {question.last}")
    return f" ({'; '.join(due)})" if due else ""


def _sums(shown: Shown) -> str:
    counts = Counter(str(f.level) for f in shown.told if f.waived is None)
    waived = sum(1 for f in shown.told if f.waived is not None)
    parts = [_number(counts[str(level)], str(level)) for level in Level]
    if waived:
        parts.append(f"{waived} waived")
    if not shown.so_far:
        parts.append(_number(len(shown.asked), "question"))
    job = shown.checked.job
    now = stage(job).replace("_", " ")
    day = f" on {job.day.isoformat()}" if job.day else ""
    return f"\n{job.name}, stage {now}{day}: " + ", ".join(parts)


def _number(count: int, word: str) -> str:
    return f"{count or 'no'} {word}{'' if count == 1 else 's'}"


def _finding_map(finding: Finding) -> dict[str, Any]:
    found: dict[str, Any] = {
        "rule": finding.rule,
        "level": str(finding.level),
        "message": finding.message,
        "cure": finding.cure,
        "trades": list(finding.trades),
        "places": [
            {
                "address": spot.address,
                "file": spot.place.file,
                "line": spot.place.line,
                "column": spot.place.column,
            }
            for spot in finding.spots
        ],
    }
    if finding.waived is not None:
        found["waived"] = {
            "who": finding.waived.who,
            "when": finding.waived.when,
            "why": finding.waived.why,
            "until": finding.waived.until,
        }
    return found


def findings_map(shown: Shown) -> dict[str, Any]:
    """Findings and questions of one job, as plain data."""
    return {
        "job": shown.checked.job.name,
        "usable": True,
        "stage": stage(shown.checked.job),
        "findings": [_finding_map(finding) for finding in shown.findings],
        "questions": [
            {
                "question": q.words,
                "address": q.address,
                "person": q.person,
                "due": q.due,
                "last_day": q.last,
                "latest_day": q.latest,
                "holds": q.holds,
                "file": q.place.file,
                "line": q.place.line,
                "column": q.place.column,
            }
            for q in shown.asked
        ],
    }


def unusable_map(job: str, finding: Finding) -> dict[str, Any]:
    """A file of which nothing can be used, in the same form."""
    found = [_finding_map(finding)]
    return {"job": job, "usable": False, "stage": "", "findings": found, "questions": []}


def as_json(value: Any) -> str:
    """Plain data for a machine."""
    return json.dumps(value, ensure_ascii=False, indent=1)


def findings_json(shown: Shown) -> str:
    """Findings and questions for a machine."""
    return as_json(findings_map(shown))


def findings_table(shown: Shown) -> Table:
    """The findings as a table, for a spreadsheet."""
    rows = tuple(
        Row(
            (
                str(f.level),
                f.rule,
                f.address,
                str(f.place),
                f.message,
                f.cure,
                ", ".join(f.trades),
                f.waived.who if f.waived is not None else "",
            )
        )
        for f in shown.findings
    )
    head = ("level", "rule", "address", "place", "message", "cure", "trades", "waived by")
    return Table("Findings", head, rows)


def summary(shown: Shown, out: Path, color: bool = False) -> str:
    """The errors that hold orders, what was compiled and where to look."""
    errors = (f for f in shown.told if f.level is Level.ERROR and f.waived is None)
    lines = [finding_text(f, color) for f in errors]
    lines += [_sums(shown).strip(), f"packet: open {out / 'index.html'}"]
    return "\n".join(lines)


def shown_thing(checked: Checked, address: str) -> str | None:
    """A thing or decision in full, each value with its origin; None where there is none."""
    from spec.compose.context import Reader  # noqa: PLC0415
    from spec.compose.parts.places import located  # noqa: PLC0415

    node = checked.job.find(address)
    if node is None:
        return None
    lines = [f"{node.address}  ({node.kind or node.title}, {node.key_place})"]
    if node.shape.description:
        lines.append(f"    {node.shape.description}")
    place = located(Reader(checked.facts, ()), node)
    if place is not None:
        lines.append(f"    where: {place[0]}")
    lines += [_leaf_line(checked, node, leaf) for leaf in node.leaves()]
    lines += _figure_lines(checked, node)
    used = [n.address for n in checked.job.tree.walk() if _names(n, node)]
    if used:
        lines += ["named by:", *(f"  {address}" for address in used)]
    return "\n".join(lines)


def _names(node: Node, thing: Node) -> bool:
    """Whether a leaf that names things names this one."""
    if not (node.shape.refers or node.shape.item.refers) or not thing.container:
        return False
    return thing.key in (node.value if isinstance(node.value, tuple) else (node.value,))


def _figure_lines(checked: Checked, node: Node) -> list[str]:
    from spec.compose.wording import figure_text  # noqa: PLC0415

    lines = []
    for figure in checked.facts.figures.all():
        if figure.thing != node.address:
            continue
        made = figure.definition
        if figure.value is None:
            said = f"waits for {', '.join(sorted(figure.waits_for)) or figure.refused}"
        else:
            said = figure_text(checked.job, figure.value, made.dimension)
        lines.append(f"  {made.title}: {said}   [{made.formula}; {made.source}]")
    return ["follows from it:", *lines] if lines else []


def _leaf_line(checked: Checked, top: Node, leaf: Node) -> str:
    from spec.compose.wording import value_text  # noqa: PLC0415

    origin = {"": "written here", "override": "override of the house"}.get(leaf.origin, leaf.origin)
    path = leaf.address.removeprefix(top.prefix) if leaf is not top else leaf.key
    return f"  {path}: {value_text(checked.job, leaf)}   [{origin}, {leaf.place}]"


def close_names(name: str, known: Iterable[str]) -> str:
    """`; did you mean ...?` where one of the known names is much like this."""
    names = list(known)
    alike = [n for n in names if n.lower() == name.lower()]
    alike += [n for n in names if n.endswith(f".{name}")]
    return did_you_mean(name, names, before=alike)


def addresses(checked: Checked) -> Iterator[str]:
    """Every address of a job and its house standards."""
    for tree in (checked.job.tree, checked.job.house):
        if tree is not None:
            yield from (node.address for node in tree.walk() if node.address)
