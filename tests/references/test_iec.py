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


@pytest.mark.parametrize(
    ("square_mm", "method", "amperes"), [(1.5, "B2", 16.5), (2.5, "B2", 23.0), (1.5, "C", 19.5)]
)
def test_iec_60364_5_52_table_b_52_2_from_memory(
    square_mm: float, method: conductors.Method, amperes: float
) -> None:
    assert conductors.metric_ampacity(square_mm * 1e-6, method) == amperes
