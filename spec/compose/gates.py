"""The two gates of an order, and what holds them."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator
from dataclasses import dataclass
from typing import NamedTuple

from spec.check.rule import Facts
from spec.compose.wording import state_text
from spec.finding import Finding, Level, Place
from spec.job.node import Node
from spec.job.schema import STAGES

_HOLDING = ("open", "assumed", "unreadable")
_MATERIAL = STAGES.index("order_material")


@dataclass(frozen=True, slots=True, order=True)
class Reason:
    """One thing that holds a gate: where, and in words."""

    place: Place
    address: str
    words: str


class Gate(NamedTuple):
    """`material` (buy) or `build` (cut and build): released when nothing holds it."""

    name: str
    reasons: tuple[Reason, ...]

    @property
    def held(self) -> bool:
        """Whether anything holds it."""
        return bool(self.reasons)


def reached_by(facts: Facts, cites: Iterable[str]) -> frozenset[str]:
    """The addresses that an order rests on.

    Those it cites, those its figures used, and the answers that a visit of it needs: an approval
    that is not given holds the visit that names it.
    """
    found: set[str] = set()
    for address in cites:
        found.add(address)
        figure = facts.figures.at(address) if "@" in address else None
        if figure is not None:
            found |= figure.inputs | figure.waits_for
        if address.endswith(".needs"):
            found |= set(_answers_needed(facts, address))
    return frozenset(a for a in found if "@" not in a)


def _answers_needed(facts: Facts, address: str) -> Iterator[str]:
    """The decisions of the papers (permits, approvals, purchases) that a visit waits for."""
    node = facts.job.find(address)
    value = node.value if node is not None else None
    for name in value if isinstance(value, tuple) else (value,):
        paper = facts.job.thing(str(name))
        if paper is not None and paper.container in _PAPERS:
            yield from (leaf.address for leaf in paper.leaves())


_PAPERS = ("approvals", "permits", "inspections", "purchases")


def gates(
    facts: Facts,
    findings: Iterable[Finding],
    trade: str,
    cites: Iterable[str],
    settled: Container[str] = (),
) -> tuple[Gate, Gate]:
    """The material and the build gate of a trade's order.

    Held by (a) every address that the order cites, or that a figure it cites used, and that is
    open, assumed or unreadable: a decision that must precede a later stage than the ordering of
    material holds the build gate only; (b) every unwaived error at one of these addresses;
    (c) every silence that the trade's own annotation speaks of, by the same stages.
    What is `settled` is the same under every choice of an open decision, and holds nothing.
    """
    rests_on = reached_by(facts, cites)
    material: dict[str, Reason] = {}
    build: dict[str, Reason] = {}

    def hold(reason: Reason, late: bool) -> None:
        build.setdefault(reason.address + reason.words, reason)
        if not late:
            material.setdefault(reason.address + reason.words, reason)

    for address in sorted(rests_on):
        node = facts.job.find(address)
        stated = _state_above(node) if node is not None and address not in settled else None
        if stated is not None:
            reason = Reason(stated.key_place, stated.address, state_text(stated))
            hold(reason, stated.decision.gate == "build")
    for finding in findings:
        if finding.waived is not None:
            continue
        silent = finding.rule.endswith(".not-decided")
        if silent and trade in finding.trades:
            reason = Reason(finding.place, finding.address, finding.message)
            hold(reason, STAGES.index(finding.stage) > _MATERIAL)
        elif not silent and finding.level is Level.ERROR and _touches(facts, finding, rests_on):
            hold(Reason(finding.place, finding.address, finding.message), late=False)
    return (
        Gate("material", tuple(sorted(material.values()))),
        Gate("build", tuple(sorted(build.values()))),
    )


def _state_above(node: Node) -> Node | None:
    """The node itself or what it stands in, where that has no final value."""
    at: Node | None = node
    while at is not None:
        if at.state is not None:
            return at if at.state.kind in _HOLDING else None
        at = at.parent
    return None


def _touches(facts: Facts, finding: Finding, rests_on: frozenset[str]) -> bool:
    """Whether a finding's place is among the addresses, or a thing of which one is a fact."""
    return any(
        at in rests_on or any(address.startswith(f"{at}.") for address in rests_on)
        for spot in finding.spots
        if (at := _there(facts, finding, spot.address))
    )


def _there(facts: Facts, finding: Finding, address: str) -> str:
    """Where a finding stands: what could not be read has no node, the map that it is in has."""
    if finding.rule.startswith("reading."):
        while address and facts.job.find(address) is None:
            address = address.rpartition(".")[0]
    return address
