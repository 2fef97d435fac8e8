"""Figures computed by hand from a formula, not published as such."""

from __future__ import annotations

import pytest

from spec.derive.formulas import arches


def test_arc_over_a_chord_of_1200_with_a_rise_of_200() -> None:
    found = arches.arch(1.2, 0.2)
    assert found.radius == pytest.approx(1.000, abs=1e-12)
    assert found.arc == pytest.approx(1.2870, abs=0.00005)
