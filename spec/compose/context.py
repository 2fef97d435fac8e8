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
from spec.job.trades import (
    OWN,
    leaves_for,
    name_of_trade,
    own_trades,
    thing_of,
    trade_of,
    trades_for,
)
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
    def stated_figures(self) -> tuple[Figure, ...]:
        """The figures that the reader is told, in the order of their declaration.

        Looking for them states none of them: nothing is recorded. A reader for whom nothing is
        `worked` out has none.
        """
        return Context().run(self._stated) if self.worked else ()

    def _stated(self) -> tuple[Figure, ...]:
        who = self.trade or "client"
        figures = self.facts.figures.all()
        return tuple(figure for figure in figures if who in figure_trades(self.job, figure))

    @cached_property
    def figures(self) -> dict[str, dict[str, Figure]]:
        """The same by thing and name."""
        found: dict[str, dict[str, Figure]] = {}
        for figure in self.stated_figures:
            found.setdefault(figure.thing, {})[figure.definition.name] = figure
        return found

    @cached_property
    def own_work(self) -> tuple[Node, ...]:
        """The things that this trade does, in the order of the file.

        A hole is the work of who cuts it and of who closes it.
        """
        return tuple(
            thing for thing in self.job.everything if is_built(thing) and self._does(thing)
        )

    def _does(self, thing: Node) -> bool:
        if thing.kind == "hole":
            return self.trade in own_trades(self.job, thing)
        return trade_of(self.job, thing) == self.trade


def is_built(thing: Node) -> bool:
    """Something that a trade supplies, fits, moves or takes away, not a paper or a person."""
    standing = bool(thing.surface and thing.heading) or thing.container in ("elsewhere", "circuits")
    return standing or thing.container == "existing"


def figure_trades(job: Job, figure: Figure) -> tuple[str, ...]:
    """The trades in whose orders a figure is stated, `client` among them for the spec book.

    What is `own` is told to the trades that its thing belongs to. A passage on the way in belongs
    to nobody: what is stated of it is told to those whose piece is the tightest, its first part.
    """
    found: list[str] = []
    for trade in figure.definition.trades:
        if trade != OWN:
            found.append(trade)
            continue
        tightest = figure.parts[0].address if figure.parts else ""
        things = (job.find(address) for address in (figure.thing, tightest) if address)
        owners = (own_trades(job, thing) for thing in things if thing is not None)
        found += next((trades for trades in owners if trades), ())
    return tuple(dict.fromkeys(found))


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
