"""EN 1991-1-1 table A.1 and EN 572-1: weights of plaster and glass, seen quoted."""

from __future__ import annotations

import pytest

from spec.derive.formulas import constants, weights


def test_lime_plaster_is_12_to_20_kn_per_m3() -> None:
    low, high = (density * constants.GRAVITY / 1000.0 for density in weights.LIME_PLASTER)
    assert (low, high) == pytest.approx((12.0, 20.0), abs=0.01)


def test_glass_weighs_2_5_kg_per_m2_and_mm() -> None:
    assert weights.glass(1.0, 0.001) == pytest.approx(2.5)
