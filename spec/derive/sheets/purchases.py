"""The last days to measure, to order and to deliver what has a lead time."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from spec.derive.figure import Facts, Part, Worked, figure
from spec.derive.formulas import order_of_work as formulas
from spec.derive.sheets import bought, network
from spec.derive.sheets.bought import MEASURED, Bought, clocks
from spec.derive.sheets.calendars import as_day, calendar_of, in_days, last_day_of
from spec.job.job import Job
from spec.job.node import Node, Open
from spec.job.trades import trade_of

_ON_SITE = "late start of the visit - wait of wood in calendar days - reserve in working days"
_COUNTED_BACK = f"{_ON_SITE} - lead time in calendar days"
_SOURCE = "the maker's lead time; reserve of the house standards"
_HOLDS = "the last day of the job as it is dated; the remark gives the day for the visit as dated"


def _with(*names: str) -> Callable[[Job], list[Node]]:
    """What is made or bought for the job by one of these clocks."""
    return lambda job: [
        thing
        for thing in job.everything
        if any(clock in names for clock in clocks(thing)) and not bought.is_existing(thing)
    ]


def _item(facts: Facts, thing: Node) -> Bought:
    for item in bought.bought(facts):
        if item.thing is thing:
            return item
    trade = thing.key if thing.kind == "trade" else trade_of(facts.job, thing)
    raise Open(f"{trade or 'trades'}.visits")


def _worked(facts: Facts, thing: Node, step: str, clock: str = "") -> Worked:
    """The last day of a step by which the end is kept, and by which the visit begins as dated."""
    item = _item(facts, thing)
    late_start = network.late_start(facts, item.visit)
    latest: date = getattr(bought.last_days(facts, item, late_start), step)
    dated: date = getattr(bought.as_dated(facts, item), step)
    time = bought.lead(thing, clock)
    starts = item.visit.date("starts")
    return as_day(
        latest,
        Part(item.visit.address, float(late_start.toordinal()), item.visit.address),
        given=(
            ("late start", float(late_start.toordinal()), "day"),
            ("dated start", float(starts.toordinal()), "day"),
            *((("lead time", time, "duration"),) if time is not None else ()),
        ),
        remark=f"{dated.isoformat()} for the visit as dated",
    )


@figure(
    "order_of_work.measure_by",
    title="Measure or template by",
    dimension="day",
    formula=_COUNTED_BACK,
    source=_SOURCE,
    holds=_HOLDS,
    per=_with(*MEASURED),
)
def measure_by(facts: Facts, thing: Node) -> Worked:
    """Last working day on which the final measure or the template reaches the maker in time."""
    return _worked(facts, thing, "measure", next(c for c in clocks(thing) if c in MEASURED))


@figure(
    "order_of_work.order_by",
    title="Order by",
    dimension="day",
    formula=_COUNTED_BACK,
    source=_SOURCE,
    holds=_HOLDS,
    per=_with("from_order"),
)
def order_by(facts: Facts, thing: Node) -> Worked:
    """Last working day to order a thing, or the work of a firm."""
    return _worked(facts, thing, "order", "from_order")


@figure(
    "order_of_work.on_site_by",
    title="On site by",
    dimension="day",
    formula=_ON_SITE,
    source="reserve of the house standards",
    holds=_HOLDS,
    per=_with("from_order", *MEASURED),
)
def on_site_by(facts: Facts, thing: Node) -> Worked:
    """Last working day for a delivery."""
    return _worked(facts, thing, "on_site")


@figure(
    "order_of_work.order_float",
    title="Working days left to order",
    dimension="number",
    formula="order by - ordered; the day of the job where it is not ordered",
    source="the job's calendar; below 0 it is late",
    per=_with("from_order"),
)
def order_float(facts: Facts, thing: Node) -> Worked:
    """Working days between the order, or today, and the last day to order."""
    last = date.fromordinal(int(facts.figures.value("order_of_work.order_by", thing)))
    purchase = _item(facts, thing).purchase
    if purchase is not None:
        start, remark = purchase.date("ordered"), "ordered"
    else:
        today = facts.job.day
        if today is None:
            raise Open("job.revision.date")
        start, remark = today, "not ordered yet"
    return Worked(float(calendar_of(facts.job).between(start, last)), remark=remark)


@figure(
    "order_of_work.template_ready",
    title="Ready after the template",
    dimension="day",
    formula="last day of the template + lead time",
    source="the firm's lead time",
    per=lambda job: [
        entry
        for entry in job.things("trade")
        if "from_template" in clocks(entry) and entry.find("visits.template") is not None
    ],
    trades=("stone",),
)
def template_ready(facts: Facts, entry: Node) -> Worked:
    """First working day on which a top cut from its template can be there."""
    last = last_day_of(facts.job, entry.at("visits.template"))
    lead = in_days(entry.si("lead_time.from_template"))
    return as_day(formulas.arrives(last, lead, calendar_of(facts.job)))
