"""The starter jobs that travel with the program."""

from __future__ import annotations

import shutil
from pathlib import Path

from spec import files
from spec.render.swap import PacketError

DEMO = "garden_store"
"""The starter that `scantling demo` compiles."""


def starter_folders() -> tuple[Path, ...]:
    """The folders of the starter jobs."""
    jobs = files.templates() / "jobs"
    return tuple(sorted(path.parent for path in jobs.glob("*/job.yaml")))


def copy_starters(folder: Path) -> tuple[Path, ...]:
    """Copy every starter into a folder and give the job files; what is there already is kept.

    Raises `PacketError` in words where the folder cannot be written.
    """
    copied: list[Path] = []
    try:
        for starter in starter_folders():
            target = folder / starter.name
            target.mkdir(parents=True, exist_ok=True)
            for file in sorted(starter.iterdir()):
                if file.is_file() and not (target / file.name).exists():
                    shutil.copyfile(file, target / file.name)
            copied.append(target / "job.yaml")
    except OSError as error:
        raise PacketError(
            f"the starter jobs cannot be written to {folder}: {error.strerror or error}",
            "name a folder that can be made and written",
        ) from None
    return tuple(copied)
