"""Layers and areas of surfaces as the formulas take them. Declares no figure."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from spec.derive.formulas import envelope, steel_framing
from spec.derive.formulas.envelope import Direction
from spec.derive.formulas.materials import material
from spec.derive.formulas.range import NotCovered, within
from spec.derive.sheets.kinds import says
from spec.derive.sheets.surroundings import across, as_found, outside
from spec.job.node import Node
from spec.place.build_up import layers as own_layers
from spec.place.build_up import roles, thickness
from spec.place.ceilings import Slope
from spec.place.shapes import Point, area_of

if TYPE_CHECKING:
    from spec.derive.figure import Facts

STUD_SHARE = ((0.45, 0.25), (1.3, 0.22))
"""Spacing up to [m]: share of a framed wall's area that is wood, studs beside openings, plates and
headers in it. ASHRAE Handbook Fundamentals ch. 27, cited from memory."""

INCH = 0.0254
_FACES = {1.0: 0.75, 2.0: 1.5, 3.0: 2.5, 4.0: 3.5}
"""Nominal: dressed face of dimension lumber [in], American Softwood Lumber Standard PS 20."""
_SECTION = re.compile(r"(\d+(?:\.\d+)?)\s*x\s*(\d+(?:\.\d+)?)")
_WOOD = "framing_lumber"


def part_of(surface: Node) -> str:
    """`walls`, `ceiling` or `floor`: what a surface is for finishes and thresholds."""
    if surface.kind == "wall":
        return "walls"
    return "floor" if surface.key == "floor" else "ceiling"


def through(facts: Facts, surface: Node) -> tuple[Node, ...]:
    """All layers from the room outward, those of a wall as found behind a lining too."""
    job = facts.job
    if says(surface, "back_of"):
        other = job.thing(surface.word("back_of"))
        if other is not None:
            return tuple(reversed(through(facts, other)))
    if says(surface, "partition"):
        partition = job.thing(surface.word("partition"))
        if partition is not None:
            found = own_layers(job, partition)
            seen_from = partition.word("seen_from", "")
            return found if seen_from in ("", surface.room) else tuple(reversed(found))
    found = () if surface.find("assembly") is None else _own(facts, surface)
    lined = as_found(facts, surface)
    return found if lined is None else found + _own(facts, lined)


def _own(facts: Facts, surface: Node) -> tuple[Node, ...]:
    leaf = surface.find("assembly")
    if leaf is not None and leaf.value == "none":
        surface.word("assembly")
        return ()
    return own_layers(facts.job, surface)


def new_layers(facts: Facts, surface: Node) -> tuple[Node, ...]:
    """The layers of a surface that this job builds."""
    return tuple(
        layer
        for layer in through(facts, surface)
        if layer.word("state", "") != "existing" and "ground" not in roles(layer)
    )


def direction(surface: Node, warmer_beyond: bool) -> Direction:
    """Which way heat flows through a surface."""
    part = part_of(surface)
    if part == "walls":
        return "horizontal"
    return "down" if (part == "ceiling") == warmer_beyond else "up"


def films(facts: Facts, flow: Direction, beyond: Node) -> tuple[float, float]:
    """Surface resistances [m²K/W] of the room's side and the far side."""
    inside = envelope.INSIDE_FILM[flow]
    return inside, envelope.OUTSIDE_FILM if outside(facts, beyond) else inside


def thermal(surface: Node, layer: Node, flow: Direction) -> envelope.Layer:
    """A layer as the formulas take it; raises `Open`, and `OutOfRange` in words."""
    field = resistance(layer, flow)
    framing = layer.find("framing")
    if framing is None or not framing.children:
        return envelope.Layer(field)
    deep = thickness(layer)
    spacing = layer.si("framing.spacing")
    if layer.word("framing.material", "wood") != "wood":
        return envelope.Layer(steel_framing.layer(field, deep, spacing).resistance)
    member = layer.word("framing.member")
    share = layer.si("framing.share") if says(layer, "framing.share") else None
    if share is None and part_of(surface) == "walls" and "structure" in roles(layer):
        within(spacing, 0.1, STUD_SHARE[-1][0], "spacing of the studs", "m")
        share = next(of for up_to, of in STUD_SHARE if spacing <= up_to)
    if share is None:
        share = envelope.framing_share(face(member, deep), spacing)
    bridge = envelope.resistance(deep, material(_WOOD).conductivity)
    return envelope.Layer(field, bridge, share, f"{member} at {spacing:g}")


def resistance(layer: Node, flow: Direction) -> float:
    """Thermal resistance of a layer between its framing [m²K/W]."""
    if says(layer, "r_value"):
        return layer.si("r_value")
    deep = thickness(layer)
    if says(layer, "conductivity"):
        return envelope.resistance(deep, layer.si("conductivity"))
    name = layer.word("material")
    if name == "air":
        return envelope.cavity_resistance(deep, flow)
    return envelope.resistance(deep, material(name).conductivity) if deep else 0.0


def face(member: str, deep: float) -> float:
    """Face width of a framing member [m] from its words: `2x6`, `batten 32 x 48`."""
    found = _SECTION.search(member)
    if found is None:
        raise NotCovered(f"`{member}` does not say how wide the framing is; write for example 2x6")
    one, other = float(found[1]), float(found[2])
    if one in _FACES and other <= 16.0:
        return _FACES[one] * INCH
    one, other = one / 1000.0, other / 1000.0
    return other if abs(one - deep) <= abs(other - deep) else one


def area(facts: Facts, surface: Node) -> float:
    """Area of a surface without its openings, as what covers it meets it [m²].

    A slope along its slope; of three heights taped the largest.
    """
    room = facts.places.covered(surface.room)
    if surface.kind == "wall":
        gross = room.wall_area(surface.key)
        return gross - sum(facts.places.opening_area(o) for o in openings(facts, surface))
    if surface.key == "floor":
        return room.area
    sloped = room.ceiling.slopes
    plan = [area_of(_under(room.corners, slope, room.ceiling.flat)) for slope in sloped]
    nodes = _slopes(facts, surface)
    if surface.key in nodes:
        i = nodes.index(surface.key)
        return plan[i] * (1.0 + sloped[i].rise ** 2) ** 0.5 if i < len(plan) else 0.0
    apart = len(nodes)
    raked = sum(
        p * (1.0 + s.rise**2) ** 0.5 for p, s in list(zip(plan, sloped, strict=True))[apart:]
    )
    return float(room.area - sum(plan) + raked)


def _slopes(facts: Facts, surface: Node) -> list[str]:
    room = facts.job.thing(surface.room)
    ceiling = room.find("ceiling") if room is not None else None
    return [node.key for node in ceiling.group("slopes")] if ceiling is not None else []


def openings(facts: Facts, wall: Node) -> tuple[Node, ...]:
    """The openings in a wall: its own, and those written on another side of its partition."""
    found = list(facts.places.openings(wall))
    if says(wall, "partition"):
        for other in across(facts, wall):
            found += facts.places.openings(other)
    return tuple(found)


def _under(corners: tuple[Point, ...], slope: Slope, flat: float) -> list[Point]:
    """The part of a floor over which a slope is lower than the flat ceiling."""
    kept: list[Point] = []
    for i, point in enumerate(corners):
        following = corners[(i + 1) % len(corners)]
        here, there = slope.height(point) - flat, slope.height(following) - flat
        if here < 0:
            kept.append(point)
        if here * there < 0:
            share = here / (here - there)
            kept.append(
                (
                    point[0] + (following[0] - point[0]) * share,
                    point[1] + (following[1] - point[1]) * share,
                )
            )
    return kept if len(kept) >= 3 else []
