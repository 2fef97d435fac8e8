"""A folder replaced as a whole: written beside the old one, then two renames.

At every instant either the old folder or the new one stands whole; `recover` puts right what a
run left that was stopped between the two renames.
"""

from __future__ import annotations

import errno
import json
import os
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

ABOUT = "packet.json"
WHAT = "scantling packet"
Say = Callable[[str], None]


class PacketError(Exception):
    """The packet cannot be written: what is wrong, and what would put it right."""

    def __init__(self, message: str, cure: str) -> None:
        super().__init__(f"{message} {cure}")
        self.message, self.cure = message, cure


def about_packet(folder: Path) -> dict[str, Any] | None:
    """What a packet that this program wrote says about itself; None for any other folder."""
    try:
        about = json.loads((folder / ABOUT).read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        return None
    if not isinstance(about, dict) or about.get("what") != WHAT:
        return None
    return about if isinstance(about.get("files"), dict) else None


def is_packet(folder: Path) -> bool:
    """Whether a folder is a packet that this program wrote."""
    return about_packet(folder) is not None


def check_target(out: Path) -> None:
    """Raise `PacketError` where a packet must not or cannot be written."""
    if out.exists() and not out.is_dir():
        raise PacketError(
            f"{out} is a file; the packet is a folder.",
            "Name another folder, or move that file away.",
        )
    if out.exists():
        if any(out.iterdir()) and not is_packet(out):
            raise PacketError(
                f"The folder {out} holds files and is no packet of this program.",
                "Name a new or an empty folder; nothing in that one was touched.",
            )
        if not os.access(out, os.W_OK | os.X_OK):
            raise _read_only(out)


@contextmanager
def replacing(out: Path, say: Say) -> Iterator[tuple[Path, list[str]]]:
    """A new folder to write into, and notes; it takes the place of `out` when the block ends well.

    When the block raises, what stood at `out` stands there as before. `out` itself is read only
    inside the block.
    """
    new, old = _beside(out)
    with plain_errors(out):
        out.parent.mkdir(parents=True, exist_ok=True)
        notes = recover(out)
        check_target(out)
        new.mkdir()
        lock = _lock(new)
        try:
            yield new, notes
            _settle(new)
            say("all files are on disk")
            _exchange(out, new, old, say)
        except BaseException:
            shutil.rmtree(new, ignore_errors=True)
            raise
        finally:
            if lock is not None:
                os.close(lock)
        shutil.rmtree(old, ignore_errors=True)
        say("done")


def recover(out: Path) -> list[str]:
    """Clear what a stopped run left beside `out`; what was done, in words."""
    new, old = _beside(out)
    notes = []
    if new.exists():
        lock = _lock(new)
        if lock is not None:
            os.close(lock)
    if old.exists():
        if is_packet(out):
            notes.append("An earlier run was stopped at its very end; what it left was cleared.")
            shutil.rmtree(old)
        elif not out.exists() or (out.is_dir() and not any(out.iterdir())):
            if out.exists():
                out.rmdir()
            old.rename(out)
            notes.append(
                "An earlier run was stopped while it exchanged the packets; "
                "the packet from before it was put back."
            )
    if new.exists():
        notes.append("An earlier run was stopped while it wrote; what it left was cleared.")
        shutil.rmtree(new)
    return notes


@contextmanager
def plain_errors(out: Path) -> Iterator[None]:
    """Turn what the operating system refuses into `PacketError`."""
    try:
        yield
    except OSError as error:
        if error.errno in (errno.ENOSPC, errno.EDQUOT):
            raise PacketError(
                f"The disk is full: the packet was not written to {out}.",
                "Make room, or name a folder on another disk; an earlier packet is as it was.",
            ) from error
        if error.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
            raise _read_only(out) from error
        raise PacketError(
            f"The packet cannot be written to {out}: {error.strerror or error}.",
            "Name another folder; an earlier packet is as it was.",
        ) from error


def write_file(path: Path, content: bytes) -> None:
    """Write a new file, and the folders that it lies in."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("xb") as file:
        file.write(content)


def _beside(out: Path) -> tuple[Path, Path]:
    if not out.name:
        raise PacketError(f"{out} cannot be a packet's folder.", "Name a folder inside it.")
    return out.with_name(f".{out.name}.new-packet"), out.with_name(f".{out.name}.old-packet")


def _exchange(out: Path, new: Path, old: Path, say: Say) -> None:
    aside = False
    try:
        if out.exists() and not any(out.iterdir()):
            out.rmdir()
        elif out.exists():
            out.rename(old)
            aside = True
            say("the earlier packet is set aside")
        new.rename(out)
    except BaseException:
        if aside and not out.exists():
            old.rename(out)
        raise
    _sync_folder(out.parent)
    say("the new packet is in place")


def _settle(folder: Path) -> None:
    """See all files and folders onto the disk, at the end: one by one costs far more."""
    for at, _, files in os.walk(folder, topdown=False):
        for name in files:
            if not (Path(at) / name).is_symlink():
                _sync(Path(at) / name)
        _sync_folder(Path(at))
    _sync_folder(folder.parent)


def _sync_folder(folder: Path) -> None:
    if os.name == "posix":
        _sync(folder)


def _sync(path: Path) -> None:
    handle = os.open(path, os.O_RDONLY if os.name == "posix" else os.O_RDWR)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _lock(folder: Path) -> int | None:
    """Hold the folder for this run; another run that holds it is an error."""
    try:
        import fcntl
    except ImportError:
        return None
    handle = os.open(folder, os.O_RDONLY)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError as error:
        os.close(handle)
        raise PacketError(
            "Another run is writing this packet just now.", "Wait until it is done."
        ) from error
    except OSError:
        with suppress(OSError):
            os.close(handle)
        return None
    return handle


def _read_only(out: Path) -> PacketError:
    return PacketError(
        f"The packet cannot be written to {out}: you may not write there.",
        "Name a folder of your own, or ask for the right to write; nothing was changed.",
    )
