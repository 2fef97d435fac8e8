"""From a file to text: what is refused before any YAML is looked at."""

from __future__ import annotations

import re
import stat
from pathlib import Path

from spec.finding import Finding, Place
from spec.read.report import Findings, finding, unusable
from spec.read.tree import Unusable

LARGEST = 5_000_000
"""Bytes; a job of ten rooms has some 200 000."""

_UNSEEN = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u200b\u200e\u200f\u2028-\u202e\u2060\u2066-\u2069\ufeff"
    "\ufffe\uffff\ud800-\udfff]"
)
_IDLE_TAB = re.compile(r"^[ \t]*\t[ \t]*(?=#|$)", re.MULTILINE)
STAND_IN = "\ufffd"
"""Takes the place of a character that a text may not have, so that all places stay true."""


def load(path: Path, name: str) -> bytes:
    """The bytes of the file. Raises Unusable: absent, a folder, not readable, too large."""
    start = Place(name, 1, 1)
    try:
        facts = path.stat()
        if stat.S_ISDIR(facts.st_mode):
            raise unusable(
                "is-a-folder", start, "this is a folder, not a file", "name the file in it"
            )
        if not stat.S_ISREG(facts.st_mode):
            raise unusable(
                "no-ordinary-file",
                start,
                "this is not an ordinary file on a disk",
                "save the job as a file and name that",
            )
        if facts.st_size > LARGEST:
            raise too_large(start, facts.st_size)
        with path.open("rb") as stream:
            raw = stream.read(LARGEST + 1)
    except (FileNotFoundError, NotADirectoryError):
        raise unusable(
            "no-such-file", start, "there is no such file", "check the name and the folder"
        ) from None
    except PermissionError:
        raise unusable(
            "not-allowed",
            start,
            "this file may not be read from this account",
            "ask its owner for leave to read it, or copy it to a folder of your own",
        ) from None
    except (OSError, ValueError) as problem:
        reason = getattr(problem, "strerror", None) or str(problem)
        raise unusable(
            "cannot-be-opened",
            start,
            f"the computer could not read this file ({reason})",
            "check the name, the disk and the connection, then run again",
        ) from None
    if len(raw) > LARGEST:
        raise too_large(start, len(raw))
    return raw


def too_large(start: Place, size: int) -> Unusable:
    """The refusal of a file of that many bytes."""
    return unusable(
        "too-large",
        start,
        f"the file has {size / 1e6:.1f} MB; a job file may have {LARGEST / 1e6:.0f} MB",
        "a job of ten rooms needs a twentieth of that: check that this is a job file",
    )


def decode(raw: bytes, name: str) -> str:
    """UTF-8 bytes as text without a byte-order mark. Raises Unusable at the first bad byte."""
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise unusable(
            "not-utf-8",
            Place(name, 1, 1),
            "the file is saved as UTF-16",
            "save it again with the encoding UTF-8",
        )
    body = raw.removeprefix(b"\xef\xbb\xbf")
    try:
        return body.decode()
    except UnicodeDecodeError as problem:
        before = tidy(body[: problem.start].decode())
        line = before.count("\n") + 1
        column = len(before) - before.rfind("\n")
        raise unusable(
            "not-utf-8",
            Place(name, line, column),
            f"the byte 0x{body[problem.start]:02X} here is not UTF-8 text",
            "save the file again with the encoding UTF-8",
        ) from None


def tidy(text: str) -> str:
    """The text with line feeds for all line ends and without a byte-order mark at its start."""
    return text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")


def unseen(text: str, name: str) -> tuple[str, list[int], list[Finding]]:
    """Takes out what no printed text may have: control characters, invisible ones, half ones.

    Gives the text with a stand-in at each, of the same length, their indices, and a finding
    for each line that has any.
    """
    where = [match.start() for match in _UNSEEN.finditer(text)]
    findings = Findings()
    line, start, last = 0, 0, -1
    for index in where:
        if last < 0 or "\n" in text[last:index]:
            line = text.count("\n", 0, index) if last < 0 else line + text.count("\n", last, index)
            start = text.rfind("\n", 0, index) + 1
            findings.append(
                control_character(Place(name, line + 1, index - start + 1), text[index])
            )
        last = index
    return _UNSEEN.sub(STAND_IN, text) if where else text, where, findings


def without_idle_tabs(text: str) -> str:
    """The text with blanks for the tabs of empty lines and before comments: they mean nothing.

    libyaml stops at some of them.
    """
    return _IDLE_TAB.sub(lambda match: " " * len(match.group()), text) if "\t" in text else text


def control_character(place: Place, character: str) -> Finding:
    """The finding for a character that cannot be printed."""
    return finding(
        "control-character",
        place,
        f"a character here cannot be printed (U+{ord(character):04X})",
        "delete it and type the place anew; it often comes with text copied from a web page",
    )


def has_unseen(text: str) -> str:
    """The first character of the text that cannot be printed, or nothing."""
    match = _UNSEEN.search(text)
    return match.group() if match else ""
