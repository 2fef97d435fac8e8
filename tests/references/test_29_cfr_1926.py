"""29 CFR 1926.1053(b)(5)(i): how a ladder stands, from the published rule."""

from __future__ import annotations

import pytest

from spec.derive.formulas import ladder


def test_the_foot_is_out_a_quarter_of_the_working_length() -> None:
    found = ladder.lean(2.2)
    assert found.foot_out == pytest.approx(found.length / 4.0)
    assert found.length**2 == pytest.approx(found.foot_out**2 + 2.2**2)
    assert found.angle == pytest.approx(75.5, abs=0.05)
