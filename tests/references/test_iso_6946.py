"""ISO 6946: surface resistances and cavities as published; a worked wall."""

from __future__ import annotations

import pytest

from spec.derive.formulas import envelope
from spec.derive.formulas.envelope import Direction, Layer, resistance


@pytest.mark.parametrize(
    ("direction", "film"), [("up", 0.10), ("horizontal", 0.13), ("down", 0.17)]
)
def test_iso_6946_2017_table_7_inside_films(direction: Direction, film: float) -> None:
    assert envelope.INSIDE_FILM[direction] == film


def test_iso_6946_2017_table_7_outside_film() -> None:
    assert envelope.OUTSIDE_FILM == 0.04


@pytest.mark.parametrize(
    ("millimeters", "up", "horizontal", "down"),
    [
        (0, 0.0, 0.0, 0.0),
        (5, 0.11, 0.11, 0.11),
        (7, 0.13, 0.13, 0.13),
        (10, 0.15, 0.15, 0.15),
        (15, 0.16, 0.17, 0.17),
        (25, 0.16, 0.18, 0.19),
        (50, 0.16, 0.18, 0.21),
        (100, 0.16, 0.18, 0.22),
        (300, 0.16, 0.18, 0.23),
    ],
)
def test_iso_6946_2007_table_2_unventilated_cavity(
    millimeters: float, up: float, horizontal: float, down: float
) -> None:
    found = [
        envelope.cavity_resistance(millimeters / 1000.0, d) for d in ("up", "horizontal", "down")
    ]
    assert found == pytest.approx([up, horizontal, down], abs=1e-9)


def test_scottish_building_standards_annex_6_b_2_timber_framed_wall() -> None:
    # Technical Handbook Domestic, annex 6.B.2, seen quoted; three decimals are printed
    wall = [
        Layer(resistance(0.102, 0.77)),
        Layer(0.18),
        Layer(resistance(0.009, 0.13)),
        Layer(resistance(0.140, 0.04), bridge=resistance(0.140, 0.12), share=0.15, frame="studs"),
        Layer(resistance(0.0125, 0.21)),
    ]
    found = envelope.transmittance(wall, 0.13, 0.04)
    assert found.upper == pytest.approx(3.435, abs=0.001)
    assert found.lower == pytest.approx(3.304, abs=0.001)
    assert found.u_value == pytest.approx(0.297, abs=0.0005)
    assert found.parallel_path == pytest.approx(1 / 3.435, abs=0.0005)
    assert found.holds
