"""A new job on disk: what is wished for, asked on a terminal where it was not said, and written."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

import click

from spec.check.questions import by_person, questions
from spec.edit.answer import answered
from spec.edit.features import COOLED, FEATURES, known
from spec.edit.refused import Refused
from spec.edit.saving import create
from spec.edit.starter import starter
from spec.edit.told import refused_text
from spec.pipeline import check_source
from spec.read import read_text


@dataclass(frozen=True, slots=True)
class Wishes:
    """What a starter is to have; `dialog`: what is known is asked for on the terminal."""

    rooms: tuple[str, ...]
    walls: int
    units: str
    having: tuple[str, ...]
    dialog: bool = False


def file_of(job: Path) -> Path:
    """The job file that is meant by a folder or a file. Raises `Refused` where it is there."""
    path = job if job.suffix in (".yaml", ".yml") else job / "job.yaml"
    if path.exists() or path.is_symlink():
        raise Refused(f"{path} is there already", "name another file or folder")
    return path


def asked_for(job: Path, wishes: Wishes) -> Wishes:
    """The wishes as answered on a terminal. Raises `Refused` as `file_of` does."""
    file_of(job)
    rooms = click.prompt(known("rooms").decision.ask, default=f"wine_room:{COOLED}, tasting_room")
    walls = click.prompt("How many walls has each?", default=wishes.walls, type=int)
    units = known("job", "units")
    choice = click.Choice(units.schema["enum"])
    papers = click.prompt(units.decision.ask, default=wishes.units, type=choice)
    having = click.prompt(f"With which of {', '.join(FEATURES)}?", default="", show_default=False)
    return replace(
        wishes, rooms=_words(rooms), walls=walls, units=papers, having=_words(having), dialog=True
    )


def _words(said: str) -> tuple[str, ...]:
    return tuple(word for part in said.split(",") if (word := part.strip()))


def begin(job: Path, wishes: Wishes, on: date) -> str:
    """Write the starter and say where it is. Raises `Refused`; then nothing was written."""
    path = file_of(job)
    text = starter(
        wishes.rooms, walls=wishes.walls, units=wishes.units, having=wishes.having, on=on
    )
    if wishes.dialog:
        text = _dialog(text, path)
    create(path, text)
    left = len(_open(text, path))
    return (
        f"job file: {path}, with {left} question{'' if left == 1 else 's'} open in it\n"
        f"next: scantling check {path}"
    )


def _open(text: str, path: Path) -> tuple[tuple[str, str], ...]:
    """Words and address of each question that stands open, the lead's first."""
    checked = check_source(read_text(text, str(path)), path.parent)
    asked = by_person(questions(checked.facts, checked.findings))
    return tuple((q.words, q.address) for theirs in asked.values() for q in theirs)


def _dialog(text: str, path: Path) -> str:
    """The text with what could be answered on the spot."""
    click.echo("Answer what you know; an empty line leaves it open.")
    for words, address in _open(text, path):
        while said := click.prompt(words, default="", show_default=False).strip():
            try:
                text = answered(read_text(text, str(path)), path.parent, address, said).text
                break
            except Refused as refused:
                click.echo(refused_text(refused))
    return text
