"""Doors, gates and arches: rough openings, jambs, clear widths, curves."""

from __future__ import annotations

from spec.derive.figure import COMMON_PRACTICE, Facts, Worked, figure
from spec.derive.formulas import arches, doors
from spec.derive.sheets import build_up, kinds
from spec.job.finishes import thickness_of
from spec.job.job import Job
from spec.job.node import Node, Open
from spec.place.build_up import thickness
from spec.place.sizes import rough_opening

_HARDWARE_SHARE = 0.05
"""What locks, closer and seals add to a leaf, of its weight. Common practice, no source."""
_SQUARE_TO_WALL = 95.0
"""[degrees] A leaf that opens no farther keeps its own thickness in the opening."""
_COATED = ("low-e", "low e", "low_e", "coat")


def _framed(job: Job) -> list[Node]:
    """Doors that are built: with a frame of their own, not kept and not within a glass front."""
    return [d for d in job.things("door") if kinds.says(d, "frame") and not _kept(d)]


def _kept(door: Node) -> bool:
    state = door.find("state")
    return state is not None and state.value == "existing"


def leafed(job: Job) -> list[Node]:
    return [
        d for d in job.things("door") if kinds.says(d, "leaf.width") and not kinds.says(d, "leaves")
    ]


@figure(
    "openings.rough_width",
    title="Rough opening, width",
    dimension="length",
    formula="leaves + gaps + jambs + mullions + side lights + 2 shims",
    source="sum",
    per=_framed,
    trades=("framing", "doors"),
)
def rough_width(facts: Facts, door: Node) -> float:
    """Width of the rough opening."""
    return rough_opening(facts.job, door)[0]


@figure(
    "openings.rough_height",
    title="Rough opening, height over the finished floor",
    dimension="length",
    formula="leaf + gaps + head + transom + shim",
    source="sum",
    per=_framed,
    trades=("framing", "doors"),
)
def rough_height(facts: Facts, door: Node) -> float:
    """Height of the rough opening above the finished floor."""
    return rough_opening(facts.job, door)[1]


@figure(
    "openings.jamb_depth",
    title="Depth of the jamb",
    dimension="length",
    formula="layers of the wall + finish on one face + finish on the other",
    source="sum",
    per=_framed,
    trades=("doors", "framing"),
)
def jamb_depth(facts: Facts, door: Node) -> Worked:
    """Depth of a jamb that comes flush with both finished faces."""
    wall = facts.places.wall_of(door)
    if wall is None:
        raise Open(f"{door.address}.left")
    stack = build_up.through(facts, wall)
    here = thickness_of(facts.job, wall, "walls")
    there = _finish_beyond(facts, wall)
    through = [thickness(layer) for layer in stack]
    return Worked(
        doors.jamb_depth(through, (here, there)),
        given=(
            ("layers", sum(through), "length"),
            ("finish on this face", here, "length"),
            ("finish on the other", there, "length"),
        ),
    )


def _finish_beyond(facts: Facts, wall: Node) -> float:
    """Thickness of the finish on the far face of a wall; 0 where no room of the job is there."""
    for other in facts.job.walls:
        back, partition = other.find("back_of"), other.find("partition")
        own = wall.find("partition")
        if back is not None and back.value == wall.key:
            return thickness_of(facts.job, other, "walls")
        same = own is not None and partition is not None and partition.value == own.value
        if same and other.room != wall.room:
            return thickness_of(facts.job, other, "walls")
    return 0.0


@figure(
    "openings.clear_width",
    title="Clear width of the open door",
    dimension="length",
    formula="leaf width - the leaf's thickness; the thickness only where it opens no farther than "
    "square",
    source=COMMON_PRACTICE,
    per=leafed,
    trades=("doors",),
)
def clear_width(facts: Facts, door: Node) -> float:
    """What a box may be wide that goes through."""
    leaf = door.si("leaf.width") * door.count("leaf.count", 1)
    opens = door.si("opens_to", 90.0)
    kept = door.si("leaf.thickness", 0.0) if opens <= _SQUARE_TO_WALL else 0.0
    return leaf - kept - 2.0 * door.si("frame.stop", 0.0)


@figure(
    "openings.gate_leaf",
    title="Width of each gate leaf",
    dimension="length",
    formula="(opening - 2 x side gap - (leaves - 1) x meeting gap) / leaves",
    source="division",
    per=kinds.of_kind("gate", having="inside"),
    trades=("metalwork",),
)
def gate_leaf(facts: Facts, gate: Node) -> Worked:
    """Width that each leaf of a gate has to have to fill its opening."""
    outer = facts.job.thing(gate.word("inside"))
    if outer is None:
        raise Open(gate.at("inside").address)
    opening, leaves = outer.si("width"), gate.count("leaf.count", 1)
    side, meeting = gate.si("gaps.sides"), gate.si("gaps.meeting", 0.0)
    given = (
        ("opening", opening, "length"),
        ("side gap", side, "length"),
        ("meeting gap", meeting, "length"),
        ("leaves", float(leaves), "count"),
    )
    return Worked(doors.leaf_width(opening, leaves, side, meeting), given=given)


def _in_arches(job: Job) -> list[Node]:
    """The gates that hang in an arch and say how far under it they end."""
    found = []
    for gate in job.things("gate"):
        outer = job.thing(str(getattr(gate.find("inside"), "value", "")))
        if outer is not None and outer.kind == "arch" and kinds.says(gate, "gaps.top"):
            found.append(gate)
    return found


@figure(
    "openings.gate_radius",
    title="Radius of the gate under its arch",
    dimension="length",
    formula="c^2 / (8 h) + h/2 - gap; c and h span and rise of the arch, on whose center it is "
    "struck",
    source="geometry of the circle",
    per=_in_arches,
    trades=("metalwork",),
)
def gate_radius(facts: Facts, gate: Node) -> Worked:
    """Radius of the top edge of a gate that follows its arch at an even gap."""
    outer = facts.job.thing(gate.word("inside"))
    if outer is None:
        raise Open(gate.at("inside").address)
    span, rise, gap = outer.si("width"), outer.si("rise"), gate.si("gaps.top")
    given = ("c", span, "length"), ("h", rise, "length"), ("gap", gap, "length")
    return Worked(arches.inner(span, rise, gap).radius, given=given)


@figure(
    "openings.arch_radius",
    title="Radius of the arch",
    dimension="length",
    formula="c^2 / (8 h) + h/2; c the span, h the rise",
    source="geometry of the circle",
    per=kinds.of_kind("arch", having="rise"),
    trades=("framing", "board", "plaster", "metalwork"),
)
def arch_radius(facts: Facts, arch: Node) -> Worked:
    """Radius of an arch that is struck from one center."""
    found = arches.arch(arch.si("width"), arch.si("rise"))
    return Worked(
        found.radius,
        given=(
            ("c", found.span, "length"),
            ("h", found.rise, "length"),
            ("center under the spring line", found.center_below, "length"),
        ),
    )


@figure(
    "openings.arch_curve",
    title="Length of the arch's curve",
    dimension="length",
    formula="2 R arcsin(c / (2 R)); c the span, up to a half round",
    source="geometry of the circle",
    per=kinds.of_kind("arch", having="rise"),
    trades=("board", "plaster"),
)
def arch_curve(facts: Facts, arch: Node) -> Worked:
    """Length along the curve."""
    found = arches.arch(arch.si("width"), arch.si("rise"))
    given = ("R", found.radius, "length"), ("c", found.span, "length")
    return Worked(found.arc, given=given)
