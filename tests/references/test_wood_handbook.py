"""USDA Wood Handbook FPL-GTR-190/282: published coefficients, and its moisture equation."""

from __future__ import annotations

import pytest

from spec.derive.formulas import weights, wood

MPSI = 6.894757293168e9


@pytest.mark.parametrize(
    ("name", "radial", "tangential"),
    [
        ("red_alder", 0.00151, 0.00256),
        ("white_oak", 0.00180, 0.00365),
        ("walnut", 0.00190, 0.00274),
        ("cherry", 0.00126, 0.00248),
        ("sugar_maple", 0.00165, 0.00353),
        ("red_oak", 0.00158, 0.00369),
    ],
)
def test_table_13_5_coefficients(name: str, radial: float, tangential: float) -> None:
    # FPL-GTR-190, seen in its text; both oaks are the handbook's commercial ones
    known = wood.species(name)
    assert (known.radial, known.tangential) == (radial, tangential)


@pytest.mark.parametrize(
    ("radial", "tangential", "published"),
    [
        (4.4, 7.3, (0.00151, 0.00256)),
        (5.5, 7.8, (0.00190, 0.00274)),
        (3.7, 7.1, (0.00126, 0.00248)),
    ],
    ids=["red alder", "walnut", "cherry"],
)
def test_table_4_3_shrinkage_gives_table_13_5(
    radial: float, tangential: float, published: tuple[float, float]
) -> None:
    found = (wood.coefficient(radial), wood.coefficient(tangential))
    assert found == pytest.approx(published, abs=0.000005)


@pytest.mark.parametrize(
    ("name", "stiffness"),
    [
        ("redwood_old_growth", 1.34), ("redwood_young_growth", 1.10), ("red_alder", 1.38),
        ("white_oak", 1.78), ("red_oak", 1.82), ("walnut", 1.68), ("sugar_maple", 1.83),
        ("cherry", 1.49),
    ],
)  # fmt: skip
def test_table_5_3_stiffness_at_12_percent(name: str, stiffness: float) -> None:
    assert wood.species(name).stiffness == pytest.approx(stiffness * MPSI)


@pytest.mark.parametrize(
    ("fahrenheit", "humidity", "moisture"),
    [(140.0, 0.55, 8.4), (55.0, 0.60, 11.2), (55.0, 0.70, 13.4)],
)
def test_equation_4_5_equilibrium_moisture(
    fahrenheit: float, humidity: float, moisture: float
) -> None:
    # 140 °F/55 % is the handbook's 8.4; the two at 55 °F are computed here from its equation
    found = wood.equilibrium_moisture((fahrenheit - 32.0) / 1.8, humidity)
    assert found == pytest.approx(moisture, abs=0.05)


TABLE_4_2 = """
 30 1.4 2.6 3.7 4.6 5.5 6.3 7.1 7.9 8.7 9.5 10.4 11.3 12.4 13.5 14.9 16.5 18.5 21.0 24.3
 70 1.3 2.5 3.5 4.5 5.4 6.2 6.9 7.7 8.5 9.2 10.1 11.0 12.0 13.1 14.4 16.0 17.9 20.5 23.9
100 1.2 2.3 3.3 4.2 5.0 5.8 6.5 7.2 7.9 8.7 9.5 10.3 11.2 12.3 13.6 15.1 17.0 19.5 22.9
140 0.9 1.9 2.8 3.6 4.3 5.0 5.7 6.3 7.0 7.7 8.4 9.1 10.0 11.0 12.1 13.6 15.3 17.7 21.0
"""
"""°F, then moisture [%] at 5, 10, 15 ... 95 % relative humidity. FPL-GTR-190, seen in its text."""


@pytest.mark.parametrize("row", TABLE_4_2.strip().splitlines())
def test_table_4_2_equilibrium_moisture(row: str) -> None:
    # the equation is the handbook's fit of this table, which prints one decimal
    fahrenheit, *moistures = map(float, row.split())
    for step, moisture in enumerate(moistures, start=1):
        found = wood.equilibrium_moisture((fahrenheit - 32.0) / 1.8, step / 20)
        assert found == pytest.approx(moisture, abs=0.15)


def test_equation_4_5_constants_at_three_temperatures() -> None:
    # W, K, K1, K2 evaluated apart from this program at 0, 20 and 60 °C, then M at 80 %
    for celsius, w, k, k1, k2 in (
        (0.0, 349.0, 0.805, 6.27, 1.91),
        (20.0, 380.2, 0.818628, 5.9612, 2.6068),
        (60.0, 475.0, 0.839332, 4.6164, 3.2972),
    ):
        kh = k * 0.8
        first = kh / (1 - kh)
        second = (k1 * kh + 2 * k1 * k2 * kh * kh) / (1 + k1 * kh + k1 * k2 * kh * kh)
        found = wood.equilibrium_moisture(celsius, 0.8)
        assert found == pytest.approx(1800.0 / w * (first + second), rel=1e-6)


@pytest.mark.parametrize(
    ("name", "gravity"),
    [
        ("redwood_old_growth", 0.40), ("redwood_young_growth", 0.35), ("red_alder", 0.41),
        ("white_oak", 0.68), ("red_oak", 0.63), ("walnut", 0.55), ("sugar_maple", 0.63),
        ("cherry", 0.50),
    ],
)  # fmt: skip
def test_table_5_3_specific_gravity_at_12_percent_from_memory(name: str, gravity: float) -> None:
    assert wood.species(name).gravity == gravity


@pytest.mark.parametrize(
    ("name", "saturation", "radial", "tangential"),
    [
        ("redwood_old_growth", 22, 2.6, 4.4), ("redwood_young_growth", 22, 2.2, 4.9),
        ("sapele", 30, 4.6, 7.4), ("european_oak", 30, 5.3, 8.9),
    ],
)  # fmt: skip
def test_shrinkage_from_memory_gives_the_coefficients(
    name: str, saturation: float, radial: float, tangential: float
) -> None:
    # Wood Handbook tables 4-3 and 4-4; Quercus robur from trade tables. Worked per percent of
    # moisture: what shrinks S % from saturation to dry shrinks S/saturation per percent, here
    # taken of the board at 10 % moisture; the coefficients are rounded
    known = wood.species(name)
    for shrinkage, found in ((radial, known.radial), (tangential, known.tangential)):
        per_percent = shrinkage / 100.0 / saturation
        at_ten = 1.0 - per_percent * (saturation - 10.0)
        assert found == pytest.approx(per_percent / at_ten, rel=0.01)


def test_species_outside_the_handbook_weigh_and_bend_as_trade_tables_have_it_from_memory() -> None:
    sapele, oak = wood.species("sapele"), wood.species("european_oak")
    assert (sapele.gravity, sapele.stiffness) == (0.60, 12.5e9)
    assert (oak.gravity, oak.stiffness) == (0.64, 10.6e9)


def test_chapter_13_change_of_dimension() -> None:
    # ΔD = D C ΔM by hand: 300 mm of flat-sawn white oak from 8 to 12 %, 300 x .00365 x 4 = 4.38 mm
    assert wood.movement(0.300, "white_oak", "tangential", 8.0, 12.0) == pytest.approx(0.00438)
    assert wood.movement(0.300, "white_oak", "radial", 12.0, 10.0) == pytest.approx(-0.00108)


@pytest.mark.parametrize(("gravity", "pounds"), [(0.40, 28.0), (0.50, 34.9), (0.68, 47.5)])
def test_table_4_6_weight_at_12_percent(gravity: float, pounds: float) -> None:
    # lb/ft³ = 62.4 G (1 + M/100), chapter 4; the table itself is on green volume, so worked here
    found = weights.wood_density(gravity) * 0.3048**3 / 0.45359237
    assert found == pytest.approx(pounds, abs=0.06)
