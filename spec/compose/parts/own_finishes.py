"""The finishes that a trade applies or gives to its own work: what each is, and where it goes."""

from __future__ import annotations

from collections.abc import Iterator

from spec.compose.blocks import Block, Heading, Row, Sentence, Table, say
from spec.compose.context import Reader
from spec.compose.parts.labels import label_of
from spec.compose.parts.scope_tiers import own_tiers
from spec.compose.parts.tables import without_empty
from spec.compose.wording import kind_words, room_words, value_text, where_words
from spec.job.node import Node
from spec.job.record import recording
from spec.job.trades import thing_of, trade_of

APPLIED_BY: dict[str, tuple[str, ...]] = {
    "plaster": ("plaster",),
    "painting": ("paint", "wallcovering"),
    "flooring": ("tile", "wood_floor"),
    "stone": ("stone",),
}
"""The kinds of finish that a trade applies wherever they are named."""
_ON_PARTS = frozenset({"base", "crown", "millwork", "metal", "plates"})
"""What a room says the finish of, beside its surfaces."""
_LOOK = ("material", "color", "sheen")
_TO_CLEAN = ("material", "sheen", "sealer", "care")
_SAID = frozenset({"is", "like", "title", *_LOOK})


def own_finishes(reader: Reader) -> Iterator[Block]:
    """One row for each finish of the trade."""
    rows = [_row(reader, finish) for finish in _own(reader)]
    if rows:
        yield Heading(2, "Finishes to apply")
        yield Table(
            "What each is, and everything that gets it",
            ("Finish", "Material, color, sheen", "How", "Where it goes"),
            tuple(rows),
            (1.0, 1.3, 1.9, 2.0),
        )


def surfaces_to_clean(reader: Reader) -> Iterator[Block]:
    """What every surface is made of and sealed with, for whoever cleans all of them."""
    if reader.trade != "cleaning":
        return
    rows = []
    for finish in (node for node in reader.job.everything if node.container == "finishes"):
        where = _places(reader, list(reader.naming.get(finish.key, ())))
        with recording() as read:
            title, *facts = (
                value_text(reader.job, node) if (node := finish.find(key)) is not None else ""
                for key in ("title", *_TO_CLEAN)
            )
        name = f"{finish.key}\n{title}" if title else finish.key
        if where:
            rows.append(Row((name, *facts, "\n".join(where)), frozenset(read)))
    if rows:
        yield Heading(2, "Surfaces to clean")
        table = Table(
            "What each is made of and sealed with, and where it is",
            ("Finish", "Material", "Sheen", "Sealer", "Care", "Where"),
            tuple(rows),
            (1.0, 1.1, 0.8, 0.9, 1.2, 2.2),
        )
        yield without_empty(table)


def finish_tasks(reader: Reader) -> Iterator[Sentence]:
    """`Apply F2 Cool-room paint: walls of the wine room, ceiling of the wine room.`"""
    for finish in _own(reader):
        if finish.kind not in APPLIED_BY.get(reader.trade, ()):
            continue
        with recording() as read:
            title = finish.find("title")
            name = f"{finish.key} {value_text(reader.job, title) if title is not None else ''}"
        where = "; ".join(_goes_to(reader, finish, made=False))
        if where:
            yield say(f"Apply {name.strip()}: {where}.", frozenset(read))


def in_own_finishes(reader: Reader) -> frozenset[str]:
    """The addresses that this table shows, for the schedules to leave out."""
    return frozenset(leaf.address for finish in _own(reader) for leaf in finish.leaves())


def _own(reader: Reader) -> list[Node]:
    """Those of the kinds that the trade applies, and those that its own things are given."""
    kinds = APPLIED_BY.get(reader.trade, ())
    named = {str(leaf.value) for leaf in reader.leaves if _on_own_work(reader, leaf)}
    return [
        finish
        for finish in reader.job.everything
        if finish.container == "finishes"
        and (finish.kind in kinds or finish.key in named)
        and _goes_to(reader, finish)
    ]


def _on_own_work(reader: Reader, leaf: Node) -> bool:
    """Whether a leaf gives a finish to what the trade makes itself."""
    if leaf.value is None or not ("finish" in leaf.key or leaf.key in _ON_PARTS):
        return False
    holder = thing_of(leaf)
    if not holder.container or holder.kind == "room":
        return reader.trade not in APPLIED_BY
    return trade_of(reader.job, holder) == reader.trade


def _row(reader: Reader, finish: Node) -> Row:
    with recording() as read:
        title = finish.find("title")
        name = finish.key + (f"\n{value_text(reader.job, title)}" if title is not None else "")
        look = [
            value_text(reader.job, node)
            for key in _LOOK
            if (node := finish.find(key)) is not None and not node.children
        ]
        how = [
            f"{label_of(finish, leaf)}: {value_text(reader.job, leaf)}"
            for leaf in finish.leaves()
            if leaf.key not in _SAID
        ]
    cells = (name, "\n".join(look), "\n".join(how), "\n".join(_goes_to(reader, finish)))
    return Row(cells, frozenset(read))


def _goes_to(reader: Reader, finish: Node, *, made: bool = True) -> list[str]:
    """Where the job names a finish: for who applies such finishes all, for others their own.

    Without what is `made` of it: a top of stone is no stone that is put on something.
    """
    applies = finish.kind in APPLIED_BY.get(reader.trade, ())
    named = reader.naming.get(finish.key, ())
    said = [n for n in named if applies or _may_be_own(reader, n)]
    own = () if made else own_tiers(reader)
    return _places(reader, [n for n in said if thing_of(n) not in own])


def _places(reader: Reader, leaves: list[Node]) -> list[str]:
    return list(dict.fromkeys(_target(reader, leaf) for leaf in leaves if _says_finish(leaf)))


def _may_be_own(reader: Reader, leaf: Node) -> bool:
    return trade_of(reader.job, thing_of(leaf)) in ("", reader.trade)


def _says_finish(leaf: Node) -> bool:
    upper = leaf.parent
    within = upper is not None and upper.key in ("finishes", "finishes_everywhere")
    return within or "finish" in leaf.key


def _target(reader: Reader, leaf: Node) -> str:
    upper = leaf.parent
    if upper is None:
        return leaf.key
    if upper.key == "finishes_everywhere":
        return f"{leaf.key} everywhere, unless said otherwise"
    if upper.key == "finishes":
        return f"{leaf.key} of the {room_words(reader.job, upper.room)}"
    holder = thing_of(leaf)
    where = where_words(reader.job, holder) if holder.surface else ""
    name = f"{kind_words(holder)} {holder.key}" if kind_words(holder) != holder.key else holder.key
    if upper is not holder:
        name += f", {upper.key}"
    trade = trade_of(reader.job, holder)
    whose = f" (of {trade})" if trade not in ("", reader.trade) else ""
    return (f"{name}, {where}" if where else name).replace("_", " ") + whose
