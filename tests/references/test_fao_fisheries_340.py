"""FAO Fisheries Technical Paper 340 chapter 8: a cold store's load, seen in the source, kcal/h."""

from __future__ import annotations

import pytest

from spec.derive.formulas import air, cooling

KCAL_PER_HOUR = 4186.8 / 3600.0
"""[W] The paper's kilocalorie, international table."""


def test_lights_of_1_kw_are_860_kcal_per_hour() -> None:
    found = cooling.running(1000.0, 24.0).total / KCAL_PER_HOUR
    assert found == pytest.approx(860.0, abs=1.0)


def test_product_of_35_t_at_5_5_kcal_per_kg_in_24_hours() -> None:
    heat = 35_000.0 * 5.5 * 4186.8
    # 8020.8 is printed as 8020
    assert cooling.pull_down(heat, 86_400.0).total / KCAL_PER_HOUR == pytest.approx(8020.0, abs=1.0)


def test_run_time_of_18_hours_in_24() -> None:
    # the paper multiplies the day's load by 24/18, without a safety factor
    assert cooling.capacity_needed(18_000.0, 0.0, 18.0) == pytest.approx(24_000.0)


def test_air_changes_of_2_7_a_day_in_1000_m3() -> None:
    # outside 35 °C at 60 %, the store at -30 °C, which holds next to no water; the paper takes a
    # round 40 kcal for each cubic meter of it, and has 1000 x 2.7 x 40 / 24 = 4500
    warm, store = air.state(35.0, 0.6, 101_325.0), air.state(-30.0, 0.9, 101_325.0)
    found = cooling.infiltration(1000.0, 2.7 / 24.0, warm, store).total / KCAL_PER_HOUR
    assert found == pytest.approx(4500.0, rel=0.05)
