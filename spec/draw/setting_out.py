"""Which places on a wall are dimensioned for a reader: rows along it, heights beside it."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

from spec.check.rule import Facts
from spec.draw.chain import Stops
from spec.draw.fitting import Fitting
from spec.draw.openings import door_parts, panes
from spec.draw.outline import MM
from spec.draw.paper import Paper
from spec.draw.seen import Seen, View, shines_up, stack_above
from spec.job.node import Node, Open
from spec.job.record import recording
from spec.place import tiers


class SettingOut:
    """The chains of one elevation, the innermost first on each side."""

    def __init__(self, facts: Facts, wall: Node, view: View) -> None:
        self.facts = facts
        self.wall = wall
        self.view = view
        with recording() as read:
            room = facts.places.room(wall.room)
            self.length = room.length(wall.key) * MM
            self.profile = tuple((x * MM, y * MM) for x, y in room.profile(wall.key))
        self.cites = frozenset(read)
        self.top = max(y for _, y in self.profile)
        self.below: list[Stops] = []
        self.above: list[Stops] = []
        self.left: list[Stops] = []
        self.right: list[Stops] = []
        self._along()
        self._upward()

    def height_at(self, along: float) -> float:
        """Height of the wall at a distance from its left corner [mm]."""
        for (a, low), (b, high) in pairwise(self.profile):
            if a <= along <= b and b > a:
                return low + (high - low) * (along - a) / (b - a)
        return self.profile[-1][1]

    # ------------------------------------------------------------------ along the wall

    def _along(self) -> None:
        own = self.view.own
        pieces = [t for t in own if t.node.heading == "millwork"]
        low = [t for t in pieces if t.middle[1] < self.top / 2]
        high = [t for t in pieces if t not in low]
        for group, rows in ((low, self.below), (high, self.above)):
            if group:
                rows.append(self._edges((*group, *self._beside(group))))
        wide = [t for t in own if t.node.heading != "millwork" and not t.is_point]
        wide = [t for t in wide if t.node.find("along") is None]
        for heading in dict.fromkeys(t.node.heading for t in wide):
            rows = self.above if heading == "backing" and self.below else self.below
            rows.append(self._edges(t for t in wide if t.node.heading == heading))
        points = [t for t in own if t.is_point]
        if points:
            self.below.append(self._middles(points))
        self._whole()

    def _beside(self, group: list[Seen]) -> list[Seen]:
        """What comes round the corner into the tier of these pieces."""
        return [
            t
            for t in self.view.things
            if t.turned and any(abs(t.box[1] - own.box[1]) < 1 for own in group)
        ]

    def _corners(self) -> Stops:
        stops = Stops()
        for place in (0.0, self.length):
            stops.add(place, self.cites)
        return stops

    def _edges(self, group: Iterable[Seen]) -> Stops:
        stops = self._corners()
        for thing in group:
            for place in (thing.box[0], thing.box[2]):
                stops.add(min(max(place, 0.0), self.length), thing.cites)
            if thing.node.kind == "door":
                self._leaf(stops, thing)
            if thing.node.kind == "glass_front":
                self._panes(stops, thing)
        return stops

    def _middles(self, group: Iterable[Seen]) -> Stops:
        stops = self._corners()
        for thing in group:
            stops.add(min(max(thing.middle[0], 0.0), self.length), thing.cites)
        return stops

    @staticmethod
    def _leaf(stops: Stops, thing: Seen) -> None:
        """The edges of a leaf between its side lights."""
        it = Fitting(thing.node, thing.box, Paper(1), own=True, mirrored=thing.mirrored)
        with recording() as read:
            try:
                leaf, lights, _ = door_parts(it)
            except Open:
                return
        if lights:
            for place in (leaf[0], leaf[2]):
                stops.add(place, read)

    @staticmethod
    def _panes(stops: Stops, thing: Seen) -> None:
        """The joints of a glass front."""
        it = Fitting(thing.node, thing.box, Paper(1), own=True, mirrored=thing.mirrored)
        with recording() as read:
            found = panes(it)
        for node, box in found:
            for place in (box[0], box[2]):
                stops.add(place, {node.address, *read})

    def _whole(self) -> None:
        """The wall's own length, outermost; a row that says nothing else is merged into it."""
        whole = self._corners()
        for rows in (self.below, self.above):
            for stops in [row for row in rows if len(row.at) == 2]:
                rows.remove(stops)
                for place, cites in stops.at.items():
                    whole.add(place, cites)
        self.below.append(whole)

    # ------------------------------------------------------------------ up the wall

    def _upward(self) -> None:
        for side, stack in zip((self.left, self.right), self._own_stacks(), strict=False):
            side.append(self._tiers(stack))
        wide = [t for t in self.view.own if t.node.heading != "millwork" and not t.is_point]
        for heading in dict.fromkeys(t.node.heading for t in wide):
            stops = self._floor_to_ceiling(0)
            for thing in (t for t in wide if t.node.heading == heading):
                for place in _heights(thing):
                    stops.add(place, thing.cites)
            if len(stops.at) > 2:
                (self.left if len(self.left) <= len(self.right) else self.right).append(stops)
        self.right.append(self._floor_to_ceiling(-1))
        if abs(self.profile[0][1] - self.profile[-1][1]) > 1:
            self.left.append(self._floor_to_ceiling(0))

    def _floor_to_ceiling(self, end: int) -> Stops:
        stops = Stops()
        stops.add(0.0, self.cites)
        stops.add(self.profile[end][1], self.cites)
        return stops

    def _own_stacks(self) -> list[Node]:
        """The stacks of which pieces are the reader's, those on the left first."""
        if not any(t.node.heading == "millwork" for t in self.view.own):
            return []
        found: dict[str, Node] = {}
        for run in sorted(self.facts.places.runs(self.wall), key=lambda run: run.start):
            stack = stack_above(run.tier.node)
            if stack is not None:
                found[stack.address] = stack
        return list(found.values())[:2]

    def _tiers(self, stack: Node) -> Stops:
        stops = self._floor_to_ceiling(0)
        with recording() as read:
            levels = tiers(stack)
        for tier in levels.values():
            if tier.node.group("bottom_to_top"):
                continue
            own = {a for a in read if a.startswith(tier.node.prefix)} | {tier.node.address}
            for place in (tier.bottom, tier.top):
                stops.add(place * MM, own)
        return stops


def _heights(thing: Seen) -> tuple[float, ...]:
    if thing.node.kind == "strip":
        return (thing.box[1] if shines_up(thing.node) else thing.box[3],)
    return thing.box[1], thing.box[3]
