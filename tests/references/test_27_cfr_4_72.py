"""Fills of wine: 27 CFR 4.72 as it stood to 2023, and Directive 2007/45/EC; bottle sizes."""

from __future__ import annotations

import pytest

from spec.derive.formulas import storage


def test_27_cfr_4_72_a_metric_standards_of_fill_before_2025_seen_quoted() -> None:
    # the 25 fills of 2025 (90 FR 1868) as a law firm lists them, less the 13 that rule added
    milliliters = (50, 100, 187, 200, 250, 355, 375, 500, 750, 1000, 1500, 3000)
    assert [fill * 1e6 for fill in storage.FILLS_US] == pytest.approx(milliliters)


def test_directive_2007_45_ec_annex_still_wine_from_memory() -> None:
    milliliters = (100, 187, 250, 375, 500, 750, 1000, 1500)
    assert [fill * 1e6 for fill in storage.FILLS_EU] == pytest.approx(milliliters)


@pytest.mark.parametrize(
    ("name", "diameter", "length", "glass"),
    [("half", 62.0, 241.0, 370.0), ("standard", 75.0, 301.0, 550.0),
     ("sparkling", 88.5, 315.0, 870.0), ("magnum", 103.0, 350.0, 1100.0)],
)  # fmt: skip
def test_presets_are_the_makers_commonest_bottles_from_memory(
    name: str, diameter: float, length: float, glass: float
) -> None:
    # mm and g; makers differ by a few millimeters and by a tenth of the glass
    bottle = storage.BOTTLES[name]
    assert bottle.diameter * 1000.0 == pytest.approx(diameter, abs=1.5)
    assert bottle.length * 1000.0 == pytest.approx(length, abs=2.0)
    assert bottle.glass * 1000.0 == pytest.approx(glass, abs=20.0)
