"""How far a job is: what is decided, open, not applicable and missing, by room and subject."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from spec.compose.blocks import Block, Heading, Paragraph, Row, Table, say
from spec.compose.context import Reader, subject_of
from spec.compose.parts.schedules import SUBJECT_TITLES
from spec.finding import Finding
from spec.job.job import Job
from spec.job.node import Node
from spec.job.schema import SUBJECTS
from spec.job.stage import stage
from spec.job.trades import thing_of

MISSING = ".not-decided"
_DONE = ("decided", "not_applicable", "dropped")
Where = tuple[str, str]
"""A room (empty: the whole job) and a subject."""


def decisions(reader: Reader) -> dict[Where, list[Node]]:
    """Every decision of the job by room and subject, in the order of the file."""
    rooms = ["", *(room.key for room in reader.job.things("room"))]
    found: dict[Where, list[Node]] = {(r, s): [] for r in rooms for s in SUBJECTS}
    for leaf in reader.job.tree.leaves():
        if leaf.parent is not None:
            thing = thing_of(leaf)
            found.setdefault((thing.room, subject_of(thing)), []).append(leaf)
    return found


def room_title(room: str) -> str:
    """A room as a heading; what stands in none belongs to the whole job."""
    return room.replace("_", " ").capitalize() or "The whole job"


def progress(reader: Reader) -> Iterator[Block]:
    """The share that is done, in one sentence and by room and subject."""
    by_where = {where: Counter(n.standing for n in ns) for where, ns in decisions(reader).items()}
    missing = Counter(_where(reader.job, f) for f in reader.findings if f.rule.endswith(MISSING))
    counts = sum(by_where.values(), Counter[str]())
    done = sum(counts[state] for state in _DONE)
    yield Heading(2, "How far the job is")
    yield Paragraph(
        say(
            f"Stage: {stage(reader.job).replace('_', ' ')}. "
            f"{done} of {counts.total() + missing.total()} decisions are made; "
            f"{counts['open']} are open, {counts['assumed']} assumed, "
            f"{counts['unreadable']} could not be read, {missing.total()} are missing."
        )
    )
    rows = [
        _row(where, by_where.get(where, Counter()), missing[where])
        for where in dict.fromkeys([*by_where, *missing])
        if by_where.get(where) or missing[where]
    ]
    yield Table(
        "Decisions by room and subject",
        ("Room", "Subject", "Decided", "Open", "Not applicable", "Missing", "Done"),
        tuple(rows),
        (1.4, 1.4, 0.8, 0.8, 1, 0.8, 0.7),
        frozenset(range(2, 7)),
    )


def _row(where: Where, counts: Counter[str], missing: int) -> Row:
    room, subject = where
    undecided = counts["open"] + counts["assumed"] + counts["unreadable"]
    without = counts["not_applicable"] + counts["dropped"]
    total = counts.total() + missing
    numbers = (counts["decided"], undecided, without, missing)
    share = f"{(counts['decided'] + without) * 100 // total} %"
    cells = (room_title(room), SUBJECT_TITLES[subject], *(str(n or "") for n in numbers), share)
    return Row(cells, tone="held" if undecided or missing else "plain")


def _where(job: Job, finding: Finding) -> Where:
    address = finding.address
    while address and job.find(address) is None:
        address = address.rpartition(".")[0]
    node = job.find(address) if address else None
    thing = thing_of(node) if node is not None else job.tree
    return thing.room, finding.rule.removesuffix(MISSING)
