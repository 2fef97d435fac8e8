"""Every rule carries a smallest job that breaks it and one that does not; here they run."""

from __future__ import annotations

import ast
import inspect

import pytest

from spec.check.rule import Rule, rules
from spec.check.run import speak
from spec.derive.figure import Facts
from spec.finding import Finding
from spec.job.resolve import resolve
from spec.job.schema import SUBJECTS, TRADES
from spec.place import place
from spec.read import read_text

RULES = tuple(rules().values())


def said_of(text: str, name: str) -> list[Finding]:
    job = resolve(read_text("scantling: 1\n" + text.strip("\n") + "\n", "example.yaml"))
    found = [*job.findings, *speak(rules()[name], Facts(job, place(job)))]
    failed = [f for f in found if f.rule == "check.rule-failed" and name in f.message]
    assert not failed, failed[0].message
    unread = [f for f in found if f.rule.startswith("reading.")]
    assert not unread, f"the example of {name} cannot be read: {unread[0].message}"
    return [f for f in found if f.rule == name]


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_the_bad_example_breaks_the_rule(rule: Rule) -> None:
    found = said_of(rule.example.bad, rule.name)
    assert found, f"{rule.name} says nothing of its bad example"
    for finding in found:
        assert finding.message and finding.cure
        assert finding.place.line > 1, f"{finding.spots[0]} stands nowhere in the file"


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_the_good_example_keeps_it(rule: Rule) -> None:
    found = said_of(rule.example.good, rule.name)
    assert not found, found[0].message


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_a_rule_says_what_it_is(rule: Rule) -> None:
    subject, _, words = rule.name.partition(".")
    assert subject == rule.subject and subject in SUBJECTS
    assert words and words == words.lower() and " " not in words
    assert set(rule.trades) <= set(TRADES)
    assert rule.speaks.__doc__ and rule.why and rule.source


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_a_rule_compares_and_computes_nothing(rule: Rule) -> None:
    """A rule leans on figures and places: it may add and subtract what it says, no more."""
    tree = ast.parse(inspect.getsource(inspect.getmodule(rule.speaks)))  # type: ignore[arg-type]
    worked = [
        node
        for node in ast.walk(tree)
        if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Mult | ast.Div | ast.Pow)
    ]
    assert not worked, f"line {worked[0].lineno} computes"
