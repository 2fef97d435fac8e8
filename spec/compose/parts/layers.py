"""What walls, ceilings and floors are built of, from the room outward."""

from __future__ import annotations

from collections.abc import Iterator

from spec.compose.blocks import Block, Heading, Row, Sentence, Table, say
from spec.compose.context import Reader
from spec.compose.parts.labels import label_of, waits_words
from spec.compose.wording import length_text, value_text
from spec.job.node import Node, Open
from spec.job.record import recording
from spec.place.build_up import known_roles, thickness

_OWN_COLUMN = frozenset({"material", "thickness", "role", "state", "is"})

BRINGS: dict[str, tuple[str, ...]] = {
    "framing": ("structure", "services_void", "backing"),
    "insulation": ("insulation", "retarder"),
    "board": ("board",),
}
"""What a layer does that a trade brings on whole surfaces."""


def layers(reader: Reader) -> Iterator[Block]:
    """One table for each assembly of which the reader needs a layer."""
    tables = [_table(reader, assembly) for assembly in _needed(reader)]
    if tables:
        yield Heading(2, "Layers, from the room outward")
        yield from tables


def layer_tasks(reader: Reader) -> Iterator[Sentence]:
    """`Board: A1 board, moisture resistant gypsum, on WA, WD.`, for the new layers of the trade.

    Layers that fill one structure between them are one task: `A1 fiber and foam, 2x6 at 16 in`.
    """
    tasks: dict[tuple[str, str, str, str], tuple[Node, list[str], set[str]]] = {}
    for assembly, layer, does in _brought(reader):
        with recording() as read:
            framed = "structure" in does and layer.find("framing.member") is not None
            paths = ("framing.member", "framing.spacing") if framed else ("material",)
            found = [node for path in paths if (node := layer.find(path)) is not None]
            words = " at ".join(value_text(reader.job, node) for node in found)
        what = " and ".join(does).replace("_", " ").capitalize()
        alone = "" if framed else layer.address
        key = (assembly.address, what, words, alone)
        _, names, cites = tasks.setdefault(key, (assembly, [], set()))
        names.append(layer.key.replace("_", " "))
        cites |= read
    for (_, what, words, _), (assembly, names, cites) in tasks.items():
        where = ", ".join(_used(reader, assembly))
        name = f"{assembly.key} {' and '.join(names)}"
        yield say(f"{what}: {name}, {words}, on {where}.", frozenset(cites))


def worked_on(reader: Reader) -> frozenset[str]:
    """The addresses of the surfaces on which the trade brings a new layer."""
    found: set[str] = set()
    for assembly, _, _ in _brought(reader):
        for node in _built_as(reader, assembly):
            found.add(node.address)
            found |= {leaf.parent.address for leaf in _sides(reader, node) if leaf.parent}
    return frozenset(found)


def _sides(reader: Reader, partition: Node) -> Iterator[Node]:
    """The leaves by which walls say that they are a side of a partition or a taped wall."""
    for leaf in reader.naming.get(partition.key, ()):
        if leaf.key in ("partition", "on", "back_of"):
            yield leaf


def _brought(reader: Reader) -> Iterator[tuple[Node, Node, list[str]]]:
    """Each assembly that is used, with each new layer of the trade and what that does."""
    wanted = BRINGS.get(reader.trade, ())
    for assembly in reader.job.things("assembly"):
        if not wanted or not _used(reader, assembly):
            continue
        for layer in assembly.group("from_room_outward"):
            state = layer.find("state")
            does = [role for role in wanted if role in known_roles(layer)]
            if does and not (state is not None and state.value == "existing"):
                yield assembly, layer, does


def in_layers(reader: Reader) -> frozenset[str]:
    """The addresses that these tables show, for the schedules to leave out."""
    needed = {leaf.address for leaf in reader.leaves}
    return frozenset(
        leaf.address
        for assembly in _needed(reader)
        for layer in assembly.group("from_room_outward")
        for leaf in layer.leaves()
        if leaf.address in needed
    )


def _needed(reader: Reader) -> list[Node]:
    needed = {leaf.address for leaf in reader.leaves}
    return [
        assembly
        for assembly in reader.job.things("assembly")
        if _used(reader, assembly)
        and any(
            leaf.address in needed
            for layer in assembly.group("from_room_outward")
            for leaf in layer.leaves()
        )
    ]


def _used(reader: Reader, assembly: Node) -> list[str]:
    """The surfaces that are built so."""
    return [
        node.address.replace(".", " ").replace("_", " ") for node in _built_as(reader, assembly)
    ]


def _built_as(reader: Reader, assembly: Node) -> list[Node]:
    return [
        leaf.parent
        for leaf in reader.naming.get(assembly.key, ())
        if leaf.key == "assembly" and leaf.parent is not None
    ]


def _table(reader: Reader, assembly: Node) -> Table:
    needed = {leaf.address for leaf in reader.leaves}
    rows: list[Row] = []
    for layer in assembly.group("from_room_outward"):
        with recording() as read:
            cells = _cells(reader, layer, needed)
        rows.append(Row(cells, frozenset(read)))
    with recording() as read:
        together = _together(reader, assembly)
    rows.append(Row(("Together", "", together, "", ""), frozenset(read), "total"))
    title = assembly.find("title")
    name = f"{assembly.key} {title.value if title is not None else ''}".strip()
    where = ", ".join(_used(reader, assembly))
    return Table(
        f"{name.replace('_', ' ')}: {where}",
        ("Layer", "Material", "Thickness", "What it does", "Further"),
        tuple(rows),
        (0.9, 1.3, 0.8, 1.1, 2.0),
    )


def _together(reader: Reader, assembly: Node) -> str:
    """The thickness of all layers, without applied finishes."""
    try:
        total = sum(thickness(layer) for layer in assembly.group("from_room_outward"))
    except Open as missing:
        return waits_words(reader.job, (missing.address,))
    return length_text(reader.job, total)


def _cells(reader: Reader, layer: Node, needed: set[str]) -> tuple[str, ...]:
    material, deep = layer.find("material"), layer.find("thickness")
    words = value_text(reader.job, material) if material is not None else ""
    state = layer.find("state")
    if state is not None:
        words += f" ({value_text(reader.job, state)})"
    further = [
        f"{label_of(layer, leaf)}: {value_text(reader.job, leaf)}"
        for leaf in layer.leaves()
        if leaf.address in needed and not (leaf.parent is layer and leaf.key in _OWN_COLUMN)
    ]
    return (
        layer.key.replace("_", " "),
        words,
        value_text(reader.job, deep) if deep is not None else "",
        ", ".join(known_roles(layer)).replace("_", " "),
        "\n".join(further),
    )
