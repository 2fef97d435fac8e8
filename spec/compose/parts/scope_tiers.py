"""What a scope says of the tiers that run through whole stacks, and of the moldings of a room."""

from __future__ import annotations

from collections.abc import Iterator

from spec.compose.blocks import Sentence, say
from spec.compose.context import Reader
from spec.compose.wording import kind_words, room_words, value_text
from spec.job.node import Node, Open
from spec.job.record import recording
from spec.job.trades import trade_of
from spec.place.runs import stack_of

MADE_AS_ONE = ("plinth", "top", "crown")
"""Tiers that are made in lengths; of the others each piece is named by itself."""
_SLAB = ("template", "supply", "cut out", "fit")
_MOLDINGS = ("base", "crown")


def own_tiers(reader: Reader) -> list[Node]:
    """The tiers of all stacks that the trade makes in lengths."""
    return [
        thing
        for thing in reader.job.everything
        if thing.kind in MADE_AS_ONE
        and thing.container == "bottom_to_top"
        and trade_of(reader.job, thing) == reader.trade
    ]


def tier_tasks(reader: Reader) -> Iterator[Sentence]:
    """`Supply and fit: plinth, table (top), crown of the racks of the wine room, on WA, WC.`"""
    by_stack: dict[str, list[Node]] = {}
    for tier in own_tiers(reader):
        by_stack.setdefault(_stack_above(tier).address, []).append(tier)
    for address, tiers in by_stack.items():
        stack = reader.job.find(address)
        assert stack is not None
        if reader.trade == "stone":
            yield from (_slab(reader, stack, tier) for tier in tiers)
            continue
        with recording() as read:
            words = ", ".join(_named(reader, tier) for tier in tiers)
        yield say(f"Supply and fit: {words} of {_of(reader, stack)}.", frozenset(read))


def molding_tasks(reader: Reader) -> Iterator[Sentence]:
    """`Supply and fit: base of the tasting room, square with eased top, 6 in high.`"""
    for room in reader.job.rooms:
        for key in _MOLDINGS:
            molding = room.find(key)
            if molding is None or not molding.children:
                continue
            if reader.trade not in molding.shape.decision.trades:
                continue
            with recording() as read:
                facts = [
                    value_text(reader.job, leaf)
                    for name in ("profile", "height")
                    if (leaf := molding.find(name)) is not None
                ]
            where = room_words(reader.job, room.key)
            yield say(
                f"Supply and fit: {', '.join([f'{key} of the {where}', *facts])}.", frozenset(read)
            )


def _slab(reader: Reader, stack: Node, tier: Node) -> Sentence:
    """A stone top takes four steps, and each may be another's if nobody says whose it is."""
    with recording() as read:
        cuts = tier.find("cut_outs")
        words = _named(reader, tier)
        text = f"{', '.join(_SLAB[:-1])} and {_SLAB[-1]}: {words} of {_of(reader, stack)}"
        if cuts is not None and not cuts.children:
            text += f"; cut-outs: {value_text(reader.job, cuts)}"
        elif cuts is not None:
            text += "; cut-outs: as in the schedule"
    return say(f"{text[:1].upper()}{text[1:]}.", frozenset(read))


def _named(reader: Reader, tier: Node) -> str:
    """`counter (top, F8 Soapstone)`."""
    about = [kind_words(tier)] if kind_words(tier) != tier.key else []
    finish = tier.find("finish")
    if finish is not None:
        title = reader.job.find(f"{finish.value}.title")
        name = value_text(reader.job, finish)
        about.append(f"{name} {title.value}" if title is not None and title.value else name)
    name = tier.key.replace("_", " ")
    return f"{name} ({', '.join(about)})" if about else name


def _of(reader: Reader, stack: Node) -> str:
    words = f"the {stack.key.replace('_', ' ')} of the {room_words(reader.job, stack.room)}"
    walls = _walls(reader, stack)
    return f"{words}, on {', '.join(walls)}" if walls else words


def _walls(reader: Reader, stack: Node) -> list[str]:
    """The walls along which pieces of a stack stand."""
    return [
        wall.key
        for wall in reader.job.walls
        if any(
            run.group("left_to_right") and _same(reader, run, stack)
            for run in wall.group("millwork")
        )
    ]


def _same(reader: Reader, run: Node, stack: Node) -> bool:
    try:
        return stack_of(reader.job, run) is stack
    except Open:
        return False


def _stack_above(tier: Node) -> Node:
    at = tier
    while at.parent is not None and at.kind != "stack":
        at = at.parent
    return at
