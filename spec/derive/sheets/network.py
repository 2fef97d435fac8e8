"""The order of work as one network: visits, papers, orders and deliveries. Declares no figure."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import date

from spec.derive.figure import Facts
from spec.derive.formulas import order_of_work as formulas
from spec.derive.formulas.order_of_work import After, Dates, Work
from spec.derive.formulas.range import NotCovered
from spec.derive.sheets import bought, kinds, visits
from spec.derive.sheets.bought import Bought
from spec.derive.sheets.calendars import calendar_of, dated, in_days, last_day_of
from spec.job.node import Node, Open
from spec.job.record import note

_PAPERS = ("approvals", "permits", "inspections")


def end_as_dated(facts: Facts) -> date:
    """The last working day of the job as its visits are dated; NotCovered where none is."""
    return max(last_day_of(facts.job, visit) for visit in _dated(facts))


def _dated(facts: Facts) -> list[Node]:
    visits_with_a_day = dated(facts.job)
    if not visits_with_a_day:
        raise NotCovered("no visit has a day yet")
    return visits_with_a_day


def late(facts: Facts) -> Mapping[str, Dates]:
    """Every piece of work by name, as late as the job's last day allows."""
    return _scheduled(facts, "late", end_as_dated)


def early(facts: Facts) -> Mapping[str, Dates]:
    """Every piece of work by name, as early as it can be; no slack is what the end hangs on."""
    return _scheduled(facts, "early", None)


def _scheduled(
    facts: Facts, name: str, until: Callable[[Facts], date] | None
) -> Mapping[str, Dates]:
    def work() -> Mapping[str, Dates]:
        starts = [visit.date("starts") for visit in _dated(facts)]
        works = network(facts)
        first = min([*starts, *(w.not_before for w in works.values() if w.not_before)])
        end = until(facts) if until is not None else None
        return formulas.schedule(works, first, calendar_of(facts.job), end)

    found: Mapping[str, Dates] = facts.shared.get(f"schedule.{name}", work, (Open, NotCovered))
    return found


def late_start(facts: Facts, visit: Node) -> date:
    """The last day on which a visit can begin; as it is dated it keeps the last day of the job."""
    return max(late(facts)[visit.address].late_start, visit.date("starts"))


def late_start_known(facts: Facts, visit: Node) -> date | None:
    """The same; None where the network waits for a decision or goes round in a circle."""
    try:
        return late_start(facts, visit)
    except (Open, NotCovered):
        return None


def latest_known(facts: Facts, item: Bought) -> bought.LastDays | None:
    """The last days of an ordered thing whose visit begins as late as it can, where it is known."""
    begins = late_start_known(facts, item.visit)
    return bought.last_days(facts, item, begins) if begins is not None else None


def order_of(thing: Node) -> str:
    """The name of an order in the network."""
    return f"order of {thing.address}"


def delivery_of(thing: Node) -> str:
    """The name of a delivery in the network: of a purchase, else of what is still to be ordered."""
    return f"delivery of {thing.address}"


def network(facts: Facts) -> dict[str, Work]:
    """The dated visits with all that they wait for, back to the orders and the papers."""
    works: dict[str, Work] = {}
    waiting = list(dated(facts.job))
    while waiting:
        node = waiting.pop()
        if node.address in works:
            continue
        before = list(_before(facts, node))
        after = [After(other.address, _lag(other, node)) for other in before]
        waiting += before
        if node.kind == "visit":
            after += _deliveries(facts, node, works, waiting)
        begins = _visit_begins(node) if node.kind == "visit" else _paper_begins(facts, node)
        days = node.count("days", 1) if node.kind == "visit" else 0
        works[node.address] = Work(days, tuple(after), begins)
    order = [n.address for n in facts.job.everything if n.address in works]
    return {name: works[name] for name in (*order, *(w for w in works if w not in order))}


def _before(facts: Facts, node: Node) -> Iterator[Node]:
    """What a visit or an inspection comes after, and the papers that a visit needs."""
    job = facts.job
    if kinds.says(node, "after"):
        yield from (n for n in map(job.find, node.words("after")) if n is not None)
    if node.kind != "visit":
        return
    for needed in visits.linked(job, node.find("needs")):
        if needed.container in _PAPERS:
            yield needed
    for inspection in visits.inspections(job):
        if node.address in visits.links(inspection.find("before")):
            yield inspection


def _lag(before: Node, node: Node) -> int:
    """[days] Between the morning after a visit, or the day of a paper, and what follows it.

    What is looked at need not be dry.
    """
    covers = node.kind == "visit"
    waits = in_days(node.si("waits", 0.0)) if covers else 0
    if before.kind == "visit":
        dries = in_days(before.si("dries", 0.0)) if covers else 0
        return max(waits, dries, 1) - 1
    return max(waits, 1) if before.container == "inspections" else waits


def _visit_begins(visit: Node) -> date | None:
    if kinds.says(visit, "not_before"):
        return visit.date("not_before")
    first = not kinds.says(visit, "after") and kinds.says(visit, "starts")
    return visit.date("starts") if first else None


def _paper_begins(facts: Facts, paper: Node) -> date | None:
    """The day of a paper that comes after no visit; of one without a day, today."""
    if kinds.says(paper, "after"):
        return None
    there = visits.there_on(paper)
    if there is None:
        return facts.job.day
    note(*there[0].cites)
    return there[1]


def _deliveries(
    facts: Facts, visit: Node, works: dict[str, Work], waiting: list[Node]
) -> Iterator[After]:
    """What has to be there before a visit: what is promised, and what is still to be ordered."""
    wait = visit.count("acclimatize.days", 0)
    for purchase in facts.job.things("purchase"):
        there = visits.there_on(purchase)
        if there is not None and visit in bought.needing(facts.job, purchase):
            note(*there[0].cites)
            works[delivery_of(purchase)] = Work(0, (), there[1])
            yield After(delivery_of(purchase), wait)
    for item in bought.bought(facts):
        promised = item.purchase is not None and visits.there_on(item.purchase) is not None
        if item.visit is visit and not promised:
            works.update(_chain(facts, item, waiting))
            yield After(delivery_of(item.thing), wait)


def _chain(facts: Facts, item: Bought, waiting: list[Node]) -> Iterator[tuple[str, Work]]:
    """An order after its approvals, and a delivery after the order and the measure."""
    approved = bought.approvals(facts.job, item)
    measured = bought.measures(facts.job, item)
    waiting += [*approved, *measured]
    after = []
    ordered = bought.lead(item.thing, "from_order")
    if ordered is not None:
        placed = item.purchase.date("ordered") if item.purchase is not None else facts.job.day
        yield order_of(item.thing), Work(0, tuple(After(a.address) for a in approved), placed)
        after.append(After(order_of(item.thing), in_days(ordered)))
    for clock in bought.MEASURED:
        time = bought.lead(item.thing, clock)
        for measure in measured if time is not None else ():
            if (measure.kind == "visit") == (clock == "from_template"):
                # A measure is counted from its day, a template from the last of its days.
                lag = in_days(time or 0.0) - (measure.kind == "visit")
                after.append(After(measure.address, lag))
    yield delivery_of(item.thing), Work(0, tuple(after))
