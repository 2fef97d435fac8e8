"""A document as plain data, the same for every template; no markup of any format in it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime
from typing import Any, assert_never

from spec.compose.blocks import (
    Block,
    Bullets,
    Code,
    Document,
    Facts,
    Formula,
    Head,
    Heading,
    Initials,
    PageBreak,
    Paragraph,
    Photo,
    Picture,
    Sentence,
    SignaturePanel,
    Table,
)
from spec.compose.formula import lines, spoken
from spec.derive.notation import NotationError, Words, parse
from spec.render.svg import Drawing

Draw = Callable[[Picture | Photo], Drawing]
Data = dict[str, Any]


def plain(document: Document, draw: Draw) -> Data:
    """Head and blocks as JSON data; headings skip no level, rows have a cell for each column."""
    language, _, region = document.language.partition("-")
    return {
        "title": document.title,
        "lang": language.lower() or "en",
        "region": region.upper() or None,
        "paper": "a4" if document.paper == "a4" else "us-letter",
        "head": {
            "job": document.head.job,
            "title": document.head.title,
            "revision": document.head.revision,
            "issue": _issue(document.head),
            "day": document.head.day,
            "fingerprint": document.head.fingerprint,
            "held": list(document.head.held),
        },
        "blocks": list(_blocks(document.blocks, draw)),
    }


def noon(day: str) -> datetime:
    """The instant that stands for a day in time stamps; the job's day is the only clock.

    A job without a day gets the first one that every file format knows.

    >>> noon("2026-05-04").isoformat(), noon("no date").isoformat()
    ('2026-05-04T12:00:00+00:00', '1980-01-01T12:00:00+00:00')
    """
    try:
        at = date.fromisoformat(day)
    except ValueError:
        at = date(1980, 1, 1)
    return datetime(at.year, at.month, at.day, 12, tzinfo=UTC)


def _issue(head: Head) -> str:
    if not head.day:
        return head.revision
    return f"Revision {head.revision} of {head.day}" if head.revision else f"No mark, {head.day}"


def _blocks(blocks: tuple[Block, ...], draw: Draw) -> Iterator[Data]:
    level = 0
    for block in blocks:
        if isinstance(block, Heading):
            level = min(block.level, level + 1)
            yield {**_block(block, draw), "level": level}
        else:
            yield _block(block, draw)


def _block(block: Block, draw: Draw) -> Data:
    match block:
        case Heading():
            return {
                "kind": "heading",
                "level": block.level,
                "text": block.text,
                "anchor": block.anchor,
            }
        case Paragraph():
            return {"kind": "paragraph", "tone": block.tone, "sentence": _runs(block.sentence)}
        case Bullets():
            items = [_runs(item) for item in block.items]
            return {"kind": "bullets", "marks": block.marks, "items": items}
        case Table():
            return _table(block)
        case Facts():
            rows = [{"cells": list(row.cells), "tone": row.tone} for row in block.rows]
            return {"kind": "facts", "title": block.title, "rows": rows}
        case Formula():
            return _formula(block)
        case Code():
            return {"kind": "code", "text": block.text}
        case Picture() | Photo():
            drawing = draw(block)
            return {
                "kind": "picture",
                "caption": block.caption,
                "alt": block.alt or block.caption or "Picture",
                "svg": drawing.svg,
                "width": drawing.width,
                "height": drawing.height,
            }
        case SignaturePanel():
            return {
                "kind": "signatures",
                "sentence": _runs(block.sentence),
                "signers": list(block.signers),
            }
        case Initials():
            return {
                "kind": "initials",
                "section": block.section,
                "fingerprint": block.fingerprint,
            }
        case PageBreak():
            return {"kind": "break"}
    assert_never(block)


def _runs(sentence: Sentence) -> list[Data]:
    return [
        {"text": run.text, "strong": run.strong, "emphasis": run.emphasis, "link": run.link}
        for run in sentence.runs
    ]


def _formula(block: Formula) -> Data:
    """Lines of a layout (see `spec.compose.formula`) and what they say; or a rule in `words`."""
    try:
        formula = parse(block.text)
    except NotationError:
        return {"kind": "formula", "lines": [], "words": block.text, "alt": "", "remark": ""}
    words = formula.term.text if isinstance(formula.term, Words) else ""
    return {
        "kind": "formula",
        "lines": [] if words else lines(formula.term),
        "words": words,
        "alt": spoken(block.text),
        "remark": formula.remark,
    }


def _table(table: Table) -> Data:
    """Rows as wide as the head; a row that is longer is a mistake of its maker."""
    count = len(table.columns)
    for row in table.rows:
        if len(row.cells) > count:
            raise ValueError(f"a row of “{table.caption}” has more cells than columns: {row.cells}")
    widths = list(table.widths) if len(table.widths) == count else [1.0] * count
    return {
        "kind": "table",
        "caption": table.caption,
        "columns": list(table.columns),
        "widths": widths,
        "right": sorted(table.right),
        "rows": [
            {"cells": [*row.cells, *[""] * (count - len(row.cells))], "tone": row.tone}
            for row in table.rows
        ],
    }
