"""Arches go through their springing and their crown; chains keep every stop once."""

from __future__ import annotations

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spec.draw.chain import Stops, across
from spec.draw.curves import arch_height, arch_line, swing


@given(st.floats(200, 3000), st.floats(10, 1400))
def test_an_arch_starts_ends_and_culminates_where_it_should(span: float, rise: float) -> None:
    points = arch_line((100.0, 50.0), (100.0 + span, 50.0), rise)
    assert points[0] == pytest.approx((100.0, 50.0), abs=1e-6)
    assert points[-1] == pytest.approx((100.0 + span, 50.0), abs=1e-6)
    assert max(y for _, y in points) == pytest.approx(50.0 + rise, rel=1e-6)


def test_a_segmental_arch_has_the_radius_of_chord_and_sagitta() -> None:
    """Chord 30, sagitta 9: r = (30²/4 + 9²) / 18 = 17."""
    points = arch_line((0.0, 0.0), (30.0, 0.0), 9.0)
    for x, y in points:
        assert (x - 15.0) ** 2 + (y - 9.0 + 17.0) ** 2 == pytest.approx(17.0**2)
    assert arch_height(15.0, 9.0, 0.0) == pytest.approx(9.0)
    assert arch_height(15.0, 9.0, 15.0) == 0.0


def test_a_leaf_swings_on_its_hinge() -> None:
    way = swing((0.0, 0.0), (800.0, 0.0), -pi / 2)
    assert way[0] == pytest.approx((800.0, 0.0))
    assert way[-1] == pytest.approx((0.0, -800.0), abs=1e-9)


def test_stops_that_touch_are_one_and_keep_both_reasons() -> None:
    stops = Stops()
    for place, why in ((0.0, "WA"), (500.0, "R1"), (500.2, "R2"), (900.0, "WA")):
        stops.add(place, [why])
    chain = list(across(stops, 0.0, -200.0, "metric"))
    assert [d.text for d in chain] == ["500 mm", "400 mm"]
    assert chain[1].cites == {"R1", "R2", "WA"}
