"""What each thing takes up of its wall or ceiling: an outline, and how deep it goes. Meters.

Square to the surface, from behind the finished face (negative) into the room. What is gone when all
is done takes up nothing; what comes back does at its new place; what has no known size takes up
what practice gives its kind (`spec.place.sizes`), or nothing.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from spec.job.node import Node, Open
from spec.place.later import comes_back, moved_on_plan, moved_on_wall, stays
from spec.place.shapes import Point, Rect
from spec.place.sizes import has_extent, usual_extent

if TYPE_CHECKING:
    from spec.place import Places

_PARTS = ("strip", "joint", "post", "fixed", "curtain", "shutters", "blind")
"""What lies along or before another thing by its nature."""
_SURFACE = ("pendant", "chandelier", "spot", "smoke_alarm", "sensor", "camera", "speaker")
"""What is mounted on a ceiling's face: under backing, not in it."""
_THIN = 0.02
"""[m] What a plate, a casing or a grille stands out. Common practice."""
_IN_WALL = 0.09
"""[m] How deep boxes, housings and timbers reach behind the face. Common practice."""


class Part(NamedTuple):
    """What a thing takes up: an outline on its surface, and from where to where square to it."""

    node: Node
    outline: tuple[Point, ...]
    near: float
    far: float


def on_wall(places: Places, wall: Node) -> Iterator[Part]:
    """What everything on a wall takes up, holes and openings of its other side taken in."""
    return (part for part in _on_wall(places, wall) if part is not None)


def _on_wall(places: Places, wall: Node) -> Iterator[Part | None]:
    for thing in places.seen_from(wall):
        yield _wall_part(thing.node, thing.rect, thing.depth)
    written = places.written_wall(wall)
    if written is not wall:
        for hole in written.group("holes"):
            try:
                yield _wall_part(hole, places.mirrored(hole, wall).rect, None)
            except Open:
                continue
    for back in comes_back(places.job, wall):
        try:
            rect = moved_on_wall(places, back, wall)
        except Open:
            continue
        yield _wall_part(back, rect, None, here=True)


def _wall_part(node: Node, rect: Rect, depth: float | None, *, here: bool = False) -> Part | None:
    """What a thing on a wall takes up; None where it is gone, a part of another or has no size."""
    if node.kind in _PARTS or not (here or stays(node)) or _in_another(node):
        return None
    if rect.width <= 0 or rect.height <= 0:
        extent = usual_extent(node.kind)
        if extent is None or rect.width > 0 or rect.height > 0:
            return None
        rect = Rect(rect.left - extent / 2, rect.bottom - extent / 2, extent, extent)
    near, far = {
        "openings": (-math.inf, _THIN),
        "holes": (-math.inf, _THIN),
        "backing": (-_IN_WALL, 0.0),
        "devices": (-_IN_WALL, _THIN),
        "existing": (-_IN_WALL, _THIN),
        "lights": (-_IN_WALL, _THIN),
    }.get(node.container, (0.0, _THIN))
    corners = (
        (rect.left, rect.bottom),
        (rect.right, rect.bottom),
        (rect.right, rect.top),
        (rect.left, rect.top),
    )
    return Part(node, corners, near, max(far, depth or 0.0))


def _in_another(node: Node) -> bool:
    """A device in a plate, a part of a front, what has the place of the thing that it is inside,
    a gate in its arch, a ladder before its run."""
    upper = node.parent
    if node.find("inside") is not None and node.find("center") is None:
        return node.find("left") is None
    if upper is not None and upper.key == "left_to_right" and node.heading != "millwork":
        return True
    return node.kind in ("ladder", "gate")


def on_ceiling(places: Places, ceiling: Node) -> Iterator[Part]:
    """What everything on a ceiling takes up, once for each of its places."""
    for placed in places.on_surface(ceiling):
        node = placed.node
        if stays(node) and node.find("covers") is None and has_extent(node):
            for outline in placed.outlines:
                yield _ceiling_part(node, outline)
    for thing in comes_back(places.job, ceiling):
        try:
            outlines = moved_on_plan(places, thing)
        except Open:
            continue
        for outline in outlines if has_extent(thing) else ():
            yield _ceiling_part(thing, outline)


def _ceiling_part(node: Node, outline: tuple[Point, ...]) -> Part:
    if node.heading == "holes":
        return Part(node, outline, -math.inf, _THIN)
    if node.heading == "backing":
        return Part(node, outline, -_IN_WALL, 0.0)
    if node.kind in _SURFACE or node.kind == "cover" or node.heading == "millwork":
        return Part(node, outline, 0.0, _THIN)
    return Part(node, outline, -_IN_WALL, _THIN)
