"""ASCE 7: dead load of gypsum board, live loads of rooms (as IRC R301.5) and library stacks."""

from __future__ import annotations

import pytest

from spec.derive.formulas import weights

PSF = 47.88025898
POUND, FOOT = 0.45359237, 0.3048


def test_table_c3_1_gypsum_board_weighs_0_55_psf_per_eighth_of_an_inch() -> None:
    five_eighths = weights.sheet(1.0, 5 / 8 * 0.0254, weights.GYPSUM_BOARD)
    assert five_eighths * FOOT**2 / POUND == pytest.approx(2.75)


@pytest.mark.parametrize(("name", "psf"), [("rooms", 40.0), ("library_stacks", 150.0)])
def test_live_loads_seen_quoted(name: str, psf: float) -> None:
    # the constants are rounded to .1 Pa
    assert weights.COMPARE[name] == pytest.approx(psf * PSF, abs=0.2)
