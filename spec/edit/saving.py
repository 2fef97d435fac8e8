"""A job file on disk: written anew as a whole or not at all, all that was not edited as it was."""

from __future__ import annotations

import os
import re
import tempfile
from contextlib import suppress
from pathlib import Path

from spec.edit.refused import Refused
from spec.read import Source, read_text
from spec.read.text import decode, load

_LINE_END = re.compile(r"\r\n|.", re.DOTALL)
_BY_OWNER = 0o200


def opened(path: Path) -> tuple[bytes, Source]:
    """The bytes of a job file and what was read of them. Raises `spec.read.Unusable`."""
    raw = load(path, str(path))
    return raw, read_text(decode(raw, str(path)), str(path))


def rewritten(raw: bytes, old: str, new: str) -> bytes:
    """The bytes of a file whose text was `old` and is `new`: line ends and byte-order mark kept."""
    text = raw.decode()
    if "\r" not in text:
        mark = "\ufeff" if text.startswith("\ufeff") else ""
        return (mark + new).encode()
    end = "\r\n" if "\r\n" in text else "\r"
    at = [match.start() for match in _LINE_END.finditer(text.removeprefix("\ufeff"))]
    offset = len(text) - len(text.removeprefix("\ufeff"))
    at = [offset + index for index in at] + [len(text)]
    first = _alike(old, new)
    last = _alike(old[first:][::-1], new[first:][::-1])
    middle = new[first : len(new) - last].replace("\n", end)
    return (text[: at[first]] + middle + text[at[len(old) - last] :]).encode()


def _alike(one: str, other: str) -> int:
    """How many characters two texts begin with alike."""
    pairs = zip(one, other, strict=False)
    return next((n for n, (a, b) in enumerate(pairs) if a != b), min(len(one), len(other)))


def save(path: Path, content: bytes) -> None:
    """Put a new file in the place of an old one, with its mode. Raises `Refused`."""
    real = path.resolve()
    try:
        mode = real.stat().st_mode
        if not mode & _BY_OWNER or not os.access(real, os.W_OK):
            raise Refused(f"{path} is write-protected", "allow writing, or work on a copy")
        handle, beside = tempfile.mkstemp(prefix=f".{real.name}.", dir=real.parent)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(content)
                file.flush()
                os.fsync(file.fileno())
            Path(beside).chmod(mode & 0o7777)
            Path(beside).replace(real)
        except BaseException:
            with suppress(OSError):
                Path(beside).unlink()
            raise
    except OSError as error:
        raise Refused(
            f"{path} cannot be written: {error.strerror or error}", "nothing was changed"
        ) from None


def create(path: Path, text: str) -> None:
    """Write a file that is not there yet. Raises `Refused`; never writes over another file."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("xb") as file:
            file.write(text.encode())
    except FileExistsError:
        raise Refused(
            f"{path} is there already", "name another file or folder; nothing was written"
        ) from None
    except OSError as error:
        raise Refused(
            f"{path} cannot be written: {error.strerror or error}",
            "name a folder that can be made and written",
        ) from None
