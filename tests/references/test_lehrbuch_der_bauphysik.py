"""Lehrbuch der Bauphysik: two worked walls, seen quoted."""

from __future__ import annotations

import pytest

from spec.derive.formulas import moisture
from spec.derive.formulas.envelope import resistance, temperatures
from spec.derive.formulas.moisture import Layer, Month
from spec.derive.formulas.section import Slab, section, worst

WALL = [Layer(0.150, 0.95), Layer(1e-9, 2.0), Layer(4.0, 0.16), Layer(0.150, 1.90)]
WINTER = Month(room=20.0, room_humidity=0.5, beyond=-5.0, beyond_humidity=0.8, days=90.0)
FILMS = (0.25, 0.04)


def test_figure_2_18_temperatures_through_a_four_layer_wall() -> None:
    layers = [
        resistance(d, k) for d, k in ((0.015, 0.51), (0.24, 0.16), (0.10, 0.035), (0.115, 0.68))
    ]
    path = [0.13, *layers, 0.04]
    u_value = 1.0 / sum(path)
    assert u_value == pytest.approx(0.212, abs=0.0005)
    # the book multiplies the rounded .212 by 30 K
    assert u_value * 30.0 == pytest.approx(6.36, abs=0.015)
    found = temperatures(path, 20.0, -10.0)[1:-1]
    # two decimals are printed; -9.75 is the sixth surface's
    assert found == pytest.approx((19.17, 18.99, 9.47, -8.67, -9.75), abs=0.011)


def test_chapter_13_2_5_condensation_in_winter() -> None:
    found = moisture.profile(WALL, FILMS, WINTER)
    assert sum(layer.resistance for layer in WALL) + sum(FILMS) == pytest.approx(4.590, abs=0.0005)
    edges = [t for t, p in zip(found.temperatures, found.planes, strict=True) if not p.inside_layer]
    assert edges == pytest.approx((18.6, 17.8, 17.8, -4.0, -4.8), abs=0.06)
    wet = [(p, rate) for p, rate in zip(found.planes, found.condensing, strict=True) if rate]
    assert [(p.layer, p.inside_layer) for p, _ in wet] == [(3, False)]  # outer face of the wool
    assert wet[0][1] == pytest.approx(3.48e-8, rel=0.01)
    assert wet[0][1] * 90 * 86_400 == pytest.approx(0.27, abs=0.005)


def test_chapter_13_2_5_drying_in_summer() -> None:
    # the book dries the plane at 1700 Pa toward 1200 Pa on both sides for 90 days: .659 kg/m²
    inner, outer = 0.95 + 2.0 + 0.16, 1.90
    rate = moisture.PERMEABILITY * (1700.0 - 1200.0) * (1.0 / inner + 1.0 / outer)
    assert rate * 90 * 86_400 == pytest.approx(0.659, abs=0.0005)


def test_chapter_13_2_5_as_a_year_dries_out() -> None:
    # Air on both sides whose saturation is 1700 Pa, at 1200 Pa: the book's summer, three quarters.
    at_1700 = next(t / 1000 for t in range(14_000, 16_000) if moisture.saturation(t / 1000) >= 1700)
    summer = Month(at_1700, 1200.0 / 1700.0, at_1700, 1200.0 / 1700.0, days=90.0)
    one = moisture.year(WALL, FILMS, [WINTER, summer])
    assert one.verdict == "dries_out"
    assert one.peak == pytest.approx(0.27, abs=0.005)
    assert one.left == 0.0
    # The program's own drying, with the plane wet throughout, is the book's .659 kg/m².
    short = Month(at_1700, 1200.0 / 1700.0, at_1700, 1200.0 / 1700.0, days=9.0)
    after = moisture.year(WALL, FILMS, [WINTER, short])
    assert after.verdict == "accumulates"
    assert (after.water[0] - after.water[1]) * 10 == pytest.approx(0.659, rel=0.002)


def test_chapter_13_2_5_as_a_cut() -> None:
    names = ("chipboard", "membrane", "wool", "chipboard")
    slabs = [
        Slab(name, thickness, layer)
        for name, thickness, layer in zip(names, (0.019, 0.0, 0.16, 0.019), WALL, strict=True)
    ]
    cut = section(slabs, FILMS, WINTER)
    assert [face.at for face in cut.faces] == pytest.approx((0.0, 0.019, 0.019, 0.179, 0.198))
    assert [face.depth for face in cut.faces] == pytest.approx((0.0, 0.95, 2.95, 3.11, 5.01))
    temperatures = [face.temperature for face in cut.faces]
    assert temperatures == pytest.approx((18.6, 17.8, 17.8, -4.0, -4.8), abs=0.06)
    # 20 °C at half and -5 °C at 80 % of the book's 2340 and 401 Pa; saturated behind the wool
    pressures = [face.pressure for face in cut.faces]
    assert (pressures[0], pressures[-1]) == pytest.approx((1170.0, 321.0), abs=2.5)
    assert pressures[3] == pytest.approx(cut.faces[3].saturation)
    assert [face.condensing > 0.0 for face in cut.faces] == [False, False, False, True, False]
    # within a slab all goes evenly, and nowhere is there more vapor than the place can hold
    ats = [station.at for station in cut.stations]
    assert ats == sorted(ats)
    assert len(cut.stations) > len(cut.faces)
    assert all(s.pressure <= s.saturation * (1 + 1e-9) for s in cut.stations)
    summer = Month(20.0, 0.5, 20.0, 0.5)
    assert worst(slabs, FILMS, [summer, WINTER, summer]).number == 1
