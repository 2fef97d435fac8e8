"""What else sits in and on a wall, seen from the front: backing, devices, lights, old things."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import isclose

from spec.draw.fitting import Fitting
from spec.draw.openings import window
from spec.draw.outline import hatched, rectangle
from spec.draw.scene import Circle, Point, Polygon, Polyline, Shape
from spec.job.node import Node

_HATCH = 3.0
"""Distance of hatching lines on paper [mm]."""
_LADDER, _RAIL = 400.0, 30.0
"""Width of a ladder and of its rails and rungs as drawn [mm]; common practice, no source."""


def backing(it: Fitting) -> Iterator[Shape]:
    """Dashed, hatched where it is the reader's: it is behind the board."""
    yield it.outline(it.hidden)
    if it.own:
        yield from hatched(it.box, it.paper.real(_HATCH), it.hidden, it.cites)


def existing(it: Fitting) -> Iterator[Shape]:
    """What is there now: solid where it stays, dashed and crossed where it goes."""
    x1, y1, x2, y2 = it.box
    if goes(it.node):
        yield it.outline(it.hidden)
        yield Polyline(((x1, y1), (x2, y2)), it.hidden, it.cites)
        yield Polyline(((x1, y2), (x2, y1)), it.hidden, it.cites)
    elif it.node.kind == "window":
        yield from window(it)
    else:
        yield it.outline(it.pen, "light")


def goes(node: Node) -> bool:
    """Whether an existing thing leaves its place."""
    actions = node.words("action", ()) if node.has("action") else ()
    return any(a in ("remove", "dispose", "store", "move") for a in actions)


def device(it: Fitting) -> Iterator[Shape]:
    """A plate to scale: a receptacle's two slots, a plate's gangs."""
    x1, y1, x2, y2 = it.box
    yield it.outline(it.pen, "dark" if it.own else "light")
    gangs = len(it.node.group("left_to_right"))
    for k in range(1, gangs):
        x = x1 + (x2 - x1) * k / gangs
        yield Polyline(((x, y1), (x, y2)), it.fine, it.cites)
    if it.node.kind == "receptacle":
        radius = min(x2 - x1, y2 - y1) * 0.2
        for share in (0.3, 0.7):
            center = ((x1 + x2) / 2, y1 + (y2 - y1) * share)
            yield Circle(center, radius, it.fine, "paper", it.cites)


def strip(it: Fitting, left: float, right: float, level: float) -> Iterator[Shape]:
    """A strip as a thick line at its height."""
    half = it.paper.real(0.35)
    box = (left, level - half, right, level + half)
    yield Polygon(rectangle(box), it.fine, "dark" if it.own else "mid", it.cites)


def light(it: Fitting) -> Iterator[Shape]:
    """A luminaire as a crossed circle."""
    x1, y1, x2, y2 = it.box
    radius = max(min(x2 - x1, y2 - y1) / 2, it.paper.real(1.2))
    yield from luminaire(((x1 + x2) / 2, (y1 + y2) / 2), radius, it)


def luminaire(at: Point, radius: float, it: Fitting) -> Iterator[Shape]:
    """A circle with a cross."""
    x, y = at
    yield Circle(at, radius, it.pen, "paper", it.cites)
    yield Polyline(((x - radius, y), (x + radius, y)), it.fine, it.cites)
    yield Polyline(((x, y - radius), (x, y + radius)), it.fine, it.cites)


def fixture(it: Fitting) -> Iterator[Shape]:
    """A ladder with its rail, a mirror, or any other thing on the wall."""
    x1, _, x2, y2 = it.box
    if it.node.kind == "ladder":
        yield from _ladder(it)
        return
    yield it.outline(it.pen, "glass" if it.node.kind == "mirror" else "paper")
    if it.node.kind == "mirror":
        step = (x2 - x1) * 0.12
        for k in (0.0, step):
            yield Polyline(
                ((x1 + step + k, y2 - 4 * step), (x1 + 3 * step + k, y2 - 2 * step)), it.fine
            )


def _ladder(it: Fitting) -> Iterator[Shape]:
    x1, _, x2, _ = it.box
    rail = it.length("rail_aff", it.box[3])
    half = it.paper.real(0.4)
    yield Polygon(rectangle((x1, rail - half, x2, rail + half)), it.fine, "dark", it.cites)
    if not it.own:
        return
    parks = it.node.word("parks") if it.node.has("parks") else ""
    left = x2 - _LADDER if "right" in parks else x1
    y = 250.0
    while y < rail - 100:
        box = (left, y - _RAIL / 2, left + _LADDER, y + _RAIL / 2)
        yield Polygon(rectangle(box), "thin", "mid", it.cites)
        y += 280.0
    for x in (left, left + _LADDER - _RAIL):
        yield Polygon(rectangle((x, 0, x + _RAIL, rail)), "thin", "mid", it.cites)


def hole(it: Fitting) -> Iterator[Shape]:
    """A circle with a cross through it; one that is wider than high, or higher, as cut."""
    x1, y1, x2, y2 = it.box
    if not isclose(x2 - x1, y2 - y1, abs_tol=1.0):
        yield it.outline(it.pen, "paper")
        yield Polyline(((x1, y1), (x2, y2)), it.fine, it.cites)
        yield Polyline(((x1, y2), (x2, y1)), it.fine, it.cites)
        return
    x, y, r = (x1 + x2) / 2, (y1 + y2) / 2, max((x2 - x1) / 2, it.paper.real(0.8))
    yield Circle((x, y), r, it.pen, "paper", it.cites)
    d = r * 0.707
    yield Polyline(((x - d, y - d), (x + d, y + d)), it.fine, it.cites)
    yield Polyline(((x - d, y + d), (x + d, y - d)), it.fine, it.cites)


def plain(it: Fitting) -> Iterator[Shape]:
    """Anything else: its outline."""
    yield it.outline(it.pen, "light")


DRAWN: dict[str, Callable[[Fitting], Iterator[Shape]]] = {
    "backing": backing,
    "existing": existing,
    "devices": device,
    "fixtures": fixture,
    "holes": hole,
}
"""How the things of a heading are drawn; what is not here is `plain`."""
