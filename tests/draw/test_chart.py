"""The chart of days: bars as long as their days, in one scale, weeks where Mondays are."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spec.draw.chart import Bar, chart
from spec.draw.scene import Circle, Label, Polygon, Polyline, Scene

DAYS = st.dates(date(2026, 10, 1), date(2027, 3, 1))
MONDAY = date(2026, 11, 2)


def boxes(scene: Scene) -> list[tuple[float, float]]:
    found = [s for s in scene.shapes if isinstance(s, Polygon) and len(s.points) == 4]
    return [(min(x for x, _ in b.points), max(x for x, _ in b.points)) for b in found]


@given(st.lists(st.tuples(DAYS, st.integers(0, 30)), min_size=2, max_size=12))
def test_every_day_is_as_long_as_every_other(spans: list[tuple[date, int]]) -> None:
    bars = [Bar(str(i), day, day + timedelta(long)) for i, (day, long) in enumerate(spans)]
    drawn = boxes(chart(bars))
    one = (drawn[0][1] - drawn[0][0]) / (spans[0][1] + 1)
    for (day, long), (left, right) in zip(spans, drawn, strict=True):
        assert right - left == pytest.approx((long + 1) * one)
        assert left - drawn[0][0] == pytest.approx((day - spans[0][0]).days * one)
        assert left >= 50 and right <= 170 + 1e-9


def test_weeks_are_named_by_their_mondays() -> None:
    scene = chart([Bar("board", MONDAY + timedelta(2), MONDAY + timedelta(9))])
    assert [s.text for s in scene.shapes if isinstance(s, Label)] == ["11-02", "11-09", "board"]


def test_what_may_slip_has_a_tail_and_what_is_on_its_way_is_a_line() -> None:
    slips = Bar("board", MONDAY, MONDAY, slips_to=MONDAY + timedelta(3))
    coming = Bar("order of D1", MONDAY, MONDAY + timedelta(7), coming=True)
    tail = [s for s in chart([slips]).shapes if isinstance(s, Polyline) and s.pen == "hidden"]
    assert len(tail) == 1
    still = chart([slips._replace(slips_to=MONDAY), coming])
    assert not [s for s in still.shapes if isinstance(s, Polyline) and s.pen == "hidden"]
    assert len([s for s in still.shapes if isinstance(s, Circle)]) == 2


def test_a_hold_point_stands_at_the_end_and_what_is_tight_is_dark() -> None:
    shapes = chart([Bar("rough", MONDAY, MONDAY, stops=True, tight=True)]).shapes
    box, tip = [s for s in shapes if isinstance(s, Polygon)]
    assert box.fill == "dark" and len(tip.points) == 3
    assert min(x for x, _ in tip.points) == max(x for x, _ in box.points)
