"""What was asked for against what the job gives: bottles in all and by size."""

from __future__ import annotations

from spec.derive.figure import Facts, Part, Worked, figure
from spec.derive.sheets import counting, kinds
from spec.derive.sheets.bottles import bottle_named, default_bottle
from spec.derive.sheets.counting import bottle_of
from spec.job.job import Job
from spec.job.node import Node


def _asked(job: Job) -> list[Node]:
    """The whole job's wish, and each room's own."""
    places = [job.find("job.asked_for"), *(room.find("asked_for") for room in job.rooms)]
    return [node for node in places if node is not None and kinds.says(node, "bottles")]


def _asked_sizes(job: Job) -> list[Node]:
    return [
        leaf
        for node in _asked(job)
        for key in [node.find("of_which")]
        if key is not None
        for leaf in key.children.values()
        if leaf.value is not None
    ]


def _room_of(asked: Node) -> str:
    return asked.room


def _by_size(facts: Facts, room: str) -> dict[str, float]:
    found: dict[str, float] = {}
    for piece in counting.storing(facts.job):
        if room and piece.room != room:
            continue
        size = bottle_of(facts, piece).key
        found[size] = found.get(size, 0.0) + facts.figures.value("storage.piece", piece)
    return found


@figure(
    "job.capacity",
    title="Bottles that the racks hold",
    dimension="count",
    formula="sum of all pieces; by size",
    source="count on the racks as drawn; refrigerators apart",
    per=_asked,
    trades=("client", "millwork"),
)
def capacity(facts: Facts, asked: Node) -> Worked:
    """Bottles of all sizes, one part for each size."""
    sizes = _by_size(facts, _room_of(asked))
    parts = tuple(Part(size, number) for size, number in sizes.items())
    remark = ", ".join(f"{n:.0f} {size.replace('_', ' ')}" for size, n in sizes.items())
    return Worked(sum(sizes.values()), parts, remark=remark)


@figure(
    "job.with_appliances",
    title="Bottles with those in refrigerators",
    dimension="count",
    formula="racks + what wine refrigerators hold by their makers",
    source="count",
    per=lambda job: [a for a in _asked(job) if not a.room and _holding(job)],
    trades=("client",),
)
def with_appliances(facts: Facts, asked: Node) -> Worked:
    """Racks and refrigerators together."""
    parts = [Part("racks", facts.figures.value("job.capacity", asked), asked.address)]
    for machine in _holding(facts.job):
        holds = machine.find("holds")
        for size in holds.children if holds is not None else ():
            label = f"{machine.key}: {size.replace('_', ' ')}"
            parts.append(Part(label, float(machine.count(f"holds.{size}")), machine.address))
    return Worked(sum(p.value for p in parts), tuple(parts))


def _holding(job: Job) -> list[Node]:
    return [
        machine
        for machine in job.things("wine_refrigerator", "refrigerator", "wine_dispenser")
        if kinds.says(machine, "holds")
    ]


@figure(
    "job.over_asked",
    title="Bottles over what was asked for",
    dimension="number",
    formula="capacity of the racks and of wine refrigerators - asked for",
    source="subtraction; below 0 it is too small",
    per=_asked,
    trades=("millwork",),
)
def over_asked(facts: Facts, asked: Node) -> Worked:
    """What the job holds over what was asked for; negative where it holds less."""
    holds = facts.figures.value("job.capacity", asked)
    apart = 0.0
    if not asked.room and _holding(facts.job):
        apart = facts.figures.value("job.with_appliances", asked) - holds
    wish = float(asked.count("bottles"))
    return Worked(
        holds + apart - wish,
        given=(
            ("racks", holds, "count"),
            ("refrigerators", apart, "count"),
            ("asked for", wish, "count"),
        ),
    )


@figure(
    "job.size_over_asked",
    title="Bottles of this size over what was asked for",
    dimension="number",
    formula="places of this size - asked for",
    source="subtraction; below 0 there are too few",
    per=_asked_sizes,
    trades=("millwork",),
)
def size_over_asked(facts: Facts, leaf: Node) -> Worked:
    """Places for a size over what was asked for of it."""
    asked = leaf.parent.parent if leaf.parent is not None else None
    usual = default_bottle(facts.job)
    known = bottle_named(facts.job, leaf.key)
    key = known.key if known is not None else leaf.key
    if known is None and usual is not None and leaf.key == "standard":
        key = usual.key
    holds = _by_size(facts, asked.room if asked is not None else "").get(key, 0.0)
    if not leaf.room:
        for machine in _holding(facts.job):
            if kinds.says(machine, f"holds.{key}"):
                holds += machine.count(f"holds.{key}")
    wish = float(leaf.parent.count(leaf.key)) if leaf.parent is not None else 0.0
    return Worked(holds - wish, given=(("places", holds, "count"), ("asked for", wish, "count")))
