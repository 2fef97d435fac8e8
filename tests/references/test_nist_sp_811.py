"""NIST SP 811 appendix B: units of inch and pound, as the registry of pint has them."""

from __future__ import annotations

import pint
import pytest

from spec.derive.formulas import constants


@pytest.mark.parametrize(
    ("name", "unit", "metric"),
    [
        ("GRAVITY", "standard_gravity", "m/s²"),
        ("INCH", "inch", "m"),
        ("POUND", "pound", "kg"),
        ("GALLON", "gallon", "m³"),
        ("R_IP", "foot² * hour * delta_degF / Btu", "m² * K / W"),
    ],
)
def test_a_unit_is_what_pint_says(name: str, unit: str, metric: str) -> None:
    # the Btu has several definitions that differ in the seventh digit
    found = pint.UnitRegistry().Quantity(1.0, unit).to(metric).magnitude
    assert getattr(constants, name) == pytest.approx(found, rel=1e-6)
