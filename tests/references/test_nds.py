"""NDS for Wood Construction 3.5.2: creep of seasoned lumber under lasting load, seen quoted."""

from __future__ import annotations

from spec.derive.formulas import shelves


def test_creep_factor_of_seasoned_lumber() -> None:
    # total deflection is 1.5 times that at once where lumber is dry in use, 2 where it is not
    assert shelves.CREEP == 1.5
