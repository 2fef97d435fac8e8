"""ISO 10077-1:2006: glass edges (tables E.1, E.2) and metal frames (annex D), from memory."""

from __future__ import annotations

import pytest

from spec.derive.formulas import glazing
from spec.derive.formulas.range import NotCovered, OutOfRange

EDGES = {
    # spacer, frame: linear transmittance uncoated, coated [W/mK]
    ("aluminum", "wood"): (0.06, 0.08),
    ("aluminum", "metal_with_break"): (0.08, 0.11),
    ("aluminum", "metal"): (0.02, 0.05),
    ("warm_edge", "wood"): (0.05, 0.06),
    ("warm_edge", "metal_with_break"): (0.06, 0.08),
    ("warm_edge", "metal"): (0.01, 0.04),
}


@pytest.mark.parametrize(("place", "psi"), EDGES.items())
def test_tables_e_1_and_e_2(place: tuple[str, str], psi: tuple[float, float]) -> None:
    assert tuple(glazing.edge_transmittance(*place, coated) for coated in (False, True)) == psi


@pytest.mark.parametrize(
    ("millimeters", "u"),
    [(0, 5.9), (2, 4.95), (4, 4.0), (8, 3.7), (12, 3.4), (20, 3.0), (28, 2.8), (36, 2.6),
     (60, 2.6), (200, 2.6)],
)  # fmt: skip
def test_annex_d_metal_frames_by_their_thermal_break(millimeters: float, u: float) -> None:
    # read off the upper line of the figure at its corners and halfway between
    assert glazing.metal_frame_u(millimeters / 1000.0) == pytest.approx(u)


def test_a_frame_without_a_break_loses_what_its_films_let_it() -> None:
    # 1/(.13 + .04) = 5.88 W/m²K: metal itself resists nothing
    assert glazing.metal_frame_u(0.0) == pytest.approx(1.0 / 0.17, abs=0.05)


def test_the_edge_of_the_glass_by_a_band_of_two_and_a_half_inches() -> None:
    # the loss of a meter of edge, over .0635 m² of band
    assert glazing.edge_u(1.1, 0.08) == pytest.approx(1.1 + 0.08 / (2.5 * 0.0254))
    assert glazing.edge_u(1.1, 0.0) == 1.1


def test_a_window_loses_the_sum_of_its_parts() -> None:
    # Uw = (1.2 x 1.1 + .5 x 1.8 + 4.6 x .06 + 2 x .08)/1.7, by hand 2.656/1.7
    found = glazing.assembled_u([(1.2, 1.1)], [(0.5, 1.8)], [(4.6, 0.06), (2.0, 0.08)])
    assert found == pytest.approx(2.656 / 1.7)
    assert glazing.assembled_u([(1.0, 1.1)], [], [(1.0, 0.5)]) == pytest.approx(1.6)
    assert glazing.assembled_u([], [(0.05, 1.4)], []) == pytest.approx(1.4)
    for psi in (-0.02, 0.52):
        with pytest.raises(OutOfRange, match="edge transmittance"):
            glazing.assembled_u([(1.0, 1.1)], [], [(1.0, psi)])
    with pytest.raises(NotCovered, match="glass or a frame"):
        glazing.assembled_u([(0.0, 1.1)], [], [])


def test_sun_through_glass() -> None:
    # ASHRAE Fundamentals ch. 15: 2 m² x .4 x 500 W/m²
    assert glazing.solar_gain(2.0, 0.4, 500.0) == pytest.approx(400.0)
