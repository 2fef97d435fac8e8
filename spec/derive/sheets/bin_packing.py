"""How many bottles a bin could hold at most, however they are stacked."""

from __future__ import annotations

from spec.derive.figure import Facts, Worked, figure
from spec.derive.formulas import bins, storage
from spec.derive.formulas.range import NotCovered
from spec.derive.sheets import kinds
from spec.derive.sheets.counting import bottle_of
from spec.derive.sheets.dividing import over
from spec.job.node import Node


@figure(
    "storage.bin_most",
    title="Most bottles that a bin could hold",
    dimension="count",
    formula="best packing of circles in the square x one behind the other; up to 16, its side the "
    "width / √bins, standing on a corner | (2 A / (sqrt(3) d^2) + P / (2 d) + 1) x one behind the "
    "other; above 16, on the inset region, in whole bottles before the last step",
    source="published packings for up to 16; Oler 1961 above",
    holds="diamonds as squares that share the whole face, an X as four triangles; no dividers",
    per=kinds.of_kind("diamond_bin", "x_bin", having="bins"),
    trades=("millwork",),
)
def bin_most(facts: Facts, thing: Node) -> Worked:
    """The most that anybody can put into one bin of a piece, as deep as it is."""
    placed = facts.places.piece(thing)
    if placed is None:
        raise NotCovered("the piece stands in no run")
    size = bottle_of(facts, thing)
    corners = _bin(thing, placed.width, placed.height)
    diameter = size.si("diameter")
    one = bins.in_bin(corners, diameter)
    deep = 1
    if placed.depth is not None:
        deep = max(1, storage.bottles_deep(placed.depth, size.si("length"), size.si("length") / 4))
    return Worked(
        float(one.bound * deep),
        given=(
            ("A", one.inset, "area"),
            ("P", one.around, "length"),
            ("d", diameter, "length"),
            ("practical", float(one.practical * deep), "count"),
            ("one behind the other", float(deep), "count"),
        ),
    )


def _bin(thing: Node, width: float, height: float) -> tuple[tuple[float, float], ...]:
    """Cross-section of one bin: a triangle of an X, or a square of the shared area."""
    count = thing.count("bins")
    if thing.kind == "x_bin":
        units = max(1, count // 4)
        across = width / units if width >= height else width
        up = height if width >= height else height / units
        return ((0.0, 0.0), (across, 0.0), (across / 2.0, up / 2.0))
    side = over(width * height, count, "count of bins") ** 0.5
    half = side / 2.0**0.5
    return ((0.0, -half), (half, 0.0), (0.0, half), (-half, 0.0))
