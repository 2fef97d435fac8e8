"""IEC 60228 and IEC 60364-5-52: values seen quoted, and one drop computed here."""

from __future__ import annotations

import pytest

from spec.derive.formulas import circuits, conductors


@pytest.mark.parametrize(("square_mm", "per_km"), [(1.5, 12.1), (2.5, 7.41), (4.0, 4.61)])
def test_iec_60228_copper_at_20_c(square_mm: float, per_km: float) -> None:
    assert conductors.metric_resistance(square_mm * 1e-6) * 1000.0 == pytest.approx(per_km)


def test_iec_60364_5_52_annex_g_16_a_over_25_m_of_2_5_mm2() -> None:
    # computed here: 2 x .0225 x 25 / 2.5 x 16 = 7.20 V of 230 V
    found = circuits.voltage_drop(16.0, 25.0, circuits.COPPER_IEC / 2.5e-6, 230.0)
    assert found.volts == pytest.approx(7.20, abs=1e-9)
    assert found.share == pytest.approx(0.0313, abs=0.00005)
    assert circuits.ADVISED_DROP["iec_lighting"] < found.share < circuits.ADVISED_DROP["iec_other"]


def test_iec_60364_5_52_table_b_52_2_seen_quoted() -> None:
    # PVC, two loaded copper conductors; 1.5, 2.5, 4, 6, 10 mm². A2, B2 and C also in SANS 10142-1
    # table 6.3(a), seen quoted
    table: dict[conductors.Method, tuple[float, ...]] = {
        "A1": (14.5, 19.5, 26.0, 34.0, 46.0), "A2": (14.0, 18.5, 25.0, 32.0, 43.0),
        "B1": (17.5, 24.0, 32.0, 41.0, 57.0), "B2": (16.5, 23.0, 30.0, 38.0, 52.0),
        "C": (19.5, 27.0, 36.0, 46.0, 63.0),
    }  # fmt: skip
    for method, row in table.items():
        sizes = (1.5, 2.5, 4.0, 6.0, 10.0)
        assert [conductors.metric_ampacity(s * 1e-6, method) for s in sizes] == list(row)


@pytest.mark.parametrize(
    ("method", "a", "m"),
    [("A1", 11.2, 0.6118), ("A2", 10.8, 0.6015), ("B1", 13.5, 0.625), ("B2", 13.1, 0.600),
     ("C", 15.0, 0.625)],
)  # fmt: skip
@pytest.mark.parametrize("square_mm", [1.5, 2.5, 4.0, 6.0, 10.0])
def test_iec_60364_5_52_annex_d_equation_gives_table_b_52_2(
    method: conductors.Method, a: float, m: float, square_mm: float
) -> None:
    # I = A S^m, coefficients from memory; the table rounds to .5 A below 20 A and to 1 A above
    found = conductors.metric_ampacity(square_mm * 1e-6, method)
    assert found == pytest.approx(a * square_mm**m, abs=0.65)


def test_iec_60228_tables_1_and_3_seen_quoted() -> None:
    # plain copper, by three makers' tables that agree
    table = {
        0.5: (36.0, 39.0), 0.75: (24.5, 26.0), 1.0: (18.1, 19.5), 1.5: (12.1, 13.3),
        2.5: (7.41, 7.98), 4.0: (4.61, 4.95), 6.0: (3.08, 3.30), 10.0: (1.83, 1.91),
        16.0: (1.15, 1.21),
    }  # fmt: skip
    for square_mm, (solid, flexible) in table.items():
        section = square_mm * 1e-6
        assert conductors.metric_resistance(section) * 1000.0 == pytest.approx(solid)
        assert conductors.metric_resistance(section, flexible=True) * 1000.0 == pytest.approx(
            flexible
        )
        # warm copper by its coefficient of .00393 at 20 °C, IEC 60028
        warm = conductors.metric_resistance(section, 70.0) / conductors.metric_resistance(section)
        assert warm == pytest.approx(1.0 + 0.00393 * 50.0)


def test_iec_60364_5_52_annex_g_constants_and_advised_drops() -> None:
    # ρ is 1.25 times 1/56 ohm mm²/m at 20 °C, rounded; λ .08 mohm/m; lighting 3 %, other uses 5 %
    assert pytest.approx(1.25 / 56.0 * 1e-6, rel=0.01) == circuits.COPPER_IEC
    assert pytest.approx(0.08e-3) == circuits.REACTANCE_IEC
    assert circuits.ADVISED_DROP["iec_lighting"] == 0.03
    assert circuits.ADVISED_DROP["iec_other"] == 0.05
