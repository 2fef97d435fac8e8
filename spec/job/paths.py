"""Files that a job names: inside its folder, there, and no larger than they may be."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

from spec.finding import Finding, Level
from spec.job.job import Job
from spec.job.node import Node

LARGEST = 20_000_000
"""Bytes of the largest file that a job may name besides its house standards."""


def named(node: Node) -> tuple[str, ...]:
    """The paths that a leaf names."""
    values = node.value if isinstance(node.value, tuple) else (node.value,)
    return tuple(str(value) for value in values if value is not None)


def inside(folder: Path, name: str) -> Path | None:
    """The file of that name inside the job's folder, or None where it would lie outside.

    A name that no file can have, or a link that leads to itself, lies nowhere.
    """
    path = folder / name
    try:
        within = path.resolve().is_relative_to(folder.resolve())
        path.exists()
    except (OSError, RuntimeError):
        return None
    return path if within else None


def usable(folder: Path, name: str) -> Path | None:
    """The file of that name, where it is inside the folder, can be read and is not too large."""
    path = inside(folder, name)
    if path is None or not path.is_file() or not os.access(path, os.R_OK):
        return None
    return path if path.stat().st_size <= LARGEST else None


def unfound(job: Job, folder: Path) -> Iterator[Finding]:
    """Files that the job names and that are not there, lie outside its folder or are too large.

    The house standards, which are read, are reported where they are read.
    """
    for node in job.tree.walk():
        if node.shape.scalar != "path" or node.address.startswith("house"):
            continue
        for name in named(node):
            path = inside(folder, name)
            if path is None:
                rule, what = "reading.path-outside", f"`{name}` lies outside the job's folder"
            elif not path.is_file():
                rule, what = "reading.no-such-file", f"there is no file `{name}` beside the job"
            elif not os.access(path, os.R_OK):
                rule, what = "reading.no-such-file", f"the file `{name}` may not be read"
            elif path.stat().st_size > LARGEST:
                rule, what = "reading.file-too-large", f"`{name}` is larger than 20 MB"
            else:
                continue
            cure = "name a file that lies beside the job file or in a folder below it"
            yield Finding(rule, Level.ERROR, what, cure, (node.spot,))
