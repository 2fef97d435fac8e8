"""Plausible single faults, planted one at a time in a starter: each is noticed where it is."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml

from spec import files
from spec.check.run import check
from spec.compose.blocks import cites_of
from spec.compose.context import Reader
from spec.compose.documents.work_order import work_order
from spec.compose.gates import gates
from spec.derive.figure import Facts
from spec.finding import Finding, Level
from spec.job.resolve import resolve
from spec.place import place
from spec.read import read_text

STARTERS = files.templates() / "jobs"
FAULTS = Path(__file__).parents[1] / "faults"
Fault = Mapping[str, Any]


def faults(starter: str) -> list[Fault]:
    """The catalogue of faults of a starter."""
    return list(yaml.safe_load((FAULTS / f"{starter}.yaml").read_text(encoding="utf-8")))


@cache
def text_of(starter: str) -> str:
    return (STARTERS / starter / "job.yaml").read_text(encoding="utf-8")


def checked(starter: str, text: str, chosen: Mapping[str, str]) -> tuple[Facts, list[Finding]]:
    """What the check says of a starter's text, `chosen` the alternative at open decisions."""
    source = read_text(text, "job.yaml")
    folder = STARTERS / starter
    job = resolve(source, folder)
    if chosen:
        states = {a: node.state for a in chosen if (node := job.find(a)) is not None}
        taken = {state.place: chosen[a] for a, state in states.items() if state is not None}
        assert len(taken) == len(chosen), f"{chosen} is not open in {starter}"
        job = resolve(source, folder, choose=taken)
    facts = Facts(job, place(job))
    return facts, list(check(facts))


def planted(starter: str, fault: Fault) -> tuple[Facts, list[Finding]]:
    """What is said of a starter with one fault in it."""
    text = text_of(starter)
    found = text.count(fault["find"])
    assert found == 1, f"{fault['find']!r} stands {found} times in {starter}"
    return checked(starter, text.replace(fault["find"], fault["replace"]), fault.get("with") or {})


@cache
def said_before(starter: str) -> frozenset[tuple[str, str]]:
    _, found = checked(starter, text_of(starter), {})
    return frozenset((f.rule, f.message) for f in found if f.waived is None)


def news(starter: str, found: list[Finding]) -> list[Finding]:
    """What is said that the starter without the fault does not say, and nobody waived."""
    known = said_before(starter)
    return [f for f in found if f.waived is None and (f.rule, f.message) not in known]


def by_name(*starters: str) -> list[Any]:
    return [
        pytest.param(starter, fault, id=f"{starter}-{fault['name']}")
        for starter in starters
        for fault in faults(starter)
    ]


@pytest.mark.parametrize(("starter", "fault"), by_name("garden_store", "supper_club"))
def test_a_fault_is_noticed_by_the_rule_that_is_for_it(starter: str, fault: Fault) -> None:
    facts, found = planted(starter, fault)
    new = news(starter, found)
    hits = [f for f in new if f.rule == fault["rule"] and f.address == fault["at"]]
    assert hits, "said instead: " + "; ".join(f"{f.address}: {f.message} [{f.rule}]" for f in new)
    best = next((f for f in hits if also(fault) <= places(f)), None)
    assert best is not None, f"{hits[0].message}: names {sorted(places(hits[0]))}"
    assert best.level == Level(fault["level"])
    if "holds" in fault:
        held = reasons(facts, found, fault["holds"])
        assert best.message in held, f"{best.message}: does not hold {fault['holds']}"


@pytest.mark.parametrize(("starter", "fault"), by_name("city_flat"))
def test_a_fault_in_the_city_flat_is_noticed(starter: str, fault: Fault) -> None:
    _, found = planted(starter, fault)
    expects = fault["expects"]
    new = news(starter, found)
    hits = [f for f in new if set(expects["at"]) <= places(f)]
    assert hits, "said instead: " + "; ".join(f"{f.address}: {f.message} [{f.rule}]" for f in new)
    assert any(
        f.level == Level(expects["level"]) and f.rule.startswith(f"{expects['subject']}.")
        for f in hits
    ), f"{hits[0].level}: {hits[0].message} [{hits[0].rule}]"


def also(fault: Fault) -> set[str]:
    return {fault["also"]} if "also" in fault else set()


def places(finding: Finding) -> set[str]:
    return {spot.address for spot in finding.spots}


def reasons(facts: Facts, found: list[Finding], trade: str) -> set[str]:
    """Why the gates of a trade's order are held, in words."""
    order = work_order(Reader(facts, tuple(found), trade))
    return {
        reason.words
        for gate in gates(facts, found, trade, cites_of(order.blocks))
        for reason in gate.reasons
    }


@pytest.mark.parametrize("starter", ["garden_store", "city_flat", "supper_club"])
def test_a_finished_job_has_no_errors(starter: str) -> None:
    _, found = checked(starter, text_of(starter), {})
    wrong = [f for f in found if f.level is Level.ERROR and f.waived is None]
    assert not wrong, "; ".join(f"{f.address}: {f.message} [{f.rule}]" for f in wrong)
