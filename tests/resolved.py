"""Jobs written in a test: resolved, placed and checked without a file on disk."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from pathlib import Path
from textwrap import dedent

from spec.check.run import check
from spec.derive.figure import Facts
from spec.finding import Finding, Place
from spec.job.job import Job
from spec.job.resolve import resolve
from spec.place import place
from spec.read import read, read_text

NAME = "job.yaml"
STACK_TOO_LOW = """scantling: 1
job: {revision: {mark: B, date: 2026-10-12}}
rooms:
  room_one:
    taped: {to: finish, who: Ansel, when: 2026-09-29}
    height: 8 ft
    walls_clockwise:
      WA: {length: 10 ft}
      WB: {length: 8 ft}
      WC: {length: 10 ft}
      WD: {length: 8 ft}
    stacks: {racks: {bottom_to_top: {lower: {is: racks, height: 90 in, depth: 14 in}}}}
"""
"""A stack of 90 in under a ceiling of 96 in: one finding that a waiver may accept."""


def job_of(text: str, *, on: date | None = None, choose: Mapping[Place, str] | None = None) -> Job:
    """The resolved job of a text; `scantling: 1` is put before it."""
    whole = f"scantling: 1\n{dedent(text).strip(chr(10))}\n"
    return resolve(read_text(whole, NAME), on=on, choose=choose)


def facts_of(text: str, **more: date | None) -> Facts:
    """The facts of a text."""
    job = job_of(text, **more)
    return Facts(job, place(job))


def said_of(text: str, *, so_far: bool = True, on: date | None = None) -> tuple[Finding, ...]:
    """What a check says of a text."""
    return check(facts_of(text, on=on), so_far=so_far)


def starter(path: Path) -> Job:
    """A starter job, resolved."""
    return resolve(read(path, NAME), path.parent)


def rules_of(job: Job) -> list[str]:
    """The names of what was said while a job was resolved."""
    return [finding.rule for finding in job.findings]


def one(found: Mapping[str, Finding] | tuple[Finding, ...] | list[Finding], rule: str) -> Finding:
    """The only finding of a rule."""
    of_rule = [finding for finding in found if finding.rule == rule]
    assert len(of_rule) == 1, [f"{f.rule}: {f.message}" for f in found]
    return of_rule[0]
