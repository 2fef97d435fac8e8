"""What moves in a room, and what it meets: leaves, drawers, doors of cabinets, ladders. Meters."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from spec.job.node import Node, Open
from spec.place import plan
from spec.place.plan import Footprint
from spec.place.shapes import CLOSE, Point, distance, line_between
from spec.place.way import closest

if TYPE_CHECKING:
    from spec.place import Places

HAND = 0.3
"""[m] A switch nearer than this to an open leaf is behind it: the hand has to go round the leaf.
Common practice, no source."""
_BY_HAND = (
    "plate",
    "dimmer",
    "switch",
    "keypad",
    "push",
    "controller",
    "thermostat",
    "intercom",
)
_SIDE_GAP = 0.003
"""[m] What a front leaves to its neighbors. Common practice."""
_APPLIANCES = ("appliance_bay",)


def met_by_leaf(sweep: Footprint, standing: Sequence[Footprint]) -> Iterator[Node]:
    """What the sweep of a leaf meets of all that stands in the room that it opens into."""
    return (thing.node for thing in standing if thing.meets(sweep))


def behind_leaf(places: Places, opening: Node) -> Iterator[tuple[Node, float]]:
    """Devices worked by hand that an open leaf stands before, and how near it comes [m]."""
    room = places.job.thing(opening.word("opens_into", ""))
    walls = room.group("walls_clockwise") if room is not None else ()
    for sweep in plan.sweeps(places, opening):
        leaf = (sweep.outline[0], sweep.outline[-1])
        if distance(*leaf) < CLOSE:
            continue
        for wall in walls:
            for device in wall.group("devices"):
                if device.kind not in _BY_HAND:
                    continue
                try:
                    rect = places.rect(device).rect
                except Open:
                    continue
                if min(rect.top, sweep.top) <= max(rect.bottom, sweep.bottom):
                    continue
                face = plan.on_floor(places, wall, rect.left, rect.right, 0.0)[:2]
                near = closest(face, leaf)[0]
                if near < HAND and _covered(leaf, face):
                    yield device, near


def _covered(leaf: Sequence[Point], face: Sequence[Point]) -> bool:
    """Whether something lies beside a leaf, square off it, and not beyond its edge or hinge."""
    (x, y), (ux, uy) = leaf[0], line_between(leaf[0], leaf[1]).along
    along = [(px - x) * ux + (py - y) * uy for px, py in face]
    return min(max(along), distance(*leaf)) - max(min(along), 0.0) > 0.01


def fronts(places: Places, room: Node) -> Iterator[tuple[Node, Node, Footprint]]:
    """What opens of a room's millwork: the thing that opens, its piece, and the floor it takes."""
    for wall in room.group("walls_clockwise"):
        try:
            runs = places.runs(wall)
        except Open:
            continue
        for run in runs:
            for piece in run.pieces:
                if piece.turned or piece.depth is None:
                    continue
                try:
                    for node, outline in _opens(places, wall, piece.node):
                        high = piece.bottom + piece.height
                        yield node, piece.node, Footprint(node, outline, piece.bottom, high)
                except Open:
                    continue


def _opens(places: Places, wall: Node, node: Node) -> Iterator[tuple[Node, tuple[Point, ...]]]:
    """Each drawer front or leaf of a piece as (what opens, the floor that it takes)."""
    piece = places.piece(node)
    if piece is None or piece.depth is None:
        return
    left, right, front = piece.left + _SIDE_GAP, piece.left + piece.width - _SIDE_GAP, piece.depth
    if node.kind in _APPLIANCES:
        for name in node.words("contains", ()):
            machine = places.job.thing(name)
            if machine is None or not machine.has("opens"):
                continue
            if machine.word("opens") == "down":
                yield machine, _straight(places, wall, left, right, front, piece.height)
            else:
                angle = machine.si("opens_to", 90.0)
                side = machine.word("opens")
                yield machine, _swung(places, wall, left, right, front, side, angle)
    elif node.kind == "drawers" or node.has("drawers"):
        yield node, _straight(places, wall, left, right, front, piece.depth)
    elif node.has("doors"):
        count = node.count("doors")
        if count == 1:
            yield (
                node,
                _swung(places, wall, left, right, front, node.word("hinges_on", "left"), 90.0),
            )
        elif count > 1:
            middle = piece.left + piece.width / 2
            yield node, _swung(places, wall, left, middle, front, "left", 90.0)
            yield node, _swung(places, wall, middle, right, front, "right", 90.0)


def _straight(
    places: Places, wall: Node, left: float, right: float, front: float, out: float
) -> tuple[Point, ...]:
    near = plan.on_floor(places, wall, left, right, front)
    far = plan.on_floor(places, wall, left, right, front + out)
    return (near[3], near[2], far[2], far[3])


def _swung(
    places: Places, wall: Node, left: float, right: float, front: float, side: str, angle: float
) -> tuple[Point, ...]:
    hinge, width = (left, right - left) if side == "left" else (right, left - right)
    return plan.swept(places, wall, hinge, width, angle, front)


def met_by_front(opened: Footprint, piece: Node, standing: Sequence[Footprint]) -> Iterator[Node]:
    """What a drawer or a leaf of millwork meets; what stands along its own wall is beside it."""
    for thing in standing:
        if thing.node.surface != piece.surface and thing.meets(opened):
            yield thing.node


def travel(places: Places, ladder: Node) -> Footprint | None:
    """What a ladder takes up as it rolls from end to end, from its rail to its foot.

    It leans: its foot stands a share of the rail's height before the rail. None where it is along
    nothing.
    """
    wall = places.wall_of(ladder)
    pieces = [places.job.thing(name) for name in ladder.words("along", ())]
    placed = [p for node in pieces if node is not None and (p := places.piece(node)) is not None]
    lean = ladder.si("angle")
    if wall is None or not placed or lean <= 0:
        return None
    left, right = min(p.left for p in placed), max(p.left + p.width for p in placed)
    face = max(p.depth or 0.0 for p in placed)
    rail = ladder.si("rail_aff")
    foot = face + ladder.si("stand_off", 0.0) + rail / lean
    return Footprint(ladder, _straight(places, wall, left, right, face, foot - face), 0.0, rail)


def met_by_ladder(places: Places, ladder: Node, standing: Sequence[Footprint]) -> Iterator[Node]:
    """What stands in the travel of a ladder; its own wall's runs are under and behind it."""
    way = travel(places, ladder)
    for thing in standing if way is not None else ():
        if thing.node.surface != ladder.surface and way is not None and thing.meets(way):
            yield thing.node
