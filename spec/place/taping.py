"""A plan from tape measurements: corners, the closing error, and the tape that would explain it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from spec.place.shapes import CLOSE, Point, distance

RIGHT_ANGLE = 90.0
"""[degrees] A corner of which no angle is taped."""
ANGLE_READ = 0.5
"""[degrees] To which an angle is read on site; nearer than this it agrees. Common practice."""


class Plan(NamedTuple):
    """Corners in clockwise order (corner i starts wall i), how badly the tapes close, and why.

    `error` [m] is what the tapes disagree by; `suspect` names the measurement whose smallest
    correction `correction` [m, of a corner degrees] would make them agree. A plan with nothing to
    check has error 0 and `checked` false.
    """

    corners: tuple[Point, ...]
    error: float = 0.0
    checked: bool = False
    suspect: str = ""
    correction: float = 0.0


class CannotClose(ValueError):
    """Measurements that make no room at all; the message says which, in words.

    `tapes` are those that fight: a wall `WA`, a diagonal `WA-WC`, a corner `WA.corner`.
    """

    def __init__(self, message: str, tapes: Sequence[str] = ()) -> None:
        super().__init__(message)
        self.tapes = tuple(tapes)


def plan(
    names: Sequence[str],
    lengths: Sequence[float],
    diagonals: Mapping[tuple[str, str], float],
    turns: Sequence[float | None],
) -> Plan:
    """The plan of a room from its walls' lengths [m] in clockwise order.

    `diagonals` are corner to corner [m], a corner named by the wall that starts in it; `turns`
    are the inside angles [degrees] at each wall's right end, None where none is taped. A room of
    four walls is fixed by the first diagonal or angle that is taped, and all others check it; any
    other room is walked round its angles, square where none is taped, and its gap shared out along
    the walk. Raises `CannotClose`.
    """
    short = [name for name, length in zip(names, lengths, strict=True) if length < CLOSE]
    if short:
        have = "has" if len(short) == 1 else "have"
        raise CannotClose(f"{' and '.join(short)} {have} no length", short)
    reflex = any(turn is not None and turn > 2 * RIGHT_ANGLE for turn in turns)
    if len(names) == 4 and not reflex and (diagonals or any(t is not None for t in turns)):
        found = _Four(names, lengths, diagonals, turns).plan()
    else:
        found = _walked(names, lengths, diagonals, [RIGHT_ANGLE if t is None else t for t in turns])
    _sound(names, found.corners)
    return found


def _sound(names: Sequence[str], corners: Sequence[Point]) -> None:
    """Raise `CannotClose` where the corners enclose no floor on the right of the walk."""
    ends = [(corner, corners[(i + 1) % len(corners)]) for i, corner in enumerate(corners)]
    enclosed = sum(x2 * y - x * y2 for (x, y), (x2, y2) in ends) / 2
    if enclosed < CLOSE or any(distance(*pair) < CLOSE for pair in ends):
        raise CannotClose(f"{', '.join(names)}, with their corners, enclose no floor", names)


# ------------------------------------------------------------------ four walls


class _Tape(NamedTuple):
    """A measurement across a room of four walls: between corner `start` and the one opposite.

    A diagonal [m], or the angle [degrees] at the corner between them.
    """

    label: str
    start: int
    value: float
    angle: bool = False

    def across(self, lengths: Sequence[float]) -> float:
        """What it says of the diagonal [m]; of an angle by the law of cosines."""
        if not self.angle:
            return self.value
        a, b = lengths[self.start], lengths[(self.start + 1) % 4]
        cosine = math.cos(math.radians(self.value))
        return math.sqrt(max(a * a + b * b - 2 * a * b * cosine, 0.0))

    def wider(self, lengths: Sequence[float], change: float) -> float:
        """By how many degrees an angle has to be wider for a diagonal longer by a change [m]."""
        a, b = lengths[self.start], lengths[(self.start + 1) % 4]
        cosine = (a * a + b * b - (self.across(lengths) + change) ** 2) / (2 * a * b)
        return math.degrees(math.acos(min(max(cosine, -1.0), 1.0))) - self.value


class _Four:
    """Four walls: the first tape across fixes the room, the others check it."""

    def __init__(
        self,
        names: Sequence[str],
        lengths: Sequence[float],
        diagonals: Mapping[tuple[str, str], float],
        turns: Sequence[float | None],
    ) -> None:
        self.names, self.lengths = names, list(lengths)
        self.tapes = [
            _Tape("-".join(ends), i, diagonals[ends])
            for i in (0, 1)
            for ends in ((names[i], names[i + 2]), (names[i + 2], names[i]))
            if ends in diagonals
        ]
        if diagonals and not self.tapes:
            raise CannotClose(
                "the diagonals name no two opposite corners of the room",
                ["-".join(ends) for ends in diagonals],
            )
        self.tapes += [
            _Tape(f"{names[i]}.corner", i, turn, angle=True)
            for i, turn in enumerate(turns)
            if turn is not None
        ]

    def plan(self) -> Plan:
        """The corners, and what the tapes disagree by."""
        corners = self._corners(self.lengths, self.tapes)
        found = Plan(tuple(corners), checked=len(self.tapes) > 1)
        misfits = self._misfits(self.lengths, self.tapes)
        error = max((abs(misfit) for misfit in misfits), default=0.0)
        if not error:
            return found
        suspect, correction = self._suspect(misfits)
        return found._replace(error=error, suspect=suspect, correction=correction)

    def _corners(self, lengths: Sequence[float], tapes: Sequence[_Tape]) -> list[Point]:
        fixing = tapes[0]
        turn = fixing.start
        sides = [*lengths[turn:], *lengths[:turn]]
        labels = [*self.names[turn:], *self.names[:turn]]
        turned = _from_diagonal(sides, fixing.across(lengths), labels, fixing.label)
        return _first_along_x([turned[(i - turn) % 4] for i in range(4)])

    def _misfits(self, lengths: Sequence[float], tapes: Sequence[_Tape]) -> list[float]:
        """What each tape but the fixing one is longer than the plan has it [m].

        An angle that lies as near as angles are read agrees.
        """
        corners = self._corners(lengths, tapes)
        found = []
        for tape in tapes[1:]:
            drawn = distance(corners[tape.start], corners[(tape.start + 2) % 4])
            here = tape.angle and abs(tape.value - _angle(corners, tape.start)) <= ANGLE_READ
            found.append(0.0 if here else tape.across(lengths) - drawn)
        return found

    def _suspect(self, misfits: Sequence[float]) -> tuple[str, float]:
        """The measurement whose change leaves least of the misfits; of equals the least change.

        By slopes: what is left over after the best change of each, by least squares.
        """
        step = 1e-4
        best = (math.inf, math.inf, "", 0.0)
        for label, lengths, tapes in self._moved(step, misfits):
            after = self._misfits(lengths, tapes)
            slopes = [(b - a) / step for a, b in zip(misfits, after, strict=True)]
            steep = sum(slope * slope for slope in slopes)
            if steep < 1e-12:
                continue
            change = -sum(s * m for s, m in zip(slopes, misfits, strict=True)) / steep
            left = sum((m + s * change) ** 2 for s, m in zip(slopes, misfits, strict=True)) ** 0.5
            best = min(best, (round(left, 6), abs(change), label, change))
        suspect = next((t for t in self.tapes if t.angle and t.label == best[2]), None)
        return best[2], suspect.wider(self.lengths, best[3]) if suspect else best[3]

    def _moved(
        self, step: float, misfits: Sequence[float]
    ) -> Iterator[tuple[str, list[float], list[_Tape]]]:
        """Every measurement that may be wrong, longer by a step [m] in its turn."""
        for i, name in enumerate(self.names):
            moved = list(self.lengths)
            moved[i] += step
            yield name, moved, self.tapes
        for i, tape in enumerate(self.tapes):
            if tape.angle and i and not misfits[i - 1]:
                continue  # it agrees
            longer = tape._replace(value=tape.across(self.lengths) + step, angle=False)
            yield tape.label, self.lengths, [*self.tapes[:i], longer, *self.tapes[i + 1 :]]


def _angle(corners: Sequence[Point], start: int) -> float:
    """The inside angle [degrees] at the right end of a wall."""
    before, at, after = (corners[(start + i) % 4] for i in range(3))
    one = math.atan2(before[1] - at[1], before[0] - at[0])
    other = math.atan2(after[1] - at[1], after[0] - at[0])
    return math.degrees(other - one) % 360.0


def _from_diagonal(
    lengths: Sequence[float], diagonal: float, labels: Sequence[str], across: str
) -> list[Point]:
    """Four corners from four sides and the diagonal from the first corner to the third."""
    a, b, c, d = lengths
    start = (0.0, 0.0)
    second = (a, 0.0)
    third = _apex(start, second, diagonal, b, (*labels[:2], across), below=True)
    fourth = _apex(third, start, c, d, (*labels[2:], across), below=False)
    return [start, second, third, fourth]


def _apex(
    p: Point, q: Point, from_p: float, from_q: float, tapes: tuple[str, ...], *, below: bool
) -> Point:
    """The point at given distances from two others, on the right of the way from p to q."""
    base = distance(p, q)
    sides = sorted((base, from_p, from_q))
    if sides[2] > sides[0] + sides[1] + CLOSE or base < CLOSE:
        raise CannotClose(
            f"{', '.join(tapes[:2])} and {tapes[2]} make no triangle: one of these tapes is "
            "misread",
            tapes,
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


# ------------------------------------------------------------------ any other room


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
