"""The manual's entries for rules, and for the findings that no rule module declares."""

from __future__ import annotations

import inspect
from functools import cache

from spec.check.families import FAMILIES, Family, family_of
from spec.check.rule import Rule, rules
from spec.compose.manual.entry import Entry, listed, paragraphs, plain
from spec.job.schema import SUBJECTS

_SILENCE = "It speaks of what the file does not say: not asked of half a file, nor before material"


@cache
def findings() -> dict[str, Entry]:
    """An entry for every rule, then for every family of other findings."""
    declared = {name: _of_rule(rule) for name, rule in rules().items()}
    return declared | {family.name: _of_family(family, family.name) for family in FAMILIES}


def finding_entry(name: str) -> Entry | None:
    """The entry of a finding by its name, declared or not."""
    found = findings().get(name)
    if found is None and (family := family_of(name)) is not None:
        return _of_family(family, name)
    return found


def _of_rule(rule: Rule) -> Entry:
    facts = [
        ("Level", str(rule.level)),
        ("Why", rule.why),
        ("Source", rule.source),
        ("Told to", listed(tuple(map(plain, rule.trades))) or "the lead"),
    ]
    if rule.kinds:
        facts.append(("Asked of", f"every {listed(tuple(map(plain, rule.kinds)), 'or')}"))
    if rule.silence:
        facts.append(("When", f"{_SILENCE} is ordered."))
    what = inspect.getdoc(rule.speaks) or ""
    return Entry(
        "rule",
        rule.name,
        _first_sentence(what),
        rule.subject,
        "Rules",
        paragraphs(what),
        tuple(facts),
        examples=(("Wrong", rule.example.bad), ("Right", rule.example.good)),
    )


def _of_family(family: Family, name: str) -> Entry:
    subject = name.partition(".")[0]
    facts = [("Why", family.why)]
    if family.cure:
        facts.append(("Cure", family.cure))
    return Entry(
        "rule",
        name,
        _first_sentence(family.what),
        subject if subject in SUBJECTS else "job",
        "Findings of reading, of silences and of links",
        (family.what,),
        tuple(facts),
    )


def _first_sentence(text: str) -> str:
    return paragraphs(text)[0].partition(". ")[0].rstrip(".")
