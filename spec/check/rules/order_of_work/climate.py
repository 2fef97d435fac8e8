"""Wood, wine and the climate of the room: each waits for what the one before makes."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from spec.check.rule import Facts, Node, Said, rule, said
from spec.derive.sheets import kinds, visits
from spec.finding import Level
from spec.job.stage import first_day
from spec.quantity import Range, show

_WET = ("plaster", "painting", "flooring", "board")
_WOOD = """
rooms:
  wine_room: {use: wine_storage}
  tasting_room: {use: tasting}
trades:
  refrigeration: {visits: {start: {starts: 2026-05-11, days: 1, stage: commission}}}
  millwork:
    visits:
      racks: {starts: 2026-05-14, days: 4, acclimatize: {days: DAYS, where: WHERE, humidity: AIR}}
"""
_DRYING = """
rooms: {tasting_room: {use: tasting}}
trades:
  plaster: {visits: {coat: {starts: 2026-05-04, days: 3, dries: 7 days}}}
  millwork:
    visits: {bar: {starts: DAY, days: 4, acclimatize: {days: 7, where: tasting_room}}}
"""
_FILLED = """
rooms: {wine_room: {use: wine_storage, cooling: {kind: split_wall, run_in: 7 days}}}
trades: {refrigeration: {visits: {start: {starts: 2026-05-11, days: 1, stage: commission}}}}
stocking: {earliest: DAY, waits_for: refrigeration.start}
"""


def _wood(days: str, where: str, air: str = "45 % to 60 %") -> str:
    return _WOOD.replace("DAYS", days).replace("WHERE", where).replace("AIR", air)


@rule(
    "order_of_work.wood-before-climate",
    level=Level.ERROR,
    trades=("millwork", "refrigeration"),
    why="Wood takes on the air of the room that it is to live in; a cooled room has that air only "
    "when its cooling runs.",
    each=("visit",),
    bad=_wood("7", "wine_room"),
    good=_wood("7", "tasting_room"),
)
def wood_before_climate(facts: Facts, visit: Node) -> Iterator[Said]:
    """Wood is to wait in a cooled room before the cooling of the room has started."""
    wood, day = visit.find("acclimatize"), first_day(visit)
    starts = visits.climate_visit(facts.job)
    cold_from = visits.last_day(facts.job, starts) if starts is not None else None
    if wood is None or day is None or starts is None or cold_from is None:
        return
    days = visits.days_of(wood.find("days"))
    lies_from = day - timedelta(days=days)
    cold = [
        r.key for r in visits.linked(facts.job, wood.find("where"), "room") if kinds.is_cooled(r)
    ]
    if cold and lies_from < cold_from:
        yield said(
            wood,
            f"the wood of {visit.address} waits {days} days in {' and '.join(cold)} from "
            f"{lies_from.isoformat()}, but {starts.address} gives the climate on "
            f"{cold_from.isoformat()}",
            f"start {visit.address} {days} days after {starts.address}, or let the wood wait in a "
            "room "
            "that has its climate by then",
            starts,
        )


@rule(
    "order_of_work.wood-beside-wet-work",
    level=Level.ERROR,
    trades=("millwork",),
    why="Wood that waits beside drying plaster or paint drinks their water and shrinks when it is "
    "fitted.",
    each=("visit",),
    bad=_DRYING.replace("DAY", "2026-05-18"),
    good=_DRYING.replace("DAY", "2026-05-25"),
)
def wood_beside_wet_work(facts: Facts, visit: Node) -> Iterator[Said]:
    """Wood is in the rooms while board, plaster, paint or floor is made there or still dries."""
    days, day = visit.find("acclimatize.days"), first_day(visit)
    if days is None or day is None:
        return
    lies_from = day - timedelta(days=visits.days_of(days))
    for wet in facts.job.things("visit"):
        first, dry = first_day(wet), visits.dry_on(facts.job, wet)
        if visits.trade_of_visit(wet) not in _WET or first is None or dry is None:
            continue
        if first < day and lies_from < dry:
            yield said(
                days,
                f"the wood of {visit.address} lies in the rooms from {lies_from.isoformat()}, but "
                "what "
                f"{wet.address} leaves is dry on {dry.isoformat()}",
                f"bring the wood on {dry.isoformat()} or later, or let it wait elsewhere",
                wet,
            )


@rule(
    "order_of_work.wood-waits-too-short",
    level=Level.ERROR,
    trades=("millwork",),
    why="Joints that were tight on the day of fitting open when the wood goes on drying in the "
    "finished room.",
    each=("visit",),
    bad=_wood("3", "tasting_room"),
    good=_wood("7", "tasting_room"),
)
def wood_waits_too_short(facts: Facts, visit: Node) -> Iterator[Said]:
    """Wood waits fewer days in the rooms than the house keeps."""
    days = visit.find("acclimatize.days")
    if days is None or not isinstance(days.value, int):
        return
    least = facts.job.threshold("wood.acclimatizes")
    if timedelta(days=days.value).total_seconds() < least.si:
        yield said(
            days,
            f"the wood of {visit.address} waits {days.value} days before it is fitted; the house "
            "keeps "
            f"{least.written}",
            f"let it wait {least.written}, or override the house with a reason",
            "wood.acclimatizes",
        )


@rule(
    "order_of_work.wood-in-wrong-air",
    level=Level.ERROR,
    trades=("millwork",),
    why="Wood that waited in another air than the house allows moves after it is fitted.",
    each=("visit",),
    bad=_wood("7", "tasting_room", "20 % to 35 %"),
    good=_wood("7", "tasting_room"),
)
def wood_in_wrong_air(facts: Facts, visit: Node) -> Iterator[Said]:
    """The humidity in which wood waits reaches outside what the house allows."""
    air = visit.find("acclimatize.humidity")
    if air is None or not isinstance(air.value, Range):
        return
    low, high = facts.job.limits("wood.room_humidity")
    if air.value.low.si < low - 0.001 or air.value.high.si > high + 0.001:
        yield said(
            air,
            f"the wood of {visit.address} waits at {air.written}; the house keeps "
            f"{show(low, 'percent', facts.job.system)} to "
            f"{show(high, 'percent', facts.job.system)}",
            "dry or dampen the air while the wood waits, and write what is held",
            "wood.room_humidity",
        )


@rule(
    "order_of_work.wine-before-run-in",
    level=Level.ERROR,
    trades=("refrigeration",),
    why="A machine shows in its first days what is wrong with it; the wine is not there yet.",
    each=("room",),
    bad=_FILLED.replace("DAY", "2026-05-14"),
    good=_FILLED.replace("DAY", "2026-05-19"),
)
def wine_before_run_in(facts: Facts, room: Node) -> Iterator[Said]:
    """Wine may come before the run-in of a room's cooling is over."""
    earliest = facts.job.find("stocking.earliest")
    starts = visits.climate_visit(facts.job)
    last = visits.last_day(facts.job, starts) if starts is not None else None
    runs = room.find("cooling.run_in")
    if earliest is None or last is None or starts is None or runs is None:
        return
    over = last + timedelta(days=visits.days_of(runs))
    day = facts.job.tree.date("stocking.earliest")
    if day <= over:
        yield said(
            earliest,
            f"wine may come on {day.isoformat()}, but {starts.address} ends on {last.isoformat()} "
            "and "
            f"{room.key.replace('_', ' ')} runs empty for {runs.written} then, to "
            f"{over.isoformat()}",
            f"write {(over + timedelta(days=1)).isoformat()} or later",
            runs,
            starts,
        )


@rule(
    "order_of_work.run-in-too-short",
    level=Level.WARNING,
    trades=("refrigeration",),
    why="Two days of readings show that a machine cools, not that it holds.",
    each=("room",),
    bad="rooms: {wine_room: {use: wine_storage, cooling: {kind: split_wall, run_in: 1 day}}}",
    good="rooms: {wine_room: {use: wine_storage, cooling: {kind: split_wall, run_in: 7 days}}}",
)
def run_in_too_short(facts: Facts, room: Node) -> Iterator[Said]:
    """The cooling of a room runs empty for less than the house keeps."""
    runs = room.find("cooling.run_in")
    least = facts.job.threshold("run_in.empty")
    if runs is not None and runs.value is not None and room.si("cooling.run_in") < least.si:
        yield said(
            runs,
            f"the cooling of {room.key.replace('_', ' ')} runs empty for {runs.written}; the "
            "house keeps "
            f"{least.written}",
            f"write {least.written} or more",
            "run_in.empty",
        )


@rule(
    "order_of_work.stocked-too-early",
    level=Level.ERROR,
    trades=(),
    why="Bottles that arrive before the last visit stand in the way, and in the dust.",
    bad=_FILLED.replace("DAY", "2026-05-11"),
    good=_FILLED.replace("DAY", "2026-05-19"),
)
def stocked_too_early(facts: Facts) -> Iterator[Said]:
    """Wine may come before a visit that it waits for is over."""
    stocking = facts.job.find("stocking")
    if stocking is None or stocking.find("earliest") is None:
        return
    day = stocking.date("earliest")
    for visit in visits.linked(facts.job, stocking.find("waits_for"), "visit"):
        last = visits.last_day(facts.job, visit)
        if last is not None and day <= last:
            yield said(
                stocking.at("earliest"),
                f"wine may come on {day.isoformat()}, but {visit.address}, which it waits for, is "
                "over "
                f"on {last.isoformat()}",
                f"write a day after {last.isoformat()}",
                visit,
            )
