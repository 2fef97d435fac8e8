"""The city flat as dictated, line by line, and where its facts stand in the starter job."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
import yaml

from spec import files
from spec.job.job import Job
from spec.job.resolve import resolve
from spec.read import read

FACTS: dict[int, list[str]] = yaml.safe_load(
    Path(__file__).with_name("dictated_facts.yaml").read_text(encoding="utf-8")
)


@cache
def city_flat() -> Job:
    """The starter job, resolved."""
    path = files.templates() / "jobs" / "city_flat" / "job.yaml"
    return resolve(read(path), path.parent)


@pytest.mark.parametrize("line", sorted(FACTS))
def test_each_dictated_line_is_carried_by_decisions_of_the_job(line: int) -> None:
    lost = [address for address in FACTS[line] if city_flat().find(address) is None]
    assert not lost
