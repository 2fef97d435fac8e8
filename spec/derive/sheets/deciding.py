"""The last day on which an open decision can be made without holding anybody up."""

from __future__ import annotations

from datetime import date, timedelta
from typing import NamedTuple

from spec.derive.figure import COMMON_PRACTICE, Facts, Part, Worked, figure
from spec.derive.sheets import bought, network
from spec.derive.sheets.calendars import as_day, calendar_of, visits_of
from spec.job.job import Job
from spec.job.node import Node, Open
from spec.job.schema import STAGES
from spec.job.trades import name_of_trade, own_trades, thing_of, trades_for


def undecided(job: Job) -> list[Node]:
    """What is open or only assumed, each once: not what is taken over from it."""
    return [
        node
        for node in job.tree.walk()
        if node.state is not None and node.state.kind in ("open", "assumed") and not node.model
    ]


class Waiting(NamedTuple):
    """A trade that needs a decision, and the last days for it.

    `dated`: the day by which its visit begins as dated; `latest`: by which the job's last day is
    kept, None where the network gives none; `address`: what is ordered, cut or begun on it.
    """

    trade: str
    dated: date
    latest: date | None
    address: str


@figure(
    "order_of_work.decide_by",
    title="Decide by",
    dimension="day",
    formula="the earliest day on which any trade orders or starts what rests on it",
    source=COMMON_PRACTICE,
    holds="the last day of the job as it is dated; a decision that is needed to buy: the day of "
    "ordering; one that is needed to cut and build: the day of the measure from which it is cut, "
    "else the working day before the visit of that stage",
    per=undecided,
)
def decide_by(facts: Facts, node: Node) -> Worked:
    """The last day of a decision, with the last day of each trade that needs it."""
    days = _waiting(facts, node)
    network.late(facts)  # raises what it waits for
    known = [(each, each.latest) for each in days if each.latest is not None]
    return as_day(
        min(day for _, day in known),
        *(Part(each.trade, float(day.toordinal()), each.address) for each, day in known),
        remark=f"{min(each.dated for each in days).isoformat()} for the visits as dated",
    )


def first_to_wait(facts: Facts, node: Node) -> Waiting | None:
    """The trade that waits first for a decision, by the visits as dated; None where none does."""
    try:
        return min(_waiting(facts, node), key=lambda each: each.dated)
    except Open:
        return None


def _waiting(facts: Facts, node: Node) -> list[Waiting]:
    """The last day of every trade that needs a decision; `Open` where none is known."""

    def work() -> list[Waiting]:
        days: list[Waiting] = []
        waits = ""
        for trade in _needed_by(facts, node):
            try:
                days.append(_last_day(facts, node, trade))
            except Open as missing:
                waits = waits or missing.address
        if not days:
            raise Open(waits or "trades")
        return days

    found: list[Waiting] = facts.shared.get(f"waiting for {node.address}", work, Open)
    return found


def _needed_by(facts: Facts, node: Node, through: tuple[str, ...] = ()) -> tuple[str, ...]:
    """The trades that need a decision: its own, else its thing's, else those that name the thing.

    A stain is needed by who applies it, an approval by the visits that wait for it.
    """
    thing = thing_of(node)
    own = trades_for(facts.job, node.decision, thing) or own_trades(facts.job, thing)
    return own or tuple(
        dict.fromkeys(
            trade
            for other in _naming(facts).get(thing.key, ())
            if thing_of(other).key not in through
            for trade in _needed_by(facts, other, (*through, thing.key))
        )
    )


def _naming(facts: Facts) -> dict[str, list[Node]]:
    """What names each word or mark, or waits for it, in the order of the file."""

    def work() -> dict[str, list[Node]]:
        found: dict[str, list[Node]] = {}
        for node in facts.job.tree.walk():
            for word in dict.fromkeys(_named_at(node)):
                found.setdefault(word, []).append(node)
        return found

    found: dict[str, list[Node]] = facts.shared.get("naming", work, Open)
    return found


def _named_at(node: Node) -> tuple[str, ...]:
    """The words that a value says, or that an open decision waits for."""
    waits = node.state.waits_for if node.state is not None else ()
    said = node.value if isinstance(node.value, tuple) else (node.value,)
    return (*(word for word in said if isinstance(word, str)), *waits)


def _last_day(facts: Facts, node: Node, trade: str) -> Waiting:
    ordered = _of_orders(facts, node, trade, "order") if node.decision.gate == "material" else []
    cut = _of_orders(facts, node, trade, "measure")
    return min(ordered or [*cut, _day_before(facts, node, trade)], key=_dated)


def _dated(waiting: Waiting) -> date:
    return waiting.dated


def _of_orders(facts: Facts, node: Node, trade: str, step: str) -> list[Waiting]:
    """The last days to order or measure the thing itself, else the work of the trade's firms.

    Where the work of a firm is ordered, what waits is its work on site.
    """
    thing = thing_of(node)
    items = [i for i in bought.bought(facts) if i.thing is thing or _works_in(i.thing, trade)]
    found = []
    for item in items:
        if step == "order" and item.purchase is not None and item.thing is not thing:
            continue
        dated = getattr(bought.as_dated(facts, item), step)
        latest = network.latest_known(facts, item)
        if dated is not None:
            late = getattr(latest, step) if latest is not None else None
            found.append(Waiting(trade, dated, late, item.thing.address))
    return found


def _works_in(thing: Node, trade: str) -> bool:
    return thing.kind == "trade" and name_of_trade(thing) == trade


def _day_before(facts: Facts, node: Node, trade: str) -> Waiting:
    """The working day before the trade's first visit that needs the decision."""
    late = STAGES.index(node.decision.before) if node.decision.gate == "build" else 0
    for visit in visits_of(facts.job, trade):
        stage = visit.find("stage")
        if stage is None or stage.value not in STAGES or STAGES.index(str(stage.value)) >= late:
            begins = network.late_start_known(facts, visit)
            return Waiting(
                trade,
                _before(facts, visit.date("starts")),
                _before(facts, begins) if begins is not None else None,
                visit.address,
            )
    raise Open(f"{trade}.visits")


def _before(facts: Facts, day: date) -> date:
    return calendar_of(facts.job).on_or_before(day - timedelta(days=1))
