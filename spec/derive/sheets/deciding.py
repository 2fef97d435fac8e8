"""The last day on which an open decision can be made without holding anybody up."""

from __future__ import annotations

from datetime import date, timedelta

from spec.derive.figure import COMMON_PRACTICE, Facts, Part, Worked, figure
from spec.derive.sheets import kinds
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


@figure(
    "order_of_work.decide_by",
    title="Decide by",
    dimension="day",
    formula="the earliest day on which any trade orders or starts what rests on it",
    source=COMMON_PRACTICE,
    holds="a decision that is needed to buy: the day of ordering; one that is needed to cut and "
    "build: the working day before the visit of that stage",
    per=undecided,
)
def decide_by(facts: Facts, node: Node) -> Worked:
    """The last day of a decision, with the last day of each trade that needs it."""
    parts: list[Part] = []
    waits = ""
    for trade in _needed_by(facts, node):
        try:
            parts.append(_last_day(facts, node, trade))
        except Open as missing:
            waits = waits or missing.address
    if not parts:
        raise Open(waits or "trades")
    first = min(parts, key=lambda part: part.value)
    return as_day(date.fromordinal(int(first.value)), *parts)


def first_to_wait(facts: Facts, node: Node) -> tuple[date, Part] | None:
    """The last day of a decision and the trade that orders or starts on it; None where none is."""
    parts = facts.figures.get("order_of_work.decide_by", node).parts
    if not parts:
        return None
    first = min(parts, key=lambda part: part.value)
    return date.fromordinal(int(first.value)), first


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


def _last_day(facts: Facts, node: Node, trade: str) -> Part:
    ordered = _order_days(facts, node, trade) if node.decision.gate == "material" else []
    last = min(ordered, default=None) or _day_before(facts, node, trade)
    return Part(trade, last[0], last[1])


def _order_days(facts: Facts, node: Node, trade: str) -> list[tuple[float, str]]:
    """The last days to order the thing itself, else the work of the trade's firms.

    Nothing where that is ordered: then the work on site is what waits.
    """
    figures, thing = facts.figures, thing_of(node)
    made = [("order_of_work.order_by", thing)]
    if not _ordered_from(facts.job, trade):
        made += [
            ("order_of_work.trade_order_by", entry)
            for entry in facts.job.things("trade")
            if name_of_trade(entry) == trade
        ]
    return [
        (figures.value(name, of), of.address)
        for name, of in made
        if any(of is each for each in figures.made_for(name))
    ]


def _ordered_from(job: Job, trade: str) -> bool:
    """A purchase of something that the trade makes or fits is ordered."""
    return any(
        trade in (own_trades(job, named) or trades_for(job, named.decision, named))
        for purchase in job.things("purchase")
        if kinds.says(purchase, "ordered")
        for named in (job.find(name) for name in purchase.words("for", ()))
        if named is not None
    )


def _day_before(facts: Facts, node: Node, trade: str) -> tuple[float, str]:
    """The working day before the trade's first visit that needs the decision."""
    late = STAGES.index(node.decision.before) if node.decision.gate == "build" else 0
    visits = visits_of(facts.job, trade)
    for visit in visits:
        stage = visit.find("stage")
        if stage is None or stage.value not in STAGES or STAGES.index(str(stage.value)) >= late:
            before = visit.date("starts") - timedelta(days=1)
            day = calendar_of(facts.job).on_or_before(before)
            return float(day.toordinal()), visit.address
    raise Open(f"{trade}.visits")
