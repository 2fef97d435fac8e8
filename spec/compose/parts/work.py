"""What a trade does, when and after whom: scope, visits, what is not in its order."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from spec.compose.blocks import Block, Bullets, Heading, Paragraph, Row, Sentence, Table, say
from spec.compose.context import Reader
from spec.compose.parts.layers import layer_tasks
from spec.compose.parts.own_finishes import finish_tasks
from spec.compose.wording import kind_words, thing_words, value_text, where_words
from spec.job.node import Node
from spec.job.record import recording
from spec.job.stage import first_day
from spec.job.trades import trade_of


def scope(reader: Reader) -> Iterator[Block]:
    """Everything the trade does, in the order of the file: what, which, where."""
    groups: dict[tuple[str, str, str], list[Node]] = {}
    for thing in reader.own_work:
        if thing.known and (verb := _verb(reader, thing)):
            own = thing.address if thing.find("and") or thing.find("title") else ""
            groups.setdefault((verb, kind_words(thing), thing.surface + own), []).append(thing)
    items = [*layer_tasks(reader), *finish_tasks(reader)]
    items += [_task(reader, verb, things) for (verb, _, _), things in groups.items()]
    yield Heading(2, "Scope")
    if not items:
        yield Paragraph(
            say("Whole rooms, not single marks: told under How; the schedules say what it meets.")
        )
        return
    yield Bullets(tuple(items), "number")


def _verb(reader: Reader, thing: Node) -> str:
    """What the trade does with a thing; empty where it only meets it."""
    if thing.kind == "hole":
        cuts, closes = (thing.find(key) for key in ("cut_by", "closed_by"))
        does = [cuts is not None and cuts.value == reader.trade]
        does.append(closes is not None and closes.value == reader.trade)
        return {(True, True): "cut, close and seal", (True, False): "cut"}.get(
            (does[0], does[1]), "close and seal"
        )
    action = thing.find("action")
    if action is not None:
        return value_text(reader.job, action)
    state = thing.find("state")
    if state is not None and state.value == "existing":
        return ""
    furnished = thing.find("furnished_by")
    by_others = furnished is not None and furnished.value not in (None, reader.trade)
    return "fit (supplied by others)" if by_others else "supply and fit"


def _task(reader: Reader, verb: str, things: Sequence[Node]) -> Sentence:
    with recording() as read:
        for thing in things:
            _verb(reader, thing)
        first = things[0]
        if len(things) == 1:
            words = thing_words(reader.job, first)
        else:
            marks = ", ".join(thing.key for thing in things)
            where = where_words(reader.job, first) if first.surface else "elsewhere"
            words = f"{len(things)} x {kind_words(first)}: {marks}; {where}"
        text = f"{verb[:1].upper()}{verb[1:]}: {words}"
        below = first.find("and")
        if below is not None:
            text += f" - {value_text(reader.job, below)}"
    return say(f"{text}.", frozenset(read))


def not_in_this_order(reader: Reader) -> Iterator[Block]:
    """What stands on the same walls and is another trade's."""
    surfaces = {thing.surface for thing in reader.own_work if thing.surface}
    others: Counter[tuple[str, str]] = Counter()
    for thing in reader.job.everything:
        trade = trade_of(reader.job, thing)
        if thing.surface in surfaces and trade and trade != reader.trade:
            others[(trade, kind_words(thing))] += 1
    if not others:
        return
    by_trade: dict[str, list[str]] = {}
    for (trade, kind), _ in sorted(others.items()):
        by_trade.setdefault(trade, []).append(kind)
    yield Heading(2, "Not in this order")
    yield Bullets(tuple(say(f"{t}: {', '.join(kinds)}.") for t, kinds in by_trade.items()))


def neighbors_in_time(reader: Reader) -> Iterator[Block]:
    """The visits around this trade's own: who comes before, who follows."""
    visits = sorted(
        ((day, visit) for visit in reader.job.things("visit") if (day := first_day(visit))),
        key=lambda pair: (pair[0], pair[1].address),
    )
    own = [i for i, (_, v) in enumerate(visits) if reader.entry and _under(v, reader.entry)]
    if not own:
        return
    rows: list[Row] = []
    for i in sorted({j for k in own for j in (k - 1, k, k + 1) if 0 <= j < len(visits)}):
        _, visit = visits[i]
        with recording() as read:
            starts = value_text(reader.job, visit.at("starts"))
            days = visit.find("days")
            lasts = value_text(reader.job, days) if days is not None else ""
        name = visit.address.replace(".", ": ").replace("_", " ")
        whose = "this order" if i in own else ("before" if i < min(own) else "after")
        rows.append(Row((starts, lasts, name, whose), frozenset(read) if i in own else frozenset()))
    yield Heading(2, "When")
    yield Table(
        "Visits around this order", ("Starts", "Days", "Visit", ""), tuple(rows), (1, 0.6, 2, 1)
    )


def _under(node: Node, upper: Node) -> bool:
    at: Node | None = node
    while at is not None:
        if at is upper:
            return True
        at = at.parent
    return False


def open_items(reader: Reader) -> Iterator[Block]:
    """Every decision of this order that is open or assumed, with who and when."""
    rows = []
    for leaf in reader.leaves:
        if leaf.state is None or leaf.state.kind in ("not_applicable", "dropped"):
            continue
        where = where_words(reader.job, leaf) if leaf.surface else ""
        with recording() as read:
            text = value_text(reader.job, leaf)
        rows.append(Row((leaf.address, where, text), frozenset(read)))
    yield Heading(2, "Still open")
    if not rows:
        yield Paragraph(say("Nothing that this order needs is open."))
        return
    yield Table("Open and assumed", ("Decision", "Where", "State"), tuple(rows), (1.2, 1.2, 3))
