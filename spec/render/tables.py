"""Tables as CSV (RFC 4180), for spreadsheets."""

from __future__ import annotations

import csv
import io

from spec.compose.blocks import Table


def table_csv(table: Table) -> bytes:
    """Head and rows in UTF-8 with a byte order mark, by which spreadsheets know it."""
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow([_inert(words) for words in table.columns])
    for row in table.rows:
        cells = [*row.cells, *[""] * (len(table.columns) - len(row.cells))]
        writer.writerow([_inert(words) for words in cells])
    return text.getvalue().encode("utf-8-sig")


def _inert(words: str) -> str:
    """A cell that a spreadsheet will not run: a formula's first sign gets an apostrophe before it.

    >>> _inert("=1+1"), _inert("-5 °C"), _inert("@x"), _inert("+x")
    ("'=1+1", '-5 °C', "'@x", "'+x")
    """
    first, second = words[:1], words[1:2]
    formula = first in ("=", "@", "\t", "\r") or (first in ("+", "-") and not _numeric(second))
    return f"'{words}" if first and formula else words


def _numeric(sign: str) -> bool:
    return sign.isdigit() or sign in ("", " ", ".", ",")
