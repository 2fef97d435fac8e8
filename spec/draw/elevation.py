"""The elevation of a wall: what stands on it, with the dimensions that one reader needs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from spec.check.rule import Facts
from spec.draw import fittings
from spec.draw.chain import across, length, upward
from spec.draw.fitting import Fitting, safe
from spec.draw.fronts import front
from spec.draw.label import Wish, labels
from spec.draw.openings import opening, panes
from spec.draw.outline import MM, rectangle
from spec.draw.paper import Box, Margins, paper_for
from spec.draw.piece import Front
from spec.draw.scene import Fill, Pen, Point, Polygon, Polyline, Scene, Shape
from spec.draw.seen import Level, Seen, levels, shines_up, stack_of, view
from spec.draw.setting_out import SettingOut
from spec.draw.words import hinge_words, words
from spec.job.node import Node
from spec.job.record import recording
from spec.place import tiers

_WITHIN = ("drivers", "appliances", "lights", "equipment")
"""Headings whose things may sit in a piece without a place of their own."""
_ROW = 8.0
"""From one row of dimensions to the next on paper [mm]."""


def elevation(
    facts: Facts, wall: Node, dimensioned: Iterable[str], *, finished: bool = False
) -> Scene:
    """The wall seen from inside its room; the things at `dimensioned` addresses carry dimensions.

    All others are drawn quietly. A reader of existing things alone sees the wall as it is found;
    `finished` shows it as it will be, in full. Raises `Open` where the wall's own size is not
    decided.
    """
    return _Elevation(facts, wall, frozenset(dimensioned), finished).scene()


class _Elevation:
    def __init__(self, facts: Facts, wall: Node, wanted: frozenset[str], finished: bool) -> None:
        self.facts = facts
        self.wall = wall
        self.wanted = wanted
        self.system = facts.job.system
        self.view = view(facts, wall, wanted, finished=finished)
        self.out = SettingOut(facts, wall, self.view)
        self.levels = [] if self.view.as_found else levels(facts, wall)
        margins = Margins(
            6 + _ROW * len(self.out.left),
            10 + _ROW * len(self.out.below),
            6 + _ROW * len(self.out.right),
            5 + _ROW * len(self.out.above),
        )
        self.paper = paper_for(self.out.length, self.out.top, margins)

    def scene(self) -> Scene:
        """Everything in the order of painting."""
        shapes: list[Shape] = [*self._wall()]
        wishes: list[Wish] = []
        for level in self.levels:
            shapes.append(self._level(level))
            address = level.tier.node.address
            name = level.tier.node.key.replace("_", " ")
            wishes.append(Wish(name, level.box, frozenset({address}), False))
        for thing in self.view.things:
            shapes += self._drawn(thing)
            wishes.append(self._wish(thing))
        shapes += self._datum(wishes)
        wishes += self._inside()
        wishes += self._panes()
        small = [t.box for t in self.view.things if t.is_point]
        shapes += labels(wishes, self.paper, [*small, *self._lines(), *self._around()])
        shapes += self._dimensions()
        return Scene(tuple(shapes))

    # ------------------------------------------------------------------ shapes

    def _wall(self) -> Iterator[Shape]:
        out = self.out
        yield Polygon(((out.length, 0.0), (0.0, 0.0), *out.profile), "thin", "paper", out.cites)
        beyond = self.paper.real(3.0)
        yield Polyline(((-beyond, 0), (out.length + beyond, 0)), "cut", out.cites)
        yield Polyline(out.profile, "outline", out.cites)

    def _level(self, level: Level) -> Shape:
        own = any(t.node.heading == "millwork" for t in self.view.own)
        pen: Pen = "thin" if own or self.view.finished else "quiet"
        return Polygon(rectangle(level.box), pen, "mid", frozenset({level.tier.node.address}))

    def _drawn(self, thing: Seen) -> Iterator[Shape]:
        node = thing.node
        own = thing.own or self.view.finished
        it = Fitting(node, thing.box, self.paper, own=own, mirrored=thing.mirrored)
        if node.heading == "millwork":
            fill: Fill = "mid" if node.kind == "filler" else "paper"
            yield Polygon(self._under_ceiling(thing), it.pen, fill, it.cites)
            yield from front(self._front(thing), full=own)
            return
        yield from safe(self._by_heading(thing, it), it.outline(it.pen))

    def _under_ceiling(self, thing: Seen) -> tuple[Point, ...]:
        """The outline of a piece; one whose top follows the ceiling is cut along it."""
        node = thing.node
        x1, y1, x2, y2 = thing.box
        run = node.parent.parent if node.parent is not None else None
        if not (node.has("top_follows") or (run is not None and run.has("top_follows"))):
            return rectangle(thing.box)
        clear = node.si("clear_to_slope") * MM if node.has("clear_to_slope") else 0.0
        ends = [x1, *(x for x, _ in self.out.profile if x1 < x < x2), x2]
        top = [(x, min(y2, self.out.height_at(x) - clear)) for x in ends]
        return (x1, y1), *top, (x2, y1)

    def _by_heading(self, thing: Seen, it: Fitting) -> Iterator[Shape]:
        heading = thing.node.heading
        if heading == "openings":
            return opening(it, self.wall.room)
        if heading == "lights":
            return self._light(thing, it)
        return fittings.DRAWN.get(heading, fittings.plain)(it)

    def _front(self, thing: Seen) -> Front:
        stack = stack_of(self.facts, thing.node)
        known = tiers(stack) if stack is not None else {}
        return Front(self.facts.job, thing.node, thing.box, known, thing.depth, turned=thing.turned)

    def _light(self, thing: Seen, it: Fitting) -> Iterator[Shape]:
        """A strip is drawn piece by piece where it says along which; another luminaire as it is."""
        if thing.node.kind != "strip":
            yield from fittings.light(it)
            return
        names = thing.node.words("along") if thing.node.has("along") else ()
        boxes = [t.box for t in self.view.things if t.node.key in names and not t.turned]
        for left, _, right, _ in boxes or [thing.box]:
            yield from fittings.strip(it, left, right, self._strip_height(thing))

    def _strip_height(self, thing: Seen) -> float:
        """A strip that shines up lies at the bottom of its tier, any other at its top."""
        inset = self.paper.real(0.6)
        return thing.box[1] + inset if shines_up(thing.node) else thing.box[3] - inset

    # ------------------------------------------------------------------ words

    def _wish(self, thing: Seen) -> Wish:
        node, own, box = thing.node, thing.own, thing.box
        with recording() as read:
            text, shorter = words(thing, self.system, self.wall.room)
        strip = node.kind == "strip"
        if strip:
            y = self._strip_height(thing)
            box = (box[0], y - 1, box[2], y + 1)
        cites = frozenset({node.address, *read})
        if own and thing.is_point:
            cites |= thing.cites
        return Wish(
            text,
            box,
            cites,
            own,
            tagged=own and not thing.is_point,
            inside=not thing.is_point and not strip,
            shorter=shorter,
        )

    def _inside(self) -> Iterator[Wish]:
        """Drivers, lamps and machines that sit in a piece are named where they are."""
        within: dict[str, list[Node]] = {}
        holders: dict[str, Seen] = {}
        for heading in ("appliances",) if self.view.finished else _WITHIN:
            group = self.wall.find(heading)
            for node in group.entries() if group is not None else ():
                holder = self._holder(node)
                if holder is not None:
                    holders[holder.node.address] = holder
                    within.setdefault(holder.node.address, []).append(node)
        for address, nodes in within.items():
            own = any(n.address in self.wanted for n in nodes)
            text = ", ".join(n.key for n in nodes) + "\ninside"
            cites = frozenset(n.address for n in nodes)
            yield Wish(text, holders[address].box, cites, own, tagged=own)

    def _lines(self) -> Iterator[Box]:
        """Strips, rails of ladders, tops and the datum line: no text is set across them."""
        yield from (level.box for level in self.levels)
        for thing in self.view.things:
            left, _, right, _ = thing.box
            if thing.node.kind == "strip":
                y = self._strip_height(thing)
            elif thing.node.kind == "ladder" and thing.node.has("rail_aff"):
                y = thing.node.si("rail_aff") * MM
            else:
                continue
            yield left, y - 1, right, y + 1
        level = self._datum_level()
        if level is not None:
            yield 0.0, level - 1, self.out.length, level + 1

    def _datum_level(self) -> float | None:
        """Where the line runs on this wall, from which heights are measured; None without one."""
        line = self.facts.job.find("datum.line")
        if self.view.finished or line is None or not line.has("above"):
            return None
        names = {self.wall.key, *(self.wall.words("on") if self.wall.has("on") else ())}
        if not line.has("marked_on") or names.isdisjoint(line.words("marked_on")):
            return None
        return line.si("above") * MM

    def _datum(self, wishes: list[Wish]) -> Iterator[Shape]:
        """The line from which heights are measured, on the walls that carry it."""
        level, long = self._datum_level(), self.out.length
        if level is None:
            return
        cites = frozenset({"datum.line.above"})
        yield Polyline(((0.0, level), (long, level)), "quiet_hidden", cites)
        near = self.paper.real(1)
        box = (long - near, level - near, long, level + near)
        text = f"datum {length(level, self.system)}"
        wishes.append(Wish(text, box, cites, own=False, inside=False))

    def _panes(self) -> Iterator[Wish]:
        """The pieces of a glass front, by their marks."""
        for thing in self.view.things:
            if thing.node.kind != "glass_front":
                continue
            it = Fitting(thing.node, thing.box, self.paper, own=thing.own, mirrored=thing.mirrored)
            for node, box in panes(it):
                side = hinge_words(node, self.wall.room) if node.kind == "door" else ""
                text = f"{node.key}\n{side}" if side and thing.own else node.key
                yield Wish(text, box, frozenset({node.address}), thing.own, thing.own)

    def _holder(self, node: Node) -> Seen | None:
        """The piece on this wall that a thing without a place of its own sits in."""
        if any(t.node is node for t in self.view.things):
            return None
        for thing in self.view.things:
            inside, holds = node.find("inside"), thing.node.find("contains")
            if inside is not None and str(inside.value) == thing.node.key:
                return thing
            if holds is not None and str(holds.value) == node.key:
                return thing
        return None

    # ------------------------------------------------------------------ dimensions

    def _around(self) -> list[Box]:
        """The ground outside the wall, kept clear of labels: dimensions are there."""
        far, edge = self.paper.real(300), self.paper.real(0.3)
        long, top = self.out.length, self.out.top
        return [
            (-far, -far, -edge, far),
            (long + edge, -far, far, far),
            (-far, -far, far, -edge),
            (-far, top + edge, far, far),
        ]

    def _dimensions(self) -> Iterator[Shape]:
        out, real = self.out, self.paper.real
        for i, stops in enumerate(out.below):
            yield from across(stops, 0.0, -real(_ROW * (i + 1)), self.system)
        for i, stops in enumerate(out.above):
            yield from across(stops, out.top, real(_ROW * (i + 0.8)), self.system)
        for i, stops in enumerate(out.left):
            yield from upward(stops, 0.0, real(_ROW * (i + 1)), self.system)
        for i, stops in enumerate(out.right):
            yield from upward(stops, out.length, -real(_ROW * (i + 1)), self.system)
