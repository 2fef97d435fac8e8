"""Cells and bins."""

from __future__ import annotations

import math

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


@pytest.mark.parametrize(
    "corners",
    [
        [(0, 0), (1, 0), (0.2, 0.2), (0, 1)],
        [(0, 0), (1, 1), (1, 0), (0, 1)],
        [(0, 0), (1, 0)],
        [(0, 0), (1, 0), (2, 0)],
    ],
    ids=["dented", "crossed", "two corners", "flat"],
)
def test_a_section_that_is_not_convex_is_refused(corners: list[tuple[float, float]]) -> None:
    with pytest.raises(NotCovered, match="not convex"):
        bins.convex_bound(corners, DIAMETER)


@given(st.integers(1, 40), st.floats(0.05, 0.2))
def test_cells_fill_what_they_were_spaced_for(count: int, spacing: float) -> None:
    clear = count * spacing
    assert storage.how_many(clear, spacing) == count
    assert storage.pitch(clear, count) == pytest.approx(spacing)
    assert storage.how_many(clear * 0.999, spacing) == count - 1


def test_12_columns_in_49_and_a_half_inches_take_a_3_1_8_in_bottle() -> None:
    inch = 0.0254
    spacing = storage.pitch(49.5 * inch, 12)
    play = storage.cell_play(spacing, 0.75 * inch, 3.125 * inch)
    assert play == pytest.approx(0.25 * inch)


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
