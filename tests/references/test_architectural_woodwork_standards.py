"""Architectural Woodwork Standards 1st edition 4.4.14.10: longest shelves at L/144, seen in it."""

from __future__ import annotations

import pytest

from spec.derive.formulas import shelves

INCH, PSI, PSF = 0.0254, 6894.757293168, 47.88025898
FIR, HARDWOOD_FACED = 950_000 * PSI, 1_800_000 * PSI


@pytest.mark.parametrize(
    ("stiffness", "thickness", "psf", "span"),
    [
        pytest.param(FIR, 0.75, 40, 40, id="fir plywood 3/4 in 40 psf"),
        pytest.param(FIR, 0.75, 50, 37, id="fir plywood 3/4 in 50 psf"),
        pytest.param(FIR, 1.00, 40, 53, id="fir plywood 1 in 40 psf"),
        pytest.param(FIR, 1.00, 50, 49, id="fir plywood 1 in 50 psf"),
        pytest.param(HARDWOOD_FACED, 0.75, 40, 49, id="hardwood-faced 3/4 in 40 psf"),
        pytest.param(HARDWOOD_FACED, 0.75, 50, 46, id="hardwood-faced 3/4 in 50 psf"),
        pytest.param(HARDWOOD_FACED, 1.00, 40, 66, id="hardwood-faced 1 in 40 psf"),
        pytest.param(HARDWOOD_FACED, 1.00, 50, 61, id="hardwood-faced 1 in 50 psf"),
    ],
)
def test_longest_span(stiffness: float, thickness: float, psf: float, span: float) -> None:
    found = shelves.longest_span(thickness * INCH, stiffness, psf * PSF, 144.0) / INCH
    assert found == pytest.approx(span, abs=0.6)  # whole inches are printed
    sag = shelves.sag(found * INCH, 12 * INCH, thickness * INCH, stiffness, psf * PSF * 12 * INCH)
    assert sag == pytest.approx(found * INCH / 144.0, rel=1e-9)
