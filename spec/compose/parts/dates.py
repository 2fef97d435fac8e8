"""Days: what is ordered and measured by when, when each visit begins, on what the end hangs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date

from spec.compose.blocks import Block, Heading, PageBreak, Paragraph, Picture, Row, Table, say
from spec.compose.context import Reader
from spec.compose.parts.labels import called, waits_words
from spec.compose.wording import value_text
from spec.derive.sheets import bought, network, visits
from spec.derive.sheets.bought import Bought, LastDays
from spec.draw.chart import Bar, chart
from spec.job.job import Job
from spec.job.node import Node, Open
from spec.job.record import note, recording
from spec.job.trades import name_of_trade, thing_of, trade_of

_COLUMNS = ("What", "Measure by", "Order by", "On site by", "For")


def day_words(day: date | None) -> str:
    """`Tue 2026-12-22`, on one line; empty for no day.

    >>> day_words(date(2026, 12, 22))
    'Tue\\xa02026-12-22'
    """
    return f"{day:%a}\N{NO-BREAK SPACE}{day.isoformat()}" if day is not None else ""


def dated_text(job: Job, leaf: Node) -> str:
    """A day as its reader sees it, its state beside it, with the day of the week before it."""
    text = value_text(job, leaf)
    if not isinstance(leaf.value, date):
        return text
    return text.replace(leaf.value.isoformat(), day_words(leaf.value), 1)


def visit_words(visit: Node) -> str:
    """`lead: final measure`."""
    return visit.address.replace(".", ": ").replace("_", " ")


def to_bring(reader: Reader) -> Iterator[Block]:
    """What a trade orders, makes and brings, and by when, for its visits as they are dated."""
    items = [i for i in bought.bought(reader.facts) if _trade(reader, i) == reader.trade]
    rows = _alike([(i, _cells(reader, i)) for i in items], reader)
    if rows:
        yield Table("What is ordered, and by when", _COLUMNS, rows, (1.6, 1, 1.1, 1.1, 1.5))


def _trade(reader: Reader, item: Bought) -> str:
    if item.thing.kind == "trade":
        return name_of_trade(item.thing)
    return trade_of(reader.job, item.thing)


Cells = tuple[tuple[str, ...], frozenset[str]]
"""The cells of a row after its name, and what they state."""


def _cells(reader: Reader, item: Bought) -> Cells:
    with recording() as read:
        try:
            last = bought.as_dated(reader.facts, item)
            starts = day_words(item.visit.date("starts"))
            cells = (
                "\n".join([day_words(last.measure), *_measured(reader, item)]),
                "\n".join([_ordered(item, last), *_approved(reader, item)]),
                _on_site(item, last),
                f"{visit_words(item.visit)}\n{starts}",
            )
        except Open as missing:
            cells = ("", "", waits_words(reader.job, [missing.address]), visit_words(item.visit))
    return cells, frozenset(read)


def _measured(reader: Reader, item: Bought) -> Iterator[str]:
    """`I4 on 2026-12-22`: the measures and templates from which its time runs."""
    for measure in bought.measures(reader.job, item):
        leaf = measure.at("starts" if measure.kind == "visit" else "due")
        name = "template" if measure.kind == "visit" else measure.key
        yield f"{name} on {value_text(reader.job, leaf)}"


def _approved(reader: Reader, item: Bought) -> Iterator[str]:
    """`AP5 due 2026-11-13`: what is still to be approved before it is ordered."""
    for step in bought.steps(reader.facts):
        if step.item == item and step.name == "approve":
            note(*step.at.cites)
            yield f"{thing_of(step.at).key} due {step.day.isoformat()}"


def _ordered(item: Bought, last: LastDays) -> str:
    if item.purchase is None:
        return day_words(last.order)
    return f"ordered\n{day_words(item.purchase.date('ordered'))}"


def _on_site(item: Bought, last: LastDays) -> str:
    lines = [day_words(last.on_site)]
    if item.purchase is not None:
        for key in ("received", "promised"):
            if visits.day_at(item.purchase, key) is not None:
                lines += [key, day_words(item.purchase.date(key))]
                break
    return "\n".join(lines)


def _alike(found: list[tuple[Bought, Cells]], reader: Reader) -> tuple[Row, ...]:
    """A row for all things that have the same days, in the order of these."""
    rows: dict[tuple[str, ...], tuple[list[str], set[str]]] = {}
    for item, (cells, cites) in found:
        names, cited = rows.setdefault(cells, ([], set()))
        names.append(_name(reader, item.thing))
        cited |= cites
    return tuple(
        Row((", ".join(names), *cells), frozenset(cites)) for cells, (names, cites) in rows.items()
    )


def _name(reader: Reader, thing: Node) -> str:
    if thing.kind == "trade":
        return f"shop work of {name_of_trade(thing).replace('_', ' ')}"
    return called(reader.job, thing.address)


def order_list(reader: Reader) -> Iterator[Block]:
    """Everything that is ordered or cut to a measure, by the day on which that has to be done."""
    yield Heading(2, "What is ordered and made")
    items = sorted(bought.bought(reader.facts), key=lambda item: _first_day(reader, item))
    rows = _alike([(i, _with_limits(reader, i, _cells(reader, i))) for i in items], reader)
    if not rows:
        yield Paragraph(say("Nothing in the job has a lead time for a visit that is dated."))
        return
    reserve = f"{reader.job.limit('purchase.reserve'):.0f}"
    yield Paragraph(
        say(
            "The days are counted back from each visit as it is dated: the days that wood waits, "
            f"{reserve} working days in reserve, and the maker's time in calendar days. What has "
            "to be approved is approved by the day of the order. At the latest is the day that "
            "keeps the last day of the job; in hand are the working days to there from today, or "
            "from the day for which it is ordered, promised or measured."
        )
    )
    yield Table(
        "What is ordered, and by when",
        (*_COLUMNS, "At the latest", "In hand"),
        rows,
        (1.1, 1.12, 1.12, 1.12, 1.2, 1.12, 0.5),
        frozenset({6}),
    )


def _first_day(reader: Reader, item: Bought) -> tuple[date, str]:
    try:
        last = bought.as_dated(reader.facts, item)
    except Open:
        return date.max, item.thing.address
    return last.order or last.measure or last.on_site, item.thing.address


def _with_limits(reader: Reader, item: Bought, cells: Cells) -> Cells:
    """The cells with the day that keeps the job's end, and the working days up to it."""
    latest = network.latest_known(reader.facts, item)
    by = latest and (latest.order or latest.measure)
    day = reader.job.day
    there = visits.there_on(item.purchase) if item.purchase is not None else None
    if latest is not None and there is not None:
        by, day = latest.on_site, there[1]
    elif latest is not None and item.purchase is not None:
        day = visits.day_at(item.purchase, "ordered")
    elif latest is not None and latest.order is None:
        taken = [
            visits.day_at(m, "starts" if m.kind == "visit" else "due")
            for m in bought.measures(reader.job, item)
        ]
        day = min((measured for measured in taken if measured is not None), default=day)
    left = ""
    if by is not None and day is not None:
        left = str(visits.calendar(reader.job).between(day, by))
    return (*cells[0], day_words(by), left), cells[1]


def visits_in_order(reader: Reader) -> Iterator[Block]:
    """Every visit with its days, how far it may slip, and whether the end hangs on it."""
    dated = _dated(reader)
    if not dated:
        return
    tight = _hangs_on(reader)
    yield PageBreak()
    yield Heading(2, "Visits")
    if tight:
        yield Paragraph(say(f"The earliest end hangs on, one after the other: {_path(tight)}."))
    yield from _chart(reader, dated, tight)
    yield Table(
        "Visits in the order of their days",
        ("Visit", "Starts", "Last day", "Starts at the latest", "In hand"),
        tuple(_visit_row(reader, visit) for visit in dated),
        (2.2, 1, 1, 1.1, 0.6),
        frozenset({4}),
    )


def _path(tight: Mapping[str, str]) -> str:
    return "; ".join(tight.values())


def _visit_row(reader: Reader, visit: Node) -> Row:
    starts, late = visit.date("starts"), network.late_start_known(reader.facts, visit)
    hand = str(visits.calendar(reader.job).between(starts, late)) if late is not None else ""
    last = day_words(visits.last_day(reader.job, visit))
    return Row((visit_words(visit), day_words(starts), last, day_words(late), hand))


def _dated(reader: Reader) -> list[Node]:
    known = [v for v in reader.job.things("visit") if visits.day_at(v, "starts") is not None]
    return sorted(known, key=lambda v: (v.date("starts"), v.address))


def _hangs_on(reader: Reader) -> dict[str, str]:
    """What the earliest end of the job hangs on: the names in the network, in words."""
    calendar = reader.job.find("calendar")
    if calendar is None or not calendar.known:
        return {}
    parts = reader.facts.figures.get("schedule.critical", calendar).parts
    return {part.label: part.label.replace(".", ": ").replace("_", " ") for part in parts}


def _chart(reader: Reader, dated: list[Node], tight: Mapping[str, str]) -> Iterator[Block]:
    """The visits as bars, and what is still on its way to them as lines, by their first days."""
    bars = [_bar(reader, visit, tight) for visit in dated]
    for item in bought.bought(reader.facts):
        bars += _on_its_way(reader, item, tight)
    if not bars:
        return
    bars.sort(key=lambda bar: (bar.first, bar.last, bar.name))
    yield Picture(
        chart(bars),
        "Dark: the end hangs on it. Dashed: how far it may slip. A point at the end of a bar: work "
        "stops there until somebody has looked. A line between circles: from the last day to order "
        "to the last day on site.",
        f"A chart of {len(bars)} rows; the table below says the same.",
    )


def _bar(reader: Reader, visit: Node, tight: Mapping[str, str]) -> Bar:
    starts = visit.date("starts")
    last = visits.last_day(reader.job, visit) or starts
    late = network.late_start_known(reader.facts, visit)
    days = max(visits.days_of(visit.find("days")), 1)
    slips = visits.calendar(reader.job).last_day(late, days) if late is not None else None
    stops = visit.find("hold")
    return Bar(
        visit_words(visit),
        starts,
        last,
        slips,
        visit.address in tight,
        stops is not None and stops.value not in (None, "none"),
    )


def _on_its_way(reader: Reader, item: Bought, tight: Mapping[str, str]) -> Iterator[Bar]:
    try:
        last = bought.as_dated(reader.facts, item)
    except Open:
        return
    if item.purchase is None and last.order is not None:
        name = network.order_of(item.thing)
        yield Bar(
            name.replace(".", " "), last.order, last.on_site, None, name in tight, coming=True
        )
