"""Sizes of the glass in doors: of the leaf, of the lights beside it and of the one over it."""

from __future__ import annotations

from collections.abc import Iterator

from spec.derive.figure import Facts, Part, Worked, figure
from spec.derive.sheets import kinds
from spec.derive.sheets.leaves import leaf_glass
from spec.derive.sheets.openings import leafed
from spec.job.job import Job
from spec.job.node import Node
from spec.quantity import show


def _glazed(job: Job) -> list[Node]:
    return [
        door
        for door in leafed(job)
        if door.kind == "door" and kinds.says(door, "glazing") and kinds.says(door, "leaf.height")
    ]


def _lights(door: Node) -> Iterator[tuple[str, float, float]]:
    """Name, width and height [m] of each light, as seen."""
    pane = leaf_glass(door)
    if pane.width > 0.0:
        yield "leaf", pane.width, pane.height
    wide, high = door.si("leaf.width") * door.count("leaf.count", 1), door.si("leaf.height")
    if kinds.says(door, "side_lights"):
        low = door.si("side_lights.bottom_rail", 0.0)
        for side in ("left", "right"):
            across = door.si(f"side_lights.{side}", 0.0)
            if across > 0.0:
                yield f"{side} light", across, high - low
                wide += across if door.word("transom.over", "leaf") != "leaf" else 0.0
    if kinds.says(door, "transom"):
        yield "light over the leaf", wide, door.si("transom.height")


@figure(
    "openings.glass_area",
    title="Glass that is seen",
    dimension="area",
    formula="sum of width x height of all lights",
    source="geometry",
    holds="sizes between the rails; a pane is larger by what its rebates hold",
    per=_glazed,
    trades=("doors", "glazing"),
)
def glass_area(facts: Facts, door: Node) -> Worked:
    """The glass of a door, with the width and height of each light; none of it a solid leaf."""
    system = facts.job.system
    parts, sizes = [], []
    for name, wide, high in _lights(door):
        parts.append(Part(name, wide * high, door.address))
        size = " x ".join(show(side, "length", system) for side in (wide, high))
        sizes.append(f"{name} {size}")
    return Worked(sum(part.value for part in parts), tuple(parts), remark="; ".join(sizes))
