"""Bottles: what every piece, room and the whole job holds, by size, and how cells are spaced."""

from __future__ import annotations

from collections import Counter

from spec.derive.figure import Facts, Part, Worked, figure
from spec.derive.formulas import storage
from spec.derive.formulas.range import NotCovered
from spec.derive.sheets import counting, kinds
from spec.derive.sheets.bottles import default_bottle
from spec.derive.sheets.counting import bottle_of
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
    columns = thing.count("columns")
    given = ("width", placed.width, "length"), ("columns", float(columns), "count")
    return Worked(storage.pitch(placed.width, columns), given=given)


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
        given = (
            ("height of the course", tier.height, "length"),
            ("rows", float(course.rows), "count"),
        )
        parts.append(Part(course.tier.key, pitch, course.tier.address, given))
    if not parts:
        raise NotCovered("the piece has no course of level cells")
    return Worked(min(p.value for p in parts), tuple(parts))


@figure(
    "storage.corner_pitch",
    title="Spacing of the columns at the front of a corner",
    dimension="length",
    formula="π (turns - depth) / (2 x columns)",
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
    given = (
        ("turns", turns, "length"),
        ("depth", placed.depth, "length"),
        ("columns", float(columns), "count"),
        ("at the back", back, "length"),
    )
    return Worked(front, given=given)


@figure(
    "storage.bottle_room",
    title="Depth left behind the bottles",
    dimension="offset",
    formula="depth - bottles deep x length of the bottle; below 0 the front one stands out",
    source="subtraction",
    per=_with_columns,
    trades=("millwork",),
)
def bottle_room(facts: Facts, thing: Node) -> Worked:
    """What the deepest course of a piece leaves of its depth."""
    placed = facts.places.piece(thing)
    if placed is None or placed.depth is None:
        raise NotCovered("the piece stands in no run that has a depth")
    deep = max((c.deep for c in counting.courses(facts, thing) if not c.tilted), default=1)
    long = bottle_of(facts, thing).si("length")
    given = (
        ("depth", placed.depth, "length"),
        ("bottles deep", float(deep), "count"),
        ("length of the bottle", long, "length"),
    )
    return Worked(placed.depth - deep * long, given=given)


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
def peg_play(facts: Facts, thing: Node) -> Worked:
    """Room over a bottle that lies on pegs."""
    pitch, thick = thing.si("pitch"), bottle_of(facts, thing).si("diameter")
    given = ("spacing of the rows", pitch, "length"), ("diameter of the bottle", thick, "length")
    return Worked(pitch - thick, given=given)


@figure(
    "storage.peg_room",
    title="Room over the highest row of pegs",
    dimension="offset",
    formula="top of the tier - first row - (rows - 1) x spacing; over the floor",
    source="subtraction; below 0 the rows are higher than the tier",
    per=lambda job: [
        p for p in _pegged(job) if kinds.says(p, "pitch") and kinds.says(p, "first_row")
    ],
    trades=("millwork",),
)
def peg_room(facts: Facts, thing: Node) -> Worked:
    """What a tier leaves over the middle of its highest row of pegs."""
    course = next(iter(counting.courses(facts, thing)))
    placed = facts.places.piece(thing)
    if placed is None:
        raise NotCovered("the piece stands in no run")
    top, first, pitch = placed.bottom + placed.height, thing.si("first_row"), thing.si("pitch")
    given = (
        ("top of the tier", top, "length"),
        ("first row", first, "length"),
        ("rows", float(course.rows), "count"),
        ("spacing", pitch, "length"),
    )
    return Worked(top - first - (course.rows - 1) * pitch, given=given)


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
