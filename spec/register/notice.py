"""The notice of a revision for the lead: which papers go out again, what changed, what is done."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from spec.compose import Composed
from spec.compose.blocks import Block, Document, Heading, Paragraph, Row, Table, say
from spec.compose.head import document
from spec.compose.parts.dates import day_words, visit_words
from spec.compose.parts.labels import called
from spec.derive.figure import Facts
from spec.derive.sheets import visits
from spec.job.trades import own_trades, thing_of
from spec.register.changes import Change, Paper, changes, papers


def notice(before: Composed, after: Composed) -> Document:
    """What has changed from one revision to the next."""
    job = after.checked.job
    found = changes(before.checked.job, job)
    going = papers(before, after, found)
    blocks: list[Block] = [Paragraph(say(_between(before, after)))]
    blocks += [*_going_out(going), *_changed(after.checked.facts, before, found, going)]
    return document(job, "changes", "lead", "What has changed", blocks)


def _between(before: Composed, after: Composed) -> str:
    words = [
        f"revision {_mark(composed)} of {composed.checked.job.day or 'no date'}"
        for composed in (before, after)
    ]
    return f"From {words[0]} to {words[1]}."


def _mark(composed: Composed) -> str:
    node = composed.checked.job.find("job.revision.mark")
    return node.written if node is not None and node.written else "without a mark"


def _going_out(going: Sequence[Paper]) -> Iterator[Block]:
    yield Heading(2, "Papers that go out again")
    if not going:
        yield Paragraph(say("None: every paper that was issued is still right."))
        return
    yield Paragraph(
        say(
            "Whoever holds one of these with another fingerprint holds a wrong paper; initials on "
            "it have lapsed. All other papers are still right."
        )
    )
    yield Table(
        "Papers",
        ("For", "Paper", "Is", "Fingerprint", "Because of"),
        tuple(_paper_row(paper) for paper in going),
        (1, 1.4, 0.8, 1.5, 2.4),
    )


def _paper_row(paper: Paper) -> Row:
    print_now = paper.document.head.fingerprint if paper.how != "withdrawn" else ""
    because = ", ".join(change.address for change in paper.changes)
    because = because or "what it says of its neighbors"
    to = paper.document.folder.replace("_", " ")
    return Row((to, paper.document.title, paper.how, print_now, because))


def _changed(
    facts: Facts, before: Composed, found: Sequence[Change], going: Sequence[Paper]
) -> Iterator[Block]:
    yield Heading(2, "What is decided otherwise")
    if not found:
        yield Paragraph(say("Nothing."))
        return
    rows = []
    for change in found:
        known = facts if facts.job.find(change.address) is not None else before.checked.facts
        told = [p.document.folder.replace("_", " ") for p in going if change in p.changes]
        done = list(_done(facts, change))
        cells = (
            f"{called(known.job, change.address)}\n{change.address}",
            change.was or "not there",
            change.now or "taken away",
            ", ".join(dict.fromkeys(told)),
            "\n".join(done),
        )
        rows.append(Row(cells, tone="held" if done else "plain"))
    yield Table(
        "Decisions",
        ("What", "Was", "Is", "Who is told", "Already"),
        tuple(rows),
        (1.7, 1.4, 1.4, 1.1, 1.3),
    )


def _done(facts: Facts, change: Change) -> Iterator[str]:
    """What was ordered for the thing, and which visits of its trades have begun."""
    job, thing, today = facts.job, thing_of(change.node), facts.job.day
    for purchase in visits.purchases_of(job, thing):
        ordered = visits.day_at(purchase, "ordered")
        if ordered is not None:
            yield f"{purchase.key} ordered {day_words(ordered)}"
    for trade in own_trades(job, thing):
        for visit in visits.visits_of(job, trade):
            begun = visits.day_at(visit, "starts")
            if begun is not None and today is not None and begun <= today:
                yield f"{visit_words(visit)} begun {day_words(begun)}"
