"""What every part of a document is given: the job, its findings, and for whom it is written."""

from __future__ import annotations

from collections.abc import Mapping
from contextvars import Context
from dataclasses import dataclass, field
from functools import cached_property

from spec.check.choices import Alternative
from spec.check.rule import Facts
from spec.derive.figure import Figure
from spec.finding import Finding
from spec.job.job import Job
from spec.job.node import Node
from spec.job.schema import SUBJECTS, TRADES
from spec.job.trades import leaves_for, name_of_trade, thing_of, trade_of, trades_for
from spec.place import Places


@dataclass(frozen=True)
class Reader:
    """A trade whose order is written, or the client or lead (`trade` empty)."""

    facts: Facts
    findings: tuple[Finding, ...]
    trade: str = ""
    photos: Mapping[tuple[str, int], bytes] = field(default_factory=dict)
    """The job's photographs by what they show and their number."""
    alternatives: tuple[Alternative, ...] = ()
    """The job under the other choices of its open decisions."""
    worked: bool = True
    """Whether figures are worked out; what states a decision can be told without them."""

    @property
    def job(self) -> Job:
        """The resolved job."""
        return self.facts.job

    @property
    def places(self) -> Places:
        """Where everything is."""
        return self.facts.places

    @cached_property
    def entry(self) -> Node | None:
        """The trade's own entry in the job: who does it, when."""
        return entry_of(self.job, self.trade)

    @cached_property
    def leaves(self) -> tuple[Node, ...]:
        """Every decision that this reader needs, in the order of the file."""
        return leaves_for(self.job, self.trade)

    def trades_of(self, leaf: Node) -> tuple[str, ...]:
        """The trades whose orders must state a leaf."""
        return trades_for(self.job, leaf.decision, thing_of(leaf))

    @cached_property
    def by_thing(self) -> dict[str, tuple[Node, tuple[Node, ...]]]:
        """The leaves by the thing that they are facts of: address to (thing, its leaves)."""
        found: dict[str, tuple[Node, list[Node]]] = {}
        for leaf in self.leaves:
            thing = thing_of(leaf)
            found.setdefault(thing.address, (thing, []))[1].append(leaf)
        return {a: (thing, tuple(leaves)) for a, (thing, leaves) in found.items()}

    @property
    def naming(self) -> dict[str, tuple[Node, ...]]:
        """The leaves of the job by the word or mark that they say, in the order of the file."""
        return self.job.naming

    @cached_property
    def figures(self) -> dict[str, dict[str, Figure]]:
        """The figures whose declaration names the reader, by thing and name (`client` is one).

        Looking for them states none of them: nothing is recorded. A reader for whom nothing is
        `worked` out has none.
        """
        return Context().run(self._figures) if self.worked else {}

    def _figures(self) -> dict[str, dict[str, Figure]]:
        found: dict[str, dict[str, Figure]] = {}
        for figure in self.facts.figures.all():
            if (self.trade or "client") in figure.definition.trades:
                found.setdefault(figure.thing, {})[figure.definition.name] = figure
        return found

    @cached_property
    def own_work(self) -> tuple[Node, ...]:
        """The things that this trade does, in the order of the file."""
        return tuple(
            thing
            for thing in self.job.everything
            if is_built(thing) and trade_of(self.job, thing) == self.trade
        )


def is_built(thing: Node) -> bool:
    """Something that a trade supplies, fits, moves or takes away, not a paper or a person."""
    return bool(thing.surface and thing.heading) or thing.container in ("elsewhere", "circuits")


def entry_of(job: Job, trade: str) -> Node | None:
    """The entry of a trade: under its own name, or one that says `trade:`."""
    for node in job.things("trade"):
        if name_of_trade(node) == trade:
            return node
    return None


def trades_with_work(job: Job) -> tuple[str, ...]:
    """Every trade that the job names or that some thing is done by, in the usual order."""
    named = set()
    for node in job.things("trade"):
        named.add(name_of_trade(node))
    named |= {trade_of(job, thing) for thing in job.everything}
    return tuple(trade for trade in TRADES if trade in named)


def subject_of(thing: Node) -> str:
    """The subject of a thing: where its kind's facts are described."""
    subject = thing.shape.decision.subject
    return subject if subject in SUBJECTS else "job"
