"""The command: arguments in, exit status out; nothing else."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Callable
from datetime import date, datetime
from pathlib import Path
from typing import Any, NoReturn, TypeVar

import click

from spec import __version__
from spec.read import Unusable
from spec.report import (
    Shown,
    addresses,
    as_json,
    close_names,
    explained,
    finding_text,
    findings_map,
    findings_text,
    rule_names,
    shown_thing,
    summary,
    unusable_map,
)

T = TypeVar("T")

_JOB = click.Path(path_type=Path)
_FORMAT = click.option(
    "--format",
    "form",
    type=click.Choice(["text", "json"]),
    default="text",
    help="How findings are written; json of several jobs is a list.",
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
@click.argument("jobs", nargs=-1, required=True, type=_JOB, metavar="JOB...")
@click.option("--so-far", is_flag=True, help="Contradictions only: for half a file.")
@_ON
@_FORMAT
def check(jobs: tuple[Path, ...], so_far: bool, on: datetime | None, form: str) -> None:
    """Say what is missing, what contradicts and what is still open."""
    from spec.pipeline import check_file, left_unsaid  # noqa: PLC0415

    status = 0
    told: list[dict[str, Any]] = []
    for job in jobs:
        try:
            checked = check_file(job, on=_day(on), so_far=so_far)
        except Unusable as error:
            status = 2
            told.append(unusable_map(str(job), error.finding))
            if form == "text":
                _print_unusable(error)
            continue
        extra = () if so_far else left_unsaid(checked)
        shown = Shown(checked, (*checked.findings, *extra), so_far)
        status = max(status, shown.status)
        told.append(findings_map(shown))
        if form == "text":
            click.echo(findings_text(shown, _color()))
    if form == "json":
        click.echo(as_json(told[0] if len(told) == 1 else told))
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
@_ON
def compile_(job: Path, out: Path, on: datetime | None) -> None:
    """Compile JOB into a packet: an order for every trade, the client's book, the checklist."""
    _compiled(job, out, _day(on))


def _compiled(job: Path, out: Path, on: date | None) -> None:
    from spec.pipeline import run  # noqa: PLC0415

    with _progress() as say:
        checked, report = _or_stop(lambda: run(job, out, on=on, progress=say))
    for note in report.notes:
        click.echo(note, err=True)
    shown = Shown(checked, checked.findings, False)
    click.echo(summary(shown, out))
    sys.exit(shown.status)


@cli.command()
@click.argument("name")
def explain(name: str) -> None:
    """Explain a rule: what it finds, why it matters, its source, and an example."""
    text = explained(name)
    if text is None:
        _stop(f"no rule is called `{name}`{close_names(name, rule_names())}")
    click.echo(text)


@cli.command()
def schema() -> None:
    """Print the job file's schema as one file, for a YAML editor."""
    import json  # noqa: PLC0415

    from spec.job.bundle import bundle  # noqa: PLC0415

    click.echo(json.dumps(bundle(), ensure_ascii=False, indent=1))


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
        _stop(f"{error.message.rstrip('.')}; {error.cure}")


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
    try:
        cli(prog_name="scantling")
    except SystemExit as end:
        status = end.code if isinstance(end.code, int) else int(end.code is not None)
    try:
        sys.stdout.flush()
        sys.stderr.flush()
    except BrokenPipeError:
        status = status or 1
    os._exit(status)
