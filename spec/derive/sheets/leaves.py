"""What leaves and panes weigh, and the hinges that carry them."""

from __future__ import annotations

from typing import NamedTuple

from spec.derive.figure import Facts, Worked, figure
from spec.derive.formulas import doors, weights
from spec.derive.formulas.constants import GRAVITY
from spec.derive.formulas.materials import material
from spec.derive.sheets import kinds
from spec.derive.sheets.dividing import over
from spec.derive.sheets.openings import leafed
from spec.job.node import Node, Open
from spec.quantity import show

_HARDWARE_SHARE = 0.05
"""What locks, closer and seals add to a leaf, of its weight. Common practice, no source."""
_PANE = 0.006
"""[m] A pane whose thickness nobody wrote: 6 mm (1/4 in), the safe side."""


class LeafGlass(NamedTuple):
    """Clear glass in a door leaf [m]."""

    width: float
    height: float


def leaf_glass(door: Node) -> LeafGlass:
    build = door.find("leaf.build")
    if build is None or not build.children or not kinds.says(door, "glazing"):
        return LeafGlass(0.0, 0.0)
    stiles = door.si("leaf.build.stiles")
    rails = door.si("leaf.build.top_rail") + door.si("leaf.build.bottom_rail")
    rails += door.si("leaf.build.mid_rail", 0.0)
    return LeafGlass(door.si("leaf.width") - 2.0 * stiles, door.si("leaf.height") - rails)


def _panes(door: Node) -> float:
    """Thickness of all panes together [m]: their layers, what is written, or 1/4 in (6 mm) each."""
    glazing = door.at("glazing")
    layers = [layer for layer in glazing.group("from_room_outward") if "glass" in _material(layer)]
    if layers:
        return sum(layer.si("thickness") for layer in layers)
    if kinds.says(glazing, "thickness"):
        return glazing.si("thickness")
    return _PANE * glazing.count("panes")


def _material(layer: Node) -> str:
    leaf = layer.find("material")
    return str(leaf.value) if leaf is not None else ""


@figure(
    "openings.leaf_weight",
    title="Weight of the leaf",
    dimension="mass",
    formula="1.05 ((W H - A_glass) t ρ + A_glass t_glass ρ_glass); 5 % for hardware and seals; "
    "ρ_glass 2500 kg/m³, 2.5 kg/m² for each mm",
    source="sum; glass EN 572-1; hardware common practice",
    holds="panes 6 mm (1/4 in) each where their thickness is not written",
    per=leafed,
    trades=("doors", "glazing", "client"),
)
def leaf_weight(facts: Facts, door: Node) -> Worked:
    """Weight of one leaf, as written or from its parts."""
    if kinds.says(door, "leaf.weight"):
        return Worked(door.si("leaf.weight"), remark="as written")
    glass = leaf_glass(door)
    panes = _panes(door) if glass.width > 0.0 else 0.0
    density = material(door.word("leaf.material")).density
    bare = weights.door_leaf(
        door.si("leaf.width"),
        door.si("leaf.height"),
        door.si("leaf.thickness"),
        density,
        glass_width=glass.width,
        glass_height=glass.height,
        panes=panes,
    )
    core = door.word("leaf.core", "solid")
    return Worked(
        bare * (1.0 + _HARDWARE_SHARE),
        given=(
            ("W", door.si("leaf.width"), "length"),
            ("H", door.si("leaf.height"), "length"),
            ("t", door.si("leaf.thickness"), "length"),
            ("ρ", density, "density"),
            ("A_glass", glass.width * glass.height, "area"),
            ("t_glass", panes, "length"),
            ("ρ_glass", weights.GLASS_AREA_MASS, "density"),
        ),
        remark="" if "solid" in core else f"as if solid, which `{core}` is not: write its weight",
    )


@figure(
    "openings.pane_weight",
    title="Weight of the pane",
    dimension="mass",
    formula="W H t_glass ρ_glass; ρ_glass 2500 kg/m³, 2.5 kg/m² for each mm",
    source="EN 572-1",
    per=lambda job: [
        p for p in job.things("fixed") if kinds.says(p, "width") or kinds.says(p, "weight")
    ],
    trades=("glazing",),
)
def pane_weight(facts: Facts, pane: Node) -> Worked:
    """Weight of a fixed pane of a glass front, as written or from its size."""
    if kinds.says(pane, "weight"):
        return Worked(pane.si("weight"), remark="as written")
    front = _front(pane)
    holder = pane if kinds.says(pane, "glazing") else front
    high = pane.si("height") if kinds.says(pane, "height") else front.si("height")
    wide, panes = pane.si("width"), _panes(holder)
    given = (
        ("W", wide, "length"),
        ("H", high, "length"),
        ("t_glass", panes, "length"),
        ("ρ_glass", weights.GLASS_AREA_MASS, "density"),
    )
    return Worked(weights.glass(wide * high, panes), given=given)


def _front(bay: Node) -> Node:
    node: Node | None = bay
    while node is not None and node.kind != "glass_front":
        node = node.parent
    if node is None:
        raise Open(f"{bay.address}.glazing")
    return node


@figure(
    "openings.hinges_needed",
    title="Hinges needed",
    dimension="count",
    formula="height of the leaf / height for one hinge; rounded up, two at least; 30 in or as the "
    "house standards say",
    source="common practice of hinge makers; the rating is the maker's",
    per=lambda job: [d for d in leafed(job) if kinds.says(d, "hinges")],
    trades=("doors",),
)
def hinges_needed(facts: Facts, door: Node) -> Worked:
    """Hinges by height, and whether the set carries the leaf."""
    every = facts.job.limit("hinge.every")
    high = door.si("leaf.height")
    pull = doors.hinge_pull(
        door.si("leaf.width"),
        facts.figures.value("openings.leaf_weight", door),
        max(high - 0.4, high / 2.0),
    )
    heavy = show(pull / GRAVITY, "mass", facts.job.system)
    remark = f"the top hinge is pulled at as by {heavy}"
    given = ("height of the leaf", high, "length"), ("height for one hinge", every, "length")
    return Worked(float(doors.hinge_count(high, every)), given=given, remark=remark)


@figure(
    "openings.hinge_reserve",
    title="Reserve of the hinges",
    dimension="percent",
    formula="rated leaf / weight of the leaf - 1",
    source="division",
    per=lambda job: [d for d in leafed(job) if kinds.says(d, "hinges.leaf_most")],
    trades=("doors",),
)
def hinge_reserve(facts: Facts, door: Node) -> Worked:
    """What the set carries over what the leaf weighs, as a share of it."""
    weight, rated = facts.figures.value("openings.leaf_weight", door), door.si("hinges.leaf_most")
    return Worked(
        over(rated, weight, "weight of the leaf", "kg") - 1.0,
        given=(("rated leaf", rated, "mass"), ("weight of the leaf", weight, "mass")),
    )
