"""What is ordered, for which visit, and the last days of its steps. Declares no figure.

Measure or template, approval, order, delivery, visit: one way back for all that asks for a day.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import NamedTuple

from spec.derive.figure import Facts
from spec.derive.formulas import order_of_work as formulas
from spec.derive.formulas.order_of_work import Calendar
from spec.derive.sheets import visits
from spec.derive.sheets.calendars import calendar_of, in_days
from spec.job.job import Job
from spec.job.node import Node, Open
from spec.job.stage import first_day

MEASURED = ("from_final_measure", "from_template")
"""The clocks that start when somebody measures on site."""


class Bought(NamedTuple):
    """A thing with a lead time, or the work of a firm that has one, and the visit that needs it."""

    thing: Node
    visit: Node
    purchase: Node | None
    """The order that was placed for it."""


class LastDays(NamedTuple):
    """The last working days of what comes before a visit; None for a clock that has no time."""

    measure: date | None
    order: date | None
    on_site: date


def bought(facts: Facts) -> tuple[Bought, ...]:
    """All that is ordered for a dated visit, in the order of the file."""

    def work() -> tuple[Bought, ...]:
        return tuple(_bought(facts.job))

    found: tuple[Bought, ...] = facts.shared.get("bought", work, Open)
    return found


def _bought(job: Job) -> Iterator[Bought]:
    for thing in job.everything:
        if not clocks(thing) or is_existing(thing):
            continue
        visit = visits.fitting_visit(job, thing)
        if visit is not None:
            yield Bought(thing, visit, _purchase(job, thing, visit))


def is_existing(thing: Node) -> bool:
    """It is there already."""
    state = thing.find("state")
    return state is not None and state.value == "existing"


def clocks(thing: Node) -> tuple[str, ...]:
    """The clocks of a thing's lead time that have a time: `from_order` where there is one only."""
    names = ("from_order", *MEASURED)
    return tuple(name for name in names if visits.lead_days(thing, name) is not None)


def lead(thing: Node, clock: str) -> float | None:
    """[s] The lead time by one of its clocks, read; None where it has no time by that one."""
    found = visits.lead_days(thing, clock)
    if found is None:
        return None
    return thing.si("lead_time" if found[0].key == "lead_time" else f"lead_time.{clock}")


def _purchase(job: Job, thing: Node, visit: Node) -> Node | None:
    """The order placed for a thing; for a firm one for this visit, else for another of its own."""
    placed = [p for p in job.things("purchase") if visits.day_at(p, "ordered") is not None]
    if thing.kind != "trade":
        return next((p for p in placed if thing.key in visits.links(p.find("for"))), None)
    own = {v.address for v in thing.group("visits")}
    for which in ({visit.address}, own):
        for purchase in placed:
            if which & {v.address for v in needing(job, purchase)}:
                return purchase
    return None


def needing(job: Job, purchase: Node) -> list[Node]:
    """The visits that a purchase is for: those that need it, else those that fit its things."""
    named = [v for v in job.things("visit") if purchase.key in visits.links(v.find("needs"))]
    if named:
        return named
    things = visits.linked(job, purchase.find("for"))
    fitted = {v.address: v for t in things if (v := visits.fitting_visit(job, t)) is not None}
    return list(fitted.values())


def approvals(job: Job, item: Bought) -> list[Node]:
    """What must be approved before an order: of the thing; of a firm's work, for a visit of it."""
    if item.thing.kind != "trade":
        return [a for a in job.things("approval") if item.thing.key in visits.links(a.find("of"))]
    needed = {name for v in item.thing.group("visits") for name in visits.links(v.find("needs"))}
    return [a for a in job.things("approval") if a.key in needed]


def measures(job: Job, item: Bought) -> list[Node]:
    """The final measures before a visit, or the template of its firm, from which its time runs."""
    found = []
    known = clocks(item.thing)
    if "from_final_measure" in known:
        found += [
            i
            for i in visits.inspections(job)
            if i.kind == "final_measure" and item.visit.address in visits.links(i.find("before"))
        ]
    if "from_template" in known:
        found += visits.templates(item.visit)
    return found


def on_site_by(facts: Facts, visit: Node, begins: date, thing: Node | None = None) -> date:
    """The last day for a delivery to a visit that begins on a day: before wood waits.

    What is cut to a template comes with those who fit it, and has no reserve.
    """
    wait = visit.count("acclimatize.days", 0)
    brought = thing is not None and clocks(thing) == ("from_template",)
    reserve = 0 if brought else int(facts.job.limit("purchase.reserve"))
    return formulas.on_site_by(begins, wait, reserve, calendar_of(facts.job))


def last_days(facts: Facts, item: Bought, begins: date) -> LastDays:
    """The last days of an ordered thing where its visit begins on a day."""
    calendar = calendar_of(facts.job)
    on_site = on_site_by(facts, item.visit, begins, item.thing)
    measured = [day for c in MEASURED if (day := _back(item, c, on_site, calendar)) is not None]
    ordered = _back(item, "from_order", on_site, calendar)
    return LastDays(min(measured, default=None), ordered, on_site)


def _back(item: Bought, clock: str, on_site: date, calendar: Calendar) -> date | None:
    time = lead(item.thing, clock)
    return None if time is None else formulas.order_by(on_site, in_days(time), calendar)


def as_dated(facts: Facts, item: Bought) -> LastDays:
    """The last days by which its visit begins on the day that is written."""
    return last_days(facts, item, item.visit.date("starts"))


class Step(NamedTuple):
    """A step of an ordered thing, taken or still to come: where it is said, and when."""

    name: str
    """`order`, `approve` or `measure`."""
    item: Bought
    at: Node
    day: date


def steps(facts: Facts) -> Iterator[Step]:
    """Every step with its day: as written, else today for what is not ordered yet.

    What is promised for a day is held to that day; what is approved is past.
    """
    for item in bought(facts):
        yield from _order(facts, item)
        for approval in approvals(facts.job, item):
            there = visits.there_on(approval)
            if there is not None and (there[0].key != "when" or there[0].state is not None):
                yield Step("approve", item, there[0], there[1])
        for measure in measures(facts.job, item):
            there = visits.there_on(measure) if measure.kind != "visit" else None
            if there is not None:
                yield Step("measure", item, measure, there[1])


def _order(facts: Facts, item: Bought) -> Iterator[Step]:
    clock, begins, today = visits.lead_days(item.thing), first_day(item.visit), facts.job.day
    if clock is None:
        return
    if item.purchase is None:
        if today is not None and begins is not None and today <= begins:
            yield Step("order", item, clock[0], today)
    elif visits.there_on(item.purchase) is None:
        yield Step("order", item, item.purchase.at("ordered"), item.purchase.date("ordered"))


def day_of(step: Step, last: LastDays) -> date | None:
    """The last day of a step; an approval comes before the order, else before the measure."""
    if step.name == "measure":
        return last.measure
    return last.order if last.order is not None or step.name == "order" else last.measure
