"""Plans of a room: the floor with what stands on it, and the ceiling seen through from above."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import hypot

from spec.check.rule import Facts
from spec.draw.chain import Stops, length
from spec.draw.fittings import goes
from spec.draw.footprints import UPPER, footprints, named, strip_lines
from spec.draw.label import Wish, labels, taken_by
from spec.draw.on_plan import around, shapes_of
from spec.draw.outline import MM
from spec.draw.paper import Box, Margins, Paper, grown, paper_for
from spec.draw.plan_walls import Side, Walls
from spec.draw.scene import Dimension, Label, Polyline, Scene, Shape
from spec.job.node import Node, Open
from spec.job.record import recording
from spec.place import OnPlan

_ROW = 8.0
"""From one row of dimensions to the next on paper [mm]."""
_TEXT = 3.6
"""Room for the text of a dimension on paper [mm]."""
_BY_EDGES = ("equipment", "backing")
"""Set out by their edges; everything else on a ceiling or floor by its middle."""
_LAYERS = ("existing", "backing", "equipment", "holes", "lights", "devices")


def floor_plan(
    facts: Facts, room: Node, dimensioned: Iterable[str], *, finished: bool = False
) -> Scene:
    """The room from above: walls, openings with their swings, what stands along the walls.

    What is at `dimensioned` addresses carries dimensions, the rest is drawn quietly; `finished`
    shows the room as it will be, in full. Raises `Open` where its own size is not decided.
    """
    return _Plan(facts, room, frozenset(dimensioned), "floor", finished).scene()


def ceiling_plan(
    facts: Facts, room: Node, dimensioned: Iterable[str], *, finished: bool = False
) -> Scene:
    """The ceiling as if seen through from above, so that left and right are those of the floor.

    What is at `dimensioned` addresses carries dimensions; see `floor_plan`. Raises `Open`.
    """
    return _Plan(facts, room, frozenset(dimensioned), "ceiling", finished).scene()


class _Plan:
    def __init__(
        self, facts: Facts, room: Node, wanted: frozenset[str], part: str, finished: bool
    ) -> None:
        self.facts = facts
        self.node = room
        self.wanted = wanted
        self.part = part
        self.system = facts.job.system
        self.finished = finished
        self.walls = Walls(facts, room, wanted, finished=finished)
        self.things = self._on_surface()
        self.rows = self._rows()
        low_x, low_y, high_x, high_y = self.walls.bounds
        most = max(len(row) for row in self.rows)
        margin = _ROW * (most + 1) + 7
        self.paper: Paper = paper_for(
            high_x - low_x, high_y - low_y, Margins(margin, margin, margin, margin)
        )

    def _on_surface(self) -> list[OnPlan]:
        surface = self.node.find(self.part)
        if surface is None:
            return []
        found = [t for t in self.facts.places.on_surface(surface) if _has_place(t.node)]
        shown = [t for t in found if t.node.address in self.wanted or not goes(t.node)]
        if self.walls.as_found:
            shown = [t for t in found if t.node.heading == "existing"]
        if self.finished:
            covered = {n for t in found if t.node.has("over") for n in t.node.words("over")}
            shown = [t for t in shown if t.node.heading not in ("backing", "holes")]
            shown = [t for t in shown if t.node.key not in covered]
        return sorted(
            shown,
            key=lambda t: (
                t.node.address in self.wanted,
                _LAYERS.index(t.node.heading) if t.node.heading in _LAYERS else len(_LAYERS),
                t.node.address,
            ),
        )

    # ------------------------------------------------------------------ what is dimensioned

    def _rows(self) -> list[list[Stops]]:
        """The chains outside each wall, the innermost first."""
        rows: list[list[Stops]] = []
        for side, openings in zip(self.walls.sides, self.walls.openings, strict=True):
            chain = Stops()
            for opened in openings if self.part == "floor" else ():
                if opened.own:
                    for place in (opened.box[0], opened.box[2]):
                        chain.add(place, opened.cites)
            rows.append([self._with_corners(side, chain)] if chain else [])
        for heading, things in self._own_by_heading():
            for i in self._axes():
                chain = Stops()
                for thing in things:
                    self._set_out(chain, i, thing, edges=heading in _BY_EDGES)
                rows[i].append(self._with_corners(self.walls.sides[i], chain))
        for side, row in zip(self.walls.sides, rows, strict=True):
            row.append(self._with_corners(side, Stops()))
        return rows

    def _with_corners(self, side: Side, stops: Stops) -> Stops:
        for place in (0.0, side.long):
            stops.add(place, self.walls.cites)
        return stops

    def _own_by_heading(self) -> list[tuple[str, list[OnPlan]]]:
        own = [t for t in self.things if t.node.address in self.wanted]
        headings = dict.fromkeys(t.node.heading for t in own)
        return [(h, [t for t in own if t.node.heading == h]) for h in headings]

    def _axes(self) -> list[int]:
        """Two walls that stand square to each other: the first, and the next that turns."""
        first = self.walls.sides[0]
        for i, side in enumerate(self.walls.sides[1:], start=1):
            if abs(side.along[0] * first.along[1] - side.along[1] * first.along[0]) > 0.5:
                return [0, i]
        return [0]

    def _set_out(self, chain: Stops, i: int, thing: OnPlan, *, edges: bool) -> None:
        """The middles of a thing, square off the wall in which the chain starts."""
        start, side = self.walls.sides[i - 1], self.walls.sides[i]
        with recording() as read:
            self.facts.places.plan(thing.node)
        cites = frozenset(read) | {thing.node.address}
        for outline in thing.outlines:
            points = [(x * MM, y * MM) for x, y in outline]
            offs = [start.off(p) for p in points]
            places = (min(offs), max(offs)) if edges else ((min(offs) + max(offs)) / 2,)
            for place in places:
                if 0 < place < side.long:
                    chain.add(place, cites)

    # ------------------------------------------------------------------ the picture

    def scene(self) -> Scene:
        """Walls, what is on this surface, marks, labels, dimensions, north."""
        walls, paper = self.walls, self.paper
        wishes: list[Wish] = []
        shapes: list[Shape] = [*walls.shell(), *walls.gaps()]
        if self.part == "floor":
            if not walls.as_found:
                shapes += footprints(self.facts, walls, paper, wishes)
            shapes += walls.swings(paper)
            self._name_openings(wishes)
        for thing in self.things:
            own = self.finished or thing.node.address in self.wanted
            shapes += shapes_of(thing, paper, own=own)
            wishes.append(self._wish(thing))
        for thing in self.things:
            shapes += self._blows(thing)
        if self.part == "ceiling" and not walls.as_found:
            shapes += strip_lines(self.facts, walls, self.node, wishes)
        clear = [self._box(t, 0) for t in self.things if self._is_small(t)]
        if self.part == "floor":
            shapes += self._depths(wishes, clear)
        texts = list(labels(wishes, paper, clear))
        shapes += texts
        chains = list(self._dimensions())
        counts = [len(row) for row in self.rows]
        taken = [self._band(chain) for chain in chains]
        taken += [taken_by(text, paper) for text in texts if isinstance(text, Label)]
        shapes += walls.marks(paper, counts, _ROW, taken)
        shapes += chains
        x, y = walls.bounds[2], walls.bounds[3]
        at = (x + paper.real(12), y + paper.real(12))
        shapes += walls.north(at, paper.real(5))
        return Scene(tuple(shapes))

    def _box(self, thing: OnPlan, which: int) -> Box:
        return around([(x * MM, y * MM) for x, y in thing.outlines[which]])

    def _is_small(self, thing: OnPlan) -> bool:
        box = self._box(thing, 0)
        return box[2] - box[0] < self.paper.real(10)

    def _wish(self, thing: OnPlan) -> Wish:
        node, count = thing.node, len(thing.outlines)
        text = node.key if count == 1 else f"{node.key} ({count})"
        own, small = node.address in self.wanted, self._is_small(thing)
        cites = frozenset({node.address})
        return Wish(text, self._box(thing, 0), cites, own, own and not small, not small)

    def _name_openings(self, wishes: list[Wish]) -> None:
        for side, openings in zip(self.walls.sides, self.walls.openings, strict=True):
            for opened in openings:
                middle = side.at((opened.box[0] + opened.box[2]) / 2, -side.thick / 2)
                wishes.append(named(opened.node, middle, opened.own, self.paper))

    def _blows(self, thing: OnPlan) -> Iterator[Shape]:
        """An arrow from an evaporator toward the wall to which it blows."""
        node = thing.node
        if not node.has("blows"):
            return
        named_walls = set(node.text("blows").replace(",", " ").split())
        for side in self.walls.sides:
            if side.node.key not in named_walls:
                continue
            (ix, iy), head = side.inward, self.paper.real(1.6)
            x1, y1, x2, y2 = self._box(thing, 0)
            half = (abs(ix) * (x2 - x1) + abs(iy) * (y2 - y1)) / 2 * 0.8
            aside = (abs(iy) * (x2 - x1) + abs(ix) * (y2 - y1)) / 2 * 0.6
            x, y = (x1 + x2) / 2 - iy * aside, (y1 + y2) / 2 - ix * aside
            foot, tip = (x + ix * half, y + iy * half), (x - ix * half, y - iy * half)
            cites = frozenset({node.address, f"{node.address}.blows"})
            yield Polyline((foot, tip), "thin", cites)
            for s in (-1, 1):
                back = (tip[0] + (ix - iy * s * 0.5) * head, tip[1] + (iy + ix * s * 0.5) * head)
                yield Polyline((tip, back), "thin", cites)

    # ------------------------------------------------------------------ dimensions

    def _dimensions(self) -> Iterator[Dimension]:
        for side, rows in zip(self.walls.sides, self.rows, strict=True):
            for i, stops in enumerate(rows):
                off = side.thick + self.paper.real(_ROW * (i + 0.6))
                for a, b, cites in stops.spans():
                    text = length(b - a, self.system)
                    yield Dimension(side.at(a, 0), side.at(b, 0), text, off, cites)

    def _band(self, chain: Dimension) -> Box:
        """What one dimension takes: its line, and its text on the outer side of it."""
        (ax, ay), (bx, by) = chain.start, chain.end
        long = hypot(bx - ax, by - ay) or 1.0
        aside = (-(by - ay) / long, (bx - ax) / long)
        at = [
            (x + aside[0] * off, y + aside[1] * off)
            for x, y in (chain.start, chain.end)
            for off in (chain.offset, chain.offset + self.paper.real(_TEXT))
        ]
        return around(at)

    def _depths(self, wishes: list[Wish], clear: list[Box]) -> Iterator[Shape]:
        """How far the reader's pieces stand into the room: once for each run.

        The figure is set beside its line among the labels: both are inside the room.
        """
        for side in self.walls.sides:
            try:
                runs = self.facts.places.runs(side.node)
            except Open:
                continue
            for run in runs:
                plain = [
                    p
                    for p in run.pieces
                    if p.node.address in self.wanted
                    and p.depth
                    and not p.turned
                    and not p.node.has("turns")
                ]
                if not plain or run.tier.bottom > UPPER:
                    continue
                piece = max(plain, key=lambda p: p.width)
                depth, place = (piece.depth or 0.0) * MM, (piece.left + piece.width * 0.15) * MM
                with recording() as read:
                    run.tier.node.has("depth")
                cites = frozenset(read) | {piece.node.address}
                ends = side.at(place, 0), side.at(place, depth)
                text = length(depth, self.system)
                line = grown(around(ends), self.paper.real(0.3))
                clear.append(line)
                wishes.append(Wish(text, line, cites, own=False, inside=False))
                yield Dimension(*ends, "", 0.0, cites)


def _has_place(node: Node) -> bool:
    """A thing that covers its whole surface is no outline on it."""
    return node.find("covers") is None
