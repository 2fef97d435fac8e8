"""Small jobs written in the tests, with all that follows from them."""

from __future__ import annotations

from spec.derive.figure import Facts, Figure
from spec.job.resolve import resolve
from spec.place import place
from spec.read import read_text

INCH = 0.0254
FOOT = 0.3048
POUND = 0.45359237


def facts_of(text: str) -> Facts:
    """What follows from a job text; every key of it must be known."""
    job = resolve(read_text("scantling: 1\n" + text.strip("\n") + "\n", "small.yaml"))
    unread = [f for f in job.findings if f.rule.startswith("reading.")]
    assert not unread, unread[0].message
    return Facts(job, place(job))


def figure_of(facts: Facts, address: str) -> Figure:
    """A figure by its address, worked out; it must be one that the sheet makes for that thing."""
    name, _, thing = address.partition("@")
    node = facts.job.find(thing)
    assert node is not None, f"there is no {thing}"
    found = facts.figures.get(name, node)
    made = [n.address for n in found.definition.per(facts.job)]
    assert node.address in made, f"{name} is made for {made}"
    return found


def value(facts: Facts, address: str) -> float:
    """The value of a figure in SI; it must have one."""
    found = figure_of(facts, address)
    assert found.value is not None, f"{address} waits for {found.waits_for}, {found.refused}"
    return found.value


def parts(facts: Facts, address: str) -> dict[str, float]:
    """The parts of a figure by their labels."""
    return {part.label: part.value for part in figure_of(facts, address).parts}
