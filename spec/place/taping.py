"""A plan from tape measurements: corners, the closing error, and the tape that would explain it."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from spec.place.shapes import Point, distance


@dataclass(frozen=True, slots=True)
class Plan:
    """Corners in clockwise order (corner i starts wall i), how badly the tapes close, and why.

    `error` [m] is what the tapes disagree by; `suspect` names the measurement whose smallest
    correction `correction` [m] would make them agree. A plan with nothing to check has error 0
    and `checked` false.
    """

    corners: tuple[Point, ...]
    error: float = 0.0
    checked: bool = False
    suspect: str = ""
    correction: float = 0.0


class CannotClose(ValueError):
    """Measurements that make no room at all; the message says which, in words."""


def plan(
    names: Sequence[str],
    lengths: Sequence[float],
    diagonals: Mapping[tuple[str, str], float],
    turns: Sequence[float],
) -> Plan:
    """The plan of a room from its walls' lengths [m] in clockwise order.

    `diagonals` are corner to corner [m], a corner named by the wall that starts in it; `turns`
    are the inside angles [degrees] at each wall's right end. A room of four walls uses a diagonal
    where one is taped and right angles otherwise; any other room is walked round its angles and
    its gap shared out along the walk. Raises `CannotClose`.
    """
    if len(names) == 4 and diagonals:
        return _quadrilateral(names, lengths, diagonals)
    return _walked(names, lengths, diagonals, turns)


def _quadrilateral(
    names: Sequence[str], lengths: Sequence[float], diagonals: Mapping[tuple[str, str], float]
) -> Plan:
    first = _between(diagonals, names[0], names[2])
    second = _between(diagonals, names[1], names[3])
    if first is not None:
        corners = _from_diagonal(lengths, first)
    elif second is not None:
        turned = _from_diagonal([*lengths[1:], lengths[0]], second)
        corners = _first_along_x([turned[-1], *turned[:-1]])
    else:
        raise CannotClose("the diagonals name no two opposite corners of the room")
    if first is None or second is None:
        return Plan(tuple(corners))
    error = second - distance(corners[1], corners[3])
    labels = [*names, f"{names[0]}-{names[2]}", f"{names[1]}-{names[3]}"]
    suspect, correction = _suspect(labels, [*lengths, first, second])
    return Plan(tuple(corners), abs(error), True, suspect, correction)


def _misfit(values: Sequence[float]) -> float:
    corners = _from_diagonal(values[:4], values[4])
    return values[5] - distance(corners[1], corners[3])


def _suspect(labels: Sequence[str], values: Sequence[float]) -> tuple[str, float]:
    """The measurement whose smallest change [m] closes the figure, by its slope."""
    misfit = _misfit(values)
    step = 1e-4
    best = ("", math.inf)
    for i, label in enumerate(labels):
        moved = list(values)
        moved[i] += step
        slope = (_misfit(moved) - misfit) / step
        if abs(slope) > 1e-6 and abs(misfit / slope) < abs(best[1]):
            best = (label, -misfit / slope)
    return best


def _between(diagonals: Mapping[tuple[str, str], float], a: str, b: str) -> float | None:
    return diagonals.get((a, b), diagonals.get((b, a)))


def _from_diagonal(lengths: Sequence[float], diagonal: float) -> list[Point]:
    """Four corners from four sides and the diagonal from the first corner to the third."""
    a, b, c, d = lengths
    start = (0.0, 0.0)
    second = (a, 0.0)
    third = _apex(start, second, diagonal, b, below=True)
    fourth = _apex(third, start, c, d, below=False)
    return [start, second, third, fourth]


def _apex(p: Point, q: Point, from_p: float, from_q: float, *, below: bool) -> Point:
    """The point at given distances from two others, on the right of the way from p to q."""
    base = distance(p, q)
    if base > from_p + from_q or from_p > base + from_q or from_q > base + from_p or base == 0:
        raise CannotClose(
            f"two sides of {from_p:.3f} m and {from_q:.3f} m and a line of {base:.3f} m "
            "make no triangle: one of these tapes is misread"
        )
    along = (from_p**2 - from_q**2 + base**2) / (2 * base)
    off = math.sqrt(max(from_p**2 - along**2, 0.0))
    ux, uy = (q[0] - p[0]) / base, (q[1] - p[1]) / base
    side = 1.0 if below else -1.0
    return (p[0] + ux * along + uy * off * side, p[1] + uy * along - ux * off * side)


def _first_along_x(corners: Sequence[Point]) -> list[Point]:
    (x0, y0), (x1, y1) = corners[0], corners[1]
    angle = -math.atan2(y1 - y0, x1 - x0)
    cos, sin = math.cos(angle), math.sin(angle)
    return [((x - x0) * cos - (y - y0) * sin, (x - x0) * sin + (y - y0) * cos) for x, y in corners]


def _walked(
    names: Sequence[str],
    lengths: Sequence[float],
    diagonals: Mapping[tuple[str, str], float],
    turns: Sequence[float],
) -> Plan:
    heading, x, y = 0.0, 0.0, 0.0
    raw: list[Point] = []
    for length, inside in zip(lengths, turns, strict=True):
        raw.append((x, y))
        x += length * math.cos(heading)
        y += length * math.sin(heading)
        heading -= math.radians(180.0 - inside)
    around = sum(lengths)
    if around <= 0:
        raise CannotClose("the walls have no length")
    gone = 0.0
    corners: list[Point] = []
    for (px, py), length in zip(raw, lengths, strict=True):
        corners.append((px - x * gone / around, py - y * gone / around))
        gone += length
    gap = math.hypot(x, y)
    error, suspect, correction = gap, "", gap
    for (a, b), taped in diagonals.items():
        if a in names and b in names:
            off = taped - distance(corners[names.index(a)], corners[names.index(b)])
            if abs(off) > error:
                error, suspect, correction = abs(off), f"{a}-{b}", -off
    if not suspect and gap > 0:
        suspect, correction = _wall_along(names, lengths, turns, (x, y))
    return Plan(tuple(corners), error, True, suspect, correction)


def _wall_along(
    names: Sequence[str], lengths: Sequence[float], turns: Sequence[float], gap: Point
) -> tuple[str, float]:
    """The wall that runs most nearly along the gap, and by how much it is too long."""
    heading = 0.0
    best = ("", 0.0)
    for name, inside in zip(names, turns, strict=True):
        along = gap[0] * math.cos(heading) + gap[1] * math.sin(heading)
        if abs(along) > abs(best[1]) + 1e-9:
            best = (name, -along)
        heading -= math.radians(180.0 - inside)
    return best
