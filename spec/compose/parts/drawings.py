"""The drawings of exactly the walls, floors and ceilings that an order touches."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import partial

from spec.check.rule import Facts
from spec.compose.blocks import Block, Heading, Picture
from spec.compose.context import Reader
from spec.compose.wording import kind_words, room_words
from spec.draw.elevation import elevation
from spec.draw.plan import ceiling_plan, floor_plan
from spec.draw.scene import Label, Scene
from spec.draw.seen import levels
from spec.draw.words import AFF
from spec.job.finishes import finish_at
from spec.job.node import Node, Open
from spec.job.trades import trade_of
from spec.place.build_up import known_roles, layers

SETS_OUT: dict[str, tuple[str, ...]] = {
    "insulation": ("openings", "holes", "devices"),
    "board": ("openings", "backing", "holes"),
    "plaster": ("openings",),
    "painting": (),
    "flooring": ("openings",),
}
"""What a trade that works on whole surfaces has to find on them, though others do it."""
_LAYER = {"insulation": "insulation", "board": "board"}
"""The role of a layer that a trade brings."""
_FINISH = {
    "plaster": ("plaster",),
    "painting": ("paint",),
    "flooring": ("tile", "wood_floor", "resilient", "carpet", "stone"),
}
"""The kinds of finish that a trade applies to a surface."""
_ON_PLAN = frozenset({"painting"})
"""Trades to which the plan with its wall marks says where they work: they set out nothing."""
_STANDS = ("openings", "millwork", "appliances")
"""What stands on the floor or is walked through: it is drawn in the plan."""
_Draw = Callable[[Facts, Node, Iterable[str]], Scene]


def drawings(reader: Reader) -> Iterator[Block]:
    """Plans and elevations of what the trade touches, dimensioned for it."""
    pictures = [*_plans(reader), *_elevations(reader)]
    if pictures:
        yield Heading(2, "Drawings")
        yield from pictures


def room_pictures(reader: Reader, room: Node) -> Iterator[Picture]:
    """A room as it will be, for whoever wants to see it: its plan, its ceiling, its walls."""
    name = room_words(reader.job, room.key)
    floor, ceiling, wall_seen = (
        partial(draw, finished=True) for draw in (floor_plan, ceiling_plan, elevation)
    )
    yield from _picture(reader, floor, room, (), _floor_caption(name), "")
    yield from _picture(reader, ceiling, room, (), _ceiling_caption(name), "")
    for wall in room.group("walls_clockwise"):
        caption = f"Wall {wall.key} of the {name}, seen from inside"
        yield from _picture(reader, wall_seen, wall, (), caption, "")


# ------------------------------------------------------------------ walls


def _elevations(reader: Reader) -> Iterator[Picture]:
    for wall in reader.job.walls:
        touched = _on_wall(reader, wall)
        covers = reader.trade not in _ON_PLAN and _works_on(reader, wall, "walls")
        if not touched and not covers:
            continue
        room = room_words(reader.job, wall.room)
        faces = wall.find("faces")
        toward = f", to {str(faces.value).replace('_', ' ')}" if faces is not None else ""
        back = wall.find("back_of")
        if back is not None:
            toward = f", the other side of wall {back.value}"
        caption = f"Wall {wall.key} of the {room}{toward}, seen from inside"
        wanted = _addresses(reader, touched)
        yield from _picture(reader, elevation, wall, wanted, caption, _shown(touched))


def _on_wall(reader: Reader, wall: Node) -> list[Node]:
    """The reader's things on a wall, from its other side too, and what it has to find there."""
    found = [t for t in reader.own_work if t.surface == wall.address]
    found += [
        opening
        for opening in reader.places.openings(wall)
        if opening.surface != wall.address and opening in reader.own_work
    ]
    if _works_on(reader, wall, "walls"):
        found += _to_find(reader, wall)
        found += [o for o in reader.places.openings(wall) if "openings" in SETS_OUT[reader.trade]]
    found += _under_own_tops(reader, wall)
    return list(dict.fromkeys(found))


def _to_find(reader: Reader, surface: Node) -> list[Node]:
    keys = [key for key in SETS_OUT.get(reader.trade, ()) if key != "openings"]
    return [t for key in keys for t in surface.group(key)]


def _under_own_tops(reader: Reader, wall: Node) -> list[Node]:
    """The pieces under a top that the trade makes: it is templated from them."""
    found: list[Node] = []
    for level in levels(reader.facts, wall):
        top = level.tier.node
        if top.kind != "top" or trade_of(reader.job, top) != reader.trade or not top.has("over"):
            continue
        run = wall.find(f"millwork.{top.word('over')}")
        found += run.group("left_to_right") if run is not None else ()
    return found


# ------------------------------------------------------------------ floors and ceilings


def _plans(reader: Reader) -> Iterator[Picture]:
    for room in reader.job.rooms:
        name = room_words(reader.job, room.key)
        for part in ("floor", "ceiling"):
            surface = room.find(part)
            if surface is None or not surface.children:
                continue
            touched = _on_plan(reader, room, surface, part)
            marks = part == "floor" and reader.trade in _ON_PLAN and _works_on_walls(reader, room)
            if not touched and not marks and not _works_on(reader, surface, part):
                continue
            draw = floor_plan if part == "floor" else ceiling_plan
            caption = _floor_caption(name) if part == "floor" else _ceiling_caption(name)
            wanted = _addresses(reader, touched)
            yield from _picture(reader, draw, room, wanted, caption, _shown(touched))


def _on_plan(reader: Reader, room: Node, surface: Node, part: str) -> list[Node]:
    own = [t for t in reader.own_work if t.surface == surface.address]
    if part == "floor":
        own += [t for t in reader.own_work if t.room == room.key and t.heading in _STANDS]
        own += [t for w in room.group("walls_clockwise") for t in _under_own_tops(reader, w)]
    if _works_on(reader, surface, part):
        own += _to_find(reader, surface)
        if part == "floor" and "openings" in SETS_OUT[reader.trade]:
            own += [o for w in room.group("walls_clockwise") for o in reader.places.openings(w)]
    return list(dict.fromkeys(own))


def _floor_caption(room: str) -> str:
    return f"Floor of the {room}, seen from above"


def _ceiling_caption(room: str) -> str:
    return f"Ceiling of the {room}, as if seen through from above: left and right as on the floor"


# ------------------------------------------------------------------ both


def _works_on(reader: Reader, surface: Node, part: str) -> bool:
    """Whether the trade brings a layer or the finish of this surface."""
    role = _LAYER.get(reader.trade, "")
    if role:
        try:
            new = [n for n in layers(reader.job, surface) if _is_new(n)]
        except Open:
            return False
        return any(role in known_roles(layer) for layer in new)
    kinds = _FINISH.get(reader.trade, ())
    leaf = finish_at(reader.job, surface, part) if kinds else None
    finish = reader.job.thing(str(leaf.value)) if leaf is not None else None
    return finish is not None and finish.kind in kinds


def _works_on_walls(reader: Reader, room: Node) -> bool:
    return any(_works_on(reader, w, "walls") for w in room.group("walls_clockwise"))


def _addresses(reader: Reader, touched: list[Node]) -> frozenset[str]:
    """What carries dimensions: the reader's own things, and those that it has to find."""
    return frozenset(thing.address for thing in (*reader.own_work, *touched))


def _is_new(layer: Node) -> bool:
    state = layer.find("state")
    return state is None or state.value != "existing"


def _shown(things: list[Node]) -> str:
    return ", ".join(f"{kind_words(t)} {t.key}" for t in things)


def _picture(
    reader: Reader, draw: _Draw, of: Node, wanted: Iterable[str], caption: str, shown: str
) -> Iterator[Picture]:
    """The picture, none where the size of what it shows is not decided."""
    try:
        scene = draw(reader.facts, of, wanted)
    except Open:
        return
    alt = f"{caption}, with {shown}." if shown else f"{caption}."
    if any(isinstance(s, Label) and s.text.endswith(AFF) for s in scene.shapes):
        caption += f". {AFF}: above finished floor, to the middle"
    yield Picture(scene, caption, alt, scene.cites)
