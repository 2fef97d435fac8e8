"""Quantities taken off."""

from __future__ import annotations

import math
from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spec.derive.formulas import takeoff
from spec.derive.formulas.range import NotCovered, OutOfRange

LENGTHS = st.lists(st.floats(0.1, 3.0), min_size=1, max_size=25)


@given(LENGTHS, st.floats(0.0, 0.005))
def test_every_length_is_cut_once_and_no_stock_is_overdrawn(
    lengths: list[float], kerf: float
) -> None:
    found = takeoff.cut_from_stock(lengths, 3.0, kerf)
    assert Counter(length for bar in found.stock for length in bar) == Counter(lengths)
    for bar, offcut in zip(found.stock, found.offcuts, strict=True):
        used = sum(bar) + kerf * (len(bar) - 1)
        assert used <= 3.0 + 1e-6
        assert offcut == pytest.approx(max(0.0, 3.0 - sum(bar) - kerf * len(bar)), abs=1e-9)
    least = math.ceil(sum(lengths) / 3.0 - 1e-9)
    assert len(found.stock) >= least
    if kerf == 0.0:
        assert len(found.stock) <= 2 * least  # no two bars are both half empty


@given(st.floats(0.1, 200.0), st.floats(0.0, 0.3), st.floats(0.5, 6.0))
def test_pieces_cover_and_one_less_does_not(net: float, waste: float, piece: float) -> None:
    found = takeoff.area_in(net, waste, piece)
    assert found.pieces * piece >= found.gross * (1 - 1e-6)
    assert (found.pieces - 1) * piece < found.gross
    assert found.gross == pytest.approx(net * (1 + waste))


def test_what_was_made_is_said() -> None:
    found = takeoff.area_in(10.0, 0.12, 0.1858, "tile")
    assert found.made == "10.00 m² + 12% = 11.20 m², over 0.186 m² each, rounded up"


def test_a_whole_number_of_sheets_is_not_rounded_past_itself() -> None:
    assert takeoff.area_in(0.3, 0.0, 0.1).pieces == 3
    assert takeoff.length_in(7.2, 0.0, 2.4).pieces == 3


def test_joints_make_tiles_go_further() -> None:
    tight, jointed = (takeoff.tiles(100.0, 0.0, (0.3, 0.6), j).pieces for j in (0.0, 0.01))
    assert (tight, jointed) == (556, math.ceil(100 / (0.31 * 0.61)))


def test_laps_cost_membrane() -> None:
    plain, lapped = (takeoff.rolls(100.0, 0.0, 1.0, 10.0, lap).pieces for lap in (0.0, 0.15))
    assert (plain, lapped) == (10, 12)
    with pytest.raises(NotCovered, match="lap is as wide"):
        takeoff.rolls(100.0, 0.0, 0.15, 10.0, 0.15)


def test_openings_larger_than_their_wall_are_refused() -> None:
    assert takeoff.net_area(2.0, [1.0, 1.0]) == 0.0
    assert takeoff.net_area(10.0, [2.0, 0.5]) == pytest.approx(7.5)
    # .1 + .2 is a hair over .3 in binary, and just .3 in life
    assert takeoff.net_area(0.3, [0.1, 0.2]) == 0.0
    with pytest.raises(NotCovered, match="larger than the surface"):
        takeoff.net_area(2.0, [1.5, 1.0])


def test_a_length_longer_than_stock_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"length is 3.2 m; this holds from 0 to 3 m"):
        takeoff.cut_from_stock([1.0, 3.2], 3.0, 0.003)


def test_counts_and_coats() -> None:
    assert takeoff.count(14, 1).pieces == 15
    assert takeoff.count(14).pieces == takeoff.count(14).gross == 14
    assert takeoff.coverage(30.0, 0.0, 1, 10.0) == pytest.approx(3.0)
    with pytest.raises(NotCovered, match="one coat or more"):
        takeoff.coverage(30.0, 0.0, 0, 10.0)
    assert takeoff.coverage(30.0, 0.1, 2, 11.0) == pytest.approx(6.0)


def test_a_narrow_tape_covers_what_its_lap_leaves() -> None:
    # .1 m wide with .05 m lapped: 1.5 m² of a 30 m roll; and .05 m² of one of a meter
    assert takeoff.rolls(3.0, 0.0, 0.1, 30.0, 0.05).pieces == 2
    assert takeoff.rolls(0.1, 0.0, 0.1, 1.0, 0.05).pieces == 2


def test_the_longest_are_cut_first() -> None:
    # first fit by size: 2 + 1 and 2 + 1; in the order given 1 + 1 would leave two bars of 2 besides
    assert len(takeoff.cut_from_stock([1.0, 1.0, 2.0, 2.0], 3.0, 0.0).stock) == 2


def test_a_length_that_just_fits_goes_in_and_an_offcut_is_never_less_than_nothing() -> None:
    # .1 + .2 is a hair over .3 in binary
    found = takeoff.cut_from_stock([0.2, 0.1], 0.3, 0.0)
    assert (found.stock, found.offcuts) == (((0.2, 0.1),), (0.0,))
    # the saw finds no wood behind the last length
    assert takeoff.cut_from_stock([2.999], 3.0, 0.003).offcuts == (0.0,)
