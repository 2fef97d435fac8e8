"""The scope of an order: everything that its trade does, in the order of the file."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from spec.compose.blocks import Block, Bullets, Heading, Paragraph, Sentence, say
from spec.compose.context import Reader
from spec.compose.parts.layers import layer_tasks
from spec.compose.parts.own_finishes import finish_tasks
from spec.compose.parts.places import how_many
from spec.compose.parts.scope_tiers import molding_tasks, tier_tasks
from spec.compose.wording import kind_words, length_text, thing_words, value_text, where_words
from spec.job.node import Node
from spec.job.record import note, recording
from spec.job.trades import trade_of

_IN_COOLING = (
    ("cooling.lines", "Run, insulate and test the refrigerant lines"),
    ("cooling.condensate", "Run and try the condensate drain"),
)


def scope(reader: Reader) -> Iterator[Block]:
    """Everything the trade does: layers, openings, finishes, tiers, single things."""
    groups: dict[tuple[str, str, str], list[Node]] = {}
    for thing in reader.own_work:
        if thing.known and (verb := _verb(reader, thing)):
            own = thing.address if thing.find("and") or thing.find("title") else ""
            groups.setdefault((verb, kind_words(thing), thing.surface + own), []).append(thing)
    items = [*layer_tasks(reader), *_framed(reader), *finish_tasks(reader), *tier_tasks(reader)]
    items += [*molding_tasks(reader), *_circuits(reader), *_cables(reader)]
    items += [_task(reader, verb, things) for (verb, _, _), things in groups.items()]
    items += [*_lines(reader)]
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
    if thing.kind == "panelboard" and (state is None or state.value == "existing"):
        return "work in the existing" if state is not None else "work in"
    if thing.heading == "existing" or (state is not None and state.value == "existing"):
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
            words = f"{how_many(reader, first)}{thing_words(reader.job, first)}"
        else:
            marks = ", ".join(thing.key for thing in things)
            where = f"; {where_words(reader.job, first)}" if first.surface else ""
            words = f"{len(things)} x {kind_words(first)}: {marks}{where}"
        text = f"{verb[:1].upper()}{verb[1:]}: {words}"
        below = first.find("and")
        if below is not None:
            text += f" - {value_text(reader.job, below)}"
    return say(f"{text}.", frozenset(read))


# ------------------------------------------------------------------ what stands in no thing alone


def _framed(reader: Reader) -> Iterator[Sentence]:
    """`Frame the opening of door D1, wall WB, wine room: 66-1/4 in wide, 6' 10" high, ...`"""
    if reader.trade != "framing":
        return
    for opening in reader.job.everything:
        if opening.heading != "openings" or trade_of(reader.job, opening) == reader.trade:
            continue
        with recording() as read:
            words = _frame_of(reader, opening)
        if words:
            yield say(
                f"Frame the opening of {thing_words(reader.job, opening)}: {', '.join(words)}.",
                frozenset(read),
            )


def _frame_of(reader: Reader, opening: Node) -> list[str]:
    """What a framer makes for an opening: how wide and high it is, what carries over it."""
    figures = reader.figures.get(opening.address, {})
    words: list[str] = []
    for name, after in (
        ("openings.rough_width", "wide"),
        ("openings.rough_height", "high over the finished floor"),
    ):
        figure = figures.get(name)
        if figure is not None and figure.value is not None:
            note(figure.address)
            words.append(f"{length_text(reader.job, figure.value)} {after}")
    header = opening.find("header")
    if header is not None and header in reader.leaves:
        words.append(f"header {value_text(reader.job, header)}")
    return words


def _circuits(reader: Reader) -> Iterator[Sentence]:
    """`Run circuits C1, C2 from PN1, with breakers and protection as in the schedule.`"""
    if reader.trade != "electrical":
        return
    by_board: dict[str, list[str]] = {}
    with recording() as read:
        for circuit in reader.job.things("circuit"):
            board = circuit.find("panelboard")
            name = value_text(reader.job, board) if board is not None else ""
            by_board.setdefault(name, []).append(circuit.key)
    for name, marks in by_board.items():
        many = "circuit" if len(marks) == 1 else "circuits"
        from_board = f" from {name}" if name else ""
        yield say(
            f"Run {many} {', '.join(marks)}{from_board}, with breakers and protection as in the "
            "schedule.",
            frozenset(read),
        )


def _cables(reader: Reader) -> Iterator[Sentence]:
    """`Lay the cables of sensor SN1, controller CT1 before board; refrigeration sets them.`"""
    if reader.trade != "electrical":
        return
    with recording() as read:
        by_trade: dict[str, list[str]] = {}
        for device in reader.job.everything:
            cable, whose = device.find("cable"), trade_of(reader.job, device)
            if device.heading != "devices" or cable is None or whose == reader.trade:
                continue
            text = f"{kind_words(device)} {device.key} ({value_text(reader.job, cable)})"
            by_trade.setdefault(whose or "others", []).append(text.replace("_", " "))
    for whose, names in by_trade.items():
        verb = "set" if whose == "others" else "sets"
        yield say(
            f"Lay the cables of {', '.join(names)} before board; {whose} {verb} the devices.",
            frozenset(read),
        )


def _lines(reader: Reader) -> Iterator[Sentence]:
    """The lines and the drain of each cooled room, which are no things of their own."""
    if reader.trade != "refrigeration":
        return
    for room in reader.job.rooms:
        for path, task in _IN_COOLING:
            node = room.find(path)
            if node is None or not node.children:
                continue
            with recording() as read:
                ends = [(word, node.find(key)) for word, key in _ENDS]
                words = [f" {w} {value_text(reader.job, n)}" for w, n in ends if n is not None]
            yield say(f"{task}{''.join(words)}.", frozenset(read))


_ENDS = (("from", "from"), ("to", "to"), ("to", "ends"))
