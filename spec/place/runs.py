"""Stacks and runs: how high each tier stands, and where along its wall each piece stands."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from spec.job.job import Job
from spec.job.kinds import CONTINUES
from spec.job.node import Contradicted, Node, Open
from spec.job.record import note
from spec.place.shapes import CLOSE
from spec.quantity import Quantity

_LINKED = ("under", "over", "along")


class Tier(NamedTuple):
    """One tier of a stack [m]: where it starts above the finished floor, how high, how deep."""

    node: Node
    bottom: float
    height: float
    depth: float | None
    rest: bool = False
    """Its height is what the others leave."""

    @property
    def top(self) -> float:
        """Its top above the finished floor [m]."""
        return self.bottom + self.height


class Piece(NamedTuple):
    """One piece in its run [m]: from the wall's left corner, and what it takes up in height."""

    node: Node
    left: float
    width: float
    bottom: float
    height: float
    depth: float | None
    turned: bool = False
    """It starts elsewhere: on the wall before, from which it comes round the corner, or in the
    tier below, from which it goes on through this one."""


class Run(NamedTuple):
    """A tier's pieces along one wall. `left_over` [m] is what they leave free, negative where
    they are too wide; None where a filler takes up what is left."""

    wall: Node
    tier: Tier
    node: Node
    start: float
    width: float
    pieces: tuple[Piece, ...]
    left_over: float | None


def tiers(stack: Node, room_height: float | None = None) -> dict[str, Tier]:
    """The tiers of a stack by name, inner ones too; raises `Open` where a height is not decided.

    A tier of height `rest` takes what the others leave of the room's height [m].
    """
    nodes = stack.group("bottom_to_top")
    rest = 0.0
    if room_height is not None and any(_rests(node) for node in nodes):
        fixed = [node for node in nodes if not _rests(node)]
        rest = room_height - sum(_height(node) for node in fixed)
    return dict(_stacked(stack, 0.0, None, rest))


def _rests(tier: Node) -> bool:
    height = tier.find("height")
    return height is not None and height.value == "rest"


def _height(tier: Node) -> float:
    inner = tier.group("bottom_to_top")
    return sum(_height(node) for node in inner) if inner else tier.si("height")


def _stacked(
    stack: Node, bottom: float, outer: float | None, rest: float
) -> Iterator[tuple[str, Tier]]:
    for node in stack.group("bottom_to_top"):
        depth = node.si("depth") if node.given("depth") else outer
        inner = list(_stacked(node, bottom, depth, rest))
        resting = _rests(node)
        height = max(rest, 0.0) if resting else _height(node)
        yield node.key, Tier(node, bottom, height, depth, resting)
        yield from inner
        bottom += height


def stack_of(job: Job, run: Node) -> Node | None:
    """The stack that a run belongs to: the one it names, else the room's only one with its tier.

    Raises `Contradicted` where it names none and several have its tier.
    """
    named = run.find("stack")
    if named is not None and isinstance(named.value, str):
        note(named.address)
        return job.thing(named.value)
    room = job.thing(run.room)
    if room is None:
        return None
    fitting = [stack for stack in room.group("stacks") if stack.find(run.key) is not None]
    if len(fitting) > 1:
        names = [stack.key for stack in fitting]
        raise Contradicted(
            run.address,
            f"the {run.key} run on {run.surface} names no stack, and {' and '.join(names)} "
            f"have a tier of that name",
            f"write `stack: {names[0]}` at the run, or the other",
            *(stack.address for stack in fitting),
        )
    return fitting[0] if fitting else None


def height_for(job: Job, stack: Node, height: float) -> float:
    """What a stack closes to in a room of this height [m]: a soffit, if all runs are under it."""
    drops: set[float] = set()
    for run in _on_walls(job, stack):
        soffit = job.thing(run.word("under")) if run.given("under") else None
        drops.add(soffit.si("drop") if soffit is not None else 0.0)
    return height - drops.pop() if len(drops) == 1 else height


def stands_free(job: Job, stack: Node) -> bool:
    """A stack of islands only: it ends where it ends, whatever the height of the room."""
    islands = (i for i in job.things("island") if i.room == stack.room)
    named = (island.find("stack") for island in islands)
    return any(link is not None and link.value == stack.key for link in named) and not any(
        _on_walls(job, stack)
    )


def _on_walls(job: Job, stack: Node) -> Iterator[Node]:
    """The runs on the walls of its room that have this stack."""
    room = job.thing(stack.room)
    for wall in room.group("walls_clockwise") if room is not None else ():
        for run in wall.group("millwork"):
            if run.group("left_to_right") and stack_of(job, run) is stack:
                yield run


def runs_of(
    job: Job,
    wall: Node,
    length: float,
    height: float,
    turned_in: Callable[[str], tuple[Node, float] | None],
) -> Iterator[Run]:
    """The runs of a wall of a given finished length, in a room of a given height [m].

    `turned_in(tier)` gives the piece of the wall before that comes round the left corner, with
    what it takes of this wall [m]. Raises `Open`.
    """
    heading = wall.find("millwork")
    if heading is None:
        return
    for run in heading.entries():
        if not run.group("left_to_right"):
            continue
        stack = stack_of(job, run)
        if stack is None:
            raise Open(f"{run.address}.stack")
        levels = tiers(stack, height)
        tier = levels.get(run.key)
        if tier is None:
            raise Open(f"{stack.address}.{run.key}")
        turned = turned_in(run.key)
        start = turned[1] if turned else 0.0
        if run.given("left"):
            start = run.si("left")
        width = run.si("width") if run.given("width") else length - start
        if run.given("right"):
            width = length - start - run.si("right")
        pieces = list(_pieces(job, run, levels, tier, start, width))
        taken = sum(p.width for p in pieces)
        has_rest = any(_is_rest(piece) for piece in run.group("left_to_right"))
        if turned:
            came = Piece(turned[0], 0.0, turned[1], tier.bottom, tier.height, tier.depth, True)
            pieces.insert(0, came)
        left_over = width - taken
        taken_up = has_rest and left_over > -CLOSE
        yield Run(wall, tier, run, start, width, tuple(pieces), None if taken_up else left_over)


def _is_rest(piece: Node) -> bool:
    width = piece.find("width")
    return width is not None and width.value == "rest"


def _width(piece: Node) -> float | None:
    if _is_rest(piece):
        piece.given("width")
        return None
    return piece.si("width")


def side_by_side(widths: Sequence[float | None], whole: float) -> list[float]:
    """Widths of parts that fill a whole [m]: those without one share equally what is left."""
    left = max(whole - sum(w for w in widths if w is not None), 0.0)
    rests = sum(1 for w in widths if w is None)
    return [left / rests if w is None else w for w in widths]


def _itself(job: Job, piece: Node) -> Node:
    """The piece; of one that only `continues`, that which is written in another tier."""
    written = job.thing(piece.key) if piece.value == CONTINUES else None
    return written if written is not None else piece


def _pieces(
    job: Job, run: Node, levels: dict[str, Tier], tier: Tier, start: float, width: float
) -> Iterator[Piece]:
    listed = run.group("left_to_right")
    nodes = [_itself(job, node) for node in listed]
    widths = [_width(node) for node in nodes]
    at = start
    for node, wide, here in zip(nodes, side_by_side(widths, width), listed, strict=True):
        bottom, top, depth = tier.bottom, tier.top, tier.depth
        taken = [levels[name] for name in node.words("takes", ()) if name in levels]
        if taken:
            bottom, top = min(t.bottom for t in taken), max(t.top for t in taken)
        if isinstance(node.quantity("depth", None), Quantity):
            depth = node.si("depth")
        yield Piece(node, at, wide, bottom, top - bottom, depth, node is not here)
        at += wide
