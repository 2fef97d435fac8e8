"""The widest way over a floor, against free space that shapely makes by buffers."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import union_all
from shapely.geometry import LineString, MultiPolygon, Point, Polygon
from shapely.geometry.base import BaseGeometry

from spec.place.way import Outline, Ways, closest

WALLS: tuple[Outline, ...] = (
    ((0.0, 0.0), (0.0, 3.0)),
    ((0.0, 3.0), (4.0, 3.0)),
    ((4.0, 3.0), (4.0, 0.0)),
    ((4.0, 0.0), (0.0, 0.0)),
)
FROM, TO = (0.6, 0.6), (3.4, 2.4)


def turned(x: float, y: float, wide: float, deep: float, angle: float) -> Outline:
    cos, sin = math.cos(angle), math.sin(angle)
    return tuple(
        (x + (u * wide * cos - v * deep * sin) / 2, y + (u * wide * sin + v * deep * cos) / 2)
        for u, v in ((-1, -1), (1, -1), (1, 1), (-1, 1))
    )


outlines = st.builds(
    turned,
    st.floats(0.2, 3.8),
    st.floats(0.2, 2.8),
    st.floats(0.1, 2.0),
    st.floats(0.1, 2.0),
    st.floats(0.0, math.pi),
)


def shape(outline: Outline) -> BaseGeometry:
    if len(outline) > 2:
        return Polygon(outline)
    return LineString(outline) if len(outline) == 2 else Point(outline[0])


def passes(things: list[Outline], width: float) -> bool:
    """Whether a disc of this width gets from one corner of the room to the other."""
    blocked = union_all([shape(o).buffer(width / 2, quad_segs=64) for o in (*WALLS, *things)])
    free = Polygon([(0, 0), (0, 3), (4, 3), (4, 0)]).difference(blocked)
    parts = free.geoms if isinstance(free, MultiPolygon) else [free]
    return any(part.contains(Point(FROM)) and part.contains(Point(TO)) for part in parts)


@settings(max_examples=150, deadline=None)
@given(st.lists(outlines, min_size=1, max_size=6))
def test_the_narrowest_place_is_where_a_wider_disc_no_longer_passes(things: list[Outline]) -> None:
    most = 0.9
    apart = min(shape(o).distance(Point(p)) for o in things for p in (FROM, TO))
    assume(apart > most / 2 + 0.01)
    gap = Ways([*WALLS, *things], most, [True] * 4 + [False] * len(things)).narrowest(FROM, TO)
    width = most if gap is None else gap.width
    if gap is not None:
        assert math.dist(gap.at_one, gap.at_other) == pytest.approx(gap.width, abs=1e-9)
        assert not passes(things, width + 0.01)
    if width > 0.01:
        assert passes(things, width - 0.01)


@given(outlines, outlines)
def test_the_distance_of_two_outlines(one: Outline, other: Outline) -> None:
    assume(shape(one).distance(shape(other)) > 0)
    width, p, q = closest(one, other)
    assert width == pytest.approx(shape(one).distance(shape(other)), abs=1e-9)
    assert shape(one).distance(Point(p)) < 1e-9
    assert shape(other).distance(Point(q)) < 1e-9


@given(outlines, st.floats(0, 4), st.floats(0, 3))
def test_the_distance_of_a_point(outline: Outline, x: float, y: float) -> None:
    width, _, _ = closest(((x, y),), outline)
    assert width == pytest.approx(shape(outline).distance(Point(x, y)), abs=1e-9)


def test_a_door_in_a_wall_is_passed() -> None:
    split: tuple[Outline, ...] = (((0.0, 0.0), (0.0, 1.0)), ((0.0, 1.6), (0.0, 3.0)))
    ways = Ways([*split, *WALLS[1:]], 0.9, [True] * 5)
    assert ways.narrowest((0.0, 1.3), TO) is None


def test_what_stands_before_a_door_is_the_narrowest_place() -> None:
    split: tuple[Outline, ...] = (((0.0, 0.0), (0.0, 1.0)), ((0.0, 1.6), (0.0, 3.0)))
    table = turned(0.8, 1.3, 1.0, 1.5, 0.0)
    ways = Ways([*split, *WALLS[1:], table], 0.9, [*[True] * 5, False])
    gap = ways.narrowest((0.0, 1.3), TO)
    assert gap is not None and gap.width == pytest.approx(0.3)
    assert 5 in (gap.one, gap.other)
