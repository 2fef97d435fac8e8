"""Who is to decide what is open."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Said, rule, said
from spec.finding import Level
from spec.job.schema import TRADES
from spec.meant import did_you_mean

_ALWAYS = ("lead", "client", "engineer")
_JOB = """
people: {client: {name: Ada Quist}}
finishes: {F1: {is: paint, color: {open: WHO, due: 2026-11-06}}}
"""


@rule(
    "job.decider-unknown",
    level=Level.ERROR,
    trades=(),
    why="A question that is put to nobody is answered by nobody.",
    bad=_JOB.replace("WHO", "clint"),
    good=_JOB.replace("WHO", "client"),
)
def decider_unknown(facts: Facts) -> Iterator[Said]:
    """An open decision is to be made by somebody whom the job does not know."""
    known = {*_ALWAYS, *TRADES}
    known |= {node.key for node in facts.job.things("person", "trade")}
    for node in facts.job.tree.walk():
        state = node.state
        if state is None or state.kind != "open" or node.model:
            continue
        if state.who and state.who not in known:
            meant = did_you_mean(state.who, sorted(known), least=0.6)
            yield said(
                node,
                f"{node.address} is to be decided by `{state.who}`, whom the job does not know"
                f"{meant}",
                "write lead, client, engineer, a trade, or a word that stands under `people`",
            )
