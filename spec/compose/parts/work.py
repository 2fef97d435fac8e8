"""When a trade comes and after whom, what is not in its order, what is still open in it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import date

from spec.compose.blocks import Block, Bullets, Heading, Paragraph, Row, Table, say
from spec.compose.context import Reader
from spec.compose.parts.dates import dated_text, day_words, to_bring, visit_words
from spec.compose.wording import kind_words, value_text, where_words
from spec.derive.sheets.visits import last_day
from spec.job.node import Node
from spec.job.record import recording
from spec.job.stage import first_day
from spec.job.trades import trade_of


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
    rows: list[tuple[date, Row]] = []
    for i in sorted({j for k in own for j in (k - 1, k, k + 1) if 0 <= j < len(visits)}):
        day, visit = visits[i]
        with recording() as read:
            starts = dated_text(reader.job, visit.at("starts"))
            lasts = _until(reader, visit)
        whose = "this order" if i in own else ("before" if i < min(own) else "after")
        cites = frozenset(read) if i in own else frozenset()
        rows.append((day, Row((starts, lasts, visit_words(visit), whose), cites)))
    rows += _inspections(reader, [visits[i][1] for i in own])
    rows.sort(key=lambda pair: (pair[0], pair[1].cells))
    yield Heading(2, "When")
    yield Table(
        "Visits around this order",
        ("Starts", "Days", "Visit", ""),
        tuple(row for _, row in rows),
        (1, 1.1, 2, 1),
    )
    yield from to_bring(reader)


def _until(reader: Reader, visit: Node) -> str:
    """`9, until Fri 2027-02-12`; the number alone for a single day."""
    days = visit.find("days")
    if days is None:
        return ""
    text, last = value_text(reader.job, days), last_day(reader.job, visit)
    return f"{text}, until {day_words(last)}" if last not in (None, first_day(visit)) else text


def _inspections(reader: Reader, own: Sequence[Node]) -> Iterator[tuple[date, Row]]:
    """`I1 rough electrical, by county`: what is looked at before or after a visit of this order."""
    visits = {visit.address: visit_words(visit) for visit in own}
    for inspection in reader.job.everything:
        if inspection.container != "inspections":
            continue
        due = inspection.find("due")
        for key in ("after", "before"):
            link = inspection.find(key)
            names = [visits[name] for name in _names(link) if name in visits]
            if due is None or not isinstance(due.value, date) or not names:
                continue
            with recording() as read:
                day = dated_text(reader.job, due)
                who = inspection.find("who")
                by = f", by {value_text(reader.job, who)}" if who is not None else ""
            what = f"{inspection.key} {kind_words(inspection)}{by}"
            yield due.value, Row((day, "", what, f"{key} {', '.join(names)}"), frozenset(read))
            break


def _names(link: Node | None) -> tuple[str, ...]:
    value = link.value if link is not None else None
    return tuple(map(str, value)) if isinstance(value, tuple) else (str(value),)


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
