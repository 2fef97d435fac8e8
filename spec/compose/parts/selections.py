"""What the client still decides: the question, the choices, the day, what waits for it."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.questions import questions
from spec.compose.blocks import Block, Paragraph, Row, Table, say
from spec.compose.context import Reader


def decisions_of_client(reader: Reader) -> Iterator[Block]:
    """The client's open decisions in the order of their due dates."""
    asked = [q for q in questions(reader.job, reader.findings) if q.person == "client"]
    if not asked:
        yield Paragraph(say("Nothing is left for you to decide."))
        return
    rows = [
        Row((q.words, q.due or "soon", ", ".join(q.waits_for)), frozenset({q.address}))
        for q in sorted(asked, key=lambda q: (q.due or "9", q.address))
    ]
    yield Table(
        "Your decisions", ("Question", "Please answer by", "Waits for"), tuple(rows), (3, 1, 1)
    )
