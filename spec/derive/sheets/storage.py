"""Bottles: what every piece, room and the whole job holds, by size, and how cells are spaced."""

from __future__ import annotations

from collections import Counter

from spec.derive.figure import Facts, Part, Worked, figure
from spec.derive.formulas import bins, storage
from spec.derive.formulas.range import NotCovered
from spec.derive.sheets import counting, kinds
from spec.derive.sheets.bottles import default_bottle
from spec.derive.sheets.counting import bottle_of
from spec.derive.sheets.dividing import over
from spec.job.job import Job
from spec.job.node import Node

_COUNTED = (
    "columns x rows x bottles deep; course by course, one row in a display row; bins and cases "
    "as written"
)


def _storing_rooms(job: Job) -> list[Node]:
    return [
        room for room in job.rooms if any(piece.room == room.key for piece in counting.storing(job))
    ]


@figure(
    "storage.piece",
    title="Bottles in the piece",
    dimension="count",
    formula=_COUNTED,
    source="count",
    per=counting.storing,
    trades=("millwork",),
)
def piece(facts: Facts, thing: Node) -> Worked:
    """Bottles that a piece holds; the remark names their size."""
    size = bottle_of(facts, thing)
    return Worked(float(counting.bottles(facts, thing)), remark=size.key.replace("_", " "))


def _by_size(facts: Facts, pieces: list[Node]) -> tuple[Part, ...]:
    found: Counter[str] = Counter()
    for thing in pieces:
        found[bottle_of(facts, thing).key] += int(facts.figures.value("storage.piece", thing))
    return tuple(Part(size, float(number)) for size, number in found.items())


@figure(
    "storage.bottles",
    title="Bottles in the room",
    dimension="count",
    formula="sum of its pieces; by size",
    source="count on the racks as drawn; refrigerators apart",
    per=_storing_rooms,
    trades=("millwork", "client"),
)
def in_room(facts: Facts, room: Node) -> Worked:
    """Bottles that the racks of a room hold, one part for each size."""
    parts = _by_size(facts, [p for p in counting.storing(facts.job) if p.room == room.key])
    return Worked(sum(p.value for p in parts), parts, remark=_words(parts))


def _words(parts: tuple[Part, ...]) -> str:
    return ", ".join(f"{p.value:.0f} {p.label.replace('_', ' ')}" for p in parts)


def _asked_per_room(job: Job) -> list[Node]:
    return [room for room in _storing_rooms(job) if kinds.says(room, "asked_for.bottles")]


@figure(
    "storage.run",
    title="Bottles in the run",
    dimension="count",
    formula="sum of its pieces",
    source="count",
    per=lambda job: [
        run
        for run in kinds.runs(job)
        if any(counting.stores(piece) for piece in run.group("left_to_right"))
    ],
    trades=("millwork",),
)
def in_run(facts: Facts, run: Node) -> Worked:
    """Bottles that a run holds, one part for each piece."""
    parts = tuple(
        Part(p.key, facts.figures.value("storage.piece", p), p.address)
        for p in run.group("left_to_right")
        if counting.stores(p)
    )
    return Worked(sum(p.value for p in parts), parts)


# ------------------------------------------------------------------ spacing


def _with_columns(job: Job) -> list[Node]:
    return [
        p
        for p in counting.storing(job)
        if p.kind in ("racks", "rack_arch", "display_row") and kinds.says(p, "columns")
    ]


@figure(
    "storage.column_pitch",
    title="Spacing of the columns, middle to middle",
    dimension="length",
    formula="width / columns",
    source="division",
    per=_with_columns,
    trades=("millwork",),
)
def column_pitch(facts: Facts, thing: Node) -> Worked:
    """Width of a piece shared among its columns."""
    placed = facts.places.piece(thing)
    if placed is None:
        raise NotCovered("the piece stands in no run")
    return Worked(storage.pitch(placed.width, thing.count("columns")))


@figure(
    "storage.row_pitch",
    title="Spacing of the rows, middle to middle",
    dimension="length",
    formula="height of the course / rows; the narrowest course",
    source="division",
    per=lambda job: [p for p in _with_columns(job) if p.kind != "display_row"],
    trades=("millwork",),
)
def row_pitch(facts: Facts, thing: Node) -> Worked:
    """Height of the courses of a piece shared among their rows."""
    parts = []
    for course in counting.courses(facts, thing):
        tier = facts.places.tier_at(thing, course.tier.key)
        if tier is None or course.tilted:
            continue
        pitch = storage.pitch(tier.height, course.rows)
        parts.append(Part(course.tier.key, pitch, course.tier.address))
    if not parts:
        raise NotCovered("the piece has no course of level cells")
    return Worked(min(p.value for p in parts), tuple(parts))


@figure(
    "storage.corner_pitch",
    title="Spacing of the columns at the front of a corner",
    dimension="length",
    formula="π (turns - depth) / (2 columns)",
    source="arc over count; at the back they stand π/2 turns / columns apart",
    per=lambda job: [p for p in job.things("curved_corner") if kinds.says(p, "columns")],
    trades=("millwork",),
)
def corner_pitch(facts: Facts, thing: Node) -> Worked:
    """Spacing of the columns of a curved corner along its front and its back."""
    placed = facts.places.piece(thing)
    if placed is None or placed.depth is None:
        raise NotCovered("the corner stands in no run that has a depth")
    turns, columns = thing.si("turns"), thing.count("columns")
    back = storage.corner_pitch(turns, columns)
    front = storage.corner_pitch(turns - placed.depth, columns)
    return Worked(front, given=(("at the back", back, "length"),))


@figure(
    "storage.bottle_room",
    title="Depth left behind the bottles",
    dimension="offset",
    formula="depth - bottles deep x length of the bottle; below 0 the front one stands out",
    source="subtraction",
    per=_with_columns,
    trades=("millwork",),
)
def bottle_room(facts: Facts, thing: Node) -> float:
    """What the deepest course of a piece leaves of its depth."""
    placed = facts.places.piece(thing)
    if placed is None or placed.depth is None:
        raise NotCovered("the piece stands in no run that has a depth")
    deep = max((c.deep for c in counting.courses(facts, thing) if not c.tilted), default=1)
    return placed.depth - deep * bottle_of(facts, thing).si("length")


def _pegged(job: Job) -> list[Node]:
    return [p for p in job.things("peg_rack") if counting.stores(p) and p.parent is not None]


@figure(
    "storage.peg_play",
    title="Play over a bottle between rows of pegs",
    dimension="offset",
    formula="spacing of the rows - diameter of the bottle",
    source="subtraction; below 0 it does not go in",
    per=lambda job: [p for p in _pegged(job) if kinds.says(p, "pitch")],
    trades=("millwork",),
)
def peg_play(facts: Facts, thing: Node) -> float:
    """Room over a bottle that lies on pegs."""
    return thing.si("pitch") - bottle_of(facts, thing).si("diameter")


@figure(
    "storage.peg_room",
    title="Room over the highest row of pegs",
    dimension="offset",
    formula="top of the tier - first row over the floor - (rows - 1) x spacing",
    source="subtraction; below 0 the rows are higher than the tier",
    per=lambda job: [
        p for p in _pegged(job) if kinds.says(p, "pitch") and kinds.says(p, "first_row")
    ],
    trades=("millwork",),
)
def peg_room(facts: Facts, thing: Node) -> float:
    """What a tier leaves over the middle of its highest row of pegs."""
    course = next(iter(counting.courses(facts, thing)))
    placed = facts.places.piece(thing)
    if placed is None:
        raise NotCovered("the piece stands in no run")
    rise = (course.rows - 1) * thing.si("pitch")
    return placed.bottom + placed.height - thing.si("first_row") - rise


@figure(
    "storage.display_height",
    title="Height that a tilted bottle takes",
    dimension="length",
    formula="L sin(a) + d cos(a)",
    source="geometry",
    per=lambda job: [
        tier
        for stack in job.things("stack")
        for tier in kinds.tiers_of(stack)
        if tier.kind == "display_row" and kinds.says(tier, "tilt")
    ],
    trades=("millwork",),
)
def display_height(facts: Facts, tier: Node) -> Worked:
    """Height of the rectangle around a bottle that lies at the tier's tilt."""
    size = default_bottle(facts.job)
    if size is None:
        raise NotCovered("the house standards name no size of bottle")
    long, thick, tilt = size.si("length"), size.si("diameter"), tier.si("tilt")
    found = storage.tilted(long, thick, tilt)
    given = (
        ("L", long, "length"),
        ("d", thick, "length"),
        ("a", tilt, "angle"),
        ("depth", found.depth, "length"),
    )
    return Worked(found.height, given=given)


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
