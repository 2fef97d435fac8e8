"""Working days and holidays as a job writes them. Declares no figure."""

from __future__ import annotations

import math
import re
from datetime import date, timedelta

from spec.derive.figure import Given, Part, Worked
from spec.derive.formulas.order_of_work import Calendar
from spec.derive.sheets import kinds
from spec.job.job import Job
from spec.job.node import Node

_SECONDS = 86_400.0

_DAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_DATE = re.compile(r"\d{4}-\d{2}-\d{2}")


def calendar_of(job: Job) -> Calendar:
    """The job's calendar; Monday to Friday without holidays where it says nothing."""
    node = job.find("calendar")
    if node is None or not node.known:
        return Calendar()
    weekdays = _weekdays(node.word("working_days", "")) if node.find("working_days") else None
    holidays: set[date] = set()
    if node.find("holidays") is not None:
        for text in node.words("holidays", ()):
            holidays |= _between(text)
    return Calendar(weekdays or Calendar().weekdays, frozenset(holidays))


def _weekdays(text: str) -> frozenset[int]:
    """`Monday to Friday`, `Monday to Thursday and Saturday`, `Tuesday, Thursday`."""
    found: set[int] = set()
    words = re.findall(r"[a-z]+", text.lower())
    last: int | None = None
    to = False
    for word in words:
        if word in _DAYS:
            day = _DAYS.index(word)
            if to and last is not None:
                span = (day - last) % 7
                found |= {(last + i) % 7 for i in range(span + 1)}
            found.add(day)
            last, to = day, False
        else:
            to = word in ("to", "through", "until")
    return frozenset(found)


def _between(text: str) -> set[date]:
    """The day, or all days from the first date named to the last."""
    days = []
    for found in _DATE.findall(text):
        try:
            days.append(date.fromisoformat(found))
        except ValueError:
            return set()
    if not days:
        return set()
    first, last = min(days), max(days)
    if (last - first).days > 366:
        return set()
    return {first + timedelta(days=i) for i in range((last - first).days + 1)}


def in_days(seconds: float) -> int:
    """A duration [s] in whole days, rounded up."""
    return math.ceil(seconds / _SECONDS - 1e-9)


def as_day(found: date, *parts: Part, given: Given = (), remark: str = "") -> Worked:
    """A day as a figure: its number in the calendar."""
    return Worked(float(found.toordinal()), parts, given, remark)


def dated(job: Job) -> list[Node]:
    """The visits that have a day, in the order of the file."""
    return [visit for visit in job.things("visit") if kinds.says(visit, "starts")]


def last_day_of(job: Job, visit: Node) -> date:
    """The last working day of a visit as it is dated; raises `Open`."""
    return calendar_of(job).last_day(visit.date("starts"), max(visit.count("days", 1), 1))


def visits_of(job: Job, trade: str) -> list[Node]:
    """The dated visits of a trade, those of a firm that also does it too, by date."""
    found = []
    for entry in job.things("trade"):
        also = entry.find("also")
        value = also.value if also is not None else ()
        more = value if isinstance(value, tuple) else (value,)
        said = entry.find("trade")
        name = str(said.value) if said is not None and said.value else entry.key
        if trade == name or trade in [str(word) for word in more]:
            found += [visit for visit in entry.group("visits") if kinds.says(visit, "starts")]
    return sorted(found, key=lambda visit: str(getattr(visit.find("starts"), "value", "")))
