"""The fingerprint of a document or a section: SHA-256 of its blocks in canonical JSON."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import is_dataclass
from typing import Any

from spec.compose.blocks import Block, Facts, Table

OF_THE_REVISION = frozenset(
    {"job.revision.mark", "job.revision.date", "job.revision.reason", "job.marks"}
)
"""What changes with an issue or with any new thing of the job, whatever a document says."""


def fingerprint(blocks: Sequence[Block]) -> str:
    """Four groups of four hexadecimal digits.

    Revision mark, date and the fingerprint itself stand in the head; rows that state nothing but
    the revision are left out. So a change elsewhere in the job leaves it alone.
    """
    text = json.dumps(
        [[type(block).__name__, _without_revision(block)] for block in blocks],
        ensure_ascii=False,
        sort_keys=True,
        separators=(",", ":"),
        default=_plain,
    )
    digest = _digest(text.encode("utf-8"))
    return " ".join(digest[i : i + 4] for i in range(0, 16, 4))


def _digest(content: bytes) -> str:
    import hashlib  # noqa: PLC0415 - checking alone stays quick

    return hashlib.sha256(content).hexdigest()


def _without_revision(block: Block) -> Block:
    if not isinstance(block, Facts | Table):
        return block
    return block._replace(
        rows=tuple(r for r in block.rows if not r.cites or r.cites - OF_THE_REVISION)
    )


def _plain(value: Any) -> Any:
    if isinstance(value, frozenset | set):
        return sorted(value)
    if isinstance(value, bytes):
        return _digest(value)
    if is_dataclass(value):
        return {field: getattr(value, field) for field in value.__dataclass_fields__}
    raise TypeError(f"a {type(value).__name__} has no place in a document")
