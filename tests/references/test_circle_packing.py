"""Best packings of equal circles in a square, published for 1 to 16 circles."""

from __future__ import annotations

import math

import pytest

from spec.derive.formulas import bins

R2, R3, R6 = (math.sqrt(n) for n in (2, 3, 6))
PUBLISHED = (
    1.0, 1 + R2 / 2, 1 + (R2 + R6) / 4, 2.0, 1 + R2, 1 + 6 / math.sqrt(13), 2 + R3 / 2,
    1 + (R2 + R6) / 2, 3.0, 1 + 1 / 0.421279543983903, 7.023 / 2, 1 + 15 / math.sqrt(34),
    7.464 / 2, 3 + R3 / 2, 2 + (R2 + R6) / 2, 4.0,
)  # fmt: skip
"""Side over diameter: closed forms of circle packing in a square, seen in public tables. For 10 by
OEIS A281065, the least distance of ten points in a unit square, seen there. 11 and 13 are printed
as 7.022... and 7.463... for two diameters; the last digit is raised, so that they surely go in."""


@pytest.mark.parametrize(("count", "side"), list(enumerate(PUBLISHED, start=1)))
def test_square_of_published_side_takes_its_count_and_no_less_square_does(
    count: int, side: float
) -> None:
    # never under the truth; past 16 Oler's bound takes over
    assert bins.square_bound(side, 1.0) == count or (count == 16 and side == 4.0)
    # the table has four places and two of those published three: a thousandth less decides
    assert bins.square_bound(side - 0.001, 1.0) == count - 1
    assert bins.square_bound(4.0 - 0.00005, 1.0) == 16


@pytest.mark.parametrize("side", [1.0, 2.5, 4.0, 5.3, 9.0])
def test_oler_bound_is_never_under_the_square_stack(side: float) -> None:
    corners = [(0.0, 0.0), (side, 0.0), (side, side), (0.0, side)]
    assert bins.convex_bound(corners, 1.0) >= int(side) ** 2
