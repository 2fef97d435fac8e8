"""Visits: on days that are worked, one after the other, and nothing covered too soon."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from spec.check.rule import Facts, Node, Said, rule, said
from spec.derive.sheets import visits
from spec.finding import Level
from spec.job.stage import first_day, stage_of_visit

_ALONE = ("plaster", "painting", "flooring")
"""Trades whose wet work or floor nobody walks through."""
_TWO = """
trades:
  plaster: {visits: {coat: {starts: 2026-05-04, days: 3 DRIES}}}
  painting: {visits: {paint: {starts: DAY, days: 2, after: plaster.coat}}}
"""


def _starts(visit: Node) -> tuple[Node, date] | None:
    leaf, day = visit.find("starts"), first_day(visit)
    return (leaf, day) if leaf is not None and day is not None else None


@rule(
    "order_of_work.starts-on-a-day-off",
    level=Level.ERROR,
    trades=(),
    why="A crew that is called for a holiday or a Sunday does not come, and all that follows it "
    "moves.",
    each=("visit",),
    bad="""
calendar: {working_days: Monday to Friday, holidays: [2026-05-25]}
trades: {framing: {visits: {framing: {starts: 2026-05-25, days: 2}}}}
""",
    good="""
calendar: {working_days: Monday to Friday, holidays: [2026-05-25]}
trades: {framing: {visits: {framing: {starts: 2026-05-26, days: 2}}}}
""",
)
def starts_on_a_day_off(facts: Facts, visit: Node) -> Iterator[Said]:
    """A visit starts on a holiday or on a day of the week that is not worked."""
    start = _starts(visit)
    if start is None:
        return
    leaf, day = start
    calendar = visits.calendar(facts.job)
    if calendar.works(day):
        return
    off = day in calendar.holidays
    what = "a holiday" if off else f"a {visits.weekday(day)}"
    yield said(
        leaf,
        f"{visit.address} starts on {day.isoformat()}, {what}",
        f"start on {calendar.on_or_after(day).isoformat()}, the next day that is worked",
        "calendar.holidays" if off else "calendar.working_days",
    )


@rule(
    "order_of_work.starts-too-early",
    level=Level.ERROR,
    trades=(),
    why="A crew that comes before the one it waits for stands in the room and does nothing, or "
    "covers what is not finished.",
    each=("visit",),
    bad=_TWO.replace("DRIES", "").replace("DAY", "2026-05-05"),
    good=_TWO.replace("DRIES", "").replace("DAY", "2026-05-07"),
)
def starts_too_early(facts: Facts, visit: Node) -> Iterator[Said]:
    """A visit starts before one that it comes after is over and its waiting time has passed."""
    start = _starts(visit)
    if start is None:
        return
    leaf, day = start
    waits = visits.days_of(visit.find("waits"))
    entry = visits.entry_of(visit)
    for before in visits.linked(facts.job, visit.find("after"), "visit"):
        last = visits.last_day(facts.job, before)
        if last is None:
            continue
        wait, why = waits, ""
        if waits:
            why = f", and {visit.text('waits')} must pass then"
        making = visits.lead_days(entry, "from_template") if entry is not None else None
        if making is not None and before.key == "template" and making[1] > wait:
            wait, why = making[1], f", and the maker takes {making[0].written} from then"
        ready = last + timedelta(days=wait or 1)
        if day < ready:
            yield said(
                leaf,
                f"{visit.address} starts on {day.isoformat()}, but {before.address}, which it "
                "comes "
                f"after, is over on {last.isoformat()}{why}",
                f"start on {visits.calendar(facts.job).on_or_after(ready).isoformat()} or later, "
                "or "
                f"move {before.address}",
                before,
                *((making[0],) if making is not None and wait == making[1] else ()),
            )


@rule(
    "order_of_work.before-it-is-dry",
    level=Level.ERROR,
    trades=("plaster", "painting", "flooring"),
    why="Paint on damp plaster blisters, and a floor that is walked on too soon comes loose.",
    each=("visit",),
    bad=_TWO.replace("DRIES", ", dries: 14 days").replace("DAY", "2026-05-11"),
    good=_TWO.replace("DRIES", ", dries: 14 days").replace("DAY", "2026-05-21"),
)
def before_it_is_dry(facts: Facts, visit: Node) -> Iterator[Said]:
    """A visit starts while what it follows, or a new floor under it, still dries."""
    start = _starts(visit)
    if start is None:
        return
    leaf, day = start
    follows = [v.address for v in visits.linked(facts.job, visit.find("after"), "visit")]
    for before in facts.job.things("visit"):
        wet = before.find("dries")
        if wet is None:
            continue
        last, dry = visits.last_day(facts.job, before), visits.dry_on(facts.job, before)
        if last is None or dry is None or not last < day < dry:
            continue
        floor = visits.trade_of_visit(before) == "flooring" and visits.trade_of_visit(
            visit
        ) not in (
            "flooring",
            "",
        )
        if before.address in follows or floor:
            yield said(
                leaf,
                f"{visit.address} starts on {day.isoformat()}, but {before.address} is over on "
                f"{last.isoformat()} and dries for {wet.written}",
                f"start on {visits.calendar(facts.job).on_or_after(dry).isoformat()} or later",
                before,
                wet,
            )


@rule(
    "order_of_work.two-trades-at-once",
    level=Level.ERROR,
    trades=("plaster", "painting", "flooring"),
    why="Nobody works beside wet plaster and paint, and nobody walks over a floor while it is "
    "laid.",
    each=("visit",),
    bad="""
trades:
  painting: {visits: {paint: {starts: 2026-05-04, days: 3}}}
  millwork: {visits: {racks: {starts: 2026-05-06, days: 3}}}
""",
    good="""
trades:
  painting: {visits: {paint: {starts: 2026-05-04, days: 3}}}
  millwork: {visits: {racks: {starts: 2026-05-07, days: 3}}}
""",
)
def two_trades_at_once(facts: Facts, visit: Node) -> Iterator[Said]:
    """Another trade is in the rooms on a day on which they are plastered, painted or floored."""
    trade, first = visits.trade_of_visit(visit), first_day(visit)
    last = visits.last_day(facts.job, visit)
    if trade not in _ALONE or first is None or last is None:
        return
    for other in facts.job.things("visit"):
        their, theirs = first_day(other), visits.last_day(facts.job, other)
        whose = visits.trade_of_visit(other)
        if their is None or theirs is None or whose in (trade, ""):
            continue
        if whose in _ALONE and (their, whose) < (first, trade):
            continue  # said at the earlier of the two
        if (
            their <= last
            and first <= theirs
            and visit.address not in visits.links(other.find("after"))
        ):
            both = max(first, their)
            yield said(
                other.at("starts"),
                f"{other.address} and {visit.address} are both in the rooms on {both.isoformat()}: "
                f"{visit.address} is there from {first.isoformat()} to {last.isoformat()}",
                f"move one of them, or say under `after` of {other.address} which comes first",
                visit,
            )


@rule(
    "order_of_work.waits-for-itself",
    level=Level.ERROR,
    trades=(),
    why="Work that waits for itself through a chain of others never starts.",
    bad="""
trades:
  framing: {visits: {framing: {starts: 2026-05-04, days: 2, after: board.board}}}
  board: {visits: {board: {starts: 2026-05-11, days: 2, after: framing.framing}}}
""",
    good="""
trades:
  framing: {visits: {framing: {starts: 2026-05-04, days: 2}}}
  board: {visits: {board: {starts: 2026-05-11, days: 2, after: framing.framing}}}
""",
)
def waits_for_itself(facts: Facts) -> Iterator[Said]:
    """Visits and inspections come after each other in a circle."""
    around = visits.circle(facts.job)
    if around:
        yield said(
            around[0].at("after"),
            f"{' after '.join(node.address for node in around)}: each waits for the next",
            "take one of them out of `after`",
            *(node.at("after") for node in around[1:-1]),
        )


@rule(
    "order_of_work.cleaned-too-early",
    level=Level.WARNING,
    trades=("cleaning",),
    why="Who cleans before the last saw has been in the room cleans twice.",
    each=("visit",),
    bad="""
trades:
  cleaning: {visits: {cleaning: {starts: 2026-05-04, days: 1}}}
  millwork: {visits: {racks: {starts: 2026-05-05, days: 3, stage: fit}}}
""",
    good="""
trades:
  cleaning: {visits: {cleaning: {starts: 2026-05-11, days: 1}}}
  millwork: {visits: {racks: {starts: 2026-05-05, days: 3, stage: fit}}}
""",
)
def cleaned_too_early(facts: Facts, visit: Node) -> Iterator[Said]:
    """A trade that makes dust is in the rooms after the last cleaning has begun."""
    cleaning = visits.visits_of(facts.job, "cleaning")
    start = _starts(cleaning[-1]) if cleaning else None
    last = visits.last_day(facts.job, visit)
    trade = visits.trade_of_visit(visit)
    if start is None or last is None or trade in ("cleaning", "") or last < start[1]:
        return
    if stage_of_visit(visit) in ("rough", "close_in", "finish", "fit"):
        yield said(
            start[0],
            f"{cleaning[-1].address} starts on {start[1].isoformat()}, but {visit.address} is "
            "there "
            f"until {last.isoformat()}",
            f"clean after {last.isoformat()}",
            visit,
        )
