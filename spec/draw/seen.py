"""What is seen on a wall: every thing with its box, whose it is, and what its place rests on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from spec.check.rule import Facts
from spec.draw.fittings import goes
from spec.draw.outline import MM
from spec.draw.paper import Box
from spec.draw.scene import Point
from spec.job.node import Node, Open
from spec.job.record import recording
from spec.place import OnWall, Rect, Tier, tiers

_ORDER = (
    "existing",
    "openings",
    "millwork",
    "appliances",
    "fixtures",
    "equipment",
    "lights",
    "backing",
    "holes",
    "devices",
)
"""What is painted over what."""
_POINTS = frozenset({"devices", "holes"})
"""Set out by their middle; everything else by its edges."""
_SMALL = 300.0
_BEHIND = frozenset({"backing", "holes"})


@dataclass(frozen=True, slots=True)
class Seen:
    """A thing as it is seen on a wall: its box [mm] and what its place rests on."""

    node: Node
    box: Box
    own: bool
    cites: frozenset[str]
    mirrored: bool = False
    """Written on the other side of the wall."""
    turned: bool = False
    """It comes round the left corner from the wall before."""
    depth: float | None = None

    @property
    def is_point(self) -> bool:
        """Whether it is set out by its middle."""
        if self.node.heading in ("millwork", "openings"):
            return False
        small = self.box[2] - self.box[0] < _SMALL and self.box[3] - self.box[1] < _SMALL
        return self.node.heading in _POINTS or small

    @property
    def middle(self) -> Point:
        """Its middle [mm]."""
        return (self.box[0] + self.box[2]) / 2, (self.box[1] + self.box[3]) / 2

    def within(self, other: Box) -> bool:
        """Whether its middle lies in a box."""
        x, y = self.middle
        return other[0] < x < other[2] and other[1] < y < other[3]


@dataclass(frozen=True, slots=True)
class View:
    """The things to draw on a wall in the order of painting, and how the wall is looked at."""

    things: tuple[Seen, ...]
    finished: bool
    """As it will be: what is behind the face is left out, everything is drawn in full."""
    as_found: bool
    """For a reader of existing things alone: nothing new stands yet."""

    @property
    def own(self) -> list[Seen]:
        """What is the reader's."""
        return [t for t in self.things if t.own]


@dataclass(frozen=True, slots=True)
class Level:
    """A plinth, a top or a crown, and from where to where it runs along the wall [mm]."""

    tier: Tier
    left: float
    right: float

    @property
    def box(self) -> Box:
        """Its box on the wall [mm]."""
        return self.left, self.tier.bottom * MM, self.right, self.tier.top * MM


def view(facts: Facts, wall: Node, wanted: frozenset[str], *, finished: bool) -> View:
    """What a reader of the things at the `wanted` addresses sees on a wall.

    `finished` leaves out what is behind the face or goes.
    """
    seen = list(_everything(facts, wall, wanted))
    own = [t for t in seen if t.own]
    as_found = bool(own) and all(t.node.heading == "existing" for t in own)
    shown = [t for t in seen if t.own or _shown(t, seen, finished, as_found)]
    shown.sort(
        key=lambda t: (
            t.own and t.node.heading != "millwork",
            t.node.heading == "existing" and goes(t.node),
            _ORDER.index(t.node.heading) if t.node.heading in _ORDER else len(_ORDER),
            t.node.kind == "gate",
            t.box[0],
            t.node.address,
        )
    )
    return View(tuple(shown), finished, as_found)


def _everything(facts: Facts, wall: Node, wanted: frozenset[str]) -> Iterator[Seen]:
    places = facts.places
    for thing in places.seen_from(wall):
        node = thing.node
        mirrored = places.wall_of(node) is not wall
        with recording() as read:
            if mirrored:
                places.mirrored(node, wall)
            else:
                places.rect(node)
        cites = frozenset(read) | {node.address}
        own = node.address in wanted
        yield Seen(node, box_of(thing.rect), own, cites, mirrored, False, thing.depth)
    for thing in _turned(facts, wall):
        node = thing.node
        cites = frozenset({node.address})
        own = node.address in wanted
        yield Seen(node, box_of(thing.rect), own, cites, False, True, thing.depth)


def _turned(facts: Facts, wall: Node) -> Iterator[OnWall]:
    try:
        runs = facts.places.runs(wall)
    except Open:
        return
    for run in runs:
        for piece in run.pieces:
            if piece.turned:
                rect = Rect(piece.left, piece.bottom, piece.width, piece.height)
                yield OnWall(piece.node, wall.key, rect, piece.depth)


def _shown(thing: Seen, seen: list[Seen], finished: bool, as_found: bool) -> bool:
    node = thing.node
    if as_found:
        return node.heading == "existing" or is_there(node)
    if node.heading == "existing":
        return not goes(node) and not (node.has("action") and "block" in node.words("action"))
    if not finished:
        return True
    fronts = [t.box for t in seen if t.node.heading == "millwork" and t.node.kind != "filler"]
    concealed = node.heading == "devices" and any(thing.within(box) for box in fronts)
    return node.heading not in _BEHIND and not concealed


def is_there(node: Node) -> bool:
    """An opening that is there now."""
    return node.heading == "openings" and node.has("state") and node.word("state") == "existing"


def box_of(rect: Rect) -> Box:
    """A rectangle on a wall in millimeters."""
    return rect.left * MM, rect.bottom * MM, rect.right * MM, rect.top * MM


def levels(facts: Facts, wall: Node) -> list[Level]:
    """The plinths, tops and crowns along the runs of a wall."""
    try:
        runs = facts.places.runs(wall)
    except Open:
        return []
    found: dict[str, Level] = {}
    for run in runs:
        stack = stack_above(run.tier.node)
        if stack is None or not run.pieces:
            continue
        left = min(p.left for p in run.pieces) * MM
        right = max(p.left + p.width for p in run.pieces) * MM
        for tier in tiers(stack).values():
            if run.tier.node.key in _follows(tier.node):
                found[tier.node.address] = Level(tier, left, right)
    return list(found.values())


def _follows(tier: Node) -> list[str]:
    """The tier that another one runs along: under, over or along it."""
    return [tier.word(key) for key in ("under", "over", "along") if tier.has(key)]


def stack_above(node: Node) -> Node | None:
    """The stack that a tier belongs to."""
    at: Node | None = node
    while at is not None and at.kind != "stack":
        at = at.parent
    return at


def stack_of(facts: Facts, piece: Node) -> Node | None:
    """The stack that a piece of a run stands in."""
    wall = facts.places.wall_of(piece)
    run = piece.parent.parent if piece.parent is not None else None
    if wall is None:
        return None
    for known in facts.places.runs(wall):
        if known.node is run:
            return stack_above(known.tier.node)
    return None


def shines_up(node: Node) -> bool:
    """Whether a strip lies at the bottom of its tier and shines up."""
    return node.has("shines") and node.word("shines") == "up"
