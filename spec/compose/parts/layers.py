"""What walls, ceilings and floors are built of, from the room outward."""

from __future__ import annotations

from collections.abc import Iterator

from spec.compose.blocks import Block, Heading, Row, Sentence, Table, say
from spec.compose.context import Reader
from spec.compose.parts.labels import label_of
from spec.compose.wording import length_text, value_text
from spec.job.node import Node, Open
from spec.job.record import recording
from spec.place.build_up import roles, thickness

_OWN_COLUMN = frozenset({"material", "thickness", "role", "state", "is"})

BRINGS: dict[str, tuple[str, ...]] = {
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
    """`Board: A1 board, moisture resistant gypsum, on WA, WD.`, for the new layers of the trade."""
    wanted = BRINGS.get(reader.trade, ())
    for assembly in reader.job.things("assembly"):
        where = ", ".join(_used(reader, assembly))
        for layer in assembly.group("from_room_outward"):
            with recording() as read:
                state = layer.find("state")
                does = [role for role in wanted if role in roles(layer)]
                material = layer.find("material")
                words = value_text(reader.job, material) if material is not None else ""
            if does and where and not (state is not None and state.value == "existing"):
                name = f"{assembly.key} {layer.key}".replace("_", " ")
                text = f"{' and '.join(does).capitalize()}: {name}, {words}, on {where}."
                yield say(text, frozenset(read))


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
        node.parent.address.replace(".", " ").replace("_", " ")
        for node in reader.naming.get(assembly.key, ())
        if node.key == "assembly" and node.parent is not None
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
        return f"waits for {missing.address}"
    return length_text(reader.job, total)


def _cells(reader: Reader, layer: Node, needed: set[str]) -> tuple[str, ...]:
    material, deep = layer.find("material"), layer.find("thickness")
    words = value_text(reader.job, material) if material is not None else ""
    state = layer.find("state")
    if state is not None and state.value == "existing":
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
        ", ".join(roles(layer)).replace("_", " "),
        "\n".join(further),
    )
