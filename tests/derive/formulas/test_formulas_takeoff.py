"""Quantities taken off."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spec.derive.formulas import takeoff
from spec.derive.formulas.range import NotCovered


@given(st.floats(0.1, 200.0), st.floats(0.0, 0.3), st.floats(0.5, 6.0))
def test_pieces_cover_and_one_less_does_not(net: float, waste: float, piece: float) -> None:
    found = takeoff.area_in(net, waste, piece)
    assert found.pieces * piece >= found.gross * (1 - 1e-6)
    assert (found.pieces - 1) * piece < found.gross
    assert found.gross == pytest.approx(net * (1 + waste))


def test_a_whole_number_of_sheets_is_not_rounded_past_itself() -> None:
    assert takeoff.area_in(0.3, 0.0, 0.1).pieces == 3


def test_joints_make_tiles_go_further() -> None:
    tight, jointed = (takeoff.tiles(100.0, 0.0, (0.3, 0.6), j).pieces for j in (0.0, 0.01))
    assert (tight, jointed) == (556, math.ceil(100 / (0.31 * 0.61)))


def test_laps_cost_membrane() -> None:
    plain, lapped = (takeoff.rolls(100.0, 0.0, 1.0, 10.0, lap).pieces for lap in (0.0, 0.15))
    assert (plain, lapped) == (10, 12)
    with pytest.raises(NotCovered, match="lap is as wide"):
        takeoff.rolls(100.0, 0.0, 0.15, 10.0, 0.15)


def test_the_waste_has_the_laps_in_it() -> None:
    # 15 % of waste covers a lap of .1 m in 1 m (11 %), not one of .2 m (25 %)
    assert takeoff.rolls(100.0, 0.15, 1.0, 10.0, 0.1).gross == pytest.approx(115.0)
    assert takeoff.rolls(100.0, 0.15, 1.0, 10.0, 0.2).gross == pytest.approx(125.0)


def test_a_narrow_tape_covers_what_its_lap_leaves() -> None:
    # .1 m wide with .05 m lapped: 1.5 m² of a 30 m roll; and .05 m² of one of a meter
    assert takeoff.rolls(3.0, 0.0, 0.1, 30.0, 0.05).pieces == 2
    assert takeoff.rolls(0.1, 0.0, 0.1, 1.0, 0.05).pieces == 2
