"""What people put into a packet or changed in it by hand, kept when a new one takes its place."""

from __future__ import annotations

import hashlib
import os
import shutil
from collections.abc import Iterator
from pathlib import Path

from spec.render.names import safe_name
from spec.render.swap import ABOUT, about_packet

KEPT = "kept"
_LITTER = frozenset({".DS_Store", "Thumbs.db", "desktop.ini"})


def digest(content: bytes) -> str:
    """SHA-256 in hexadecimal."""
    return hashlib.sha256(content).hexdigest()


def carry_over(old: Path, new: Path) -> list[str]:
    """Copy added files to the same place and changed ones into kept/; say so, a line for each.

    Changed files keep the earlier revision and day in their path. Nothing in `new` is replaced.
    """
    about = about_packet(old)
    if about is None:
        return []
    written: dict[str, str] = about["files"]
    earlier = safe_name(f"{about.get('revision', '')}-{about.get('day', '')}")
    notes = []
    for path in _files(old):
        source = old / path
        if path in written:
            if not source.is_symlink() and digest(source.read_bytes()) == written[path]:
                continue
            target = _free(new / KEPT / earlier / path)
            notes.append(
                f"{path} was changed by hand; the changed copy is kept as "
                f"{target.relative_to(new).as_posix()}."
            )
        else:
            target = _free(new / path)
            if target != new / path:
                notes.append(f"{path} is kept as {target.relative_to(new).as_posix()}.")
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copy2(source, target, follow_symlinks=False)
    return notes


def _files(folder: Path) -> Iterator[str]:
    for at, folders, files in os.walk(folder):
        linked = [name for name in folders if (Path(at) / name).is_symlink()]
        folders[:] = sorted(set(folders) - set(linked))
        for name in sorted([*files, *linked]):
            path = (Path(at) / name).relative_to(folder).as_posix()
            if name not in _LITTER and path != ABOUT:
                yield path


def _free(path: Path) -> Path:
    number, free = 1, path
    while free.exists() or free.is_symlink():
        number += 1
        free = path.with_name(f"{path.stem}-{number}{path.suffix}")
    return free
