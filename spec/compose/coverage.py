"""Which document states which decision, and what is stated to nobody who needs it."""

from __future__ import annotations

from collections.abc import Iterator

from spec.compose.context import Reader
from spec.compose.parts.labels import label_of
from spec.finding import Finding, Level
from spec.job.trades import thing_of


def unstated(reader: Reader, cites: frozenset[str]) -> Iterator[Finding]:
    """Decisions that the reader's document should state and does not, as notes.

    A figure that is printed does not state the decisions from which it was worked out.
    """
    for leaf in reader.leaves:
        if leaf.key in ("is", "like") or leaf.address in cites:
            continue
        who = f"the {reader.trade} order" if reader.trade else "the spec book"
        yield Finding(
            "documents.not-stated",
            Level.NOTE,
            f"{label_of(thing_of(leaf), leaf)} is stated nowhere in {who}",
            "this is a gap of the documents, not of the job: report it",
            (leaf.spot,),
            (reader.trade,) if reader.trade else (),
        )
