"""Slabs and basements."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spec.derive.formulas import ground

DIMENSIONS, THICKNESSES, SOILS = st.floats(1.0, 20.0), st.floats(0.3, 6.0), st.floats(1.0, 3.5)


@given(DIMENSIONS, THICKNESSES, SOILS, st.floats(0.1, 3.0))
def test_a_better_floor_and_a_deeper_one_lose_less(
    dimension: float, thickness: float, soil: float, depth: float
) -> None:
    plain = ground.slab(dimension, thickness, soil)
    # the two equations of the standard meet within a few percent where dt = B'
    assert ground.slab(dimension, thickness * 1.2, soil) < plain * 1.02
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
    assert abs(edges[0]) < ground.slab(dimension, thickness, soil) * 3


@given(st.floats(0.2, 4.0), st.floats(0.0, 5.0), THICKNESSES)
def test_a_buried_wall_loses_less_than_the_same_wall_in_air(
    depth: float, resistance: float, floor: float
) -> None:
    buried = ground.basement_wall(depth, resistance, floor, 1.5)
    assert 0.0 < buried < 1.0 / (0.17 + resistance) * 1.001


def test_the_equations_for_thin_and_thick_floors_meet() -> None:
    just_under, at = ground.slab(4.0, 3.9999, 1.5), ground.slab(4.0, 4.0, 1.5)
    assert just_under == pytest.approx(at, rel=0.02)
