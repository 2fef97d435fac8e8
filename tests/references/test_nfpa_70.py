"""NFPA 70 (NEC) 2023 and its arithmetic: values seen quoted; the adopted edition decides."""

from __future__ import annotations

import math

import pytest

from spec.derive.formulas import boxes, circuits, conductors, low_voltage
from spec.derive.formulas.range import NotCovered

FOOT = 0.3048
CUBIC_INCH = 16.387064e-6
"""[m³] NIST SP 811 appendix B."""


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


@pytest.mark.parametrize(
    ("size", "cubic_inches"),
    [(18, 1.50), (16, 1.75), (14, 2.00), (12, 2.25), (10, 2.50), (8, 3.00), (6, 5.00)],
)
def test_table_314_16_b(size: int, cubic_inches: float) -> None:
    # seen quoted, all seven, by two that agree
    assert boxes.allowance(size) / CUBIC_INCH == pytest.approx(cubic_inches)


def test_314_16_b_clamps_and_fittings_by_the_largest_wire_grounds_by_the_largest_ground() -> None:
    # by hand: 3 x 2.00 + 2 x 2.50; clamps 2.50; two kinds of fitting 5.00; device 4.00; ground 2.25
    found = boxes.fill({14: 3, 10: 2}, [14], {14: 1, 12: 1}, clamps=True, fittings=2)
    inches = [(name, volume / CUBIC_INCH) for name, volume in found.parts]
    assert [name for name, _ in inches] == [
        "conductors",
        "clamps",
        "fittings",
        "devices",
        "grounds",
    ]
    assert [volume for _, volume in inches] == pytest.approx([11.0, 2.5, 5.0, 4.0, 2.25])
    bare = boxes.fill({14: 2}, [], {}, clamps=False)
    assert [volume / CUBIC_INCH for _, volume in bare.parts] == pytest.approx([4.0, 0, 0, 0, 0])


def test_314_20_a_quarter_inch_may_remain_where_nothing_burns() -> None:
    inch = 0.0254
    for sixteenths, ring in ((0, 0.0), (3, 0.0), (4, 0.0), (5, 5 / 16), (8, 0.5)):
        found = boxes.extension_ring(sixteenths / 16 * inch, combustible=False)
        assert found == pytest.approx(ring * inch)
    assert boxes.extension_ring(inch / 16, combustible=True) == pytest.approx(inch / 16)
    assert boxes.extension_ring(0.0, combustible=True) == 0.0


def test_table_310_16_copper_seen_quoted() -> None:
    # 14 to 1 AWG by several that agree, 18 and 16 AWG at 90 °C by one
    table = {
        14: (15, 20, 25), 12: (20, 25, 30), 10: (30, 35, 40), 8: (40, 50, 55), 6: (55, 65, 75),
        4: (70, 85, 95), 3: (85, 100, 115), 2: (95, 115, 130), 1: (110, 130, 145),
    }  # fmt: skip
    for size, row in table.items():
        assert tuple(conductors.ampacity(size, column) for column in (60, 75, 90)) == row
    assert [conductors.ampacity(size, 90) for size in (18, 16)] == [14, 18]
    for size, column in ((18, 60), (18, 75), (16, 60), (16, 75), (13, 60), (13, 75), (13, 90)):
        with pytest.raises(NotCovered, match=f"at {column} °C is known for {size} AWG"):
            conductors.ampacity(size, column)


@pytest.mark.parametrize("column", [60, 75, 90])
@pytest.mark.parametrize("ambient", range(10, 75, 5))
def test_310_15_b_ambient_correction_by_its_equation(
    column: conductors.Column, ambient: int
) -> None:
    # I' = I √((Tc - Ta') / (Tc - Ta)) with Ta 30 °C, of which the table prints two decimals
    if ambient > column - 5:
        with pytest.raises(NotCovered, match="may not run"):
            conductors.ampacity(12, column, ambient=ambient)
        return
    plain = conductors.ampacity(12, column)
    factor = conductors.ampacity(12, column, ambient=ambient) / plain
    assert factor == pytest.approx(math.sqrt((column - ambient) / (column - 30)), abs=0.0051)
    # a row holds for the five degrees below it, and for no more than it says
    assert conductors.ampacity(12, column, ambient=ambient - 4) / plain == pytest.approx(factor)
    if ambient + 1 <= min(column - 5, 70):
        assert conductors.ampacity(12, column, ambient=ambient + 1) / plain < factor


def test_irc_2021_table_e3705_2_ambient_correction_seen_quoted() -> None:
    # the residential code reprints NEC table 310.15(B)(1)(1); factors at 10, 15, 20 ... °C
    table: dict[conductors.Column, tuple[float, ...]] = {
        60: (1.29, 1.22, 1.15, 1.08, 1.00, 0.91, 0.82, 0.71, 0.58, 0.41),
        75: (1.20, 1.15, 1.11, 1.05, 1.00, 0.94, 0.88, 0.82, 0.75, 0.67, 0.58, 0.47, 0.33),
        90: (1.15, 1.12, 1.08, 1.04, 1.00, 0.96, 0.91, 0.87, 0.82, 0.76, 0.71, 0.65, 0.58),
    }
    for column, factors in table.items():
        plain = conductors.ampacity(12, column)
        for step, factor in enumerate(factors):
            found = conductors.ampacity(12, column, ambient=10.0 + 5.0 * step)
            assert found == pytest.approx(plain * factor)


@pytest.mark.parametrize(
    ("loaded", "factor"),
    [(1, 1.0), (3, 1.0), (4, 0.8), (6, 0.8), (7, 0.7), (9, 0.7), (10, 0.5), (20, 0.5)],
)
def test_table_310_15_c_1_more_than_three_conductors_seen_quoted(
    loaded: int, factor: float
) -> None:
    assert conductors.ampacity(12, loaded=loaded) == pytest.approx(20.0 * factor)


@pytest.mark.parametrize(
    ("size", "breaker"), [(8, 40.0), (6, 60.0), (4, 70.0), (3, 90.0), (2, 100.0), (1, 110.0)]
)
def test_240_4_b_the_next_standard_breaker(size: int, breaker: float) -> None:
    # worked from both tables: 55, 85 and 95 A are no standard sizes, so the next one up
    assert conductors.largest_breaker(size) == breaker


@pytest.mark.parametrize(("size", "breaker"), [(14, 15.0), (12, 20.0), (10, 30.0)])
@pytest.mark.parametrize("column", [60, 75, 90])
def test_240_4_d_small_conductors_whatever_their_insulation(
    column: conductors.Column, size: int, breaker: float
) -> None:
    assert conductors.largest_breaker(size, column) == breaker


def test_240_6_a_standard_breakers_seen_quoted() -> None:
    assert conductors.STANDARD_BREAKERS == (
        15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200,
    )  # fmt: skip


def test_chapter_9_table_8_stranded_wire_is_2_percent_over_solid() -> None:
    # 12 AWG uncoated copper, from memory: solid 1.93, stranded 1.98 ohm/kft; two decimals
    found = conductors.awg_resistance(12, stranded=True) * FOOT * 1000.0
    assert found == pytest.approx(1.98, rel=0.006)


@pytest.mark.parametrize(("size", "mils"), [(-3, 460.0), (36, 5.0), (10, 101.9), (18, 40.3)])
def test_astm_b_258_diameters(size: int, mils: float) -> None:
    # 4/0 is .46 in and 36 AWG .005 in by definition; the others are tabulated to .1 mil
    assert conductors.awg_diameter(size) / 0.0254e-3 == pytest.approx(mils, abs=0.06)


def test_314_27_a_box_holds_50_lb_unless_marked() -> None:
    pound = 0.45359237
    assert not boxes.needs_own_support(50.0 * pound)
    assert boxes.needs_own_support(51.0 * pound)
    assert not boxes.needs_own_support(51.0 * pound, marked=150.0 * pound)


@pytest.mark.parametrize(
    ("voltage", "limit"), [(5.0, 25.0), (12.0, 60.0), (20.0, 100.0), (24.0, 100.0), (48.0, 100.0)]
)
def test_chapter_9_table_11_b_class_2(voltage: float, limit: float) -> None:
    assert low_voltage.class_2_limit(voltage) == limit


def test_210_19_a_informational_note_advises_3_and_5_percent() -> None:
    advised = (circuits.ADVISED_DROP["nec_branch"], circuits.ADVISED_DROP["nec_total"])
    assert advised == (0.03, 0.05)


def test_110_26_working_space() -> None:
    width, depth, height = circuits.WORKING_SPACE
    assert (width, depth, height) == pytest.approx((30 * 0.0254, 36 * 0.0254, 6.5 * FOOT))
