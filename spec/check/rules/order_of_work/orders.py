"""What is bought: promised for a day that is worked, in time for the visit that needs it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from spec.check.rule import Facts, Node, Said, rule, said
from spec.derive.sheets import visits
from spec.derive.sheets.bought import needing, on_site_by
from spec.finding import Level
from spec.job.stage import first_day

_BOUGHT = """
job: {revision: {date: 2026-03-02}}
purchases: {OR1: {for: D1, ordered: 2026-03-02, promised: DAY}}
rooms: {wine_room: {walls_clockwise: {WA: {openings: {D1: {is: door}}}}}}
trades: {doors: {visits: {door: {starts: 2026-05-11, days: 2, needs: OR1}}}}
"""


@rule(
    "order_of_work.comes-too-late",
    level=Level.ERROR,
    trades=(),
    why="A crew that finds its door still at the maker's goes home, and comes back when it suits.",
    each=("purchase",),
    bad=_BOUGHT.replace("DAY", "2026-05-18"),
    good=_BOUGHT.replace("DAY", "2026-05-04"),
)
def comes_too_late(facts: Facts, purchase: Node) -> Iterator[Said]:
    """A purchase is promised for a day after the one on which a visit needs it."""
    promised = purchase.find("promised")
    day = promised.value if promised is not None else None
    received = purchase.find("received")
    if promised is None or not isinstance(day, date) or (received is not None and received.value):
        return
    for visit in needing(facts.job, purchase):
        first = first_day(visit)
        if first is None:
            continue
        waits = visits.days_of(visit.find("acclimatize.days"))
        needed = first - timedelta(days=waits)
        if day > needed:
            wood = f" and lets the wood wait {waits} days before" if waits else ""
            yield said(
                promised,
                f"{purchase.key} is promised for {day.isoformat()}, but {visit.address} starts on "
                f"{first.isoformat()}{wood}",
                f"get it by {needed.isoformat()}, or move {visit.address}",
                visit,
            )


@rule(
    "order_of_work.little-reserve",
    level=Level.NOTE,
    trades=(),
    why="A delivery that is late by three days is ordinary; the house keeps a reserve for it.",
    each=("purchase",),
    bad=_BOUGHT.replace("DAY", "2026-05-08"),
    good=_BOUGHT.replace("DAY", "2026-05-04"),
)
def little_reserve(facts: Facts, purchase: Node) -> Iterator[Said]:
    """Fewer working days than the house keeps lie between a promised day and its visit."""
    promised, day = purchase.find("promised"), visits.day_at(purchase, "promised")
    if promised is None or day is None:
        return
    for visit in needing(facts.job, purchase):
        first = first_day(visit)
        if first is None:
            continue
        needed = first - timedelta(days=visits.days_of(visit.find("acclimatize.days")))
        by = on_site_by(facts, visit, first)
        if by < day <= needed:
            left = visits.calendar(facts.job).between(day, needed)
            wood = " and the wait of its wood" if needed < first else ""
            yield said(
                promised,
                f"{purchase.key} is promised for {day.isoformat()}, {left} working days before "
                f"{visit.address}{wood}; the house keeps "
                f"{facts.job.limit('purchase.reserve'):.0f}, which is {by.isoformat()}",
                "ask for an earlier day, or watch it",
                visit,
                "purchase.reserve",
            )


@rule(
    "order_of_work.arrives-on-a-day-off",
    level=Level.WARNING,
    trades=(),
    why="A truck that comes on a holiday finds nobody, and the door stands on the pavement.",
    each=("purchase",),
    bad=_BOUGHT.replace("DAY", "2026-05-09"),
    good=_BOUGHT.replace("DAY", "2026-05-04"),
)
def arrives_on_a_day_off(facts: Facts, purchase: Node) -> Iterator[Said]:
    """A purchase is promised for a day on which nobody works."""
    promised = purchase.find("promised")
    day = promised.value if promised is not None else None
    if promised is None or not isinstance(day, date):
        return
    calendar = visits.calendar(facts.job)
    if not calendar.works(day):
        yield said(
            promised,
            f"{purchase.key} is promised for {day.isoformat()}, a {visits.weekday(day)} on which "
            "nobody "
            "works",
            f"ask for {calendar.on_or_before(day).isoformat()} or "
            f"{calendar.on_or_after(day).isoformat()}",
            "calendar.holidays" if day in calendar.holidays else "calendar.working_days",
        )
