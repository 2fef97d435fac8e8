"""The order of work: critical path, dates in working days, and when to order.

A cure, an acclimatization or a maker's lead time is a lag between two pieces of work, in calendar
days, never a piece of work itself.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from graphlib import CycleError, TopologicalSorter
from typing import NamedTuple

from spec.derive.formulas.range import NotCovered, not_negative, some

_DAY = timedelta(days=1)
_LONGEST_BREAK = 366
"""[days] A calendar without a working day for longer than this has none."""


class After(NamedTuple):
    """What has to be finished before, and how long to wait then.

    work: its name; lag [calendar days], 0 or more: cure, drying, acclimatization.
    """

    work: str
    lag: int = 0


class Work(NamedTuple):
    """A piece of work.

    days [working days], 0 for a milestone; after: what precedes it; not_before: a day on which it
    may start at the earliest, if any.
    """

    days: int
    after: tuple[After, ...] = ()
    not_before: date | None = None


class Dates(NamedTuple):
    """When a piece of work may lie, by the calendar.

    early_start, early_finish, late_start, late_finish: first and last working day (for a milestone
    the day whose morning it is); slack [working days]; critical: no slack.
    """

    early_start: date
    early_finish: date
    late_start: date
    late_finish: date
    slack: int
    critical: bool


@dataclass(frozen=True, slots=True)
class Calendar:
    """Days on which work is done.

    weekdays: 0 Monday to 6 Sunday; holidays: days off besides. Raises NotCovered where no weekday
    is left.
    """

    weekdays: frozenset[int] = frozenset({0, 1, 2, 3, 4})
    holidays: frozenset[date] = field(default=frozenset())

    def __post_init__(self) -> None:
        if not self.weekdays & frozenset(range(7)):
            raise NotCovered("no day of the week is a working day")

    def works(self, day: date) -> bool:
        """Whether work is done on this day."""
        return day.weekday() in self.weekdays and day not in self.holidays

    def on_or_after(self, day: date) -> date:
        """The first working day from this day on. Raises NotCovered when a year has none."""
        return self._seek(day, _DAY)

    def on_or_before(self, day: date) -> date:
        """The last working day up to this day. Raises NotCovered when a year has none."""
        return self._seek(day, -_DAY)

    def last_day(self, start: date, days: int) -> date:
        """The last day of a piece of work.

        start: its first day or a day off before it; days [working days], 1 or more. Returns a
        working day. Raises NotCovered.
        """
        if days < 1:
            raise NotCovered("work that has a last day takes one day or more")
        day = self.on_or_after(start)
        for _ in range(days - 1):
            day = self.on_or_after(day + _DAY)
        return day

    def first_day(self, finish: date, days: int) -> date:
        """The first day of a piece of work that ends on a day.

        finish: its last day or a day off after it; days [working days], 1 or more. Returns a
        working day. Raises NotCovered.
        """
        if days < 1:
            raise NotCovered("work that has a first day takes one day or more")
        day = self.on_or_before(finish)
        for _ in range(days - 1):
            day = self.on_or_before(day - _DAY)
        return day

    def between(self, start: date, end: date) -> int:
        """Working days from `start` up to, not including, `end`; negative when it lies before."""
        if end < start:
            return -self.between(end, start)
        return sum(self.works(start + n * _DAY) for n in range((end - start).days))

    def _seek(self, day: date, step: timedelta) -> date:
        for _ in range(_LONGEST_BREAK):
            if self.works(day):
                return day
            day += step
        raise NotCovered(f"the calendar has no working day within a year of {day.isoformat()}")


def schedule(
    works: Mapping[str, Work], start: date, calendar: Calendar, until: date | None = None
) -> dict[str, Dates]:
    """Early and late dates of every piece of work.

    works: by name, at least one; start: nothing begins before; calendar: working days; until: the
    last day of the whole, the earliest possible unless given (an earlier one gives negative slack).
    Returns `Dates` by name, in an order in which they can be done. Raises NotCovered for no work,
    an unknown name, a circle, or a calendar without working days.
    Source: Hendrickson, Project Management for Construction, ch. 10.3 and 10.5, on dates; lags run
    on calendar days.
    """
    order, followers = _network(works)
    begin: dict[str, date] = {}
    end: dict[str, date] = {}  # the morning after the last day; of a milestone, its own morning
    for name in order:
        work = works[name]
        waits = [end[a.work] + a.lag * _DAY for a in work.after]
        begin[name] = calendar.on_or_after(max([start, *waits, work.not_before or start]))
        last = calendar.last_day(begin[name], work.days) if work.days else begin[name] - _DAY
        end[name] = last + _DAY
    whole = max(end.values()) if until is None else until + _DAY
    late_begin: dict[str, date] = {}
    late_end: dict[str, date] = {}
    for name in reversed(order):
        days = works[name].days
        latest = min((late_begin[n] - lag * _DAY for n, lag in followers[name]), default=whole)
        if days:
            last = calendar.on_or_before(latest - _DAY)
            late_begin[name], late_end[name] = calendar.first_day(last, days), last + _DAY
        else:
            late_begin[name] = late_end[name] = calendar.on_or_before(latest)
    return {
        name: _dates(
            works[name].days,
            (begin[name], end[name]),
            (late_begin[name], late_end[name]),
            calendar,
        )
        for name in order
    }


def on_site_by(needed: date, wait_days: int, reserve_days: int, calendar: Calendar) -> date:
    """Last working day on which a thing may come.

    needed: the first day of the work that it is for; wait_days [calendar days] that it lies in the
    rooms before; reserve_days [working days] kept before those: both 0 or more. Returns a working
    day. Raises OutOfRange, NotCovered. Source: counted back.

    >>> on_site_by(date(2027, 1, 20), 0, 5, Calendar())
    datetime.date(2027, 1, 13)
    """
    not_negative(reserve_days, "reserve", "days")
    day = needed - int(not_negative(wait_days, "wait in the rooms", "days")) * _DAY
    return (
        calendar.first_day(day - _DAY, reserve_days) if reserve_days else calendar.on_or_before(day)
    )


def order_by(needed: date, lead_days: int, calendar: Calendar) -> date:
    """Last working day to place an order, or to take the measure where the time runs from it.

    needed: the day on which the thing has to be there; lead_days [calendar days] that the maker
    takes, 0 or more. Returns a working day. Raises OutOfRange, NotCovered. Source: counted back.

    >>> order_by(date(2026, 12, 21), 70, Calendar())
    datetime.date(2026, 10, 12)
    """
    return calendar.on_or_before(needed - int(not_negative(lead_days, "lead time", "days")) * _DAY)


def arrives(ordered: date, lead_days: int, calendar: Calendar) -> date:
    """First working day on which a thing can be there.

    ordered: the day of the order, or of the final measure where the lead time runs from it;
    lead_days [calendar days], 0 or more. Returns a working day. Raises OutOfRange, NotCovered.
    Source: counted forward.
    """
    return calendar.on_or_after(ordered + int(not_negative(lead_days, "lead time", "days")) * _DAY)


def _network(
    works: Mapping[str, Work],
) -> tuple[Sequence[str], Mapping[str, Sequence[tuple[str, int]]]]:
    """An order in which the works can be done, and what follows each, with the days between."""
    some(tuple(works), "pieces of work")
    followers: dict[str, list[tuple[str, int]]] = {name: [] for name in works}
    for name, work in works.items():
        not_negative(work.days, f"time for {name}", "days")
        for a in work.after:
            if a.work not in works:
                raise NotCovered(f"{name} comes after {a.work}, which is no work here")
            lag = int(not_negative(a.lag, f"wait between {a.work} and {name}", "days"))
            followers[a.work].append((name, lag))
    before = {name: [a.work for a in work.after] for name, work in works.items()}
    try:
        return tuple(TopologicalSorter(before).static_order()), followers
    except CycleError as error:
        circle = " → ".join(error.args[1])
        raise NotCovered(f"work that waits for itself: {circle}") from error


def _dates(
    days: int, early: tuple[date, date], late: tuple[date, date], calendar: Calendar
) -> Dates:
    back = _DAY if days else timedelta(0)
    slack = calendar.between(early[0], late[0])
    return Dates(early[0], early[1] - back, late[0], late[1] - back, slack, slack <= 0)
