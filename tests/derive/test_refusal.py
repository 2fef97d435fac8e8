"""A refusal is said in the units of the job, and never turns on rounding."""

from __future__ import annotations

import doctest

import pytest

from spec.derive import refusal
from spec.derive.formulas.range import NotCovered, OutOfRange, positive, within
from spec.derive.refusal import refused


def test_the_example_holds() -> None:
    assert doctest.testmod(refusal).failed == 0


@pytest.mark.parametrize(
    ("error", "system", "says"),
    [
        (
            OutOfRange("air temperature", 72.0, -60.0, 60.0, "°C"),
            "imperial",
            "the air temperature is 161.6 °F; this holds from -76 °F to 140 °F",
        ),
        (
            OutOfRange("rise", 0.7, 0.0, 0.5, "m"),
            "metric",
            "the rise is 700 mm; this holds from 0 mm to 500 mm",
        ),
        (
            OutOfRange("relative humidity", 1.4, 0.0, 1.0, ""),
            "imperial",
            "the relative humidity is 1.4; this holds from 0 to 1",
        ),
        (
            OutOfRange("size", float("nan"), 0.0, 1.0, "m"),
            "imperial",
            "the size is not a number",
        ),
        (NotCovered("there are no layers"), "imperial", "there are no layers"),
    ],
)
def test_each_value_has_the_units_of_the_job(error: OutOfRange, system: str, says: str) -> None:
    assert refused(error, system) == says


def test_a_zero_stays_a_zero() -> None:
    with pytest.raises(OutOfRange) as raised:
        positive(0.0, "size", "m")
    assert refused(raised.value, "imperial") == "the size is 0 in; it has to be more than 0 in"


def test_a_value_that_would_round_to_its_limit_keeps_the_formulas_units() -> None:
    """3.6577 m prints as 12' 0", as the limit of 3.6576 m does."""
    with pytest.raises(OutOfRange) as raised:
        within(3.6577, 0.0, 3.6576, "shelf length", "m")
    assert refused(raised.value, "imperial") == str(raised.value)
    assert "3.6577 m" in str(raised.value)
