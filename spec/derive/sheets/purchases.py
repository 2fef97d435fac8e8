"""When to order: long-lead things and firms, final measure, templates."""

from __future__ import annotations

from datetime import date, timedelta

from spec.derive.figure import Facts, Part, Worked, figure
from spec.derive.formulas import order_of_work as formulas
from spec.derive.sheets import kinds
from spec.derive.sheets.calendars import as_day, calendar_of, dated, in_days, last_day_of, visits_of
from spec.job.job import Job
from spec.job.node import Node, Open
from spec.job.schema import STAGES
from spec.job.trades import trade_of
from spec.quantity import Quantity

_FIT = STAGES.index("fit")
_COUNTED_BACK = "day needed - reserve in working days - lead time in calendar days"


def _is_existing(thing: Node) -> bool:
    state = thing.find("state")
    return state is not None and state.value == "existing"


def _long_lead(job: Job) -> list[Node]:
    """Things with a lead time of their own."""
    return [
        thing
        for thing in job.everything
        if isinstance(_leads(thing), Quantity) and thing.kind != "trade" and not _is_existing(thing)
    ]


def _leads(thing: Node) -> object:
    leaf = thing.find("lead_time")
    return leaf.value if leaf is not None and not leaf.not_applicable else None


def _purchase_of(job: Job, thing: Node) -> Node | None:
    for purchase in job.things("purchase"):
        leaf = purchase.find("for")
        value = leaf.value if leaf is not None else None
        names = value if isinstance(value, tuple) else (value,)
        if thing.key in [str(name) for name in names]:
            return purchase
    return None


def _needed_at(facts: Facts, thing: Node) -> Node:
    """The visit at which a thing has to be there.

    The one that needs its purchase; else its trade's first visit to fit, else its first.
    """
    job = facts.job
    purchase = _purchase_of(job, thing)
    if purchase is not None:
        for visit in dated(job):
            if kinds.says(visit, "needs") and purchase.key in visit.words("needs"):
                return visit
    trade = trade_of(job, thing)
    visits = visits_of(job, trade)
    for visit in visits:
        stage = visit.find("stage")
        if stage is not None and stage.value in STAGES and STAGES.index(str(stage.value)) >= _FIT:
            return visit
    if not visits:
        raise Open(f"{trade or 'trades'}.visits")
    return visits[0]


def _latest_order(facts: Facts, visit: Node, lead: float) -> Worked:
    calendar = calendar_of(facts.job)
    needed = visit.date("starts")
    day = needed
    for _ in range(int(facts.job.limit("purchase.reserve"))):
        day = calendar.on_or_before(day - timedelta(days=1))
    found = formulas.order_by(day, in_days(lead), calendar)
    return as_day(
        found,
        Part(visit.address, float(needed.toordinal()), visit.address),
        given=(("needed", float(needed.toordinal()), "day"), ("lead time", lead, "duration")),
    )


@figure(
    "order_of_work.order_by",
    title="Order by",
    dimension="day",
    formula=_COUNTED_BACK,
    source="the maker's lead time; reserve of the house standards",
    holds="needed on the first day of the visit that fits it",
    per=_long_lead,
)
def order_by(facts: Facts, thing: Node) -> Worked:
    """Last working day to order a thing."""
    return _latest_order(facts, _needed_at(facts, thing), thing.si("lead_time"))


@figure(
    "order_of_work.order_float",
    title="Working days left to order",
    dimension="number",
    formula="order by - ordered; the day of the job where it is not ordered",
    source="the job's calendar; below 0 it is late",
    per=_long_lead,
)
def order_float(facts: Facts, thing: Node) -> Worked:
    """Working days between the order, or today, and the last day to order."""
    last = date.fromordinal(int(facts.figures.value("order_of_work.order_by", thing)))
    purchase = _purchase_of(facts.job, thing)
    if purchase is not None and kinds.says(purchase, "ordered"):
        start, remark = purchase.date("ordered"), "ordered"
    else:
        today = facts.job.day
        if today is None:
            raise Open("job.revision.date")
        start, remark = today, "not ordered yet"
    return Worked(float(calendar_of(facts.job).between(start, last)), remark=remark)


def _with_lead(key: str) -> kinds.Per:
    return lambda job: [
        entry for entry in job.things("trade") if kinds.says(entry, f"lead_time.{key}")
    ]


def _plain_lead(job: Job) -> list[Node]:
    return [
        entry
        for entry in job.things("trade")
        if kinds.says(entry, "lead_time.from_order") or isinstance(_leads(entry), Quantity)
    ]


def _fitting(facts: Facts, entry: Node) -> Node:
    visits = visits_of(facts.job, entry.key)
    for visit in visits:
        stage = visit.find("stage")
        if stage is not None and stage.value in STAGES and STAGES.index(str(stage.value)) >= _FIT:
            return visit
    if not visits:
        raise Open(f"{entry.address}.visits")
    return visits[0]


@figure(
    "order_of_work.trade_order_by",
    title="Order this trade's work by",
    dimension="day",
    formula=_COUNTED_BACK,
    source="the firm's lead time; reserve of the house standards",
    per=_plain_lead,
)
def trade_order_by(facts: Facts, entry: Node) -> Worked:
    """Last working day to order from a firm."""
    path = "lead_time.from_order" if kinds.says(entry, "lead_time.from_order") else "lead_time"
    return _latest_order(facts, _fitting(facts, entry), entry.si(path))


@figure(
    "order_of_work.measure_by",
    title="Final measure by",
    dimension="day",
    formula="day needed - lead time from the final measure",
    source="the firm's lead time",
    per=_with_lead("from_final_measure"),
    trades=("millwork", "glazing"),
)
def measure_by(facts: Facts, entry: Node) -> Worked:
    """Last working day on which the final measure still reaches the firm in time."""
    lead = entry.si("lead_time.from_final_measure")
    needed = _fitting(facts, entry).date("starts")
    found = formulas.order_by(needed, in_days(lead), calendar_of(facts.job))
    return as_day(found, given=(("needed", float(needed.toordinal()), "day"),))


@figure(
    "order_of_work.template_ready",
    title="Ready after the template",
    dimension="day",
    formula="last day of the template + lead time",
    source="the firm's lead time",
    per=lambda job: [
        entry
        for entry in _with_lead("from_template")(job)
        if any("template" in visit.key for visit in entry.group("visits"))
    ],
    trades=("stone",),
)
def template_ready(facts: Facts, entry: Node) -> Worked:
    """First working day on which a top cut from its template can be there."""
    visit = next(v for v in entry.group("visits") if "template" in v.key)
    lead = in_days(entry.si("lead_time.from_template"))
    return as_day(formulas.arrives(last_day_of(facts.job, visit), lead, calendar_of(facts.job)))
