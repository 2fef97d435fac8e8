"""Runs piece by piece, as a rack fitter sets them up and a counter is templated over them."""

from __future__ import annotations

from collections.abc import Iterator

from spec.compose.blocks import Block, Heading, Row, Table
from spec.compose.context import Reader
from spec.compose.parts.labels import label_of
from spec.compose.parts.tables import without_empty
from spec.compose.wording import kind_words, length_text, room_words, value_text
from spec.job.node import Node, Open
from spec.job.record import note, recording
from spec.place.runs import Piece, Run, Tier, tiers

_INSIDE = ("columns", "rows", "deep", "bottle", "bins", "each_holds", "doors")
_SHOWN = ("width", *_INSIDE)


def runs(reader: Reader) -> Iterator[Block]:
    """The section of each stack, then one table for each run, from left to right."""
    tables = [_section(reader, stack) for stack in _own_stacks(reader)]
    tables += [_table(reader, run) for run in _own_runs(reader)]
    if tables:
        yield Heading(2, "Runs, piece by piece")
        yield from tables


def in_runs(reader: Reader) -> frozenset[str]:
    """The addresses that the runs show, for the schedules to leave out."""
    of_stacks = frozenset(
        leaf.address
        for stack in _own_stacks(reader)
        for leaf in stack.leaves()
        if _tier_of(leaf) is not None and leaf in reader.leaves
    )
    return of_stacks | frozenset(
        node.address
        for run in _own_runs(reader)
        for piece in run.pieces
        if not piece.turned
        for key in _SHOWN
        if (node := piece.node.find(key)) is not None and not node.children
    )


def _own_runs(reader: Reader) -> Iterator[Run]:
    own = set(reader.own_work)
    for wall in reader.job.walls:
        try:
            found = reader.places.runs(wall)
        except Open:
            continue
        yield from (run for run in found if any(piece.node in own for piece in run.pieces))


# ------------------------------------------------------------------ sections


def _own_stacks(reader: Reader) -> list[Node]:
    """The stacks in whose runs the reader has a piece."""
    tops = {run.tier.node: run for run in _own_runs(reader)}
    return [s for s in reader.job.things("stack") if any(_within(t, s) for t in tops)]


def _within(node: Node, upper: Node) -> bool:
    at: Node | None = node
    while at is not None and at is not upper:
        at = at.parent
    return at is not None


def _tier_of(leaf: Node) -> Node | None:
    """The innermost tier that a leaf is a fact of."""
    at = leaf.parent
    while at is not None and at.kind != "stack":
        if at.parent is not None and at.parent.key == "bottom_to_top":
            return at
        at = at.parent
    return None


def _section(reader: Reader, stack: Node) -> Table:
    with recording() as read:
        try:
            levels = tiers(stack, reader.places.room(stack.room).height)
        except Open:
            levels = {}
    facts: dict[Node, list[Node]] = {}
    for leaf in stack.leaves():
        tier = _tier_of(leaf)
        if tier is not None and leaf in reader.leaves and leaf.key not in ("is", "like"):
            facts.setdefault(tier, []).append(leaf)
    found = {tier.node: tier for tier in levels.values()}
    nodes = list(dict.fromkeys([*facts, *found]))
    nodes.sort(key=lambda node: found[node].bottom if node in found else -1.0, reverse=True)
    rows = [_level(reader, node, found.get(node), facts.get(node, []), read) for node in nodes]
    return Table(
        f"Section of the {stack.key.replace('_', ' ')} of the "
        f"{room_words(reader.job, stack.room)}, from the top down",
        ("Tier", "Above finished floor", "High", "Deep", "Further"),
        tuple(rows),
        (1.0, 1.4, 0.9, 0.8, 3.0),
    )


def _level(
    reader: Reader, node: Node, tier: Tier | None, facts: list[Node], placed: set[str]
) -> Row:
    with recording() as read:
        deep = next((value_text(reader.job, n) for n in facts if n.key == "depth"), "")
        high = next((value_text(reader.job, n) for n in facts if n.key == "height"), "")
        further = [
            f"{label_of(node, n)}: {value_text(reader.job, n)}"
            for n in facts
            if n.key not in ("depth", "height")
        ]
    ends = [length_text(reader.job, x) for x in (tier.bottom, tier.top)] if tier else []
    kind = kind_words(node)
    name = node.key.replace("_", " ")
    name += f"\n{kind}" if kind != name else ""
    cells = (name, " to ".join(ends), high, deep, "\n".join(further))
    return Row(cells, frozenset(read | placed))


# ------------------------------------------------------------------ runs


def _table(reader: Reader, run: Run) -> Table:
    with recording() as read:
        reader.places.runs(run.wall)
    job, tier = reader.job, run.tier
    rows = [_row(reader, piece) for piece in run.pieces]
    together = sum(piece.width for piece in run.pieces)
    total = ("", "Together", "", length_text(job, together), "", "", "")
    room = room_words(job, run.wall.room)
    deep = f", {length_text(job, tier.depth)} deep" if tier.depth is not None else ""
    caption = (
        f"Wall {run.wall.key} of the {room}, {run.node.key.replace('_', ' ')}: left to right as "
        f"seen from inside; {length_text(job, tier.bottom)} to {length_text(job, tier.top)} above "
        f"finished floor{deep}"
    )
    table = Table(
        caption,
        ("Piece", "What", "From the left corner", "Width", "Inside", "Bottles", "Mind"),
        (*rows, Row(total, frozenset(read), "total")),
        (0.6, 1.1, 1.6, 1.0, 1.7, 0.7, 1.5),
    )
    return without_empty(table)


def _row(reader: Reader, piece: Piece) -> Row:
    node = piece.node
    with recording() as read:
        edges = [length_text(reader.job, x) for x in (piece.left, piece.left + piece.width)]
        wide = node.find("width")
        inside = [f"{_value(reader, node, key)}" for key in _INSIDE if _given(node, key)]
        figure = reader.figures.get(node.address, {}).get("storage.piece")
        held = ""
        if figure is not None and figure.value is not None and not piece.turned:
            note(figure.address)
            held = f"{figure.value:.0f}"
        remark = ""
        if piece.turned:
            remark = "comes round the corner from the wall before"
        elif wide is not None and wide.value == "rest":
            value_text(reader.job, wide)
            remark = "REST: takes up what the wall gives; scribe it last"
        elif wide is not None:
            value_text(reader.job, wide)
        if node.find("turns") is not None and not piece.turned:
            remark = "turns the corner"
    what = kind_words(node)
    return Row(
        (
            node.key,
            what,
            " to ".join(edges),
            length_text(reader.job, piece.width),
            ", ".join(inside),
            held,
            remark,
        ),
        frozenset(read),
    )


def _given(node: Node, key: str) -> bool:
    leaf = node.find(key)
    return leaf is not None and not leaf.children and (leaf.value is not None)


def _value(reader: Reader, node: Node, key: str) -> str:
    leaf = node.at(key)
    text = value_text(reader.job, leaf)
    if key in ("bottle",):
        return f"for {text}"
    return f"{text} {key.replace('_', ' ')}" if key != "each_holds" else f"each holds {text}"
