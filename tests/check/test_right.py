"""Unusual but right jobs, a few lines away from a starter: nothing new is said of any of them."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from spec.finding import Finding
from tests.check.test_faults import Fault, checked, news, text_of

RIGHT = Path(__file__).parents[1] / "right"
SUBJECTS = {
    "job",
    "access",
    "existing",
    "envelope",
    "openings",
    "cooling",
    "electrical",
    "lighting",
    "millwork",
    "appliances",
    "finishes",
    "order_of_work",
}
CASES: list[tuple[str, Fault]] = [
    (path.stem, case)
    for path in sorted(RIGHT.glob("*.yaml"))
    for case in yaml.safe_load(path.read_text(encoding="utf-8"))
]


def edited(starter: str, case: Fault) -> str:
    """The starter's text with the edits of a case."""
    text = text_of(starter)
    for edit in case["edits"]:
        found = text.count(edit["find"])
        assert found == 1, f"{edit['find']!r} stands {found} times in {starter}"
        text = text.replace(edit["find"], edit["replace"])
    return text


def noise(starter: str, case: Fault) -> list[Finding]:
    """What is said of a case that its starter does not say."""
    _, found = checked(starter, edited(starter, case), case.get("with") or {})
    return news(starter, found)


def by_name(fact: str) -> list[Any]:
    return [pytest.param(s, c, id=f"{s}-{c['name']}") for s, c in CASES if fact in c]


@pytest.mark.parametrize(("starter", "case"), by_name("why"))
def test_an_unusual_but_right_job_raises_nothing(starter: str, case: Fault) -> None:
    said = noise(starter, case)
    assert not said, "; ".join(f"{f.level}: {f.address}: {f.message} [{f.rule}]" for f in said)


@pytest.mark.parametrize(("starter", "case"), by_name("but"))
def test_it_is_wrong_without_what_makes_it_right(starter: str, case: Fault) -> None:
    text, but = edited(starter, case), case["but"]
    assert text.count(but["find"]) == 1
    _, found = checked(starter, text.replace(but["find"], but["replace"]), {})
    new = news(starter, found)
    assert but["rule"] in {f.rule for f in new}, "; ".join(f"{f.message} [{f.rule}]" for f in new)


def test_every_subject_has_unusual_but_right_jobs() -> None:
    assert {case["subject"] for _, case in CASES} == SUBJECTS


def test_every_case_says_why() -> None:
    assert all(case["why"].strip() for _, case in CASES)
