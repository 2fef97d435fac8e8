"""What a floor layer builds up in each room, and at which height each door and edge meets it."""

from __future__ import annotations

from collections.abc import Iterator

from spec.compose.blocks import Block, Heading, Row, Table
from spec.compose.context import Reader
from spec.compose.parts.labels import waits_words
from spec.compose.parts.own_finishes import APPLIED_BY
from spec.compose.wording import length_text, room_words, value_text
from spec.job.finishes import finish_at, thickness_of
from spec.job.node import Node, Open
from spec.job.record import recording
from spec.place.build_up import layers, thickness

_UNDER_LEAF = ("leaf.gap.bottom", "seals.bottom", "seals.threshold", "threshold.height")


def floors(reader: Reader) -> Iterator[Block]:
    """The build-up of every floor that the trade covers, then its edges and doors."""
    covered = [room for room in reader.job.rooms if _covers(reader, room)]
    if not covered:
        return
    yield Heading(2, "Floors: build-up, and heights at the doors")
    yield Table(
        "From the finished face down to what is there",
        ("Room", "Layers", "New, together", "Finished level", "Found out of level"),
        tuple(_build_up(reader, room) for room in covered),
        (1.0, 2.6, 1.0, 1.2, 1.0),
    )
    edges = [row for room in covered for row in _edges(reader, room)]
    if edges:
        yield Table(
            "Where the floor stops, and what hangs over it",
            ("At", "Line", "Meets", "Strip", "Leaf and threshold"),
            tuple(edges),
            (1.0, 1.4, 1.0, 1.6, 1.8),
        )


def in_floors(reader: Reader) -> frozenset[str]:
    """The addresses that these tables show, for the schedules to leave out."""
    return frozenset(
        leaf.address
        for room in reader.job.rooms
        if _covers(reader, room)
        for key in ("level", "out_of_level", "stops")
        for leaf in _below(room.at("floor"), key)
    )


def _covers(reader: Reader, room: Node) -> bool:
    surface = room.find("floor")
    if reader.trade != "flooring" or surface is None or not surface.children:
        return False
    leaf = finish_at(reader.job, surface, "floor")
    finish = reader.job.thing(str(leaf.value)) if leaf is not None else None
    return finish is not None and finish.kind in APPLIED_BY["flooring"]


def _build_up(reader: Reader, room: Node) -> Row:
    floor = room.at("floor")
    with recording() as read:
        lines: list[str] = []
        leaf = finish_at(reader.job, floor, "floor")
        try:
            total = thickness_of(reader.job, floor, "floor")
            lines.append(f"{leaf.written if leaf else ''}: {length_text(reader.job, total)}")
            for layer in layers(reader.job, floor):
                state = layer.find("state")
                old = state is not None and state.value == "existing"
                deep = thickness(layer)
                total += 0.0 if old else deep
                name = layer.key.replace("_", " ") + (" (existing)" if old else "")
                lines.append(f"{name}: {length_text(reader.job, deep)}" if deep else name)
                if old:
                    break
            together = length_text(reader.job, total)
        except Open as missing:
            together = waits_words(reader.job, (missing.address,))
        level = [value_text(reader.job, n) for n in _below(floor, "level")]
        off = [value_text(reader.job, n) for n in _below(floor, "out_of_level")]
    name = room_words(reader.job, room.key)
    return Row(
        (name, "\n".join(lines), together, "; ".join(level), "; ".join(off)), frozenset(read)
    )


def _below(node: Node, path: str) -> list[Node]:
    found = node.find(path)
    return list(found.leaves()) if found is not None else []


def _edges(reader: Reader, room: Node) -> Iterator[Row]:
    stops = room.find("floor.stops")
    for stop in stops.entries() if stops is not None else ():
        opening = reader.job.find(stop.key)
        with recording() as read:
            cells = [
                value_text(reader.job, node) if (node := stop.find(key)) is not None else ""
                for key in ("line", "meets", "strip")
            ]
            under = [opening.find(path) for path in _UNDER_LEAF] if opening is not None else []
            over = [
                f"{node.title.lower()}: {value_text(reader.job, node)}"
                for node in (stop.find("step"), *under)
                if node is not None and not node.children
            ]
        at = f"{stop.key}, {room_words(reader.job, room.key)}"
        yield Row((at, *cells, "\n".join(over)), frozenset(read))
