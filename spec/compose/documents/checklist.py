"""The lead's checklist: every decision by room and subject, its state, its owner, its due date."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from spec.check.questions import Question, by_person, questions
from spec.compose.blocks import Block, Document, Heading, Paragraph, Row, Table, say
from spec.compose.context import Reader
from spec.compose.head import document
from spec.compose.parts.labels import called, label_of
from spec.compose.parts.progress import MISSING, decisions, progress, room_title
from spec.compose.parts.schedules import SUBJECT_TITLES
from spec.compose.wording import value_text
from spec.finding import Finding
from spec.job.node import Node
from spec.job.schema import TRADES
from spec.job.trades import thing_of

_UNDECIDED = ("open", "assumed", "unreadable")


def checklist(reader: Reader) -> Document:
    """Share done, questions by person, findings, then every decision by room and subject."""
    blocks = [*progress(reader), *_questions(reader), *_findings(reader), *_decisions(reader)]
    return document(reader.job, "checklist", "lead", "Checklist for the lead", blocks)


def question_lists(reader: Reader) -> Iterator[Document]:
    """For each person who owes an answer, the list to send."""
    for person, theirs in by_person(questions(reader.facts, reader.findings)).items():
        name = person.replace("_", " ")
        blocks: list[Block] = [
            Paragraph(say(f"What the job needs from {name}, by the day on which it is needed.")),
            _asked(reader, f"Questions for {name}", sorted(theirs, key=_by_day)),
        ]
        title = f"Questions for {name}"
        yield document(reader.job, f"questions-{person}", "lead", title, blocks)


def decisions_table(reader: Reader) -> Table:
    """Every decision, and every question, one to a row: for a spreadsheet."""
    asked = {q.address: q for q in questions(reader.facts, reader.findings)}
    rows = [
        Row(
            (
                room_title(room),
                SUBJECT_TITLES[subject],
                leaf.address,
                label_of(thing_of(leaf), leaf),
                value_text(reader.job, leaf),
                leaf.standing.replace("_", " "),
                *_asked_cells(asked.pop(leaf.address, None), leaf.decision.decides),
                ", ".join(reader.trades_of(leaf)),
                f"{leaf.place.file}:{leaf.place.line}",
            )
        )
        for (room, subject), leaves in decisions(reader).items()
        for leaf in leaves
    ]
    for question in asked.values():
        node = reader.job.find(question.address)
        state = node.standing if node is not None else "missing"
        place = f"{question.place.file}:{question.place.line}"
        cells = ("", "", question.address, question.words, "", state)
        rows.append(Row((*cells, *_asked_cells(question, question.person), "", place)))
    head = ("room", "subject", "address", "what", "value", "state")
    more = ("who decides", "due", "last day", "then waits", "end moves after")
    return Table("Decisions", (*head, *more, "for trades", "in the file"), tuple(rows))


def _asked_cells(question: Question | None, decides: str) -> tuple[str, str, str, str, str]:
    if question is None:
        return decides, "", "", "", ""
    return question.person, question.due, question.last, question.holds, question.latest


def _questions(reader: Reader) -> Iterator[Block]:
    yield Heading(2, "Questions by person")
    asked = by_person(questions(reader.facts, reader.findings))
    if not asked:
        yield Paragraph(say("Nobody owes an answer."))
    for person, theirs in asked.items():
        name = person.replace("_", " ")
        yield _asked(reader, f"{name[:1].upper()}{name[1:]} is asked", theirs)


def _by_day(question: Question) -> tuple[str, str]:
    return question.by or "9", question.address


def _asked(reader: Reader, caption: str, asked: Iterable[Question]) -> Table:
    """Held rows are overdue, or past the day on which a trade should have ordered."""
    today = reader.job.day.isoformat() if reader.job.day else ""
    rows = [
        Row(
            (
                q.words + (f" (waits for {', '.join(q.waits_for)})" if q.waits_for else ""),
                q.address,
                f"{q.due} OVERDUE" if q.due and q.due < today else q.due,
                _then(q),
                f"{q.place.line}:{q.place.column}",
            ),
            tone="held" if q.by and q.by < today else "plain",
        )
        for q in asked
    ]
    columns = ("Question", "Decision", "Due", "Last day, and who waits then", "In the file")
    return Table(caption, columns, tuple(rows), (3, 1.5, 0.9, 1.3, 0.7))


def _then(question: Question) -> str:
    """`2026-11-17 millwork`, and the day after which the end of the job moves, if that is later."""
    words = f"{question.last} {question.holds}".strip()
    if question.latest <= question.last:
        return words
    return f"{words}\nthe end moves after {question.latest}"


def _findings(reader: Reader) -> Iterator[Block]:
    said = [f for f in reader.findings if not f.rule.endswith(MISSING)]
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
    """A row for every thing with what is decided of it, and one for each of its open decisions."""
    room_before = None
    for (room, subject), leaves in decisions(reader).items():
        if not leaves:
            continue
        if room != room_before:
            yield Heading(2, room_title(room))
        room_before = room
        by_thing: dict[str, list[Node]] = {}
        for leaf in leaves:
            by_thing.setdefault(thing_of(leaf).address, []).append(leaf)
        yield Table(
            f"{room_title(room)}: {SUBJECT_TITLES[subject].lower()}",
            ("What", "Decisions", "State", "Who needs it"),
            tuple(row for facts in by_thing.values() for row in _thing_rows(reader, facts)),
            (1.2, 4.2, 0.9, 1.2),
        )


def _thing_rows(reader: Reader, facts: list[Node]) -> Iterator[Row]:
    thing = thing_of(facts[0])
    name = called(reader.job, thing.address)
    fixed = [leaf for leaf in facts if leaf.standing not in _UNDECIDED]
    if fixed:
        said = (f"{label_of(thing, f)}: {value_text(reader.job, f)}".rstrip(": ") for f in fixed)
        yield Row((name, "; ".join(said), "decided", _whose(reader, fixed)))
    for leaf in facts:
        if leaf.standing in _UNDECIDED:
            words = f"{label_of(thing, leaf)}: {value_text(reader.job, leaf)}"
            who = _whose(reader, [leaf]) or leaf.decision.decides
            yield Row((name, words, leaf.standing, who), tone="held")


def _whose(reader: Reader, leaves: Iterable[Node]) -> str:
    trades = dict.fromkeys(trade for leaf in leaves for trade in reader.trades_of(leaf))
    return "every trade" if len(trades) > len(TRADES) // 2 else ", ".join(trades)
