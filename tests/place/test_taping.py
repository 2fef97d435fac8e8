"""Tapes: an exactly measured room closes, a misread tape is noticed and named."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely.geometry import Polygon

from spec.place.shapes import area_of
from spec.place.taping import CannotClose, Plan, plan

NAMES = ("WA", "WB", "WC", "WD")
Points = list[tuple[float, float]]


@st.composite
def quadrilaterals(draw: st.DrawFn) -> Points:
    """Rooms of 2 to 9 m with corners up to 60 cm out of square, walked clockwise."""
    wide, deep = draw(st.floats(2.5, 9.0)), draw(st.floats(2.5, 9.0))
    off = st.floats(-0.6, 0.6)
    square = [(0.0, 0.0), (wide, 0.0), (wide, -deep), (0.0, -deep)]
    return [(x + draw(off), y + draw(off)) for x, y in square]


def taped(points: Points) -> tuple[list[float], dict[tuple[str, str], float]]:
    sides = [math.dist(p, points[(i + 1) % 4]) for i, p in enumerate(points)]
    diagonals = {
        ("WA", "WC"): math.dist(points[0], points[2]),
        ("WB", "WD"): math.dist(points[1], points[3]),
    }
    return sides, diagonals


SQUARE = [None] * 4
"""No corner taped: square unless the diagonals say otherwise."""


@given(quadrilaterals())
def test_an_exactly_taped_room_closes_and_has_its_area(points: Points) -> None:
    sides, diagonals = taped(points)
    found = plan(NAMES, sides, diagonals, SQUARE)
    assert found.checked and found.error < 1e-9
    assert area_of(found.corners) == pytest.approx(Polygon(points).area, rel=1e-9)
    for i, side in enumerate(sides):
        assert math.dist(found.corners[i], found.corners[(i + 1) % 4]) == pytest.approx(side)


@given(quadrilaterals(), st.sampled_from([("WA", "WC"), ("WC", "WA"), ("WB", "WD"), ("WD", "WB")]))
def test_four_lengths_and_one_diagonal_fix_a_room(points: Points, which: tuple[str, str]) -> None:
    sides, diagonals = taped(points)
    taken = {which: diagonals.get(which) or diagonals[(which[1], which[0])]}
    found = plan(NAMES, sides, taken, SQUARE)
    assert not found.checked and found.error == 0.0
    assert area_of(found.corners) == pytest.approx(Polygon(points).area, rel=1e-9)
    assert found.corners[0] == pytest.approx((0.0, 0.0), abs=1e-9)
    assert found.corners[1][1] == pytest.approx(0.0, abs=1e-9) and found.corners[1][0] > 0


@given(quadrilaterals(), st.integers(0, 5), st.sampled_from([-0.3, -0.1, 0.1, 0.3]))
def test_a_misread_tape_shows_in_the_closing_error(points: Points, which: int, off: float) -> None:
    sides, diagonals = taped(points)
    values = [*sides, *diagonals.values()]
    values[which] += off
    try:
        found = plan(NAMES, values[:4], dict(zip(diagonals, values[4:], strict=True)), SQUARE)
    except CannotClose:
        return
    assert found.error > 0.005 and found.suspect
    assert abs(found.correction) <= abs(off) * 1.5  # never a larger change than the one made


@given(quadrilaterals(), st.integers(0, 5), st.sampled_from([-0.1, 0.1]))
def test_putting_the_suspect_right_closes_the_room(points: Points, which: int, off: float) -> None:
    sides, diagonals = taped(points)
    labels = [*NAMES, "WA-WC", "WB-WD"]
    values = [*sides, *diagonals.values()]
    values[which] += off

    def closed(tapes: list[float]) -> Plan:
        return plan(NAMES, tapes[:4], dict(zip(diagonals, tapes[4:], strict=True)), SQUARE)

    try:
        found = closed(values)
    except CannotClose:
        assume(False)
        return
    values[labels.index(found.suspect)] += found.correction
    assert closed(values).error < found.error / 5


def test_sides_that_make_no_triangle_are_refused_by_name() -> None:
    with pytest.raises(CannotClose, match="WA, WB and WA-WC make no triangle") as refused:
        plan(NAMES, [3.0, 2.0, 3.0, 2.0], {("WA", "WC"): 9.0}, SQUARE)
    assert refused.value.tapes == ("WA", "WB", "WA-WC")


def test_a_diagonal_between_neighbors_fixes_nothing() -> None:
    with pytest.raises(CannotClose, match="opposite corners"):
        plan(NAMES, [3.0, 2.0, 3.0, 2.0], {("WA", "WB"): 3.0}, SQUARE)


def test_without_a_diagonal_corners_are_taken_as_square_and_the_gap_is_the_error() -> None:
    found = plan(NAMES, [4.0, 3.0, 4.05, 3.0], {}, SQUARE)
    assert found.error == pytest.approx(0.05)
    assert found.suspect in ("WA", "WC") and abs(found.correction) == pytest.approx(0.05)
    exact = plan(NAMES, [4.0, 3.0, 4.0, 3.0], {}, SQUARE)
    assert exact.error < 1e-12 and area_of(exact.corners) == pytest.approx(12.0)


def angle(points: Points, at: int) -> float:
    """The inside angle [degrees] at the right end of a wall."""
    before, here, after = (np.array(points[(at + i) % 4]) for i in range(3))
    one, other = before - here, after - here
    return math.degrees(math.acos(one @ other / np.linalg.norm(one) / np.linalg.norm(other)))


def turned(points: Points, at: int, off: float = 0.0) -> list[float | None]:
    return [angle(points, i) + off if i == at else None for i in range(4)]


@given(quadrilaterals(), st.integers(0, 3))
def test_four_lengths_and_one_angle_fix_a_room(points: Points, at: int) -> None:
    sides, _ = taped(points)
    found = plan(NAMES, sides, {}, turned(points, at))
    assert not found.checked and found.error == 0.0
    assert area_of(found.corners) == pytest.approx(Polygon(points).area, rel=1e-6)


@given(quadrilaterals(), st.integers(0, 3), st.sampled_from([-20.0, -3.0, 3.0, 20.0]))
def test_an_angle_checks_a_room_that_has_diagonals(points: Points, at: int, off: float) -> None:
    sides, diagonals = taped(points)
    agreeing = plan(NAMES, sides, diagonals, turned(points, at, 0.3))
    assert agreeing.checked and agreeing.error < 1e-9  # angles are read to half a degree
    wrong = plan(NAMES, sides, diagonals, turned(points, at, off))
    assert wrong.error > 0.02
    assert wrong.suspect == f"{NAMES[at]}.corner"
    assert wrong.correction == pytest.approx(-off, rel=0.25)


def test_walls_that_enclose_nothing_are_refused() -> None:
    with pytest.raises(CannotClose, match="WB has no length"):
        plan(NAMES, [3.0, 0.0, 3.0, 2.0], {}, SQUARE)
    with pytest.raises(CannotClose, match="enclose no floor"):
        plan(("WA", "WB", "WC"), [3.0, 2.0, 3.0], {}, [180.0] * 3)
    with pytest.raises(CannotClose, match="enclose no floor"):
        plan(("WA", "WB", "WC"), [3.0, 3.0, 3.0], {}, [300.0] * 3)


L_NAMES = ("WA", "WB", "WC", "WC1", "WD", "WE")


@given(st.floats(4.0, 9.0), st.floats(4.0, 9.0), st.floats(0.5, 3.0), st.floats(0.5, 3.0))
def test_an_l_shape_with_a_corner_of_270(
    wide: float, deep: float, cut: float, cut_deep: float
) -> None:
    lengths = [wide, deep - cut_deep, cut, cut_deep, wide - cut, deep]
    found = plan(L_NAMES, lengths, {}, [90, 90, 270, 90, 90, 90])
    assert found.error < 1e-9
    wanted = Polygon(
        [
            (0, 0),
            (wide, 0),
            (wide, cut_deep - deep),
            (wide - cut, cut_deep - deep),
            (wide - cut, -deep),
            (0, -deep),
        ]
    )
    assert area_of(found.corners) == pytest.approx(wanted.area, rel=1e-9)
    assert Polygon(found.corners).equals_exact(wanted, 1e-6)


@given(st.integers(0, 5), st.sampled_from([-0.2, 0.2]))
def test_a_misread_wall_of_an_l_shape_is_among_those_that_run_along_the_gap(
    which: int, off: float
) -> None:
    lengths = [6.0, 3.0, 2.0, 2.0, 4.0, 5.0]
    lengths[which] += off
    found = plan(L_NAMES, lengths, {}, [90, 90, 270, 90, 90, 90])
    assert found.error == pytest.approx(0.2)
    parallel = {0: ("WA", "WC", "WD"), 1: ("WB", "WC1", "WE")}
    assert found.suspect in parallel[0 if which in (0, 2, 4) else 1]
    assert abs(found.correction) == pytest.approx(0.2)


def test_a_diagonal_checks_an_l_shape_too() -> None:
    lengths = [6.0, 3.0, 2.0, 2.0, 4.0, 5.0]
    turns = [90.0, 90.0, 270.0, 90.0, 90.0, 90.0]
    true = math.dist((0, 0), (4, -5))
    assert plan(L_NAMES, lengths, {("WA", "WD"): true}, turns).error < 1e-9
    bad = plan(L_NAMES, lengths, {("WA", "WD"): true + 0.1}, turns)
    assert bad.error == pytest.approx(0.1)
    assert bad.suspect == "WA-WD" and bad.correction == pytest.approx(-0.1)


@given(st.floats(60.0, 120.0))
def test_angles_of_a_triangle_add_up_or_the_gap_says_so(angle: float) -> None:
    side = 4.0
    base = 2 * side * math.sin(math.radians(angle) / 2)
    other = (180.0 - angle) / 2
    found = plan(("WA", "WB", "WC"), [side, base, side], {}, [other, other, angle])
    assert found.error < 1e-9
    assert area_of(found.corners) == pytest.approx(side * side * math.sin(math.radians(angle)) / 2)
