"""Openings seen from the front: doors with frame, side lights and swing, windows, arches, gates."""

from __future__ import annotations

from collections.abc import Iterator

from spec.draw.curves import arch_height, arch_line
from spec.draw.fitting import Fitting
from spec.draw.outline import MM, leaf_front, rectangle
from spec.draw.paper import Box
from spec.draw.scene import Polygon, Polyline, Shape
from spec.job.node import Node


def opening(it: Fitting, this_room: str) -> Iterator[Shape]:
    """A door with frame, side lights, leaf and swing; a window; an arch; a gate; a glass front."""
    kind = it.node.kind
    if kind == "arch":
        yield from _arch(it)
    elif kind == "gate":
        yield from _gate(it)
    elif kind == "door":
        yield from _door(it, this_room)
    elif kind == "glass_front":
        yield from _glass_front(it, this_room)
    else:
        yield from window(it)


def _arch(it: Fitting) -> Iterator[Shape]:
    x1, y1, x2, _ = it.box
    spring, rise = it.length("spring_aff"), it.length("rise")
    curve = arch_line((x1, spring), (x2, spring), rise)
    yield Polygon(((x1, y1), *curve, (x2, y1)), it.pen, "light", it.cites)
    if it.own:
        yield Polyline(((x1, spring), (x2, spring)), "axis", it.cites)


def _gate(it: Fitting) -> Iterator[Shape]:
    x1, y1, x2, y2 = it.box
    leaves = it.node.count("leaf.count") if it.node.has("leaf.count") else 1
    outer = _arch_around(it)
    bar = it.length("leaf.bars", 16.0)
    pitch = it.length("leaf.spaces", 100.0) + bar
    bottom = y1 + it.length("gaps.bottom")
    half, middle = (x2 - x1) / 2, (x1 + x2) / 2
    spring, rise = outer if outer is not None else (y2, 0.0)
    gap = it.length("gaps.top")

    def top(x: float) -> float:
        return spring + arch_height(half, rise, x - middle) - gap

    for k in range(leaves):
        left = x1 + (x2 - x1) * k / leaves + it.length("gaps.sides", 10.0)
        right = x1 + (x2 - x1) * (k + 1) / leaves - it.length("gaps.sides", 10.0)
        steps = [left + (right - left) * s / 8 for s in range(9)]
        points = ((left, bottom), *((x, top(x)) for x in steps), (right, bottom))
        yield Polygon(points, it.pen, "none", it.cites)
        if it.own or k == 0:
            count = max(int((right - left) / pitch), 1)
            for n in range(1, count):
                x = left + (right - left) * n / count
                yield Polyline(((x, bottom), (x, top(x))), it.fine, it.cites)


def _arch_around(it: Fitting) -> tuple[float, float] | None:
    """Springing and rise [mm] of the arch that a gate sits in."""
    node = it.node.find("inside")
    heading = it.node.parent
    if node is None or heading is None:
        return None
    outer = heading.find(str(node.value))
    if outer is None or outer.kind != "arch":
        return None
    return outer.si("spring_aff") * MM, outer.si("rise") * MM


def hinge_side(node: Node, this_room: str) -> str:
    """The side on which a leaf hangs, seen from this room; `both` and silence as they are.

    `hinges_on` is as seen by someone toward whom the leaf opens.
    """
    said = node.word("hinges_on") if node.has("hinges_on") else ""
    toward = node.word("opens_into") if node.has("opens_into") else this_room
    if said not in ("left", "right") or toward == this_room:
        return said
    return "right" if said == "left" else "left"


def door_parts(it: Fitting) -> tuple[Box, list[Box], float]:
    """The box of all leaves together, the side lights' boxes, the transom's height [mm]."""
    node = it.node
    x1, y1, x2, y2 = it.box
    frame = it.length("frame.jambs") + it.length("frame.shim")
    mullion = it.length("frame.mullions")
    head = it.length("frame.head") + it.length("frame.shim")
    transom = it.length("transom.height") if node.has("transom") else 0.0
    left, right = x1 + frame, x2 - frame
    top = y2 - head - (transom + mullion if transom else 0.0)
    lights: list[Box] = []
    for written in ("left", "right"):
        if not node.has(f"side_lights.{written}"):
            continue
        wide = it.length(f"side_lights.{written}")
        if it.side(written) == "left":
            lights.append((left, y1, left + wide, top))
            left += wide + mullion
        else:
            lights.append((right - wide, y1, right, top))
            right -= wide + mullion
    return (left, y1, right, top), lights, transom


def _door(it: Fitting, this_room: str) -> Iterator[Shape]:
    node = it.node
    yield it.outline(it.pen, "paper")
    (x1, y1, x2, y2), lights, transom = door_parts(it)
    for box in lights:
        yield Polygon(rectangle(box), it.fine, "glass", it.cites)
    if transom:
        yield Polygon(rectangle((x1, it.box[3] - transom, x2, it.box[3])), it.fine, "glass")
    count = node.count("leaf.count") if node.has("leaf.count") else 1
    hinges = hinge_side(node, this_room)
    for k in range(count):
        left, right = x1 + (x2 - x1) * k / count, x1 + (x2 - x1) * (k + 1) / count
        side = hinges if count == 1 else ("left" if k % 2 == 0 else "right")
        leaf = (left, y1 + it.length("leaf.gap.bottom"), right, y2)
        if node.has("glazing") and node.has("leaf.build.stiles"):
            yield Polygon(rectangle(_pane(it, leaf)), it.fine, "glass", it.cites)
        if side in ("left", "right"):
            yield from leaf_front(leaf, side, it.fine)
        else:
            yield Polygon(rectangle(leaf), it.fine, "none", it.cites)


def _pane(it: Fitting, leaf: Box) -> Box:
    stiles = it.length("leaf.build.stiles")
    return (
        leaf[0] + stiles,
        leaf[1] + it.length("leaf.build.bottom_rail", stiles),
        leaf[2] - stiles,
        leaf[3] - it.length("leaf.build.top_rail", stiles),
    )


def window(it: Fitting) -> Iterator[Shape]:
    """A window: frame and meeting rail."""
    x1, y1, x2, y2 = it.box
    yield it.outline(it.pen, "glass")
    edge = min(x2 - x1, y2 - y1) * 0.06
    yield Polygon(
        rectangle((x1 + edge, y1 + edge, x2 - edge, y2 - edge)), it.fine, "none", it.cites
    )
    middle = (y1 + y2) / 2
    yield Polyline(((x1 + edge, middle), (x2 - edge, middle)), it.fine, it.cites)


def _glass_front(it: Fitting, this_room: str) -> Iterator[Shape]:
    yield it.outline(it.pen, "paper")
    for node, box in panes(it):
        cites = frozenset({node.address})
        if node.kind == "joint":
            yield Polygon(rectangle(box), it.fine, "mid", cites)
            continue
        yield Polygon(rectangle(box), it.pen, "glass", cites)
        if node.kind == "door":
            side = hinge_side(node, this_room)
            if side in ("left", "right"):
                yield from leaf_front(box, side, it.fine)


def panes(it: Fitting) -> list[tuple[Node, Box]]:
    """The pieces of a glass front from the left as seen on this drawing, with their boxes [mm]."""
    x1, y1, x2, y2 = it.box
    nodes = list(it.node.group("left_to_right"))
    widths: list[float | None] = []
    for node in nodes:
        said = node.find("width")
        rest = said is not None and said.value == "rest"
        widths.append(None if rest or not node.has("width") else node.si("width") * MM)
    free = (x2 - x1) - sum(w for w in widths if w is not None)
    rests = sum(1 for w in widths if w is None)
    pairs = list(zip(nodes, widths, strict=True))
    if it.mirrored:
        pairs.reverse()
    found: list[tuple[Node, Box]] = []
    at = x1
    for node, own in pairs:
        wide = max(free / rests, 0.0) if own is None else own
        found.append((node, (at, y1, at + wide, y2)))
        at += wide
    return found
