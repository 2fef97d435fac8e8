"""Figures computed by hand from a formula or from a quoted mean, not published as such."""

from __future__ import annotations

import pytest

from spec.derive.formulas import arches, weights


def test_arc_over_a_chord_of_1200_with_a_rise_of_200() -> None:
    found = arches.arch(1.2, 0.2)
    assert found.radius == pytest.approx(1.000, abs=1e-12)
    assert found.arc == pytest.approx(1.2870, abs=0.00005)


def test_a_bottle_of_the_uk_average_of_511_g_glass_is_a_usual_full_bottle() -> None:
    # the average is seen quoted; the usual 1.3 kg is rounded to .1
    assert weights.full_bottle(0.511, 0.00075) == pytest.approx(1.3, abs=0.05)
