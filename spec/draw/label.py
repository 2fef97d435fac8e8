"""Labels that find their place: inside what they name, beside it, or at the end of a leader."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import cos, pi, sin

from spec.draw.paper import Box, Paper, grown, meet
from spec.draw.scene import Label, Point, Polygon, Polyline, Shape

OWN, QUIET = 2.1, 1.6
"""Height of capitals on paper [mm]: what is the reader's, and what is not."""
_EM = 1 / 0.69
_NARROW, _BROAD = " .,:;'|ijlt()/-", "mwMW%@"
"""Letters that take less room than most, and those that take more."""
_LEADING = 1.25
_CLEAR = 0.7
_RINGS = (3.0, 5.5, 8.0, 11.0, 14.0, 18.0, 23.0, 29.0, 36.0, 46.0, 58.0, 72.0)
_WAYS = 16


@dataclass(frozen=True, slots=True)
class Wish:
    """A text and the box of what it names [mm]. `tagged` sets it on a white plate.

    `shorter` is what to write where the text does not fit inside.
    """

    text: str
    box: Box
    cites: frozenset[str]
    own: bool
    tagged: bool = False
    inside: bool = True
    shorter: str = ""


@dataclass(frozen=True, slots=True)
class _Spot:
    at: Point
    half_wide: float
    half_high: float
    angle: float = 0.0
    leader: tuple[Point, Point] | None = None

    @property
    def box(self) -> Box:
        (x, y), w, h = self.at, self.half_wide, self.half_high
        return x - w, y - h, x + w, y + h


def extent(text: str, height: float, strong: bool) -> tuple[float, float]:
    """Width and height on paper [mm] that a text needs, never less than it will take."""
    lines = text.split("\n")
    em = max(height * _EM, 2.12)
    wide = max(sum(map(_advance, line)) for line in lines) * em * (1.05 if strong else 1.0)
    return wide + em * 0.3, em * (0.95 + _LEADING * (len(lines) - 1))


def taken_by(label: Label, paper: Paper) -> Box:
    """The box that a label takes, whichever way it is turned."""
    wide, high = extent(label.text, label.height, label.strong)
    if label.angle:
        wide, high = high, wide
    (x, y), w, h = label.at, paper.real(wide / 2), paper.real(high / 2)
    return x - w, y - h, x + w, y + h


def _advance(letter: str) -> float:
    """Width of a letter in ems, on the generous side."""
    if letter in _NARROW:
        return 0.38
    if letter in _BROAD:
        return 0.88
    return 0.68 if letter.isupper() else 0.58


def labels(wishes: Iterable[Wish], paper: Paper, keep_clear: Iterable[Box] = ()) -> Iterator[Shape]:
    """The labels of all wishes, none over another, nor over a box to keep clear.

    Small things choose first: they have the fewest places.
    """
    taken: list[Box] = []
    clear = list(keep_clear)
    ordered = sorted(
        enumerate(wishes), key=lambda pair: (not pair[1].own, _area(pair[1].box), pair[0])
    )
    for _, wish in ordered:
        text, spot = _find(wish, paper, taken, clear)
        taken.append(spot.box)
        if spot.leader is not None:
            yield Polyline(spot.leader, "dimension", wish.cites)
            taken.append(_around(spot.leader, paper.real(0.3)))
        if wish.tagged:
            x1, y1, x2, y2 = spot.box
            yield Polygon(((x1, y1), (x2, y1), (x2, y2), (x1, y2)), "dimension", "paper")
        height = OWN if wish.own else QUIET
        yield Label(spot.at, text, height, angle=spot.angle, strong=wish.own, cites=wish.cites)


def _area(box: Box) -> float:
    return (box[2] - box[0]) * (box[3] - box[1])


def _around(line: tuple[Point, Point], by: float) -> Box:
    (ax, ay), (bx, by_) = line
    return grown((min(ax, bx), min(ay, by_), max(ax, bx), max(ay, by_)), by)


def _find(wish: Wish, paper: Paper, taken: list[Box], clear: list[Box]) -> tuple[str, _Spot]:
    """The first place that is free; failing that one whose leader crosses a text, not its own."""
    if wish.inside:
        others = [*taken, *(box for box in clear if box != wish.box)]
        for text in dict.fromkeys((wish.text, wish.shorter or wish.text)):
            for spot in _inside(wish, text, paper):
                if not any(meet(spot.box, other) for other in others):
                    return text, spot
    text = (wish.shorter or wish.text) if wish.inside else wish.text
    crossing: _Spot | None = None
    last: _Spot | None = None
    for spot in _outside(wish, text, paper):
        last = spot
        if any(meet(spot.box, other) for other in (*taken, *clear)):
            continue
        if spot.leader is None or not _struck(spot.leader, taken):
            return text, spot
        crossing = crossing or spot
    chosen = crossing or last
    if chosen is None:
        raise AssertionError("there are always places outside")
    return text, chosen


def _half(wish: Wish, text: str, paper: Paper) -> tuple[float, float]:
    wide, high = extent(text, OWN if wish.own else QUIET, wish.own)
    pad = _CLEAR if wish.tagged else 0.2
    return paper.real(wide / 2 + pad), paper.real(high / 2 + pad)


def _inside(wish: Wish, text: str, paper: Paper) -> Iterator[_Spot]:
    x1, y1, x2, y2 = wish.box
    w, h = _half(wish, text, paper)
    wide, high = x2 - x1, y2 - y1
    if 2 * w <= wide and 2 * h <= high:
        for share in (0.5, 0.3, 0.7, 0.15, 0.85):
            for across in (0.5, 0.28, 0.72):
                x = min(max(x1 + wide * across, x1 + w), x2 - w)
                y = min(max(y1 + high * share, y1 + h), y2 - h)
                yield _Spot((x, y), w, h)
    elif "\n" not in text and 2 * h <= wide and 2 * w <= high:
        for share in (0.5, 0.3, 0.7):
            y = min(max(y1 + high * share, y1 + w), y2 - w)
            yield _Spot(((x1 + x2) / 2, y), h, w, 90.0)


def _outside(wish: Wish, text: str, paper: Paper) -> Iterator[_Spot]:
    x1, y1, x2, y2 = wish.box
    w, h = _half(wish, text, paper)
    gap = paper.real(_CLEAR)
    x, y = (x1 + x2) / 2, (y1 + y2) / 2
    beside = [(x, y2 + gap + h), (x2 + gap + w, y), (x, y1 - gap - h), (x1 - gap - w, y)]
    for at in beside:
        yield _Spot(at, w, h, leader=((x, y), _nearest((x, y), at, w, h)) if wish.tagged else None)
    for ring in _RINGS:
        for k in range(_WAYS):
            angle = 2 * pi * (k + 0.5) / _WAYS
            reach_x = (x2 - x1) / 2 + w + paper.real(ring)
            reach_y = (y2 - y1) / 2 + h + paper.real(ring)
            at = (x + reach_x * cos(angle), y + reach_y * sin(angle))
            yield _Spot(at, w, h, leader=_leader(wish.box, at, w, h))


def _leader(box: Box, at: Point, w: float, h: float) -> tuple[Point, Point]:
    """From the nearest point of the box to the nearest point of the text's edge."""
    x1, y1, x2, y2 = box
    foot = (min(max(at[0], x1), x2), min(max(at[1], y1), y2))
    return foot, _nearest(foot, at, w, h)


def _nearest(foot: Point, at: Point, w: float, h: float) -> Point:
    """The point of a text's edge that is nearest to a foot."""
    return min(max(foot[0], at[0] - w), at[0] + w), min(max(foot[1], at[1] - h), at[1] + h)


def _struck(line: tuple[Point, Point], taken: list[Box]) -> bool:
    (ax, ay), (bx, by) = line
    for k in range(13):
        x, y = ax + (bx - ax) * k / 12, ay + (by - ay) * k / 12
        if any(b[0] < x < b[2] and b[1] < y < b[3] for b in taken):
            return True
    return False
