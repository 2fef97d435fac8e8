"""How many bottles a bin holds: what a regular stack takes, and the bound nobody can beat."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from spec.derive.formulas.range import NotCovered, positive

Point = tuple[float, float]

_SQUARE, _STAGGERED = (1.0, 0.0), (math.sqrt(3.0) / 2.0, 0.5)
"""Rise of a row and shift of every other one, in diameters."""

_SIDE = (
    1.0, 1.7071, 1.9659, 2.0, 2.4142, 2.6641, 2.8660, 2.9319, 3.0, 3.3737, 3.5113, 3.5725, 3.7315,
    3.8660, 3.9319, 4.0,
)  # fmt: skip
"""Side over diameter of the smallest square that holds 1, 2, 3 ... 16 equal circles.

Rounded to four places, the last digit up or down: `square_bound` allows for it in favor of more.
Source: packing of equal circles in a square, published best packings (proved for these counts).
"""


class Bin(NamedTuple):
    """Bottles in a bin that is filled lying.

    practical: what a regular stack holds; bound: more than this nobody can put in; inset [m²] the
    area in which bottle axes can lie, around [m] its perimeter.
    """

    practical: int
    bound: int
    inset: float
    around: float


def square_bound(side: float, diameter: float) -> int:
    """Most bottles that any stacking could put in a square bin, standing on edge or on a corner.

    side [m] clear, above 0; diameter [m], above 0. Returns a count. Raises OutOfRange.
    Source: best packings of equal circles in a square for up to 16; above, Oler's bound as
    `convex_bound`.

    >>> square_bound(0.30, 0.082)
    12
    """
    ratio = positive(side, "side of the bin", "m") / positive(diameter, "bottle diameter", "m")
    fit = sum(1 for least in _SIDE if least <= ratio + 1e-4)
    inset = ratio - 1.0
    return fit if ratio < 4.0 else _oler(inset * inset, 4.0 * inset)


def convex_bound(corners: Sequence[Point], diameter: float) -> int:
    """Most bottles that any stacking could put in a bin with a convex cross-section.

    corners [m]: of the clear cross-section, three or more; diameter [m], above 0. Returns a count,
    0 where none goes in. Raises OutOfRange, NotCovered for a section that is not convex.
    Source: Oler 1961, N ≤ (2/√3) A + P/2 + 1 for axes a diameter apart in the section inset by half
    a diameter, A and P its area and perimeter in diameters.
    """
    area, perimeter, _ = _inset(corners, diameter)
    if area < 0.0:
        return 0
    return _oler(area / diameter**2, perimeter / diameter)


def in_bin(corners: Sequence[Point], diameter: float) -> Bin:
    """Bottles in a bin of convex cross-section: regular stack, and bound.

    corners [m]; diameter [m]: as in `convex_bound`. Returns `Bin`: the practical count is the best
    of square and staggered stacks laid along one side from a corner. Raises OutOfRange, NotCovered.
    Source: counting; `convex_bound`, and `square_bound` where the section is a square.
    """
    area, around, room = _inset(corners, diameter)
    bound = convex_bound(corners, diameter)
    side = _square_side(corners)
    if side:
        bound = min(bound, square_bound(side, diameter))
    best = max((len(stack) for stack in _stacks(room, diameter)), default=0)
    return Bin(best, bound, max(area, 0.0), around)


def _oler(area: float, perimeter: float) -> int:
    return math.floor(2.0 / math.sqrt(3.0) * area + perimeter / 2.0 + 1.0 + 1e-6)


def _inset(corners: Sequence[Point], diameter: float) -> tuple[float, float, tuple[Point, ...]]:
    """Area, perimeter and corners of where bottle axes can lie; area -1 where nowhere."""
    positive(diameter, "bottle diameter", "m")
    ring = _counterclockwise(corners)
    # A bin that just takes the bottle shrinks to a point: a millionth keeps it alive.
    off = diameter * (0.5 - 1e-6)
    room = ring
    for a, b in zip(ring, [*ring[1:], ring[0]], strict=True):
        run = math.dist(a, b)
        if run:
            inward = (-(b[1] - a[1]) / run, (b[0] - a[0]) / run)
            room = _clip(room, (a[0] + off * inward[0], a[1] + off * inward[1]), inward)
    if len(room) < 3:
        return -1.0, 0.0, ()
    around = sum(math.dist(a, b) for a, b in zip(room, [*room[1:], room[0]], strict=True))
    return _area(room), around, tuple(room)


def _counterclockwise(corners: Sequence[Point]) -> list[Point]:
    """A convex ring turned the one way round, or a refusal."""
    refused = NotCovered("the cross-section of the bin is not convex, or has no area")
    area = _area(corners)
    if not abs(area) > 0.0:
        raise refused
    ring = list(corners) if area > 0.0 else list(reversed(corners))
    turns = 0.0
    for a, b, c in zip([ring[-1], *ring[:-1]], ring, [*ring[1:], *ring[:1]], strict=True):
        before, after = math.atan2(b[1] - a[1], b[0] - a[0]), math.atan2(c[1] - b[1], c[0] - b[0])
        turn = math.remainder(after - before, 2.0 * math.pi)
        if turn < -1e-9:
            raise refused
        turns += turn
    if abs(turns - 2.0 * math.pi) > 1e-6:
        raise refused
    return ring


def _area(ring: Sequence[Point]) -> float:
    following = [*ring[1:], *ring[:1]]
    return sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(ring, following, strict=True)) / 2.0


def _clip(ring: list[Point], on: Point, inward: Point) -> list[Point]:
    """The part of a convex ring on the inner side of a line (Sutherland and Hodgman)."""
    found: list[Point] = []
    depths = [(x - on[0]) * inward[0] + (y - on[1]) * inward[1] for x, y in ring]
    for i, (b, db) in enumerate(zip(ring, depths, strict=True)):
        a, da = ring[i - 1], depths[i - 1]
        if (da < 0.0) != (db < 0.0):
            t = da / (da - db)
            found.append((a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])))
        if db >= 0.0:
            found.append(b)
    return found


def _square_side(corners: Sequence[Point]) -> float:
    """Side of a square, or 0 for another section."""
    if len(corners) != 4:
        return 0.0
    ring = [*corners, corners[0]]
    sides = [math.dist(ring[i], ring[i + 1]) for i in range(4)]
    across = [math.dist(ring[0], ring[2]), math.dist(ring[1], ring[3])]
    even = max(sides) - min(sides) < 1e-9 and abs(across[0] - across[1]) < 1e-9
    return sides[0] if even else 0.0


def _stacks(room: Sequence[Point], diameter: float) -> Iterator[list[Point]]:
    """Regular stacks, one per corner, direction of its sides, and kind, as axes inside the room."""
    count = len(room)
    for i in range(count):
        for way in (1, -1):  # the room lies left of its sides, and right of them turned round
            j = (i + way) % count
            run = math.dist(room[i], room[j])
            if run < 1e-9 * diameter:
                continue
            along = ((room[j][0] - room[i][0]) / run, (room[j][1] - room[i][1]) / run)
            inward = (-way * along[1], way * along[0])
            for kind in (_SQUARE, _STAGGERED):
                yield _stack(room, diameter, room[i], (along, inward), kind)


def _stack(
    room: Sequence[Point],
    diameter: float,
    start: Point,
    axes: tuple[Point, Point],
    kind: tuple[float, float],
) -> list[Point]:
    (along, up), (rise, shift) = axes, kind
    # rows and steps beyond the far corner, which `_holds` leaves out
    reach = math.ceil(max(math.dist(start, corner) for corner in room) / diameter) + 1
    found = []
    for row in range(2 * reach):
        for step in range(-reach, reach + 1):
            a, b = (step + shift * (row % 2)) * diameter, row * rise * diameter
            point = (start[0] + a * along[0] + b * up[0], start[1] + a * along[1] + b * up[1])
            if _holds(room, point):
                found.append(point)
    return found


def _holds(room: Sequence[Point], point: Point) -> bool:
    """Whether a convex room holds a point, its edge included."""
    for a, b in pairwise([*room, room[0]]):
        run = math.dist(a, b)
        if run:
            off = (b[0] - a[0]) * (point[1] - a[1]) - (b[1] - a[1]) * (point[0] - a[0])
            if off / run < -1e-9:
                return False
    return True
