"""Every kind of work has a trade, and every trade with work has an entry and a visit."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Said, rule, said
from spec.derive.sheets import build_up, kinds
from spec.finding import Level
from spec.job.finishes import finish_at
from spec.job.node import Node
from spec.job.trades import name_of_trade, own_trades

_WORK = ("openings", "holes", "existing", "devices", "lights", "equipment", "backing", "fixtures")
_PIECES = ("left_to_right", "appliances", "drivers", "elsewhere", "circuits")
_JOB = """
job: {revision: {date: 2026-05-04}}
trades: {TRADE: {visits: {work: {starts: 2026-05-04}}}}
rooms:
  tasting_room:
    taped: {to: finish}
    walls_clockwise: {TA: {devices: {RC1: {is: receptacle}}}}
"""


def _works(facts: Facts) -> Iterator[Node]:
    for thing in facts.job.everything:
        if thing.container in _PIECES or (thing.surface and thing.container in _WORK):
            yield thing


def _stays(thing: Node) -> bool:
    action = thing.find("action")
    return action is not None and str(action.value) in ("keep", "protect")


_COATS = {"plaster": "plaster", "paint": "painting", "tile": "flooring", "wood_floor": "flooring"}
"""The trade that applies a kind of finish, where the finish says none. Common practice."""


def _coats(facts: Facts) -> Iterator[tuple[Node, str]]:
    """What is finished, with the trade that finishes it."""
    for surface in kinds.surfaces(facts.job):
        leaf = finish_at(facts.job, surface, build_up.part_of(surface))
        finish = facts.job.thing(str(leaf.value)) if leaf is not None else None
        if finish is not None and surface.find("state") is None:
            trade = finish.word("done_by", "") or _COATS.get(finish.kind, "")
            if trade:
                yield surface, trade
    for top in facts.job.things("top"):
        finish = facts.job.thing(top.word("finish", "")) if top.find("finish") else None
        if finish is not None and finish.kind == "stone":
            yield top, "stone"


@rule(
    "job.trade-without-entry",
    level=Level.ERROR,
    silence=True,
    trades=(),
    why="Work of a trade that nobody was asked to do stands undone on the day it is needed.",
    bad=_JOB.replace("TRADE", "framing"),
    good=_JOB.replace("TRADE", "electrical"),
)
def trade_without_entry(facts: Facts) -> Iterator[Said]:
    """A thing is done by a trade that has no entry, no visit, and is not done along by another."""
    entries = facts.job.things("trade")
    known = {name_of_trade(entry) for entry in entries}
    for entry in entries:
        known |= set(entry.words("also", ())) if entry.find("also") is not None else set()
    told: set[str] = set()
    work = [(t, trade) for t in _works(facts) for trade in own_trades(facts.job, t)]
    for thing, trade in (*work, *_coats(facts)):
        if _stays(thing) or trade in known or trade in told:
            continue
        told.add(trade)
        yield said(
            thing,
            f"{thing.key} is the work of {trade}, but the job has no {trade} under `trades`",
            f"add `{trade}` with a firm and a visit, say at another trade `also: {trade}`, or "
            f"write at {thing.key} who does it",
            f"{thing.address}.installed_by",
        )


@rule(
    "job.trade-without-visit",
    level=Level.ERROR,
    silence=True,
    trades=(),
    why="A trade without a day comes on none.",
    bad=_JOB.replace("TRADE", "electrical").replace(
        "{visits: {work: {starts: 2026-05-04}}}",
        "{firm: L}, framing: {visits: {work: {starts: 2026-05-04}}}",
    ),
    good=_JOB.replace("TRADE", "electrical"),
)
def trade_without_visit(facts: Facts) -> Iterator[Said]:
    """A trade has work in the job and no visit."""
    for entry in facts.job.things("trade"):
        if not entry.group("visits"):
            yield said(
                f"{entry.address}.visits",
                f"{entry.key} has no visit: nobody knows when it comes",
                "write `visits` with a day, or after which other visit it comes",
                entry,
            )
