"""Cells and bins."""

from __future__ import annotations

import cmath
import itertools
import math
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import MultiPoint, Polygon

from spec.derive.formulas import bins, storage
from spec.derive.formulas.range import NotCovered, OutOfRange

DIAMETER = 0.080


def square(side: float, turned: float = 0.0) -> list[tuple[float, float]]:
    a = math.radians(turned)
    corners = [(0.0, 0.0), (side, 0.0), (side, side), (0.0, side)]
    return [
        (x * math.cos(a) - y * math.sin(a), x * math.sin(a) + y * math.cos(a)) for x, y in corners
    ]


@settings(deadline=None)
@given(st.floats(0.081, 0.7), st.floats(0.0, 90.0))
def test_a_stack_is_never_over_the_bound_and_never_under_rows_and_columns(
    side: float, turned: float
) -> None:
    found = bins.in_bin(square(side, turned), DIAMETER)
    assert int(side / DIAMETER) ** 2 <= found.practical <= found.bound
    assert found.bound <= bins.square_bound(side, DIAMETER)


@settings(deadline=None)
@given(st.lists(st.tuples(st.floats(0.0, 0.6), st.floats(0.0, 0.6)), min_size=3, max_size=12))
def test_any_convex_bin_holds_its_stack_within_the_bound(
    points: list[tuple[float, float]],
) -> None:
    hull = MultiPoint(points).convex_hull
    if not isinstance(hull, Polygon) or hull.area < 1e-4:
        return
    corners = [(x, y) for x, y in hull.exterior.coords[:-1]]
    found = bins.in_bin(corners, DIAMETER)
    assert 0 <= found.practical <= found.bound
    # the axes lie where shapely puts them (GEOS drops rooms narrower than about 1 %)
    room = hull.buffer(-DIAMETER / 2, join_style="mitre", mitre_limit=1e6)
    assert found.inset == pytest.approx(room.area, abs=1e-4)
    # room for a bottle's area each, at the very least
    assert found.practical * math.pi / 4 * DIAMETER**2 <= hull.area * (1 + 1e-9)


def test_stacks_hold_their_distance_and_stay_inside() -> None:
    corners = [(0.0, 0.0), (0.61, 0.0), (0.305, 0.42)]
    room = bins._inset(corners, DIAMETER)[2]
    for stack in bins._stacks(room, DIAMETER):
        for i, a in enumerate(stack):
            assert all(math.dist(a, b) >= DIAMETER * (1 - 1e-9) for b in stack[:i])


def test_a_bin_of_just_one_bottle_and_one_too_small() -> None:
    assert bins.in_bin(square(DIAMETER), DIAMETER).practical == 1
    assert bins.in_bin(square(DIAMETER * 0.99), DIAMETER) == bins.Bin(0, 0, 0.0, 0.0)


def test_staggered_rows_beat_square_ones_in_a_wide_low_bin() -> None:
    # 10 wide, and three rows in 1 + 2 x .866 diameters: 10 + 9 + 10 instead of 2 x 10
    corners = [(0.0, 0.0), (0.8, 0.0), (0.8, 0.2186), (0.0, 0.2186)]
    assert bins.in_bin(corners, DIAMETER).practical == 29


def ring(corners: int, side: float, turned: float = 0.0) -> list[tuple[float, float]]:
    """A regular section in which bottle axes have a regular polygon with so many diameters a side.

    The walls stand half a diameter outside of it.
    """
    middle = math.pi / corners
    radius = DIAMETER * (side / 2.0 + 0.5 * math.tan(middle)) / math.sin(middle)
    return [
        (radius * math.cos(a), radius * math.sin(a))
        for a in (turned + 2.0 * math.pi * i / corners for i in range(corners))
    ]


@pytest.mark.parametrize("side", [1, 2, 3, 4])
@pytest.mark.parametrize("turned", [0.0, 0.4, 2.1])
@pytest.mark.parametrize("backward", [False, True])
def test_triangles_and_hexagons_hold_their_numbers_and_no_more_can_go_in(
    side: int, turned: float, backward: bool
) -> None:
    # triangular numbers, and the centered hexagonal ones: there Oler's bound is reached (Oler 1961)
    for corners, count in ((3, (side + 1) * (side + 2) // 2), (6, 3 * side * (side + 1) + 1)):
        section = ring(corners, side, turned)
        found = bins.in_bin(section[::-1] if backward else section, DIAMETER)
        assert (found.practical, found.bound) == (count, count)
        perimeter = corners * side * DIAMETER
        assert found.around == pytest.approx(perimeter, rel=1e-4)
        # a hundredth less of side, and both fall short
        less = bins.in_bin(ring(corners, side - 0.01, turned), DIAMETER)
        assert less.practical < count
        assert less.bound < count


def test_a_bin_and_its_mirror_image_hold_alike() -> None:
    draw = random.Random(1961)
    for _ in range(40):
        points = [(draw.uniform(0.0, 0.5), draw.uniform(0.0, 0.5)) for _ in range(5)]
        corners = [(x, y) for x, y in MultiPoint(points).convex_hull.exterior.coords[:-1]]
        mirrored = [(-x, y) for x, y in corners]
        one, other = bins.in_bin(corners, DIAMETER), bins.in_bin(mirrored, DIAMETER)
        assert (one.practical, one.bound) == (other.practical, other.bound)


def test_a_long_bin_two_and_a_half_wide_is_filled_in_staggered_pairs() -> None:
    # twenty diameters long: rows of two, .866 apart: 1 + 19/.866 = 22 of them, not twenty
    length, width = 20.0 * DIAMETER, 2.5 * DIAMETER
    corners = [(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)]
    assert bins.in_bin(corners, DIAMETER).practical == 44


@pytest.mark.parametrize(("ratio", "count"), [(4.0, 17), (4.2, 19), (5.0, 27), (9.0, 90)])
def test_large_squares_by_olers_bound(ratio: float, count: int) -> None:
    # by hand: 1.1547 k² + 2 k + 1 with k a diameter less than the side, rounded down
    assert bins.square_bound(ratio, 1.0) == count
    corners = [(0.0, 0.0), (ratio, 0.0), (ratio, ratio), (0.0, ratio)]
    assert bins.in_bin(corners, 1.0).bound == count


def test_a_square_is_bounded_by_the_published_packings_and_its_like_are_not() -> None:
    # five in a square of 2.5 diameters; Oler's bound alone would let in six
    assert bins.convex_bound(square(2.5 * DIAMETER), DIAMETER) == 6
    assert bins.in_bin(square(2.5 * DIAMETER, 20.0), DIAMETER).bound == 5
    side = 2.5 * DIAMETER
    leaning, lifted = side / 2.0, side * math.sqrt(3.0) / 2.0
    # hardly leaning, and more room for six than a square has
    rhombus = [
        (0.0, 0.0),
        (side, 0.0),
        (side * 1.08, side * math.sqrt(1.0 - 0.08**2)),
        (side * 0.08, side * math.sqrt(1.0 - 0.08**2)),
    ]
    assert bins.convex_bound(rhombus, DIAMETER) == 6
    # three sides alike and the diagonals alike
    trapezoid = [(0.0, 0.0), (2.0 * side, 0.0), (side + leaning, lifted), (leaning, lifted)]
    rectangle = [(0.0, 0.0), (1.2 * side, 0.0), (1.2 * side, side), (0.0, side)]
    for like in (rhombus, trapezoid, rectangle):
        for turn in range(4):
            section = [*like[turn:], *like[:turn]]
            assert bins.in_bin(section, DIAMETER).bound == bins.convex_bound(section, DIAMETER)


def test_a_bin_too_narrow_for_one_bottle_bounds_none() -> None:
    assert bins.convex_bound(square(DIAMETER * 0.99), DIAMETER) == 0
    assert bins.convex_bound([(0, 0), (0.8, 0), (0.8, 0.079), (0, 0.079)], DIAMETER) == 0


@pytest.mark.parametrize(
    "corners",
    [
        [],
        [(0, 0), (1, 0), (0.2, 0.2), (0, 1)],
        [(0, 0), (1, 1), (1, 0), (0, 1)],
        [(0, 0), (1, 0)],
        [(0, 0), (1, 0), (2, 0)],
    ],
    ids=["none", "dented", "crossed", "two corners", "flat"],
)
def test_a_section_that_is_not_convex_is_refused(corners: list[tuple[float, float]]) -> None:
    with pytest.raises(NotCovered, match="not convex"):
        bins.convex_bound(corners, DIAMETER)


@given(st.integers(1, 40), st.floats(0.05, 0.2))
def test_cells_fill_what_they_were_spaced_for(count: int, spacing: float) -> None:
    clear = count * spacing
    assert storage.pitch(clear, count) == pytest.approx(spacing)


def test_two_bottles_deep_in_26_in() -> None:
    inch = 0.0254
    assert storage.bottles_deep(26 * inch, 12 * inch) == 2
    assert storage.bottles_deep(23 * inch, 12 * inch) == 1
    assert storage.bottles_deep(23 * inch, 12 * inch, overhang=inch) == 2


@given(st.floats(0.2, 0.4), st.floats(0.06, 0.12), st.floats(0.0, 90.0))
def test_a_tilted_bottle_never_takes_less_than_its_diagonal_allows(
    length: float, diameter: float, angle: float
) -> None:
    found = storage.tilted(length, diameter, angle)
    assert max(found.depth, found.height) <= math.hypot(length, diameter) * (1 + 1e-9)
    assert found.depth**2 + found.height**2 >= length**2 + diameter**2 - 1e-9


def test_a_corner_is_tight_at_its_inner_line() -> None:
    assert storage.corner_pitch(0.3, 7) < storage.corner_pitch(0.8, 7)
    assert storage.corner_pitch(0.8, 7) * 7 == pytest.approx(math.pi / 2 * 0.8)


def test_cells_are_columns_by_rows_by_depth() -> None:
    counted = sum(1 for _ in itertools.product(range(12), range(8), range(2)))
    assert storage.cells(12, 8, 2) == counted == 192
    assert storage.cells(12, 8) == 96


@given(st.floats(0.2, 0.4), st.floats(0.06, 0.12), st.floats(0.0, 90.0))
def test_a_tilted_bottle_takes_the_box_round_its_turned_corners(
    length: float, diameter: float, angle: float
) -> None:
    turn = cmath.rect(1.0, math.radians(angle))
    corners = [complex(x, y) * turn for x in (0.0, length) for y in (0.0, diameter)]
    across, up = [c.real for c in corners], [c.imag for c in corners]
    found = storage.tilted(length, diameter, angle)
    assert found.depth == pytest.approx(max(across) - min(across))
    assert found.height == pytest.approx(max(up) - min(up))


def test_columns_cannot_be_less_than_none() -> None:
    with pytest.raises(OutOfRange):
        storage.cells(-1, 8)


def test_fills_of_the_united_states_and_the_european_union() -> None:
    for fill in (0.000375, 0.00075, 0.0015):
        assert fill in storage.FILLS_US
        assert fill in storage.FILLS_EU


@pytest.mark.parametrize("size", storage.BOTTLES)
def test_a_preset_bottle_can_be(size: str) -> None:
    bottle = storage.BOTTLES[size]
    outside = math.pi / 4 * bottle.diameter**2 * bottle.length
    assert 0.35 * outside < bottle.fill < outside
    assert bottle.fill in storage.FILLS_US


@pytest.mark.parametrize(
    ("wide", "high", "diameter"),
    [
        (0.6, 0.4, 0.08),
        (0.61, 0.37, 0.076),
        (1.0, 0.5, 0.125),
        (0.8, 0.2186, 0.08),
        (2.0, 1.0, 0.25),
    ],
)
def test_a_corner_in_the_middle_of_a_straight_side_changes_nothing(
    wide: float, high: float, diameter: float
) -> None:
    # the same section, drawn with a point more on each of its sides
    plain = [(0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high)]
    dotted = [
        point
        for a, b in zip(plain, [*plain[1:], plain[0]], strict=True)
        for point in (a, ((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0))
    ]
    one, other = bins.in_bin(plain, diameter), bins.in_bin(dotted, diameter)
    assert (other.practical, other.bound) == (one.practical, one.bound)
    assert (other.inset, other.around) == pytest.approx((one.inset, one.around))
    # axes lie in the rectangle that is a diameter smaller each way
    assert one.inset == pytest.approx((wide - diameter) * (high - diameter), rel=1e-4)
