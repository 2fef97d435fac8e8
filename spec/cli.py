"""The command: arguments in, exit status out; nothing else."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Callable
from contextlib import suppress
from datetime import date, datetime
from io import TextIOWrapper
from pathlib import Path
from typing import Any, NoReturn, TypeVar

import click

from spec import __version__
from spec.edit.features import FEATURES
from spec.finding import Finding, Level
from spec.read import Unusable
from spec.report import (
    Shown,
    addresses,
    as_json,
    close_names,
    finding_text,
    findings_map,
    findings_text,
    shown_thing,
    summary,
    unusable_map,
)

T = TypeVar("T")

_JOB = click.Path(path_type=Path, readable=False)  # reading says what is wrong, with its cure
_FORMAT = click.option(
    "--format",
    "form",
    type=click.Choice(["text", "json", "sarif"]),
    default="text",
    help="How findings are written; json of several jobs is a list, sarif (2.1.0) one run.",
)
_ON = click.option(
    "--on", type=click.DateTime(["%Y-%m-%d"]), help="The day to look at the job (YYYY-MM-DD)."
)


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, message="scantling %(version)s")
def cli() -> None:
    """Check a wine room's job file and compile it into the orders that people build from."""


@cli.command()
@click.argument("folder", type=click.Path(path_type=Path))
def demo(folder: Path) -> None:
    """Copy the starter jobs into FOLDER and compile the first one into a packet."""
    from spec.starters import DEMO, copy_starters  # noqa: PLC0415

    copied = _or_stop(lambda: copy_starters(folder))
    click.echo(f"starter jobs: {', '.join(str(path) for path in copied)}")
    job = next(path for path in copied if path.parent.name == DEMO)
    _compiled(job, folder / "packet", None)


@cli.command()
@click.argument("job", type=_JOB)
@click.option(
    "--room",
    "rooms",
    multiple=True,
    metavar="NAME[:USE]",
    help="A room, for example wine_room:cooled or den:living; once for each.",
)
@click.option("--walls", type=int, default=4, show_default=True, help="Walls of each room.")
@click.option(
    "--units", type=click.Choice(["imperial", "metric"]), default="imperial", show_default=True
)
@click.option(
    "--with",
    "having",
    metavar="THING,...",
    default="",
    help=f"What is in them, with commas between: {', '.join(FEATURES)}.",
)
@_ON
def new(
    job: Path, rooms: tuple[str, ...], walls: int, units: str, having: str, on: datetime | None
) -> None:
    """Write a starter job file at JOB, a folder or a .yaml file that is not there yet.

    What the first visit asks stands open in it, what measuring asks is a comment. On a terminal,
    without --room, the rooms are asked for.
    """
    from spec.edit.begin import Wishes, asked_for, begin  # noqa: PLC0415

    wishes = Wishes(rooms, walls, units, tuple(word for word in having.split(",") if word))
    if not rooms and sys.stdin.isatty():
        wishes = _or_refuse(lambda: asked_for(job, wishes))
    click.echo(_or_refuse(lambda: begin(job, wishes, _day(on) or date.today())))  # noqa: DTZ011


@cli.command(context_settings={"ignore_unknown_options": True})
@click.argument("job", type=_JOB)
@click.argument("address")
@click.argument("value")
@_ON
def answer(job: Path, address: str, value: str, on: datetime | None) -> None:
    """Put one answer into JOB at ADDRESS; every other line and comment stays as it is.

    \b
    VALUE is typed as it is said; quotes are set where YAML needs them:
      "9 ft 2 in"   left   "Dark tea, two coats"
    or it is a state:
      TBD                            open, for whom the schema names
      "open: client"                 open, who decides
      "assumed: 9 ft"                worked with until somebody confirms it
      "not applicable: one storey"   there is none, and why
    or it is written as in the file, in brackets, braces or quotes:
      "[remove, dispose]"   "{open: client, due: 2026-11-06}"

    The name of one of the choices of an open decision stands for its facts. Exit status: 0
    written; 1 written, and a new contradiction is among what it says; 2 nothing was written.
    """
    from spec.edit.answer import answered  # noqa: PLC0415
    from spec.edit.saving import opened, rewritten, save  # noqa: PLC0415
    from spec.edit.told import newly_said, told  # noqa: PLC0415

    raw, source = _or_stop(lambda: opened(job))
    done = _or_refuse(lambda: answered(source, job.parent, address, value, _day(on)))
    _or_refuse(lambda: save(job, rewritten(raw, source.text, done.text)))
    click.echo(told(done, _color()))
    sys.exit(int(any(finding.level is Level.ERROR for finding in newly_said(done))))


@cli.command()
@click.argument("jobs", nargs=-1, required=True, type=_JOB, metavar="JOB...")
@click.option("--so-far", is_flag=True, help="Contradictions only: for half a file.")
@_ON
@_FORMAT
def check(jobs: tuple[Path, ...], so_far: bool, on: datetime | None, form: str) -> None:
    """Say what is missing, what contradicts and what is still open."""
    from spec.pipeline import check_file, left_unsaid  # noqa: PLC0415

    status = 0
    told: list[dict[str, Any]] = []
    found: list[Finding] = []
    for job in jobs:
        try:
            checked = check_file(job, on=_day(on), so_far=so_far)
        except Unusable as error:
            status = 2
            told.append(unusable_map(str(job), error.finding))
            found.append(error.finding)
            if form == "text":
                _print_unusable(error)
            continue
        extra = () if so_far else left_unsaid(checked)
        shown = Shown(checked, (*checked.findings, *extra), so_far)
        status = max(status, shown.status)
        told.append(findings_map(shown))
        found += shown.findings
        if form == "text":
            click.echo(findings_text(shown, _color()))
    if form == "json":
        click.echo(as_json(told[0] if len(told) == 1 else told))
    elif form == "sarif":
        from spec.render.sarif import sarif  # noqa: PLC0415

        click.echo(as_json(sarif(found, usable=status != 2)))
    sys.exit(status)


@cli.command()
@click.argument("job", type=_JOB)
@click.argument("address")
@_ON
def show(job: Path, address: str, on: datetime | None) -> None:
    """Show the thing or decision at ADDRESS in full, each value with its origin."""
    from spec.pipeline import check_file  # noqa: PLC0415

    checked = _or_stop(lambda: check_file(job, on=_day(on), so_far=True))
    text = shown_thing(checked, address)
    if text is None:
        slip = close_names(address, addresses(checked))
        _stop(f"{job}: nothing has the address `{address}`{slip}")
    click.echo(text)


@cli.command(name="compile")
@click.argument("job", type=_JOB)
@click.option("--out", required=True, type=click.Path(path_type=Path), help="The packet's folder.")
@click.option("--since", type=_JOB, help="The job file of the issue before: says what has changed.")
@_ON
def compile_(job: Path, out: Path, since: Path | None, on: datetime | None) -> None:
    """Compile JOB into a packet: an order for every trade, the client's book, the checklist."""
    _compiled(job, out, _day(on), since)


def _compiled(job: Path, out: Path, on: date | None, since: Path | None = None) -> None:
    from spec.pipeline import run  # noqa: PLC0415

    with _progress() as say:
        checked, report = _or_stop(lambda: run(job, out, on=on, since=since, progress=say))
    for note in report.notes:
        click.echo(note, err=True)
    shown = Shown(checked, checked.findings, False)
    click.echo(summary(shown, out, _color()))
    sys.exit(shown.status)


@cli.command()
@click.argument("name")
def explain(name: str) -> None:
    """Explain a rule, a decision (door.leaf.width) or a figure (cooling.load)."""
    from spec.explain import explained, names  # noqa: PLC0415

    text = explained(name)
    if text is None:
        slip = close_names(name, names())
        _stop(f"no rule, decision or figure is called `{name}`{slip}")
    click.echo(text)


@cli.command()
@click.option("--out", required=True, type=click.Path(path_type=Path), help="The manual's folder.")
def manual(out: Path) -> None:
    """Write the manual of all rules, decisions and figures as pages for a browser."""
    from spec.manual import write_manual  # noqa: PLC0415

    with _progress() as say:
        report = _or_stop(lambda: write_manual(out, say))
    for note in report.notes:
        click.echo(note, err=True)
    click.echo(f"manual: open {report.folder / 'index.html'}")


@cli.command()
@click.option("--house", is_flag=True, help="The schema of house standards instead.")
def schema(house: bool) -> None:
    """Print the job file's schema as one file, for a YAML editor."""
    import json  # noqa: PLC0415

    from spec.job.bundle import bundle  # noqa: PLC0415

    click.echo(json.dumps(bundle("house" if house else "root"), ensure_ascii=False, indent=1))


def _day(on: datetime | None) -> date | None:
    return on.date() if on is not None else None


def _color() -> bool:
    return sys.stdout.isatty()


def _or_stop(work: Callable[[], T]) -> T:
    from spec.render.swap import PacketError  # noqa: PLC0415

    try:
        return work()
    except Unusable as error:
        _print_unusable(error)
        sys.exit(2)
    except PacketError as error:
        _stop(f"{error.message.rstrip('.')}. {error.cure}")


def _or_refuse(work: Callable[[], T]) -> T:
    from spec.edit.refused import Refused  # noqa: PLC0415

    try:
        return work()
    except Refused as refused:
        from spec.edit.told import refused_text  # noqa: PLC0415

        click.echo(refused_text(refused, _color()), err=True)
        sys.exit(2)


def _print_unusable(error: Unusable) -> None:
    click.echo(finding_text(error.finding, _color()))


def _stop(message: str) -> NoReturn:
    click.echo(f"scantling: {message}", err=True)
    sys.exit(2)


class _progress:  # noqa: N801 - used as a context, like the functions of contextlib
    """One line on standard error for work that takes over a second; nothing for quick work."""

    def __enter__(self) -> Callable[[str], None]:
        from rich.console import Console  # noqa: PLC0415

        self._status = Console(stderr=True).status("compiling")
        self._status.start()
        return self._status.update

    def __exit__(self, *failure: object) -> None:
        self._status.stop()


def main() -> None:
    """The console script.

    A run is short and its memory small: neither collecting cycles in between nor taking
    everything apart at the end is worth its time.
    """
    gc.disable()
    status = 0
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="replace")  # a terminal that lacks a letter shows `?`
    try:
        cli(prog_name="scantling")
    except SystemExit as end:
        status = end.code if isinstance(end.code, int) else int(end.code is not None)
    except OSError as error:
        status = _unwritten(error)
    try:
        sys.stdout.flush()
        sys.stderr.flush()
    except BrokenPipeError:
        status = status or 1
    except OSError as error:
        status = _unwritten(error)
    os._exit(status)


def _unwritten(error: OSError) -> int:
    """Say that what was to be printed could not be, where even that can be said."""
    with suppress(OSError):
        click.echo(f"scantling: the output could not be written: {error.strerror}", err=True)
    return 2
