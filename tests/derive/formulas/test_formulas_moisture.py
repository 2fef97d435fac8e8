"""Vapor: the hull against an independent iteration, conservation, symmetry, and verdicts."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spec.derive.formulas import air, moisture
from spec.derive.formulas.moisture import DAY, PERMEABILITY, Layer, Month
from spec.derive.formulas.range import NotCovered

FILMS = (0.25, 0.04)
LAYERS = st.lists(
    st.builds(Layer, st.floats(0.0, 3.0), st.floats(0.01, 50.0)), min_size=1, max_size=5
)
MONTHS = st.builds(
    Month, st.floats(8.0, 22.0), st.floats(0.3, 0.8), st.floats(-15.0, 32.0), st.floats(0.3, 0.95)
)
BOARD, WOOL, RETARDER = Layer(0.05, 0.1), Layer(4.0, 0.14), Layer(0.0, 50.0)

# Monthly means of an invented northern town and of an invented warm river town.
NORTH = [-5, -5, -1, 5, 11, 15, 18, 17, 12, 6, 1, -3]
NORTH_HUMIDITY = [86, 84, 78, 70, 65, 68, 72, 76, 80, 84, 87, 88]
SOUTH = [11, 13, 16, 20, 24, 27, 28, 28, 26, 21, 16, 12]
SOUTH_HUMIDITY = [74, 72, 71, 72, 74, 76, 78, 79, 78, 74, 75, 76]


def months(room: float, humidity: float, outside: list[int], beyond: list[int]) -> list[Month]:
    return [Month(room, humidity, t, h / 100) for t, h in zip(outside, beyond, strict=True)]


@given(LAYERS, MONTHS)
def test_pressure_never_exceeds_saturation_and_vapor_is_conserved(
    layers: list[Layer], month: Month
) -> None:
    found = moisture.profile(layers, FILMS, month)
    for pressure, limit in zip(found.pressures, found.saturation, strict=True):
        assert pressure <= limit * (1 + 1e-9)
    slopes = [
        (pb - pa) / (b.depth - a.depth)
        for (a, pa), (b, pb) in pairwise(zip(found.planes, found.pressures, strict=True))
    ]
    gained = PERMEABILITY * (slopes[-1] - slopes[0])
    assert sum(found.condensing) == pytest.approx(gained, rel=1e-6, abs=1e-16)
    assert min(found.condensing) >= 0.0


@settings(deadline=None)
@given(LAYERS, MONTHS)
def test_pressures_are_the_lowest_of_all_chords_over_each_place(
    layers: list[Layer], month: Month
) -> None:
    # The convex envelope by brute force: no walk along a hull in it.
    found = moisture.profile(layers, FILMS, month)
    x = [plane.depth for plane in found.planes]
    limit = [found.pressures[0], *found.saturation[1:-1], found.pressures[-1]]
    for k in range(len(x)):
        chords = (
            limit[i] + (limit[j] - limit[i]) * (x[k] - x[i]) / (x[j] - x[i])
            for i in range(k + 1)
            for j in range(max(k, i + 1), len(x))
        )
        assert found.pressures[k] == pytest.approx(min([limit[k], *chords]), rel=1e-9, abs=1e-6)


@given(LAYERS, MONTHS)
def test_seen_from_the_other_side_it_is_the_same(layers: list[Layer], month: Month) -> None:
    one = moisture.profile(layers, FILMS, month)
    turned = Month(month.beyond, month.beyond_humidity, month.room, month.room_humidity)
    other = moisture.profile([*reversed(layers)], (FILMS[1], FILMS[0]), turned)
    assert sum(one.condensing) == pytest.approx(sum(other.condensing), rel=1e-6, abs=1e-15)
    assert turned.drive == pytest.approx(-month.drive)


@settings(deadline=None, max_examples=60)
@given(LAYERS, st.lists(MONTHS, min_size=2, max_size=12))
def test_a_year_ends_with_what_it_says(layers: list[Layer], year: list[Month]) -> None:
    found = moisture.year(layers, FILMS, year)
    assert min(found.water) >= 0.0
    assert max(found.water) == pytest.approx(found.peak)
    assert found.left <= found.peak
    if found.verdict == "dry":
        assert found.peak == 0.0
        assert all(not any(moisture.profile(layers, FILMS, m).condensing) for m in year)
    else:
        assert found.peak > 0.0
        assert found.peak_plane is not None
    if found.verdict in ("dries_out", "accumulates"):
        assert (found.left > 0.0) == (found.verdict == "accumulates")
        assert not found.reverses


def test_splitting_a_month_in_two_changes_nothing() -> None:
    layers = [BOARD, RETARDER, WOOL, BOARD]
    whole = [Month(13.0, 0.6, 24.0, 0.65), Month(13.0, 0.6, 16.0, 0.4)]
    halves = [Month(m.room, m.room_humidity, m.beyond, m.beyond_humidity, m.days / 2)
              for m in whole for _ in range(2)]  # fmt: skip
    one = moisture.year(layers, (0.13, 0.13), whole)
    two = moisture.year(layers, (0.13, 0.13), halves)
    assert two.water[1::2] == pytest.approx(one.water)
    assert two.verdict == one.verdict


def test_a_plane_that_dries_within_the_month_takes_no_more_than_it_held() -> None:
    layers = [BOARD, RETARDER, WOOL, BOARD]
    wet, dry = Month(13.0, 0.6, 24.0, 0.7, 30), Month(13.0, 0.6, 20.0, 0.2, 30)
    found = moisture.year(layers, (0.13, 0.13), [wet, dry])
    rate = sum(moisture.profile(layers, (0.13, 0.13), wet).condensing)
    assert found.water == pytest.approx((rate * 30 * DAY, 0.0))


def test_warm_climate_wants_the_retarder_toward_outdoors() -> None:
    year = months(12.8, 0.60, SOUTH, SOUTH_HUMIDITY)
    right = moisture.year([BOARD, WOOL, RETARDER, BOARD], FILMS, year)
    wrong = moisture.year([BOARD, RETARDER, WOOL, BOARD], FILMS, year)
    assert right.verdict == "dry"
    assert wrong.verdict != "dry"
    assert wrong.peak_plane is not None
    assert wrong.peak_plane.layer in (1, 2, 3)


def test_a_wall_whose_drive_turns_round_and_that_condenses_needs_more_than_this() -> None:
    year = months(12.0, 0.65, NORTH, NORTH_HUMIDITY)
    found = moisture.year([BOARD, WOOL, Layer(0.1, 10.0)], FILMS, year)
    assert found.reverses
    assert found.verdict == "hygrothermal_analysis_required"
    assert found.condensing_months


def test_steady_condensation_accumulates() -> None:
    always = [Month(13.0, 0.6, 26.0, 0.7)] * 12
    found = moisture.year([BOARD, RETARDER, WOOL, BOARD], (0.13, 0.13), always)
    assert found.verdict == "accumulates"
    assert found.left == found.peak == max(found.water)
    assert list(found.water) == sorted(found.water)


@pytest.mark.parametrize("temperature", [-10.0, -5.0, 0.0, 5.0, 12.0, 24.0, 35.0])
def test_saturation_of_this_chapter_is_close_to_ashrae(temperature: float) -> None:
    ours, theirs = moisture.saturation(temperature), air.saturation_pressure(temperature)
    assert ours == pytest.approx(theirs, rel=0.004)


@given(st.floats(0.01, 20.0))
def test_a_sheet_keeps_its_permeance(perms: float) -> None:
    sd = moisture.thickness_from_permeance(perms * moisture.PERM)
    assert moisture.permeance([Layer(0.0, sd)]) == pytest.approx(perms * moisture.PERM)
    two = moisture.permeance([Layer(0.0, sd), Layer(0.0, sd)])
    assert two == pytest.approx(perms * moisture.PERM / 2)


@pytest.mark.parametrize("sd", [0.0, -1.0, math.nan, math.inf])
def test_a_layer_without_vapor_thickness_is_refused(sd: float) -> None:
    with pytest.raises(NotCovered, match="vapor thickness"):
        moisture.profile([Layer(1.0, sd)], FILMS, Month(13.0, 0.6, 24.0, 0.6))
