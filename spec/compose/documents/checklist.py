"""The lead's checklist: every decision by room and subject, its state, its owner, its due date."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from spec.check.questions import Question, by_person, questions
from spec.compose.blocks import Block, Document, Heading, Paragraph, Row, Table, say
from spec.compose.context import Reader, subject_of
from spec.compose.head import document
from spec.compose.parts.labels import label_of
from spec.compose.parts.schedules import SUBJECT_TITLES
from spec.compose.wording import value_text
from spec.finding import Finding
from spec.job.node import Node
from spec.job.schema import SUBJECTS
from spec.job.stage import stage
from spec.job.trades import thing_of


def checklist(reader: Reader) -> Document:
    """Share done, questions by person, then every decision by subject."""
    blocks = [*_share(reader), *_questions(reader), *_findings(reader), *_decisions(reader)]
    return document(reader.job, "checklist", "lead", "Checklist for the lead", blocks)


def _leaves(reader: Reader) -> list[Node]:
    return [leaf for leaf in reader.job.tree.leaves() if leaf.parent is not None]


def _share(reader: Reader) -> Iterator[Block]:
    counts = Counter(leaf.standing for leaf in _leaves(reader))
    missing = sum(1 for f in reader.findings if f.rule.endswith(".not-decided"))
    done = counts["decided"] + counts["not_applicable"] + counts["dropped"]
    total = sum(counts.values()) + missing
    yield Heading(2, "How far the job is")
    yield Paragraph(
        say(
            f"Stage: {stage(reader.job).replace('_', ' ')}. {done} of {total} decisions are made; "
            f"{counts['open']} are open, {counts['assumed']} assumed, "
            f"{counts['unreadable']} could not be read, {missing} are missing."
        )
    )


def _questions(reader: Reader) -> Iterator[Block]:
    yield Heading(2, "Questions by person")
    asked = by_person(questions(reader.job, reader.findings))
    if not asked:
        yield Paragraph(say("Nobody owes an answer."))
    for person, theirs in asked.items():
        yield Table(
            f"{person.replace('_', ' ').capitalize()} is asked",
            ("Question", "Decision", "By", "In the file"),
            tuple(_question_row(question) for question in theirs),
            (3, 1.5, 0.9, 1.2),
        )


def _question_row(question: Question) -> Row:
    waits = f" (waits for {', '.join(question.waits_for)})" if question.waits_for else ""
    place = f"{question.place.line}:{question.place.column}"
    return Row((question.words + waits, question.address, question.due, place))


def _findings(reader: Reader) -> Iterator[Block]:
    said = [f for f in reader.findings if not f.rule.endswith(".not-decided")]
    if not said:
        return
    yield Heading(2, "Findings")
    yield Table(
        "What the job contradicts, and what was accepted",
        ("Level", "Where", "What", "What puts it right"),
        tuple(_finding_row(finding) for finding in said),
        (0.7, 1.2, 3, 2.4),
    )


def _finding_row(finding: Finding) -> Row:
    level = str(finding.level)
    if finding.waived is not None:
        level = f"waived by {finding.waived.who}"
    where = f"{finding.address}\n{finding.place.line}:{finding.place.column}"
    return Row((level, where, f"{finding.message} [{finding.rule}]", finding.cure))


def _decisions(reader: Reader) -> Iterator[Block]:
    by_subject: dict[str, list[Node]] = {}
    for leaf in _leaves(reader):
        by_subject.setdefault(subject_of(thing_of(leaf)), []).append(leaf)
    for subject in SUBJECTS:
        leaves = by_subject.get(subject, [])
        if not leaves:
            continue
        yield Heading(2, SUBJECT_TITLES[subject])
        yield Table(
            SUBJECT_TITLES[subject],
            ("Decision", "What", "Value", "State", "For"),
            tuple(_decision_row(reader, leaf) for leaf in leaves),
            (1.5, 1.6, 2, 0.8, 1.2),
        )


def _decision_row(reader: Reader, leaf: Node) -> Row:
    return Row(
        (
            leaf.address,
            label_of(thing_of(leaf), leaf),
            value_text(reader.job, leaf),
            leaf.standing.replace("_", " "),
            ", ".join(reader.trades_of(leaf)) or leaf.decision.decides,
        )
    )
