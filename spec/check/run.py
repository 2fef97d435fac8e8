"""All findings of a job: what reading said, silences, and what the rules say, waivers applied."""

from __future__ import annotations

import traceback
from collections.abc import Iterator
from dataclasses import replace
from datetime import date

from spec.check.omissions import omissions
from spec.check.rule import Facts, Rule, rules
from spec.finding import Finding, Level, Spot, Waived
from spec.job.job import Job
from spec.job.node import Node, Open
from spec.job.stage import reached, stage


def check(facts: Facts, *, so_far: bool = False) -> tuple[Finding, ...]:
    """Every finding in the order of the file; `so_far`: contradictions only, no silences."""
    found = list(facts.job.findings)
    early = so_far or not reached("order_material", stage(facts.job))
    for declared in rules().values():
        if not (declared.silence and early):
            found += speak(declared, facts)
    if not so_far:
        found += omissions(facts.job)
    found = _told_once(found)
    found = _waived(facts.job, found)
    if not so_far:
        found += _unused(facts.job, found)
    return tuple(sorted(found, key=Finding.sort_key))


def speak(declared: Rule, facts: Facts) -> Iterator[Finding]:
    """What one rule says; a fault of its own is a finding too and hides no other."""
    if not declared.kinds:
        yield from _spoken(declared, facts, None)
        return
    for thing in facts.job.things(*declared.kinds):
        yield from _spoken(declared, facts, thing)


def _spoken(declared: Rule, facts: Facts, thing: Node | None) -> Iterator[Finding]:
    try:
        speech = declared.speaks(facts) if thing is None else declared.speaks(facts, thing)
        for sentence in speech:
            yield Finding(
                declared.name,
                declared.level,
                sentence.message,
                sentence.cure,
                tuple(facts.job.spot(address) for address in sentence.addresses),
                declared.trades,
            )
    except Open:
        return  # the question is asked where the decision is open
    except Exception as error:
        at = thing.spot if thing is not None else facts.job.spot("job")
        last = traceback.extract_tb(error.__traceback__)[-1]
        yield Finding(
            "check.rule-failed",
            Level.ERROR,
            f"the rule {declared.name} failed here and says nothing "
            f"({type(error).__name__}: {error}; {last.name}, line {last.lineno})",
            "this is a fault of the program: report it with the lines that it stands at",
            (at,),
        )


def _told_once(found: list[Finding]) -> list[Finding]:
    unique: dict[tuple[str, str, tuple[Spot, ...]], Finding] = {}
    for finding in found:
        unique.setdefault((finding.rule, finding.message, finding.spots), finding)
    return list(unique.values())


def _waived(job: Job, found: list[Finding]) -> list[Finding]:
    waivers = [w for w in job.things("waiver") if w.children]
    return [_accepted(finding, waivers, job) for finding in found]


def _unused(job: Job, found: list[Finding]) -> Iterator[Finding]:
    """Waivers that accept nothing, while they last."""
    declared = rules()["job.waiver-unused"]
    for waiver in job.things("waiver"):
        named = waiver.find("finding")
        if named is None or named.value not in rules() or _expired(waiver, job.day):
            continue
        if not any(finding.waived and _covers(waiver, finding) for finding in found):
            at = _words(waiver, "at")
            yield Finding(
                declared.name,
                declared.level,
                f"{waiver.key} accepts `{named.written}` at {at or 'no place'}, which is "
                "not said there",
                "take the waiver away, or name the place that it is for",
                (waiver.spot,),
                declared.trades,
            )


def _accepted(finding: Finding, waivers: list[Node], job: Job) -> Finding:
    for waiver in waivers:
        if _covers(waiver, finding) and not _expired(waiver, job.day):
            return replace(
                finding,
                waived=Waived(*(_words(waiver, key) for key in ("who", "when", "why", "until"))),
            )
    return finding


def _words(waiver: Node, key: str) -> str:
    node = waiver.find(key)
    return node.written if node is not None else ""


def _covers(waiver: Node, finding: Finding) -> bool:
    named = waiver.find("finding")
    at = waiver.find("at")
    if named is None or named.value != finding.rule or at is None or at.value is None:
        return False
    places = at.value if isinstance(at.value, tuple) else (at.value,)
    return all(
        any(s.address == str(p) or s.address.startswith(f"{p}.") for s in finding.spots)
        for p in places
    )


def _expired(waiver: Node, day: date | None) -> bool:
    until = waiver.find("until")
    return (
        until is not None
        and isinstance(until.value, date)
        and day is not None
        and until.value < day
    )
