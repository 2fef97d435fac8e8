"""Layers that are there already, and new ones beside them."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.derive.sheets import build_up, kinds
from spec.derive.sheets.surroundings import beyond, outside
from spec.finding import Level
from spec.job.node import Open
from spec.place.build_up import roles, thickness
from spec.place.sizes import member_depth
from spec.quantity import show

_NOBODYS = (
    "concrete",
    "concrete_block",
    "brick",
    "plastered_brick",
    "masonry",
    "stone_masonry",
)
"""Materials that no trade of the closed list builds: where they stand, they stand already."""
_ROUNDED = 0.0008
"""[m] What a total may be off by rounding."""
_MASONRY = (*_NOBODYS, "aerated_concrete")
_WALL = """
surroundings: {outdoors: {summer: {temperature: 32 °C, humidity: 50 %}}}
assemblies:
  A1:
    from_room_outward:
      board: {material: gypsum_board, thickness: 1/2 in, role: board, state: new}
      studs:
        material: mineral_wool
        thickness: DEEP
        framing: {member: 2x6, spacing: 16 in}
        role: [structure, insulation]
        state: existing
      sheathing: {material: board_sheathing, thickness: 3/4 in, role: sheathing, state: STATE}
      LAST
rooms: {wine_room: {use: wine_storage, walls_clockwise: {WA: {faces: outdoors, assembly: A1}}}}
"""
_GOOD = (
    _WALL.replace("DEEP", "5-1/2 in")
    .replace("STATE", "existing")
    .replace(
        "LAST", "siding: {material: siding, thickness: 3/4 in, role: cladding, state: existing}"
    )
)
_SLAB = """
surroundings: {ground: {summer: {temperature: 15 °C}, winter: {temperature: 10 °C}}}
assemblies: {A1: {from_room_outward: {LAYERS}}}
rooms: {wine_room: {floor: {assembly: A1, faces: ground, structure: slab_on_ground}}}
"""


def _built(facts: Facts) -> Iterator[tuple[Node, tuple[Node, ...]]]:
    """Each assembly that a surface has, with that surface, once."""
    told: set[str] = set()
    for surface in kinds.surfaces(facts.job):
        named = surface.find("assembly")
        if named is None or str(named.value) in told or facts.job.thing(str(named.value)) is None:
            continue
        told.add(str(named.value))
        try:
            layers = build_up.through(facts, surface)
        except Open:
            continue
        yield surface, layers


def _old(layer: Node) -> bool:
    return layer.word("state", "") == "existing"


@rule(
    "envelope.new-behind-old",
    level=Level.ERROR,
    trades=("framing", "insulation"),
    why="Nobody puts a new layer behind an old one from this side: either it is there "
    "already, or the "
    "old one comes off.",
    bad=_GOOD.replace("role: sheathing, state: existing", "role: sheathing"),
    good=_GOOD,
)
def new_behind_old(facts: Facts) -> Iterator[Said]:
    """A layer that is not said to exist lies behind one that does."""
    for surface, layers in _built(facts):
        before: Node | None = None
        for layer in layers:
            if _old(layer):
                before = layer
            elif before is not None and "ground" not in roles(layer):
                yield said(
                    layer,
                    f"`{layer.key}` of {surface.address} lies behind `{before.key}`, "
                    "which exists, and "
                    "is not said to exist itself (`state`)",
                    f"write `state: existing` at {layer.key}, or let {before.key} come off",
                    before,
                    f"{layer.address}.state",
                )


@rule(
    "envelope.old-or-new-unsaid",
    level=Level.ERROR,
    silence=True,
    trades=("demolition", "framing", "board"),
    why="Where old and new layers meet in one wall, each says which it is: what is not said "
    "to exist is "
    "bought, and what is not said to be new is looked for.",
    bad=_GOOD.replace("role: board, state: new}", "role: board}"),
    good=_GOOD,
)
def old_or_new_unsaid(facts: Facts) -> Iterator[Said]:
    """A layer beside existing ones does not say whether it is new or there already."""
    for surface, layers in _built(facts):
        mixed = {layer.parent for layer in layers if _old(layer)}
        for layer in layers:
            if layer.parent not in mixed or "ground" in roles(layer):
                continue
            if layer.find("state") is None:
                yield said(
                    f"{layer.address}.state",
                    f"`{layer.key}` of {surface.address} does not say whether it is new "
                    "or existing, and "
                    "others of its assembly exist",
                    f"write `state: new` or `state: existing` at {layer.key}",
                    layer,
                )


@rule(
    "envelope.nobody-builds",
    level=Level.ERROR,
    trades=("framing", "demolition"),
    why="No trade of a room job pours or lays walls and slabs: a layer of masonry is there "
    "already, or "
    "nobody's trade has it.",
    bad=_SLAB.replace(
        "LAYERS",
        "slab: {material: concrete, thickness: 4 in, role: structure}, soil: {material: "
        "clay, role: ground}",
    ),
    good=_SLAB.replace(
        "LAYERS",
        "slab: {material: concrete, thickness: 4 in, role: structure, state: existing}, "
        "soil: {material: clay, role: ground}",
    ),
)
def nobody_builds(facts: Facts) -> Iterator[Said]:
    """A layer of concrete or masonry is not said to exist."""
    for surface, layers in _built(facts):
        for layer in layers:
            if (
                layer.word("material", "") in _NOBODYS
                and not _old(layer)
                and layer.find("installed_by") is None
            ):
                yield said(
                    layer,
                    f"`{layer.key}` of {surface.address} is {layer.word('material')} and "
                    "not said to exist: "
                    "no trade of this job builds it",
                    f"write `state: existing` at {layer.key}, or `installed_by` with the trade "
                    "that pours or lays it",
                    f"{layer.address}.state",
                    surface,
                )


@rule(
    "envelope.slab-on-nothing",
    level=Level.ERROR,
    silence=True,
    trades=("flooring", "insulation"),
    why="A floor on the ground is reckoned with its slab and its soil; without them it hangs "
    "in the air.",
    bad=_SLAB.replace("LAYERS", "soil: {material: clay, role: ground}"),
    good=_SLAB.replace(
        "LAYERS",
        "slab: {material: concrete, thickness: 4 in, role: structure, state: existing}, "
        "soil: {material: clay, role: ground}",
    ),
)
def slab_on_nothing(facts: Facts) -> Iterator[Said]:
    """The layers of a slab on the ground hold no structure, or no ground under it."""
    for surface, layers in _built(facts):
        if surface.key != "floor" or surface.word("structure", "") != "slab_on_ground":
            continue
        have = {role for layer in layers for role in roles(layer)}
        for role, words in (("structure", "slab"), ("ground", "soil")):
            if role not in have:
                assembly = surface.word("assembly")
                yield said(
                    assembly,
                    f"{surface.address} is a slab on the ground, and no layer of "
                    f"{assembly} has the role "
                    f"{role} ({words}): {', '.join(layer.key for layer in layers)}",
                    f"add a layer with `role: {role}`",
                    surface.at("structure"),
                    *(f"{layer.address}.role" for layer in layers),
                    *layers,
                )


@rule(
    "envelope.open-to-weather",
    level=Level.ERROR,
    silence=True,
    trades=("framing", "insulation"),
    why="A framed wall to the open air ends in sheathing and siding; one that ends in its "
    "insulation "
    "was not written down to the end.",
    bad=_GOOD.replace(
        "siding: {material: siding, thickness: 3/4 in, role: cladding, state: existing}",
        "mesh: {material: mesh, thickness: 0, role: membrane, state: existing}",
    ),
    good=_GOOD,
)
def open_to_weather(facts: Facts) -> Iterator[Said]:
    """A framed wall to the open air has no sheathing or no cladding."""
    for surface in kinds.surfaces(facts.job):
        if surface.kind != "wall" or not kinds.says(surface, "assembly"):
            continue
        try:
            layers = build_up.through(facts, surface)
            weather = outside(facts, beyond(facts, surface))
        except Open:
            continue
        if not weather or any(layer.word("material", "") in _MASONRY for layer in layers):
            continue
        have = {role for layer in layers for role in roles(layer)}
        for role, words in (("sheathing", "sheathing"), ("cladding", "siding")):
            if role not in have:
                assembly = surface.word("assembly")
                yield said(
                    assembly,
                    f"{surface.address} faces the open air, and no layer of {assembly} is "
                    f"its {words} "
                    f"(role {role})",
                    "add the layer, `state: existing` where it is there",
                    surface,
                    *layers,
                )


@rule(
    "envelope.framing-not-filled",
    level=Level.ERROR,
    trades=("framing", "insulation"),
    why="What lies between studs or joists is as deep as they are: less, and there is a space that "
    "nobody wrote; more, and it does not go in.",
    bad=_GOOD.replace("thickness: 5-1/2 in", "thickness: 9 in"),
    good=_GOOD,
)
def framing_not_filled(facts: Facts) -> Iterator[Said]:
    """The layers between framing add up to more or less than its dressed depth."""
    error = facts.job.limit("cut_out.error")
    for surface, layers in _built(facts):
        groups: dict[str, list[Node]] = {}
        for layer in layers:
            leaf = layer.find("framing.member")
            if leaf is not None and isinstance(leaf.value, str):
                groups.setdefault(leaf.value, []).append(layer)
        for member, between in groups.items():
            deep = member_depth(member)
            filled = sum(thickness(layer) for layer in between)
            if deep and abs(filled - deep) > error:
                system = facts.job.system
                yield said(
                    between[0],
                    f"{member} is {show(deep, 'length', system)} deep, what lies between in "
                    f"{surface.address} adds up to {show(filled, 'length', system)} "
                    f"({', '.join(layer.key for layer in between)})",
                    "correct a thickness, or write the air space as a layer",
                    *(
                        f"{layer.address}.{key}"
                        for layer in between
                        for key in ("thickness", "framing.member", "framing")
                    ),
                    *between[1:],
                    surface,
                )


@rule(
    "envelope.layers-do-not-add-up",
    level=Level.ERROR,
    trades=("framing", "insulation", "board"),
    why="Jambs, boxes and finished sizes are cut from this total; a layer that fell out of "
    "the file, or "
    "was typed wrong, is found here.",
    each=("assembly",),
    bad="assemblies: {A1: {total: 5 in, from_room_outward: {board: {material: gypsum_board, "
    "thickness: 1/2 in}}}}",
    good="assemblies: {A1: {total: 1/2 in, from_room_outward: {board: {material: gypsum_board, "
    "thickness: 1/2 in}}}}",
)
def layers_do_not_add_up(facts: Facts, assembly: Node) -> Iterator[Said]:
    """The layers of an assembly add up to another thickness than its total."""
    total = assembly.find("total")
    layers = assembly.group("from_room_outward")
    if total is None or total.value is None or not layers:
        return
    summed = sum(thickness(layer) for layer in layers)
    if abs(summed - assembly.si("total")) > _ROUNDED:
        yield said(
            total,
            f"the layers of {assembly.key} ({', '.join(layer.key for layer in layers)}) add up to "
            f"{show(summed, 'length', facts.job.system)}, its total is {total.written}",
            "put back the layer that was lost, or correct the total",
            *layers,
            *(f"{layer.address}.thickness" for layer in layers),
        )
