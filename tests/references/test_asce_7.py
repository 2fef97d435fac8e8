"""ASCE 7-05 table C3-1, in 7-16 C3.1-1: dead load of gypsum board, both seen quoted."""

from __future__ import annotations

import pytest

from spec.derive.formulas import weights

POUND, FOOT = 0.45359237, 0.3048


def test_table_c3_1_gypsum_board_weighs_0_55_psf_per_eighth_of_an_inch() -> None:
    five_eighths = weights.sheet(1.0, 5 / 8 * 0.0254, weights.GYPSUM_BOARD)
    assert five_eighths * FOOT**2 / POUND == pytest.approx(2.75)
    # 7-16 in metric: .008 kN/m² for each millimeter
    assert weights.sheet(1.0, 0.001, weights.GYPSUM_BOARD) * 9.80665 == pytest.approx(8.0, abs=0.5)
