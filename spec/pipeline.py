"""The steps from a job file to a packet, in order: the public Python interface.

>>> from datetime import date
>>> from spec import files, pipeline
>>> starter = files.templates() / "jobs" / "garden_store" / "job.yaml"
>>> checked = pipeline.check_file(starter)
>>> [finding.rule for finding in checked.findings if finding.level == "error"]
[]
>>> checked.facts.job.thing("D1").si("leaf.width")  # [m]
0.8128
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from spec.check.choices import Alternative, alternatives, under_every_choice
from spec.check.run import check
from spec.derive.figure import Facts
from spec.finding import Finding, Place
from spec.job.job import Job
from spec.job.paths import named, usable
from spec.job.resolve import resolve
from spec.place import place
from spec.read import Source, read

if TYPE_CHECKING:
    from spec.compose import Composed
    from spec.compose.blocks import Document
    from spec.render.packet import PacketInfo, PacketReport


class Checked(NamedTuple):
    """A job with all that is known of it and all that is said of it."""

    source: Source
    facts: Facts
    findings: tuple[Finding, ...]
    alternatives: tuple[Alternative, ...] = ()
    """The job under the other choices of its open decisions."""

    @property
    def job(self) -> Job:
        """The resolved job."""
        return self.facts.job


def check_file(
    path: Path,
    *,
    on: date | None = None,
    so_far: bool = False,
    shown_as: str | None = None,
) -> Checked:
    """Read, resolve, place, derive and check one job file.

    `on` is the day to look at it (none: its revision's date), `so_far` leaves silences out,
    `shown_as` is the file's name in findings. Raises `spec.read.Unusable` where nothing of the
    file can be used; whatever else is wrong is among the findings.
    """
    return check_source(read(path, shown_as), path.parent, on=on, so_far=so_far)


def check_source(
    source: Source, folder: Path, *, on: date | None = None, so_far: bool = False
) -> Checked:
    """The same of a job that was read; `folder` is where the paths in it start."""

    def known(choose: Mapping[Place, str] | None = None) -> Facts:
        job = resolve(source, folder, on=on, choose=choose)
        return Facts(job, place(job))

    facts = known()
    found = check(facts, so_far=so_far)
    others = alternatives(facts.job, known, lambda other: check(other, so_far=so_far))
    return Checked(source, facts, under_every_choice(facts.job, found, others), others)


def run(
    path: Path,
    out: Path,
    *,
    on: date | None = None,
    since: Path | None = None,
    progress: Callable[[str], None] | None = None,
) -> tuple[Checked, PacketReport]:
    """Compile a job file into a packet at `out`.

    `since` is the job file as it was at the issue before: the lead is then told what has changed.
    The documents are written whatever the findings are; gates that are held say so in them. What
    an earlier run that was stopped left beside `out` is put right first, whatever the job is like.
    Raises `spec.read.Unusable` and `spec.render.packet.PacketError`; then nothing was changed.
    """
    from spec.render.packet import put_right, write_packet  # noqa: PLC0415

    before = put_right(out)
    checked, composed = _composed(path, on)
    report = write_packet(
        (*composed.documents, *_notices(since, composed)),
        extras(checked, composed.unstated),
        out,
        _about(checked),
        progress,
        before=before,
    )
    return checked, report


def _composed(path: Path, on: date | None) -> tuple[Checked, Composed]:
    from spec.compose import compose  # noqa: PLC0415 - checking alone stays quick

    checked = check_file(path, on=on, shown_as=path.name)
    return checked, compose(checked, photographs(checked.job, path.parent))


def _notices(since: Path | None, composed: Composed) -> Iterator[Document]:
    """What has changed since the job file of an issue before."""
    if since is not None:
        from spec.register.notice import notice  # noqa: PLC0415

        yield notice(_composed(since, None)[1], composed)


def photographs(job: Job, folder: Path) -> dict[tuple[str, int], bytes]:
    """The content of the photographs that a job names, by what they show and their number.

    What is not there was reported when the job was resolved, and is left out.
    """
    found: dict[tuple[str, int], bytes] = {}
    shown = job.find("photos")
    for entry in shown.entries() if shown is not None else ():
        for number, name in enumerate(named(entry), 1):
            path = usable(folder, name)
            if path is not None:
                found[entry.key, number] = path.read_bytes()
    return found


def _about(checked: Checked) -> PacketInfo:
    from spec.render.packet import PacketInfo  # noqa: PLC0415

    def text(address: str) -> str:
        node = checked.job.find(address)
        return node.written if node is not None else ""

    day = checked.job.day
    return PacketInfo(
        text("job.title") or checked.job.name,
        text("job.number"),
        text("job.revision.mark"),
        day.isoformat() if day is not None else "",
    )


def extras(checked: Checked, unstated: tuple[Finding, ...]) -> dict[str, bytes]:
    """The findings of a job as files of its packet: for machines and for a spreadsheet."""
    from spec.compose.context import Reader  # noqa: PLC0415
    from spec.compose.documents.checklist import decisions_table  # noqa: PLC0415
    from spec.render.sarif import sarif  # noqa: PLC0415
    from spec.render.tables import table_csv  # noqa: PLC0415
    from spec.report import Shown, as_json, findings_json, findings_table  # noqa: PLC0415

    shown = Shown(checked, (*checked.findings, *unstated), False)
    return {
        "findings/findings.json": (findings_json(shown) + "\n").encode("utf-8"),
        "findings/findings.sarif": (as_json(sarif(shown.findings)) + "\n").encode("utf-8"),
        "findings/findings.csv": table_csv(findings_table(shown)),
        "lead/checklist.csv": table_csv(decisions_table(Reader(checked.facts, shown.findings))),
    }


def left_unsaid(checked: Checked) -> tuple[Finding, ...]:
    """Decisions that no order states to a trade which needs them, as notes."""
    from spec.compose import left_unsaid as unsaid  # noqa: PLC0415

    return unsaid(checked)
