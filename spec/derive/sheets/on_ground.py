"""Floors and walls against the ground: what they are made of, and what cools them from beside."""

from __future__ import annotations

from typing import TYPE_CHECKING

from spec.derive.formulas import ground
from spec.derive.formulas.range import NotCovered
from spec.derive.sheets import build_up
from spec.derive.sheets.kinds import says
from spec.derive.sheets.surroundings import GROUND, as_found, beyond, outside, weather
from spec.job.node import Node, Open
from spec.place.build_up import roles, thickness

if TYPE_CHECKING:
    from spec.derive.figure import Facts, Given

_SOIL = {
    "clay": ground.SOIL["clay_or_silt"],
    "sand": ground.SOIL["sand_or_gravel"],
    "rock": ground.SOIL["rock"],
    "sand_clay": ground.SOIL["clay_or_silt"],
}
_HEATED = 12.0
"""[°C] A place that falls below it in winter is not heated, where nobody says so: what a building
of low temperature is heated to. Common practice."""
_THICKEST_WALL = 2.0
"""[m] What the standard takes."""


def is_floor(facts: Facts, surface: Node) -> bool:
    """A floor on the ground."""
    return surface.key == "floor" and beyond(facts, surface).key == GROUND


def is_wall(facts: Facts, surface: Node) -> bool:
    """A wall against the ground, of a room whose depth under it is written."""
    return (
        surface.kind == "wall"
        and beyond(facts, surface).key == GROUND
        and says(_room(facts, surface), "floor.below_ground")
    )


def soil(facts: Facts) -> float:
    """Conductivity of the ground [W/mK]; 2.0 where the job does not name it (ISO 13370)."""
    node = facts.job.thing(GROUND)
    word = node.word("soil", "") if node is not None else ""
    return _SOIL.get(word, ground.SOIL["sand_or_gravel"])


def floor_u(facts: Facts, floor: Node) -> tuple[float, Given]:
    """U of a floor on or under the ground [W/m²K], and what was put into its formula."""
    dimension, equal = _dimension(facts, floor), _equivalent(facts, floor)
    conducts, depth = soil(facts), _depth(facts, floor)
    found = ground.basement_floor(dimension, equal, conducts, depth)
    edge = _edge(floor, dimension, equal, conducts)
    given = (
        ("B'", dimension, "length"),
        ("d_t", equal, "length"),
        ("z", depth, "length"),
        ("λ", conducts, "conductivity"),
        ("Ψ_e", edge * dimension / 2.0, "W/mK"),
    )
    return found + edge, given


def wall_u(facts: Facts, wall: Node) -> tuple[float, Given]:
    """U of a wall against the ground [W/m²K], and what was put into its formula."""
    floor = _room(facts, wall).at("floor")
    conducts, depth = soil(facts), _depth(facts, wall)
    resistance = _resistance(facts, wall)
    own = ground.wall_thickness(resistance, conducts)
    equal = _equivalent(facts, floor)
    given = (
        ("d_w", own, "length"),
        ("d_t", min(equal, own), "length"),
        ("z", depth, "length"),
        ("λ", conducts, "conductivity"),
    )
    return ground.basement_wall(depth, resistance, equal, conducts), given


def _room(facts: Facts, surface: Node) -> Node:
    room = facts.job.thing(surface.room)
    if room is None:
        raise Open(surface.address)
    return room


def _depth(facts: Facts, surface: Node) -> float:
    """How deep the floor of a surface's room lies under the ground [m]; 0 where it is on it."""
    room = _room(facts, surface)
    return room.si("floor.below_ground") if says(room, "floor.below_ground") else 0.0


def _resistance(facts: Facts, surface: Node) -> float:
    """Resistance of the layers of a floor or wall, its films and the ground apart [m²K/W]."""
    flow = build_up.direction(surface, warmer_beyond=False)
    return sum(
        build_up.resistance(layer, "down" if surface.key == "floor" else flow)
        for layer in build_up.through(facts, surface)
        if "ground" not in roles(layer)
    )


def _equivalent(facts: Facts, floor: Node) -> float:
    """Thickness of soil that a floor equals [m]; with the thickest wall at its edge."""
    walls = [wall for wall, _ in _edges(facts, floor)]
    thick = [sum(thickness(layer) for layer in build_up.through(facts, wall)) for wall in walls]
    deepest = min(max(thick, default=0.0), _THICKEST_WALL)
    return ground.equivalent_thickness(deepest, soil(facts), _resistance(facts, floor))


def _dimension(facts: Facts, floor: Node) -> float:
    """B' [m], over the exposed perimeter; over all walls where none is exposed."""
    room = facts.places.room(floor.room)
    exposed = sum(length for _, length in _edges(facts, floor))
    return ground.characteristic_dimension(room.area, exposed or room.around)


def _edges(facts: Facts, floor: Node) -> list[tuple[Node, float]]:
    """The walls beyond which the ground is cooled or warmed by the air, with their lengths [m]."""
    room = facts.places.room(floor.room)
    walls = _room(facts, floor).group("walls_clockwise")
    return [(wall, room.length(wall.key)) for wall in walls if _is_exposed(facts, wall)]


def _is_exposed(facts: Facts, wall: Node) -> bool:
    """A wall toward the open air, the ground, or an unheated place outside the insulated fabric."""
    leaf = wall.find("faces")
    place = facts.job.thing(str(leaf.value)) if leaf is not None and leaf.value else None
    if leaf is None or place is None:
        lined = as_found(facts, wall)
        return lined is not None and _is_exposed(facts, lined)
    wall.word("faces")
    return place.key == GROUND or outside(facts, place) or _is_unheated(facts, place)


def _is_unheated(facts: Facts, place: Node) -> bool:
    """Said so; else by its winter, where that is known. A room of the job is heated."""
    if place.kind == "room":
        return False
    if says(place, "heated"):
        return place.word("heated") in ("no", "False")
    try:
        return weather(facts, place, "winter").temperature < _HEATED
    except Open:
        return False


def _edge(floor: Node, dimension: float, equal: float, conducts: float) -> float:
    """What edge insulation changes in the U of a slab [W/m²K], 0 or less."""
    if not says(floor, "edge_insulation"):
        return 0.0
    if says(floor, "below_ground"):
        raise NotCovered("edge insulation is reckoned for slabs on the ground, not for basements")
    placed = floor.word("edge_insulation.placed")
    return ground.edge_correction(
        dimension,
        equal,
        conducts,
        insulation=floor.si("edge_insulation.r_value"),
        insulation_thickness=floor.si("edge_insulation.thickness"),
        reach=floor.si("edge_insulation.reach"),
        placed="horizontal" if placed == "horizontal" else "vertical",
    )
