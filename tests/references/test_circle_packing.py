"""Best packings of equal circles in a square, published for 1 to 16 circles."""

from __future__ import annotations

import pytest

from spec.derive.formulas import bins

PUBLISHED = (
    1, 1.7071, 1.9659, 2, 2.4142, 2.6641, 2.8660, 2.9319, 3, 3.3737, 3.5113, 3.5725, 3.7315, 3.8660,
    3.9319, 4,
)  # fmt: skip


@pytest.mark.parametrize(("count", "side"), list(enumerate(PUBLISHED, start=1)))
def test_square_of_published_side_takes_its_count_and_no_less_square_does(
    count: int, side: float
) -> None:
    # four places are printed, so a thousandth either way decides; past 16 Oler's bound takes over
    most = bins.square_bound(side + 0.001, 1.0)
    assert most == count or (count == 16 and most == 17)
    assert bins.square_bound(side - 0.001, 1.0) == count - 1
    # and half of the last place, cut off or rounded up, goes in favor of more
    assert bins.square_bound(side - 0.00006, 1.0) == count


@pytest.mark.parametrize("side", [1.0, 2.5, 4.0, 5.3, 9.0])
def test_oler_bound_is_never_under_the_square_stack(side: float) -> None:
    corners = [(0.0, 0.0), (side, 0.0), (side, side), (0.0, side)]
    assert bins.convex_bound(corners, 1.0) >= int(side) ** 2
