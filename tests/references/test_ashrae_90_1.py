"""ASHRAE 90.1-2007 table A9.2B: effective R of insulation between steel studs, from memory."""

from __future__ import annotations

import pytest

from spec.derive.formulas import steel_framing
from spec.derive.formulas.range import OutOfRange

INCH, R_IP = 0.0254, 0.176110
TABLE = {
    # (depth [in], spacing [in]): nominal R, effective R [ft² h °F/Btu]
    (3.5, 16): ((11, 5.5), (13, 6.0), (15, 6.4)),
    (3.5, 24): ((11, 6.6), (13, 7.2), (15, 7.8)),
    (6.0, 16): ((19, 7.1), (21, 7.4)),
    (6.0, 24): ((19, 8.6), (21, 9.0)),
    (8.0, 16): ((25, 7.8),),
    (8.0, 24): ((25, 9.6),),
}
CASES = [(*size, *row) for size, rows in TABLE.items() for row in rows]


@pytest.mark.parametrize(("depth", "spacing", "nominal", "effective"), CASES)
def test_effective_r(depth: float, spacing: float, nominal: float, effective: float) -> None:
    found = steel_framing.layer(nominal * R_IP, depth * INCH, spacing * INCH)
    # the factors have two digits: half of the last is 1.4 % of the least
    assert found.resistance / R_IP == pytest.approx(effective, rel=0.015)
    assert (found.depth / INCH, found.spacing / INCH) == pytest.approx((depth, spacing))


def test_between_two_rows_the_factor_runs_straight_and_past_the_ends_it_stays() -> None:
    def factor(nominal: float) -> float:
        return steel_framing.layer(nominal * R_IP, 3.5 * INCH, 16 * INCH).factor

    assert factor(12.0) == pytest.approx((factor(11.0) + factor(13.0)) / 2.0)
    assert factor(14.5) == pytest.approx(factor(13.0) * 0.25 + factor(15.0) * 0.75)


@pytest.mark.parametrize(("size", "rows"), TABLE.items())
def test_a_row_holds_a_tenth_past_its_ends_and_no_more(
    size: tuple[float, int], rows: tuple[tuple[float, float], ...]
) -> None:
    depth, spacing = size[0] * INCH, size[1] * INCH
    for (nominal, effective), way in ((rows[0], -1.0), (rows[-1], 1.0)):
        inside, outside = nominal * (1.0 + way * 0.095), nominal * (1.0 + way * 0.105)
        found = steel_framing.layer(inside * R_IP, depth, spacing)
        assert found.factor == pytest.approx(effective / nominal, rel=0.015)
        with pytest.raises(OutOfRange, match=f"not with R-{outside:.1f}"):
            steel_framing.layer(outside * R_IP, depth, spacing)


@pytest.mark.parametrize(
    ("depth", "row"), [(0.085, 3.5), (0.120, 3.5), (0.122, 6.0), (0.177, 6.0), (0.179, 8.0),
                       (0.205, 8.0)],
)  # fmt: skip
def test_a_stud_counts_as_the_nearest_depth(depth: float, row: float) -> None:
    nominal = {3.5: 13.0, 6.0: 20.0, 8.0: 25.0}[row]
    assert steel_framing.layer(nominal * R_IP, depth, 0.4).depth == pytest.approx(row * INCH)


@pytest.mark.parametrize(
    ("spacing", "row"), [(0.39, 16), (0.40, 16), (0.507, 16), (0.509, 24), (0.60, 24), (0.63, 24)]
)
def test_a_spacing_counts_as_16_or_24_inches_with_20_between(spacing: float, row: int) -> None:
    found = steel_framing.layer(13.0 * R_IP, 3.5 * INCH, spacing)
    assert found.spacing == pytest.approx(row * INCH)


@pytest.mark.parametrize(
    ("depth", "spacing", "what"),
    [(0.084, 0.4, "depth"), (0.206, 0.4, "depth"), (0.0889, 0.385, "spacing"),
     (0.0889, 0.635, "spacing")],
)  # fmt: skip
def test_studs_that_the_table_does_not_have_are_refused(
    depth: float, spacing: float, what: str
) -> None:
    nominal = 25.0 if depth > 0.2 else 13.0
    with pytest.raises(OutOfRange, match=f"{what} of the steel studs"):
        steel_framing.layer(nominal * R_IP, depth, spacing)


def test_a_spacing_just_between_counts_as_the_closer_one_which_insulates_less() -> None:
    found = steel_framing.layer(13.0 * R_IP, 3.5 * INCH, 20.0 * INCH)
    wide = steel_framing.layer(13.0 * R_IP, 3.5 * INCH, 24.0 * INCH)
    assert found.spacing == pytest.approx(16.0 * INCH)
    assert found.resistance < wide.resistance


def test_table_a3_3_3_1_of_2016_r_19_in_6_in_studs_at_16_in() -> None:
    # U .109 Btu/h ft² °F seen quoted; films, stucco and two gypsum boards, from memory; the
    # factor of two digits leaves 1.4 %
    found = steel_framing.layer(19.0 * R_IP, 6.0 * INCH, 16.0 * INCH).resistance / R_IP
    assert 1.0 / (found + 2.05) == pytest.approx(0.109, rel=0.014)
