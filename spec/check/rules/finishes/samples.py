"""Finishes on paper: samples in time, enough of them, and somebody who applies them."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.derive.sheets import visits
from spec.finding import Level
from spec.job.stage import first_day
from spec.job.trades import own_trades
from spec.quantity import Quantity

_APPLIES = {
    "plaster": "plaster",
    "paint": "painting",
    "tile": "flooring",
    "wood_floor": "flooring",
    "stone": "stone",
    "wallcovering": "painting",
}
"""The trade that applies a kind of finish, where it does not say itself. Common practice."""
_WASTE = {"tile": "tile.waste", "wood_floor": "floor.waste", "plaster": "plaster.waste"}
_SAMPLE = """
job: {revision: {date: 2026-05-04}}
people: {client: {name: Ada Quist}}
finishes: {F1: {is: plaster, material: lime_plaster}}
approvals: {AP1: {of: F1, sample: board, who: client, due: DAY, when: {open: client, due: DAY}}}
trades: {plaster: {visits: {coat: {starts: 2026-06-01, days: 5}}}}
"""


@rule(
    "finishes.approved-after-use",
    level=Level.ERROR,
    trades=("plaster", "painting", "flooring", "stone"),
    why="A sample that is approved when the wall is finished is not a sample.",
    each=("approval",),
    bad=_SAMPLE.replace("DAY", "2026-06-08"),
    good=_SAMPLE.replace("DAY", "2026-05-18"),
)
def approved_after_use(facts: Facts, approval: Node) -> Iterator[Said]:
    """The sample of a finish is due after the first visit of the trade that applies it."""
    there = visits.there_on(approval)
    if there is None:
        return
    for finish in visits.linked(facts.job, approval.find("of")):
        if finish.container != "finishes":
            continue
        done = finish.find("done_by")
        trade = (
            str(done.value) if done is not None and done.value else _APPLIES.get(finish.kind, "")
        )
        first = next(iter(visits.visits_of(facts.job, trade)), None) if trade else None
        day = first_day(first) if first is not None else None
        if first is not None and day is not None and there[1] > day:
            yield said(
                there[0],
                f"the sample of {finish.key} is due on {there[1].isoformat()}, but {first.address} "
                f"starts on {day.isoformat()}",
                f"get {approval.key} before {day.isoformat()}, or move {first.address}",
                first,
            )


@rule(
    "finishes.little-waste",
    level=Level.NOTE,
    trades=("flooring", "plaster"),
    why="The last square foot that is missing comes from another batch, in another shade.",
    each=tuple(_WASTE),
    bad="finishes: {F1: {is: tile, material: limestone, waste: 3 %}}",
    good="finishes: {F1: {is: tile, material: limestone, waste: 12 %}}",
)
def little_waste(facts: Facts, finish: Node) -> Iterator[Said]:
    """A finish is bought with less waste than the house reckons."""
    waste = finish.find("waste")
    name = _WASTE[finish.kind]
    least = facts.job.threshold(name)
    if waste is not None and isinstance(waste.value, Quantity) and waste.value.si < least.si - 1e-9:
        yield said(
            waste,
            f"{finish.key} is bought with {waste.written} of waste; the house reckons "
            f"{least.written}",
            "buy more, or say in a note why less is enough",
            name,
        )


@rule(
    "finishes.floor-waits-too-short",
    level=Level.ERROR,
    trades=("flooring",),
    why="Boards that are laid on the day they come shrink apart or push up against the walls.",
    each=("wood_floor",),
    bad="finishes: {F1: {is: wood_floor, material: white_oak, acclimatized: 1 day}}",
    good="finishes: {F1: {is: wood_floor, material: white_oak, acclimatized: 10 days}}",
)
def floor_waits_too_short(facts: Facts, finish: Node) -> Iterator[Said]:
    """A wood floor lies in the rooms for less than the house keeps before it is laid."""
    waits = finish.find("acclimatized")
    least = facts.job.threshold("wood.acclimatizes")
    if waits is not None and isinstance(waits.value, Quantity) and waits.value.si < least.si:
        yield said(
            waits,
            f"the boards of {finish.key} wait {waits.written} in the rooms; the house keeps "
            f"{least.written}",
            f"let them wait {least.written}",
            "wood.acclimatizes",
        )


@rule(
    "finishes.who-applies",
    level=Level.ERROR,
    trades=(),
    why="A finish whose trade is not on the job is applied by nobody.",
    each=("finish", *_APPLIES),
    bad="""
finishes: {F1: {is: plaster, material: lime_plaster}}
rooms: {tasting_room: {finishes: {walls: F1}}}
trades: {painting: {visits: {paint: {starts: 2026-05-04}}}}
""",
    good="""
finishes: {F1: {is: plaster, material: lime_plaster}}
rooms: {tasting_room: {finishes: {walls: F1}}}
trades: {plaster: {visits: {coat: {starts: 2026-05-04}}}}
""",
)
def who_applies(facts: Facts, finish: Node) -> Iterator[Said]:
    """The trade that applies a finish of a wall, ceiling or floor has no entry in the job."""
    done = finish.find("done_by")
    trade = str(done.value) if done is not None and done.value else _APPLIES.get(finish.kind, "")
    entries = facts.job.things("trade")
    if finish.container != "finishes" or not trade or not entries or finish.kind == "stone":
        return
    known = {visits.trade_of_visit(e) or e.key for e in entries}
    known |= {t for e in entries for t in visits.links(e.find("also"))}
    known |= {t for e in entries for t in own_trades(facts.job, e)}
    room = next((r for r in facts.job.rooms if finish.key in _named(r)), None)
    if trade not in known and room is not None:
        yield said(
            finish,
            f"{finish.key} on {room.key.replace('_', ' ')} is {finish.kind.replace('_', ' ')}, "
            "but no "
            f"trade of the job is {trade}",
            f"add `{trade}` under `trades`, or write `done_by` at {finish.key}",
            "trades",
        )


def _named(room: Node) -> set[str]:
    found: set[str] = set()
    for part in ("walls", "ceiling", "floor"):
        leaf = room.find(f"finishes.{part}")
        if leaf is not None and isinstance(leaf.value, str):
            found.add(leaf.value)
    return found
