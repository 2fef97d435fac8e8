"""Slabs and basements."""

from __future__ import annotations

import math
from typing import Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spec.derive.formulas import ground
from spec.derive.formulas.range import OutOfRange

DIMENSIONS, THICKNESSES, SOILS = st.floats(1.0, 20.0), st.floats(0.3, 6.0), st.floats(1.0, 3.5)


@given(DIMENSIONS, THICKNESSES, SOILS, st.floats(0.1, 3.0))
def test_a_better_floor_and_a_deeper_one_lose_less(
    dimension: float, thickness: float, soil: float, depth: float
) -> None:
    plain = ground.basement_floor(dimension, thickness, soil, 0.0)
    # the two equations of the standard meet within a few percent where dt = B'
    assert ground.basement_floor(dimension, thickness * 1.2, soil, 0.0) < plain * 1.02
    assert ground.basement_floor(dimension, thickness, soil, depth) < plain * 1.03


@given(DIMENSIONS, THICKNESSES, SOILS, st.floats(0.3, 2.0))
def test_edge_insulation_helps_and_more_so_upright(
    dimension: float, thickness: float, soil: float, reach: float
) -> None:
    edges = [
        ground.edge_correction(
            dimension, thickness, soil,
            insulation=2.0, insulation_thickness=0.07, reach=reach, placed=placed,
        )
        for placed in ("horizontal", "vertical")
    ]  # fmt: skip
    assert edges[1] < edges[0] < 0.0
    assert abs(edges[0]) < ground.basement_floor(dimension, thickness, soil, 0.0) * 3


@given(st.floats(0.2, 4.0), st.floats(0.0, 5.0), THICKNESSES)
def test_a_buried_wall_loses_less_than_the_same_wall_in_air(
    depth: float, resistance: float, floor: float
) -> None:
    buried = ground.basement_wall(depth, resistance, floor, 1.5)
    assert 0.0 < buried < 1.0 / (0.17 + resistance) * 1.001


def test_the_equations_for_thin_and_thick_floors_meet() -> None:
    just_under, at = (
        ground.basement_floor(4.0, 3.9999, 1.5, 0.0),
        ground.basement_floor(4.0, 4.0, 1.5, 0.0),
    )
    assert just_under == pytest.approx(at, rel=0.02)


def test_the_films_of_the_standard() -> None:
    # ISO 6946 table 7: down .17, level .13, outside .04; they come out where nothing else resists
    assert ground.equivalent_thickness(0.0, 1.0, 0.0) == pytest.approx(0.17 + 0.04)
    assert ground.wall_thickness(0.0, 1.0) == pytest.approx(0.13 + 0.04)
    # ISO 13370 table 1
    assert ground.SOIL == {"clay_or_silt": 1.5, "sand_or_gravel": 2.0, "rock": 3.5}


def test_a_wall_just_under_the_ground_is_nearly_the_wall_in_air() -> None:
    # the standard's equation tends to 3/π of it as the depth goes to nothing
    for resistance in (0.5, 2.0, 4.0):
        found = ground.basement_wall(1e-6, resistance, 30.0, 1.5)
        assert found * (0.17 + resistance) == pytest.approx(3.0 / math.pi, rel=1e-5)


def test_basement_wall_by_hand() -> None:
    # ISO 13370 9.3.3: 2 λ/(π z) (1 + .5 dt/(dt + z)) ln(z/dw + 1) with λ 2, z 2.5, Rw 1.83, so
    # dw = 2 (.17 + 1.83) = 4; dt .5: 4/7.85398 x (1 + .25/3) x ln 1.625
    found = ground.basement_wall(2.5, 1.83, 0.5, 2.0)
    assert found == pytest.approx(0.5092958 * 1.0833333 * 0.4855078, rel=1e-6)
    # a floor better than the wall counts as the wall: dt 4
    found = ground.basement_wall(2.5, 1.83, 9.0, 2.0)
    assert found == pytest.approx(0.5092958 * (1.0 + 2.0 / 6.5) * 0.4855078, rel=1e-6)


def test_basement_floor_by_hand() -> None:
    # ISO 13370 9.3.2: B' 4, dt .6, z 2, λ 1.5: 3/(π 4 + 1.6) x ln(π 4/1.6 + 1)
    assert ground.basement_floor(4.0, 0.6, 1.5, 2.0) == pytest.approx(
        0.2117690 * 2.180867, rel=1e-5
    )
    # well insulated, dt + z/2 = 5 over B': 1.5/(.457 x 4 + 5)
    assert ground.basement_floor(4.0, 4.0, 1.5, 2.0) == pytest.approx(1.5 / 6.828)


@pytest.mark.parametrize(("placed", "reach"), [("horizontal", 1.0), ("vertical", 0.5)])
def test_edge_insulation_by_hand(placed: Literal["horizontal", "vertical"], reach: float) -> None:
    # ISO 13370 annex B: R' = Rn - dn/λ = 2.05 - .1/2 = 2, d' = R' λ = 4; upright counts twice:
    # Ψ = -2/π (ln(1/.5 + 1) - ln(1/4.5 + 1)), ΔU = 2 Ψ/B'
    found = ground.edge_correction(
        4.0, 0.5, 2.0, insulation=2.05, insulation_thickness=0.1, reach=reach, placed=placed
    )
    psi = -0.6366198 * (1.0986123 - 0.2006707)
    assert found == pytest.approx(2.0 * psi / 4.0, rel=1e-6)


def test_edge_insulation_no_better_than_the_soil_it_replaces_does_nothing() -> None:
    for resistance in (0.01, 0.05):
        assert ground.edge_correction(
            4.0, 0.5, 2.0,
            insulation=resistance, insulation_thickness=0.1, reach=1.0, placed="horizontal",
        ) == 0.0  # fmt: skip


@pytest.mark.parametrize(("name", "high"), [("insulation_thickness", 1.0), ("reach", 5.0)])
def test_edge_insulation_of_a_size_that_can_be(name: str, high: float) -> None:
    usual = {"insulation": 2.0, "insulation_thickness": 0.07, "reach": 0.6}
    for value in (high, high * 0.001):
        ground.edge_correction(4.0, 0.5, 2.0, placed="vertical", **{**usual, name: value})
    for value in (high * 1.02, -0.02):
        with pytest.raises(OutOfRange) as refused:
            ground.edge_correction(4.0, 0.5, 2.0, placed="vertical", **{**usual, name: value})
        assert refused.value.low == 0.0
    ground.edge_correction(
        4.0, 0.5, 2.0, placed="vertical", **{**usual, "insulation_thickness": 0.0}
    )


def test_a_floor_as_thick_as_it_is_wide_counts_as_well_insulated() -> None:
    # ISO 13370 9.1: dt < B' is uninsulated, dt >= B' well insulated: 1.5/(.457 x 4 + 4); the other
    # equation has 3/(π 4 + 4) x ln(π + 1), a ten-thousandth less
    assert ground.basement_floor(4.0, 4.0, 1.5, 0.0) == pytest.approx(1.5 / 5.828, rel=1e-6)
    below = 3.0 / (4.0 * math.pi + 4.0) * math.log(math.pi + 1.0)
    assert below < 1.5 / 5.828 * (1.0 - 1e-4)
