"""Heat through doors, windows and glass fronts of cooled rooms: the U-value of the whole."""

from __future__ import annotations

from typing import NamedTuple

from spec.derive.figure import Facts, Worked, figure
from spec.derive.formulas.envelope import INSIDE_FILM
from spec.derive.formulas.materials import material
from spec.derive.sheets import kinds
from spec.derive.sheets.dividing import over
from spec.derive.sheets.leaves import leaf_glass
from spec.derive.sheets.panes import coatings, glass_u
from spec.job.job import Job
from spec.job.node import Node

_METALS = ("aluminum", "steel", "stainless_steel", "bronze", "brass", "iron")


def cold(job: Job) -> list[Node]:
    """Openings with glass or a leaf between a cooled room and something else."""
    return [
        opening
        for opening in job.things("door", "window", "glass_front")
        if opening.heading == "openings"
        and not _in_front(opening)
        and _in_cooled_wall(job, opening)
    ]


def _in_front(opening: Node) -> bool:
    """A bay of a glass front: reckoned with the front."""
    node = opening.parent
    while node is not None:
        if node.kind == "glass_front":
            return True
        node = node.parent
    return False


def _in_cooled_wall(job: Job, opening: Node) -> bool:
    wall = job.find(opening.surface)
    if wall is None:
        return False
    rooms = {wall.room}
    partition = wall.find("partition")
    for other in job.walls:
        leaf = other.find("partition")
        if partition is not None and leaf is not None and leaf.value == partition.value:
            rooms.add(other.room)
    named = (job.thing(name) for name in rooms)
    return any(room is not None and kinds.is_cooled(room) for room in named)


@figure(
    "openings.u_value",
    title="U-value of the whole opening",
    dimension="u_value",
    formula="(A_g U_g + A_f U_f + l Ψ) / (A_g + A_f); Ψ in W/mK | (A_g U_g + l Ψ) / A_g; all glass "
    "| U_f; no glass",
    source="ISO 10077-1; Ψ tables E.1, E.2, from memory",
    holds="the frame of a glass front counts as glass; side lights are as wide as written",
    per=cold,
    trades=("doors", "glazing"),
)
def u_value(facts: Facts, opening: Node) -> Worked:
    """Heat through a door, side lights and frame together."""
    from spec.derive.formulas import glazing  # noqa: PLC0415 - with psychrolib

    whole = facts.places.opening_area(opening)
    if kinds.says(opening, "leaf.u_value") and not kinds.says(opening, "side_lights"):
        return Worked(opening.si("leaf.u_value"), remark="the leaf's, taken for its frame too")
    lights = glass_of(facts, opening)
    faces = [(light.area, light.u_value) for light in lights]
    edges = [(light.edge, light.psi) for light in lights]
    glass = sum(area for area, _ in faces)
    given: list[tuple[str, float, str]] = []
    if glass > 0.0:
        lengths = sum(length for length, _ in edges)
        given += [("A_g", glass, "area"), ("U_g", _mean(faces), "u_value")]
        given += [("l", lengths, "length"), ("Ψ", _mean(edges), "W/mK")]
    rest = max(whole - glass, 0.0)
    frames = [(rest, solid_u(opening))] if rest > 1e-9 else []
    for area, solid in frames:
        given += [("A_f", area, "area"), ("U_f", solid, "u_value")]
    return Worked(glazing.assembled_u(faces, frames, edges), given=tuple(given))


def _mean(weighted: list[tuple[float, float]]) -> float:
    whole = sum(weight for weight, _ in weighted)
    return sum(weight * value for weight, value in weighted) / whole if whole else 0.0


class Light(NamedTuple):
    """A pane of an opening: what it is, its area [m²], length of its edges [m], U and Ψ."""

    called: str
    glass: Node
    area: float
    edge: float
    u_value: float
    psi: float


def glass_of(facts: Facts, opening: Node) -> list[Light]:
    """All glass of an opening, with its sizes; raises `Open`."""
    return [
        Light(called, glass, area, edge, glass_u(facts, glass), psi(opening, glass))
        for called, glass, area, edge in _sizes(facts, opening)
        if area > 0.0
    ]


def _sizes(facts: Facts, opening: Node) -> list[tuple[str, Node, float, float]]:
    """Name, glass, area [m²] and length of the edges [m]."""
    if opening.kind != "door":
        whole = facts.places.opening_area(opening)
        wide, high = opening.si("width", 0.0), opening.si("height")
        wide = wide or over(whole, high, "height of the opening", "m")
        bays = len(opening.group("left_to_right")) or 1
        return [("", opening.at("glazing"), whole, 2.0 * wide + 2.0 * high * bays)]
    pane = leaf_glass(opening)
    found = [_light(opening, "", pane.width, pane.height)] if pane.width > 0.0 else []
    high, sides = opening.si("leaf.height", 0.0), 0.0
    if kinds.says(opening, "side_lights"):
        low = opening.si("side_lights.bottom_rail", 0.0)
        widths = [opening.si(f"side_lights.{side}", 0.0) for side in ("left", "right")]
        found += [_light(opening, "side_lights", w, high - low) for w in widths if w]
        sides = sum(widths)
    if kinds.says(opening, "transom"):
        wide_over = opening.si("leaf.width") * opening.count("leaf.count", 1)
        if opening.word("transom.over", "leaf") != "leaf":
            wide_over += sides
        found.append(_light(opening, "transom", wide_over, opening.si("transom.height")))
    return found


def _light(opening: Node, part: str, wide: float, high: float) -> tuple[str, Node, float, float]:
    own = part and kinds.says(opening, f"{part}.glazing")
    glass = opening.at(f"{part}.glazing" if own else "glazing")
    return part.replace("_", " "), glass, wide * high, 2.0 * (wide + high)


def psi(opening: Node, glass: Node) -> float:
    """Linear transmittance of the edge of a glass [W/mK]; a single pane has no spacer."""
    from spec.derive.formulas import glazing  # noqa: PLC0415 - with psychrolib

    if kinds.says(glass, "panes") and glass.count("panes") == 1:
        return 0.0
    spacer = glass.word("edge", "aluminum")
    return glazing.edge_transmittance(_spacer(spacer), _framed_in(opening), bool(coatings(glass)))


def _framed_in(opening: Node) -> str:
    """What the glass sits in, in the words of the table."""
    holder = "leaf" if opening.kind == "door" and kinds.says(opening, "leaf.material") else "frame"
    word = opening.word(f"{holder}.material", "")
    if word in _METALS:
        return "metal_with_break" if kinds.says(opening, "frame.thermal_break") else "metal"
    return "wood" if word or opening.kind == "door" else "metal_with_break"


def metal_break(opening: Node) -> float | None:
    """Thermal break of a metal frame [m], 0 where it has none; None where it is no metal."""
    if opening.word("frame.material", "") not in _METALS:
        return None
    return opening.si("frame.thermal_break") if kinds.says(opening, "frame.thermal_break") else 0.0


def _spacer(word: str) -> str:
    """Stainless spacers conduct less than aluminum; the table has only aluminum for both."""
    return "warm_edge" if word == "warm_edge" else "aluminum"


def solid_u(opening: Node) -> float:
    """U of the wood of a leaf and frame [W/m²K], as written or by its thickness."""
    if kinds.says(opening, "leaf.u_value"):
        return opening.si("leaf.u_value")
    return wooden_u(opening, "leaf.material")


def wooden_u(opening: Node, path: str) -> float:
    """U of a material as thick as the leaf [W/m²K]."""
    thick = opening.si("leaf.thickness")
    return 1.0 / (
        2.0 * INSIDE_FILM["horizontal"] + thick / material(opening.word(path)).conductivity
    )
