"""How many bottles a piece of millwork holds, and of which size. Declares no figure."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from spec.derive.formulas import storage as formulas
from spec.derive.sheets import kinds
from spec.derive.sheets.bottles import bottle_named, case_holds, default_bottle
from spec.job.job import Job
from spec.job.node import Node, Open

if TYPE_CHECKING:
    from spec.derive.figure import Facts

CELLS = ("racks", "peg_rack", "curved_corner", "blind_corner", "rack_arch", "display_row")
BINS = ("diamond_bin", "x_bin")
DRAWERS = ("drawers", "cabinet")
_CASES = re.compile(r"^\s*(\d+)\s*cases?\s*$")


class Course(NamedTuple):
    """Cells above each other in one tier: how many rows of how many columns, how deep."""

    tier: Node
    columns: int
    rows: int
    deep: int
    tilted: bool = False

    @property
    def bottles(self) -> int:
        """What the course holds."""
        return formulas.cells(self.columns, self.rows, self.deep)


def stores(piece: Node) -> bool:
    """A piece that is made to hold bottles."""
    if piece.kind in DRAWERS:
        return kinds.says(piece, "drawers.each_holds")
    return piece.kind in (*CELLS, *BINS, "case_shelf")


def storing(job: Job) -> list[Node]:
    """Every piece that is made to hold bottles."""
    return [piece for piece in kinds.pieces(job) if stores(piece)]


def bottle_of(facts: Facts, piece: Node) -> Node:
    """The size of bottle that a piece holds; raises `Open` where the house has no sizes."""
    for node, path in (
        (piece, "bottle"),
        (piece, "drawers.bottle"),
        (_tier(facts, piece), "bottle"),
    ):
        if node is not None and kinds.says(node, path):
            name = node.word(path)
            found = bottle_named(facts.job, name)
            if found is None:
                raise Open(node.at(path).address)
            return found
    usual = default_bottle(facts.job)
    if usual is None:
        raise Open("bottles")
    return usual


def _tier(facts: Facts, piece: Node) -> Node | None:
    run = piece.parent.parent if piece.parent is not None else None
    wall = facts.places.wall_of(piece)
    if run is None or wall is None:
        return None
    found = next((r for r in facts.places.runs(wall) if r.node is run), None)
    return found.tier.node if found is not None else None


def courses(facts: Facts, piece: Node) -> Iterator[Course]:
    """The courses of cells of a piece, from below; those that an arch takes left out."""
    tier = _tier(facts, piece)
    if tier is None:
        raise Open(f"{piece.address}.left")
    yield from _courses(facts, piece, tier)


def _courses(facts: Facts, piece: Node, tier: Node) -> Iterator[Course]:
    inner = tier.group("bottom_to_top")
    taken = piece.words("takes", ()) if piece.kind == "rack_arch" else ()
    for node in inner or (tier,):
        if node.key in taken or node.kind in ("gap", "plinth", "crown", "top"):
            continue
        columns = piece.count("columns")
        if node.kind == "display_row" or piece.kind == "display_row":
            if kinds.says(node, "columns") and not kinds.says(piece, "columns"):
                columns = node.count("columns")
            yield Course(node, columns, 1, 1, tilted=True)
            continue
        rows = piece.count("rows") if kinds.says(piece, "rows") else _rows(piece, node, tier)
        yield Course(node, columns, rows, _deep(piece, node, tier))


def _rows(piece: Node, node: Node, tier: Node) -> int:
    if kinds.says(node, "rows"):
        return node.count("rows")
    if kinds.says(tier, "rows"):
        return tier.count("rows")
    raise Open(f"{piece.address}.rows")


def _deep(piece: Node, node: Node, tier: Node) -> int:
    for place in (piece, node, tier):
        if kinds.says(place, "deep"):
            return place.count("deep")
    return 1


def bottles(facts: Facts, piece: Node) -> int:
    """How many bottles a piece holds; raises `Open`."""
    if piece.kind in BINS:
        return piece.count("bins") * piece.count("each_holds")
    if piece.kind == "case_shelf":
        return piece.count("shelves") * _in_cases(facts, piece)
    if piece.kind in DRAWERS:
        return _drawers(piece) * piece.count("drawers.each_holds")
    return sum(course.bottles for course in courses(facts, piece))


def _drawers(piece: Node) -> int:
    if kinds.says(piece, "drawers.count"):
        return piece.count("drawers.count")
    heights = piece.quantity("drawers.heights")
    return len(heights if isinstance(heights, tuple) else getattr(heights, "values", (heights,)))


def drawer_count(piece: Node) -> int:
    """How many drawers a piece has; 0 where it has none."""
    return _drawers(piece) if kinds.says(piece, "drawers") else 0


def _in_cases(facts: Facts, piece: Node) -> int:
    text = piece.text("each_holds")
    cases = _CASES.match(text)
    if cases is not None:
        return int(cases[1]) * case_holds(facts.job)
    if text.strip().isdigit():
        return int(text)
    raise Open(piece.at("each_holds").address)
