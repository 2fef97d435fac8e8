"""The packet: every document in its formats, an index, a list of files; replaced as a whole."""

from __future__ import annotations

import json
import os
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any
from urllib.parse import quote

from spec.compose.blocks import Document, Format
from spec.render import fonts
from spec.render.keep import carry_over, digest
from spec.render.names import distinct, safe_name, safe_path
from spec.render.swap import (
    ABOUT,
    WHAT,
    PacketError,
    Say,
    plain_errors,
    recover,
    replacing,
    write_file,
)

if TYPE_CHECKING:
    from spec.render.press import Press

__all__ = ["PacketError", "PacketInfo", "PacketReport", "write_packet"]

INDEX = "index.html"
_WORDS: dict[Format, str] = {"html": "web page", "pdf": "PDF", "docx": "DOCX"}


@dataclass(frozen=True, slots=True)
class PacketInfo:
    """Of which job a packet is; `day` is ISO 8601 (2026-05-04), or says that none is set."""

    title: str
    number: str
    revision: str
    day: str


@dataclass(frozen=True, slots=True)
class PacketReport:
    """What was written: paths in the packet, remarks in words, and characters without a glyph."""

    folder: Path
    files: tuple[str, ...]
    notes: tuple[str, ...]
    missing: tuple[str, ...]


def put_right(out: Path) -> list[str]:
    """Put back the packet that a stopped run had set aside; what was done, in words."""
    out = Path(os.path.realpath(out))
    with plain_errors(out):
        return recover(out)


def write_packet(
    documents: Sequence[Document],
    extras: Mapping[str, bytes],
    out: Path,
    about: PacketInfo,
    progress: Say | None = None,
    first: Document | None = None,
    before: Sequence[str] = (),
) -> PacketReport:
    """Write all documents and `extras` (path in the packet to content) as the packet `out`.

    Its index lists every document, unless `first` is given to be the index instead. `before` are
    notes on what was put right before there was anything to write.

    The packet that stood there before stays whole until the new one is on disk; files that were
    added to it or changed by hand are carried over. `progress` is told each step in words.
    Raises `PacketError`, and nothing else, for what lies with the folder or the disk.
    """
    say = progress or (lambda _: None)
    printed, missing = fonts.made_printable(tuple(documents))
    opening, missing_at_first = fonts.made_printable(first)
    info, missing_in_info = fonts.made_printable(about)
    lacking = tuple(sorted(missing | missing_in_info | missing_at_first))
    out = Path(os.path.realpath(out))
    files: dict[str, str] = {}
    with plain_errors(out), replacing(out, say) as (new, notes):

        def put(path: str, content: bytes) -> None:
            write_file(new / path, content)
            files[path] = digest(content)
            say(path)

        from spec.render.press import Press

        stems = distinct(f"{safe_name(d.folder)}/{safe_name(d.name)}" for d in printed)
        press = Press()
        for stem, document in zip(stems, printed, strict=True):
            for form, content in press.set(document):
                put(f"{stem}.{form}", content)
        others = distinct(map(safe_path, extras), taken=[*files, INDEX, ABOUT])
        for path, content in zip(others, extras.values(), strict=True):
            put(path, content)
        entries = [_entry(d, stem) for d, stem in zip(printed, stems, strict=True)]
        put(INDEX, _page(opening, press) if opening else _index(info, entries, others))
        write_file(new / ABOUT, _sheet(about, entries, files))
        notes.extend(carry_over(out, new))
    notes[:0] = before
    notes.extend(press.notes)
    notes.extend(_said(character) for character in lacking)
    return PacketReport(out, (*files, ABOUT), tuple(notes), lacking)


def _entry(document: Document, stem: str) -> dict[str, Any]:
    return {
        "title": document.title,
        "folder": stem.partition("/")[0],
        "fingerprint": document.head.fingerprint,
        "held": list(document.head.held),
        "files": {form: f"{stem}.{form}" for form in document.formats},
    }


def _sheet(about: PacketInfo, entries: list[dict[str, Any]], files: dict[str, str]) -> bytes:
    """What a packet says about itself; `files` holds the SHA-256 of each."""
    sheet = {
        "what": WHAT,
        "form": 1,
        "job": {"number": about.number, "title": about.title},
        "revision": about.revision,
        "day": about.day,
        "documents": entries,
        "files": files,
    }
    return (json.dumps(sheet, indent=1, ensure_ascii=False) + "\n").encode()


def _index(info: PacketInfo, entries: list[dict[str, Any]], others: Sequence[str]) -> bytes:
    from spec.render.html import index

    folders: dict[str, list[dict[str, Any]]] = {}
    for entry in entries:
        links = [
            {"href": quote(entry["files"][form]), "words": words}
            for form, words in _WORDS.items()
            if form in entry["files"]
        ]
        folders.setdefault(entry["folder"], []).append({**entry, "links": links})
    return index(
        info,
        [{"title": _title(name), "documents": inside} for name, inside in folders.items()],
        [{"href": quote(path), "words": path} for path in others],
    )


def _page(document: Document, press: Press) -> bytes:
    return next(content for _, content in press.set(document._replace(formats=("html",))))


def _title(folder: str) -> str:
    words = folder.replace("-", " ").replace("_", " ")
    return words[:1].upper() + words[1:]


def _said(character: str) -> str:
    code = f"U+{ord(character):04X}"
    name = unicodedata.name(character, "a character without a name").lower()
    return f"The fonts have no sign for {code} ({name}); it prints as □{code}."
