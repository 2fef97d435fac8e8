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

DICTATED = Path(__file__).parent / "data" / "city_flat_dictated.yaml"
"""The job as a lead dictated it before the grammar was settled."""


def lines_with_values() -> set[int]:
    """The lines of the dictation on which a value stands that is no key."""
    found: set[int] = set()

    def walk(node: yaml.Node) -> None:
        if isinstance(node, yaml.MappingNode):
            for _, value in node.value:
                walk(value)
        elif isinstance(node, yaml.SequenceNode):
            for value in node.value:
                walk(value)
        else:
            found.add(node.start_mark.line + 1)

    walk(yaml.compose(DICTATED.read_text(encoding="utf-8"), Loader=yaml.SafeLoader))
    return found


def test_no_line_of_the_dictation_is_left_out() -> None:
    assert lines_with_values() <= set(FACTS)


@cache
def city_flat() -> Job:
    """The starter job, resolved."""
    path = files.templates() / "jobs" / "city_flat" / "job.yaml"
    return resolve(read(path), path.parent)


@pytest.mark.parametrize("line", sorted(FACTS))
def test_each_dictated_line_is_carried_by_decisions_of_the_job(line: int) -> None:
    lost = [address for address in FACTS[line] if city_flat().find(address) is None]
    assert not lost
