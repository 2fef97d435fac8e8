"""What is bought and made: ordered, approved and measured in time for the visit that needs it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from spec.check.rule import Facts, Node, Said, rule, said
from spec.derive.sheets import visits
from spec.finding import Level
from spec.job.stage import first_day, stage_of_visit

_BOUGHT = """
job: {revision: {date: 2026-03-02}}
purchases: {OR1: {for: D1, ordered: 2026-03-02, promised: DAY}}
rooms: {wine_room: {walls_clockwise: {WA: {openings: {D1: {is: door}}}}}}
trades: {doors: {visits: {door: {starts: 2026-05-11, days: 2, needs: OR1}}}}
"""
_LEAD = """
job: {revision: {date: DAY}}
rooms: {wine_room: {walls_clockwise: {WA: {openings: {D1: {is: door, lead_time: 8 weeks}}}}}}
trades: {doors: {visits: {door: {starts: 2026-05-11, days: 2, stage: fit}}}}
"""
_APPROVED = """
job: {revision: {date: 2026-02-02}}
people: {client: {name: Ada Quist}}
approvals: {AP1: {of: D1, who: client, due: DAY, when: {open: client, due: DAY}}}
rooms: {wine_room: {walls_clockwise: {WA: {openings: {D1: {is: door, lead_time: 8 weeks}}}}}}
trades: {doors: {visits: {door: {starts: 2026-05-11, days: 2, stage: fit}}}}
"""


def _needing(facts: Facts, purchase: Node) -> list[Node]:
    """The visits that a purchase is for: those that need it, else those that fit its things."""
    named = [v for v in facts.job.things("visit") if purchase.key in visits.links(v.find("needs"))]
    if named:
        return named
    things = visits.linked(facts.job, purchase.find("for"))
    fitted = {v.address: v for t in things if (v := visits.fitting_visit(facts.job, t)) is not None}
    return list(fitted.values())


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
    for visit in _needing(facts, purchase):
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
    promised = purchase.find("promised")
    day = promised.value if promised is not None else None
    least = facts.job.limit("purchase.reserve")
    if promised is None or not isinstance(day, date):
        return
    for visit in _needing(facts, purchase):
        first = first_day(visit)
        if first is None or day > first:
            continue
        left = visits.calendar(facts.job).between(day, first)
        if left < least:
            yield said(
                promised,
                f"{purchase.key} is promised for {day.isoformat()}, {left} working days before "
                f"{visit.address}; the house keeps {least:.0f}",
                "ask for an earlier day, or watch it",
                visit,
                "purchase.reserve",
            )


def _ordered(facts: Facts, thing: Node) -> bool:
    for purchase in visits.purchases_of(facts.job, thing):
        leaf = purchase.find("ordered")
        if leaf is not None and isinstance(leaf.value, date):
            return True
    return False


def _made(facts: Facts) -> Iterator[tuple[Node, Node, int, Node]]:
    """What has a lead time from order: thing or trade, its leaf, days, the visit that needs it."""
    for thing in facts.job.everything:
        if thing.kind in ("trade", "finish") or thing.word("state", "") == "existing":
            continue
        lead = visits.lead_days(thing)
        visit = visits.fitting_visit(facts.job, thing) if lead is not None else None
        if lead is not None and visit is not None:
            yield thing, lead[0], lead[1], visit
    for trade in facts.job.things("trade"):
        lead = visits.lead_days(trade)
        fits = [v for v in trade.group("visits") if stage_of_visit(v) == "fit" and first_day(v)]
        if lead is not None and fits:
            yield trade, lead[0], lead[1], fits[0]


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


@rule(
    "order_of_work.ordered-too-late",
    level=Level.ERROR,
    trades=(),
    why="A maker's weeks run from the order; nobody makes them up on site.",
    bad=_LEAD.replace("DAY", "2026-04-06"),
    good=_LEAD.replace("DAY", "2026-03-02"),
)
def ordered_too_late(facts: Facts) -> Iterator[Said]:
    """The last day to order something has passed, and nothing says that it is ordered."""
    today = facts.job.day
    for thing, leaf, days, visit in _made(facts) if today is not None else ():
        by = visits.order_by(facts.job, visit, days)
        first = first_day(visit)
        if by is None or today is None or first is None or today <= by or _ordered(facts, thing):
            continue
        if today > first or (thing.kind == "trade" and _trade_ordered(facts, thing)):
            continue
        yield said(
            leaf,
            f"{thing.key} takes {leaf.written} and is needed for {visit.address} on "
            f"{first.isoformat()}: the last day to order it was {by.isoformat()}, and no purchase "
            "says "
            "that it is ordered",
            f"write the purchase with its day, find a quicker maker, or move {visit.address}",
            visit,
        )


def _trade_ordered(facts: Facts, trade: Node) -> bool:
    """A purchase covers something that the trade makes."""
    own = {v.address for v in trade.group("visits")}
    return any(
        own & {v.address for v in _needing(facts, purchase)}
        for purchase in facts.job.things("purchase")
        if isinstance(getattr(purchase.find("ordered"), "value", None), date)
    )


@rule(
    "order_of_work.approved-too-late",
    level=Level.ERROR,
    trades=(),
    why="What waits for a signature is not ordered; the maker's weeks begin when it is there.",
    each=("approval",),
    bad=_APPROVED.replace("DAY", "2026-04-01"),
    good=_APPROVED.replace("DAY", "2026-02-16"),
)
def approved_too_late(facts: Facts, approval: Node) -> Iterator[Said]:
    """An approval is due after the last day to order what it is of."""
    there = visits.there_on(approval)
    named = set(visits.links(approval.find("of")))
    if there is None or (there[0].key == "when" and there[0].state is None):
        return
    for thing, leaf, days, visit in _made(facts):
        mine = {thing.key} if thing.kind != "trade" else _needs_it(thing, approval)
        by = visits.order_by(facts.job, visit, days)
        if (not named & mine and mine != {approval.key}) or by is None or there[1] <= by:
            continue
        yield said(
            there[0],
            f"{approval.key} is due on {there[1].isoformat()}, but {thing.key} takes "
            f"{leaf.written} and "
            f"has to be ordered by {by.isoformat()} for {visit.address}",
            f"get the approval by {by.isoformat()}, or move {visit.address}",
            leaf,
        )


def _needs_it(trade: Node, approval: Node) -> set[str]:
    needing = [v for v in trade.group("visits") if approval.key in visits.links(v.find("needs"))]
    return {approval.key} if needing else set()
