"""NFPA 70 (NEC) 2023 and its arithmetic: values seen quoted; the adopted edition decides."""

from __future__ import annotations

import pytest

from spec.derive.formulas import boxes, circuits, conductors, low_voltage

FOOT = 0.3048


@pytest.mark.parametrize(("size", "per_kft"), [(14, 3.07), (12, 1.93), (10, 1.21)])
def test_chapter_9_table_8_solid_copper_at_75_c(size: int, per_kft: float) -> None:
    found = conductors.awg_resistance(size) * FOOT * 1000.0
    assert found == pytest.approx(per_kft, rel=0.004)


@pytest.mark.parametrize(
    ("size", "at_60", "at_75", "breaker"),
    [(14, 15.0, 20.0, 15.0), (12, 20.0, 25.0, 20.0), (10, 30.0, 35.0, 30.0)],
)
def test_table_310_16_and_240_4_d(size: int, at_60: float, at_75: float, breaker: float) -> None:
    assert (conductors.ampacity(size, 60), conductors.ampacity(size, 75)) == (at_60, at_75)
    assert conductors.largest_breaker(size) == breaker


def test_210_20_a_16_amperes_continuous_on_20_just_pass() -> None:
    assert circuits.load([(16.0 * 120.0, True)], 120.0, 20.0).fits
    assert not circuits.load([(16.1 * 120.0, True)], 120.0, 20.0).fits


def test_voltage_drop_by_k_of_12_9() -> None:
    # 2 K I L / cmil, 12 AWG = 6530 cmil, 120 V, 20 A, 100 ft one way: 7.90 V, 6.6 %
    resistance = 12.9 / 6530.0 / FOOT
    found = circuits.voltage_drop(20.0, 100.0 * FOOT, resistance, 120.0)
    assert found.volts == pytest.approx(7.90, abs=0.005)
    assert found.share == pytest.approx(0.066, abs=0.0005)
    assert found.share > circuits.ADVISED_DROP["nec_total"]


def test_12_awg_is_6530_circular_mils() -> None:
    assert (conductors.awg_diameter(12) / 0.0254e-3) ** 2 == pytest.approx(6530.0, abs=1.0)


def test_314_16_b_two_12_2_cables_a_clamp_and_a_device_need_18_cubic_inches() -> None:
    found = boxes.fill({12: 4}, [12], {12: 2}, clamps=True)
    assert found.needed / boxes.CUBIC_INCH == pytest.approx(18.0)


@pytest.mark.parametrize(("grounds", "allowances"), [(1, 1.0), (4, 1.0), (5, 1.25), (8, 2.0)])
def test_314_16_b_5_grounds_beyond_four_count_a_quarter(grounds: int, allowances: float) -> None:
    parts = dict(boxes.fill({14: 2}, [], {14: grounds}, clamps=False).parts)
    assert parts["grounds"] / boxes.CUBIC_INCH == pytest.approx(allowances * 2.0)


@pytest.mark.parametrize(("size", "cubic_inches"), [(14, 2.00), (12, 2.25)])
def test_table_314_16_b(size: int, cubic_inches: float) -> None:
    assert boxes.allowance(size) / boxes.CUBIC_INCH == pytest.approx(cubic_inches)


def test_314_27_a_box_holds_50_lb_unless_marked() -> None:
    pound = 0.45359237
    assert not boxes.needs_own_support(50.0 * pound)
    assert boxes.needs_own_support(51.0 * pound)
    assert not boxes.needs_own_support(51.0 * pound, marked=150.0 * pound)


@pytest.mark.parametrize(("voltage", "limit"), [(24.0, 100.0), (12.0, 60.0)])
def test_chapter_9_table_11_a_class_2(voltage: float, limit: float) -> None:
    assert low_voltage.class_2_limit(voltage) == limit


def test_110_26_working_space() -> None:
    width, depth, height = circuits.WORKING_SPACE
    assert (width, depth, height) == pytest.approx((30 * 0.0254, 36 * 0.0254, 6.5 * FOOT))
