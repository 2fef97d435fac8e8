"""The starter jobs are whole: no error, no silence, no warning but those on a list beside them."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest

from spec import files
from spec.compose import compose, left_unsaid
from spec.finding import Level
from spec.pipeline import Checked, check_file

JOBS = files.templates() / "jobs"
WHOLE = ("garden_store", "city_flat", "supper_club")
DRAFT = "garden_store_first_visit"
_ROW = re.compile(r"^- `([a-z_]+\.[a-z-]+)` at `([^`]+)`: (.{20,})$")


@cache
def checked(name: str) -> Checked:
    return check_file(JOBS / name / "job.yaml", shown_as="job.yaml")


def accepted(name: str) -> set[tuple[str, str]]:
    """The warnings that a starter keeps on purpose, by rule and address, each with a reason."""
    path = JOBS / name / "accepted.md"
    if not path.is_file():
        return set()
    lines = [line for line in path.read_text(encoding="utf-8").splitlines() if line.startswith("-")]
    rows = [_ROW.fullmatch(line) for line in lines]
    assert all(rows), "a row is: - `rule.name` at `ADDRESS`: why it is right here"
    return {(row[1], row[2]) for row in rows if row}


@pytest.mark.parametrize("name", [*WHOLE, DRAFT])
def test_a_starter_has_no_error(name: str) -> None:
    errors = [f for f in checked(name).findings if f.level is Level.ERROR and f.waived is None]
    assert not [f"{f.place}: {f.message} [{f.rule}]" for f in errors]


@pytest.mark.parametrize("name", WHOLE)
def test_a_whole_starter_is_silent_about_nothing(name: str) -> None:
    silent = [f for f in checked(name).findings if f.rule.endswith(".not-decided")]
    assert not [f"{f.place}: {f.message}" for f in silent]


@pytest.mark.parametrize("name", [*WHOLE, DRAFT])
def test_every_warning_of_a_starter_is_on_the_list_beside_it_and_no_other(name: str) -> None:
    warnings = {
        (f.rule, f.address)
        for f in checked(name).findings
        if f.level is Level.WARNING and f.waived is None
    }
    assert warnings == accepted(name)


@pytest.mark.parametrize("name", WHOLE)
def test_every_decision_is_stated_to_every_reader_who_needs_it(name: str) -> None:
    unsaid = compose(checked(name)).unstated
    assert not [f"{f.place}: {f.message}" for f in unsaid]
    assert not left_unsaid(checked(name))


@pytest.mark.parametrize("name", WHOLE)
def test_no_rule_fails_on_a_starter(name: str) -> None:
    assert not [f.message for f in checked(name).findings if f.rule == "check.rule-failed"]


@pytest.mark.parametrize("name", [*WHOLE, DRAFT])
def test_a_starter_names_only_files_that_lie_beside_it(name: str) -> None:
    for path in (JOBS / name).rglob("*"):
        assert not path.is_symlink()
    photos = checked(name).job.find("photos")
    for leaf in photos.leaves() if photos is not None else ():
        for file in leaf.written.split(", "):
            assert Path(JOBS / name / file).is_file(), file
