"""A cut through an assembly: where its places lie, and which month is the worst."""

from __future__ import annotations

import math

import pytest

from spec.derive.formulas.moisture import Layer, Month, profile, saturation
from spec.derive.formulas.range import OutOfRange
from spec.derive.formulas.section import Slab, section, worst

FILMS = (0.13, 0.04)
SLABS = [
    Slab("board", 0.0125, Layer(0.05, 0.1)),
    Slab("sheet", 0.0, Layer(0.0, 8.0)),
    Slab("wool", 0.140, Layer(4.0, 0.14)),
    Slab("brick", 0.115, Layer(0.15, 1.8)),
]
MILD, COLD = Month(20.0, 0.5, 12.0, 0.7), Month(20.0, 0.6, -10.0, 0.8)


def test_faces_lie_where_the_slabs_end_and_the_rest_evenly_between() -> None:
    cut = section(SLABS, FILMS, COLD)
    assert [face.at for face in cut.faces] == pytest.approx([0.0, 0.0125, 0.0125, 0.1525, 0.2675])
    assert [face.layer for face in cut.faces] == [0, 1, 2, 3, 4]
    assert cut.thickness == pytest.approx(0.2675)
    within = [station for station in cut.stations if not station.between]
    # wool of R 4 is cut sixteen times over; brick of .15 not at all
    assert [station.at for station in within] == pytest.approx(
        [0.0125 + 0.140 * n / 16 for n in range(1, 16)]
    )


def test_temperature_falls_with_resistance_and_vapor_lies_under_its_saturation() -> None:
    cut = section(SLABS, FILMS, COLD)
    for station in cut.stations:
        into = min(1.0, max(0.0, (station.at - 0.0125) / 0.140))
        passed = 0.13 + 0.05 * min(1.0, station.at / 0.0125) + 4.0 * into
        passed += 0.15 * max(0.0, station.at - 0.1525) / 0.115
        assert station.temperature == pytest.approx(20.0 - 30.0 * passed / 4.37)
        assert station.saturation == pytest.approx(saturation(station.temperature))
        assert station.pressure <= station.saturation * (1 + 1e-9)
    assert (cut.number, cut.month, cut.slabs) == (0, COLD, tuple(SLABS))


def test_without_condensation_vapor_falls_straight_with_its_thickness() -> None:
    cut = section(SLABS, FILMS, MILD)
    inside, outside = 0.5 * saturation(20.0), 0.7 * saturation(12.0)
    for station in cut.stations:
        expected = inside + (outside - inside) * station.depth / (0.1 + 8.0 + 0.14 + 1.8)
        assert station.pressure == pytest.approx(expected)
        assert station.condensing == 0.0


def test_the_worst_month_is_where_most_condenses() -> None:
    wrong = [SLABS[0], SLABS[2], SLABS[3], SLABS[1]]  # the sheet on the cold side
    months = [MILD, COLD, Month(20.0, 0.6, -5.0, 0.8), MILD]
    condensing = [sum(profile([s.layer for s in wrong], FILMS, m).condensing) for m in months]
    assert condensing[1] > condensing[2] > condensing[0] == 0.0
    cut = worst(wrong, FILMS, months)
    assert (cut.number, cut.month) == (1, COLD)
    assert sum(s.condensing for s in cut.stations) == pytest.approx(condensing[1])


def test_of_dry_months_the_worst_is_where_vapor_comes_nearest_to_saturation() -> None:
    damp = Month(20.0, 0.5, 12.0, 0.99)
    for months in ([MILD, damp, MILD], [damp, MILD], [MILD, damp]):
        assert worst(SLABS, FILMS, months).month is damp


def test_nearness_to_saturation_is_the_greatest_share_of_it_anywhere() -> None:
    # one month is damp on one side alone, the other evenly and less so; one holds more vapor, warm
    even, uneven = Month(20.0, 0.7, 20.0, 0.7), Month(20.0, 0.3, 18.0, 0.9)
    assert worst(SLABS, FILMS, [even, uneven]).month is uneven
    warm, cool = Month(28.0, 0.5, 30.0, 0.5), Month(8.0, 0.6, 8.0, 0.8)
    assert worst(SLABS, FILMS, [warm, cool]).month is cool


def test_the_first_slab_too_is_cut_evenly() -> None:
    cut = section([SLABS[2], SLABS[0]], FILMS, MILD)
    within = [station.at for station in cut.stations if not station.between]
    assert within == pytest.approx([0.140 * n / 16 for n in range(1, 16)])


def test_a_slab_of_less_than_no_thickness_and_a_year_of_no_months_are_refused() -> None:
    with pytest.raises(OutOfRange, match=r"thickness is -0\.1 m"):
        section([Slab("wool", -0.1, Layer(4.0, 0.14))], FILMS, MILD)
    with pytest.raises(OutOfRange, match="there are no months"):
        worst(SLABS, FILMS, [])
    assert math.isclose(section([SLABS[2]], FILMS, MILD).thickness, 0.14)
