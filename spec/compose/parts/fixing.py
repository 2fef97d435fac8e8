"""What a trade's pieces are fixed into, how deep a screw may go, and what must not be covered."""

from __future__ import annotations

from collections.abc import Iterator

from spec.compose.blocks import Block, Heading, Row, Table
from spec.compose.context import Reader
from spec.compose.parts.labels import label_of
from spec.compose.parts.layers import worked_on
from spec.compose.parts.places import whereabouts
from spec.compose.wording import kind_words, value_text, where_words
from spec.job.record import note, recording
from spec.job.trades import own_trades

_COVERS = ("insulation", "board")
"""Trades that cover whole surfaces and with them what others put there."""
_DEPTHS = frozenset({"longest_screw", "deepest_fixing", "no_screws", "deeper_than", "fixing_depth"})


def fixing(reader: Reader) -> Iterator[Block]:
    """Backing to fix into or to mark, limits for screws, holes of others, what stays free."""
    tables = [*_backing(reader), *_depths(reader), *_holes(reader), *_reachable(reader)]
    if tables:
        yield Heading(2, "Fixing, and what stays free")
        yield from tables


def _backing(reader: Reader) -> Iterator[Table]:
    own = {thing.key for thing in reader.own_work}
    covers = worked_on(reader) if reader.trade in _COVERS else frozenset()
    rows: list[Row] = []
    for backing in reader.job.things("backing"):
        carries = backing.find("for")
        names = carries.value if carries is not None else ()
        mine = [n for n in (names if isinstance(names, tuple) else (names,)) if str(n) in own]
        if backing.surface in covers:
            mine = list(names if isinstance(names, tuple) else (names,))
        if not mine or backing in reader.own_work or not backing.known:
            continue
        with recording() as read:
            words, cites = whereabouts(reader, backing)
            note(*cites, f"{backing.address}.for")
            member = backing.find("member")
            text = value_text(reader.job, member) if member is not None else ""
        rows.append(Row((backing.key, ", ".join(map(str, mine)), words, text), frozenset(read)))
    if rows:
        yield Table(
            "Backing in the wall: nothing heavy hangs on anything else",
            ("Mark", "Carries", "Where, as seen from inside the room named", "Member"),
            tuple(rows),
            (0.6, 1.2, 3, 1.2),
        )


def _depths(reader: Reader) -> Iterator[Table]:
    """Every written limit for a screw on the surfaces on which the trade fixes something."""
    surfaces = {thing.surface for thing in reader.own_work if thing.surface}
    rows: list[Row] = []
    for leaf in reader.job.tree.leaves():
        if leaf.key not in _DEPTHS or leaf.not_applicable or leaf.value is None:
            continue
        holder = leaf.parent
        if holder is None or not (holder.surface in surfaces or holder.address in surfaces):
            continue
        with recording() as read:
            text = value_text(reader.job, leaf)
        where = where_words(reader.job, holder) if holder.surface else holder.key
        name = f"{where}: {kind_words(holder)} {holder.key}".replace("_", " ")
        rows.append(Row((name, label_of(holder, leaf), text), frozenset(read)))
    if rows:
        yield Table("Screws", ("At", "Limit", "How deep"), tuple(rows), (2.4, 1.4, 1))


def _holes(reader: Reader) -> Iterator[Table]:
    """Holes of others in the surfaces that a trade covers: it closes none of them by itself."""
    if reader.trade not in _COVERS:
        return
    covers = worked_on(reader)
    rows: list[Row] = []
    for hole in reader.job.things("hole"):
        if hole.surface not in covers or reader.trade in own_trades(reader.job, hole):
            continue
        with recording() as read:
            words, cites = whereabouts(reader, hole)
            note(*cites)
            said = [
                value_text(reader.job, node) if (node := hole.find(key)) is not None else ""
                for key in ("size", "cut_by", "closed_by")
            ]
        rows.append(Row((hole.key, words, *said), frozenset(read)))
    if rows:
        yield Table(
            "Holes of other trades in these surfaces: left open for whoever closes them",
            ("Hole", "Where, as seen from inside the room named", "Size", "Cut by", "Closed by"),
            tuple(rows),
            (0.6, 3, 0.8, 1.1, 1.1),
        )


def _reachable(reader: Reader) -> Iterator[Table]:
    """What other trades put behind or into the trade's pieces and come back to."""
    own = {thing.key: thing for thing in reader.own_work if thing.heading == "millwork"}
    rows: list[Row] = []
    for thing in reader.job.everything:
        inside = thing.find("inside")
        piece = own.get(str(inside.value)) if inside is not None else None
        if piece is None or thing in reader.own_work:
            continue
        with recording() as read:
            note(f"{thing.address}.inside")
            reached = thing.find("reached")
            text = value_text(reader.job, reached) if reached is not None else "not said"
        rows.append(
            Row((f"{thing.key} {kind_words(thing)}", f"in {piece.key}", text), frozenset(read))
        )
    if rows:
        yield Table(
            "Stays reachable: no back, filler or shelf is fixed over it for good",
            ("What", "Where", "How it is reached"),
            tuple(rows),
            (1.4, 1, 2.4),
        )
