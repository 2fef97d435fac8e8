"""EN 673: U of insulating glass by gap, seen quoted; the tables round and mix.

Which document they were quoted from was not kept; annex C of EN ISO 10077-1:2000 has such a table.
"""

from __future__ import annotations

import pytest

from spec.derive.formulas.insulating_glass import UNCOATED, Gap, single_u_value, u_value

GAPS = (0.006, 0.009, 0.012, 0.015)
TABLE = {
    ("air", UNCOATED): (3.3, 3.0, 2.9, 2.7),
    ("argon", UNCOATED): (3.0, 2.8, 2.7, 2.6),
    ("air", 0.2): (2.7, 2.3, 1.9, 1.8),
    ("argon", 0.2): (2.3, 2.0, 1.7, 1.6),
}
CASES = [
    pytest.param(gas, emissivity, width, u, id=f"{gas} e {emissivity} {width * 1000:.0f} mm")
    for (gas, emissivity), row in TABLE.items()
    for width, u in zip(GAPS, row, strict=True)
]


@pytest.mark.parametrize(("gas", "emissivity", "width", "published"), CASES)
def test_double_glass_of_4_mm_panes(
    gas: str, emissivity: float, width: float, published: float
) -> None:
    gap = Gap(width, gas, 0.9 if gas == "argon" else 1.0, (emissivity, UNCOATED))
    # ±.16: the published tables round to .1 and do not state the filling
    assert u_value([0.004, 0.004], [gap]) == pytest.approx(published, abs=0.16)


@pytest.mark.parametrize(("pane", "published"), [(0.004, 5.8), (0.006, 5.7), (0.010, 5.6)])
def test_a_single_pane(pane: float, published: float) -> None:
    # makers' tables of clear float glass, from memory; printed to .1
    assert single_u_value(pane) == pytest.approx(published, abs=0.06)
