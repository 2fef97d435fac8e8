"""What stands in the head and foot of every page of a job's documents."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from spec.compose.blocks import Block, Document, Head
from spec.compose.fingerprint import fingerprint
from spec.job.job import Job


def document(
    job: Job,
    name: str,
    folder: str,
    title: str,
    blocks: Sequence[Block],
    held: tuple[str, ...] = (),
) -> Document:
    """A document with its head and fingerprint."""
    fixed = tuple(blocks)
    head = Head(
        job=f"{_text(job, 'job.number')} {_text(job, 'job.title')}".strip() or job.name,
        title=title,
        revision=_text(job, "job.revision.mark"),
        day=job.day.isoformat() if job.day else "no date",
        fingerprint=fingerprint(fixed),
        held=held,
    )
    paper: Literal["letter", "a4"] = "a4" if job.system == "metric" else "letter"
    return Document(name, folder, title, "en", head, fixed, paper=paper)


def _text(job: Job, address: str) -> str:
    node = job.find(address)
    return node.written if node is not None else ""
