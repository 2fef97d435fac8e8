"""How wide the way is from one point of a floor to another. Plane geometry only; meters.

What stands on a floor, and its walls, are convex outlines (a wall: two points). A body of a given
width gets from a to b unless outlines, joined where they stand nearer to each other than that
width, close a ring round one of the two. Gaps are taken from the narrowest on; the first that
closes such a ring is the narrowest place of the widest way. Rings are told by the parity with
which they cross the straight line from a to b.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from spec.place.shapes import CLOSE, Point, bounds_apart, bounds_of, distance

Outline = tuple[Point, ...]


class Gap(NamedTuple):
    """Between two outlines by their place in the list: how wide, and where on each."""

    width: float
    one: int
    other: int
    at_one: Point
    at_other: Point


class Ways:
    """The ways between outlines for bodies up to `most` wide [m].

    Of `walls` are those outlines between which one passes however near they stand: what is open
    between two walls is a door, or the room's own shape.
    """

    def __init__(self, outlines: Sequence[Outline], most: float, walls: Sequence[bool]) -> None:
        self.outlines = outlines
        self.most = most
        self._middles = [_middle(outline) for outline in outlines]
        self._boxes = [bounds_of(outline) for outline in outlines]
        self.gaps = sorted(self._near(walls), key=lambda gap: gap.width)

    def _near(self, walls: Sequence[bool]) -> Iterator[Gap]:
        for i, one in enumerate(self.outlines):
            for j in range(i + 1, len(self.outlines)):
                most = CLOSE if walls[i] and walls[j] else self.most
                if bounds_apart(self._boxes[i], self._boxes[j]) >= most:
                    continue
                width, p, q = closest(one, self.outlines[j])
                if width < most:
                    yield Gap(width, i, j, p, q)

    def narrowest(self, a: Point, b: Point) -> Gap | None:
        """The narrowest place of the widest way from a to b; None where it is no narrower than
        `most`. Neither point lies on an outline.
        """
        above = list(range(len(self.outlines)))
        odd = [0] * len(above)

        def root(i: int) -> tuple[int, int]:
            parity = 0
            while above[i] != i:
                parity ^= odd[i]
                i = above[i]
            return i, parity

        for gap in self.gaps:
            line = (
                self._middles[gap.one],
                gap.at_one,
                gap.at_other,
                self._middles[gap.other],
            )
            crossed = sum(_crosses(a, b, line[k], line[k + 1]) for k in range(3)) % 2
            (i, of_one), (j, of_other) = root(gap.one), root(gap.other)
            if i != j:
                above[i] = j
                odd[i] = of_one ^ of_other ^ crossed
            elif of_one ^ of_other ^ crossed:
                return gap
        return None

    def nearest(self, point: Point, but: int = -1) -> tuple[float, int]:
        """The distance to the nearest outline [m] and its place in the list, `but` left out."""
        return min(
            (
                (closest((point,), outline)[0], i)
                for i, outline in enumerate(self.outlines)
                if i != but and bounds_apart((*point, *point), self._boxes[i]) < self.most
            ),
            default=(math.inf, -1),
        )


def closest(one: Outline, other: Outline) -> tuple[float, Point, Point]:
    """The distance between two convex outlines [m] and the points nearest to each other.

    Where they overlap the distance is 0 and both points are one that they share.
    """
    shared = _shared(one, other)
    if shared is not None:
        return 0.0, shared, shared
    least = (math.inf, one[0], other[0])
    for corner in one:
        for start, end in _sides(other):
            foot = _foot(corner, start, end)
            least = min(least, (distance(corner, foot), corner, foot))
    for corner in other:
        for start, end in _sides(one):
            foot = _foot(corner, start, end)
            least = min(least, (distance(corner, foot), foot, corner))
    return least


def _sides(outline: Outline) -> Iterator[tuple[Point, Point]]:
    if len(outline) < 3:
        yield outline[0], outline[-1]
        return
    for i, corner in enumerate(outline):
        yield outline[i - 1], corner


def _foot(point: Point, start: Point, end: Point) -> Point:
    """The point of a side that is nearest to a point."""
    (x, y), (sx, sy), (ex, ey) = point, start, end
    dx, dy = ex - sx, ey - sy
    square = dx * dx + dy * dy
    if square == 0.0:
        return start
    share = min(max(((x - sx) * dx + (y - sy) * dy) / square, 0.0), 1.0)
    return (sx + share * dx, sy + share * dy)


def _shared(one: Outline, other: Outline) -> Point | None:
    """A point that two convex outlines share, where they cross or one holds the other."""
    for start, end in _sides(one):
        for begin, finish in _sides(other):
            if len(one) > 1 and len(other) > 1 and _crosses(start, end, begin, finish):
                return _crossing(start, end, begin, finish)
    for inner, outer in ((one, other), (other, one)):
        if len(outer) > 2 and _holds(outer, inner[0]):
            return inner[0]
    return None


def _holds(outline: Outline, point: Point) -> bool:
    """Whether a point lies within a convex outline, either way round."""
    turns = [_turn(start, end, point) for start, end in _sides(outline)]
    return all(t > 0 for t in turns) or all(t < 0 for t in turns)


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _crosses(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether two lines cross; a point on the other line counts to its left, so that of two
    lines that meet in it exactly one crosses.
    """
    if (_turn(a, b, c) >= 0) == (_turn(a, b, d) >= 0):
        return False
    return (_turn(c, d, a) >= 0) != (_turn(c, d, b) >= 0)


def _crossing(a: Point, b: Point, c: Point, d: Point) -> Point:
    to_c, to_d = _turn(a, b, c), _turn(a, b, d)
    share = to_c / (to_c - to_d)
    return (c[0] + (d[0] - c[0]) * share, c[1] + (d[1] - c[1]) * share)


def _middle(outline: Outline) -> Point:
    xs, ys = zip(*outline, strict=True)
    return (sum(xs) / len(outline), sum(ys) / len(outline))
