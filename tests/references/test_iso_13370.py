"""Approved Document L1 (2002) Table C1: slabs on clay by ISO 13370, seen in the source."""

from __future__ import annotations

import pytest

from spec.derive.formulas import ground

RATIOS = (0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.8, 1.0)
TABLE = {
    0.0: (0.22, 0.37, 0.49, 0.60, 0.70, 0.78, 0.93, 1.05),
    1.0: (0.16, 0.25, 0.31, 0.36, 0.40, 0.43, 0.47, 0.50),
    2.0: (0.13, 0.19, 0.23, 0.26, 0.28, 0.29, 0.32, 0.33),
}
CASES = [
    pytest.param(ratio, resistance, u, id=f"P/A {ratio} Rf {resistance}")
    for resistance, row in TABLE.items()
    for ratio, u in zip(RATIOS, row, strict=True)
]


@pytest.mark.parametrize(("perimeter_over_area", "resistance", "u_value"), CASES)
def test_table_c1_slab_on_clay_with_walls_of_300_mm(
    perimeter_over_area: float, resistance: float, u_value: float
) -> None:
    dimension = ground.characteristic_dimension(1.0, perimeter_over_area)
    thickness = ground.equivalent_thickness(0.3, 1.5, resistance)
    # two decimals are printed; .495 at P/A .3 is printed as .49
    assert ground.basement_floor(dimension, thickness, 1.5, 0.0) == pytest.approx(
        u_value, abs=0.0055
    )
