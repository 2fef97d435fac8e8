"""Gases of insulating glass at 10 °C: CoolProp, and kinetic theory for krypton."""

from __future__ import annotations

import math

import pytest
from CoolProp.CoolProp import PropsSI

from spec.derive.formulas.insulating_glass import GASES, Gap, conductance, u_value
from spec.derive.formulas.range import OutOfRange

KELVIN, PASCAL = 283.15, 101_325.0
STEFAN = 5.670374419e-8
"""[W/m²K⁴] CODATA 2018."""


@pytest.mark.parametrize(("name", "fluid"), [("air", "Air"), ("argon", "Argon")])
def test_agrees_with_coolprop(name: str, fluid: str) -> None:
    # EN 673 has older data: 1.3 % in density, 1 % in the rest
    ours = GASES[name]

    def theirs(what: str) -> float:
        return float(PropsSI(what, "T", KELVIN, "P", PASCAL, fluid))

    assert ours.density == pytest.approx(theirs("D"), rel=0.015)
    assert ours.viscosity == pytest.approx(theirs("V"), rel=0.01)
    assert ours.conductivity == pytest.approx(theirs("L"), rel=0.01)
    assert ours.heat == pytest.approx(theirs("C"), rel=0.01)


def test_krypton_by_coolprop_and_by_kinetic_theory() -> None:
    ours, molar = GASES["krypton"], 0.083798
    assert ours.density == pytest.approx(
        PropsSI("D", "T", KELVIN, "P", PASCAL, "Krypton"), rel=0.02
    )
    assert ours.heat == pytest.approx(PropsSI("C", "T", KELVIN, "P", PASCAL, "Krypton"), rel=0.02)
    # Chapman and Enskog with the Lennard-Jones size and depth of krypton (3.655 Å, 178.9 K) and
    # the collision integral of Neufeld, from memory
    t = KELVIN / 178.9
    integral = (
        1.16145 / t**0.14874 + 0.52487 / math.exp(0.7732 * t) + 2.16178 / math.exp(2.43787 * t)
    )
    viscosity = 2.6693e-6 * math.sqrt(1000.0 * molar * KELVIN) / (3.655**2 * integral)
    assert ours.viscosity == pytest.approx(viscosity, rel=0.02)
    # a gas of single atoms conducts 15/4 R/M of its viscosity (Eucken)
    assert ours.conductivity == pytest.approx(3.75 * 8.314463 / molar * viscosity, rel=0.03)


def radiation(difference: float, a: float, b: float) -> float:
    """Between two plates whose mean is 283 K, by the fourth powers."""
    hot, cold = 283.0 + difference / 2.0, 283.0 - difference / 2.0
    return STEFAN * (hot**4 - cold**4) / (1.0 / a + 1.0 / b - 1.0) / difference


@pytest.mark.parametrize(("a", "b"), [(0.837, 0.837), (0.837, 0.04), (0.3, 0.2)])
def test_a_narrow_gap_conducts_and_radiates(a: float, b: float) -> None:
    # the standard's 4 σ T³ is short of the fourth powers by less than a thousandth at 15 K
    found = conductance(Gap(0.003, "air", 1.0, (a, b)))
    air = PropsSI("L", "T", KELVIN, "P", PASCAL, "Air")
    assert found == pytest.approx(radiation(15.0, a, b) + air / 0.003, rel=0.01)
    # what radiates is the difference of two gaps whose gas is alike
    black = conductance(Gap(0.003, "air", 1.0, (1.0, 1.0)))
    expected = radiation(15.0, 1.0, 1.0) - radiation(15.0, a, b)
    assert black - found == pytest.approx(expected, rel=0.002)


@pytest.mark.parametrize("fluid", ["Air", "Argon"])
@pytest.mark.parametrize(("width", "difference"), [(0.020, 15.0), (0.030, 15.0), (0.020, 40.0)])
def test_a_wide_gap_turns_its_gas_over(fluid: str, width: float, difference: float) -> None:
    # Nu = .035 (Gr Pr)^.38 of EN 673 with CoolProp's gas: 2 % for the older data
    d, v, k, c = (float(PropsSI(x, "T", KELVIN, "P", PASCAL, fluid)) for x in "DVLC")
    rayleigh = 9.80665 * width**3 * difference / KELVIN * d**2 / v**2 * v * c / k
    found = conductance(Gap(width, fluid.lower()), difference) - conductance(
        Gap(0.001, fluid.lower()), difference
    )
    still = GASES[fluid.lower()].conductivity / 0.001
    assert found + still == pytest.approx(0.035 * rayleigh**0.38 * k / width, rel=0.02)


@pytest.mark.parametrize("filled", [0.0, 0.3, 0.9, 1.0])
def test_a_filling_lies_between_its_gas_and_air_by_volume(filled: float) -> None:
    # density of a mixture by the molar masses 39.95 and 28.96; in a narrow gap only λ counts
    k_air, k_argon = (float(PropsSI("L", "T", KELVIN, "P", PASCAL, f)) for f in ("Air", "Argon"))
    found = conductance(Gap(0.002, "argon", filled)) - radiation(15.0, 0.837, 0.837)
    assert found == pytest.approx((filled * k_argon + (1 - filled) * k_air) / 0.002, rel=0.01)
    # in a wide gap all four do
    d, v, c = (
        filled * float(PropsSI(x, "T", KELVIN, "P", PASCAL, "Argon"))
        + (1 - filled) * float(PropsSI(x, "T", KELVIN, "P", PASCAL, "Air"))
        for x in "DVC"
    )
    k = filled * k_argon + (1 - filled) * k_air
    rayleigh = 9.80665 * 0.025**3 * 15.0 / KELVIN * d**2 / v * c / k
    wide = conductance(Gap(0.025, "argon", filled)) - radiation(15.0, 0.837, 0.837)
    assert wide == pytest.approx(0.035 * rayleigh**0.38 * k / 0.025, rel=0.02)


def test_two_unlike_gaps_share_15_k_by_their_resistance() -> None:
    narrow, wide = Gap(0.006, "air"), Gap(0.030, "argon", 1.0, (0.05, 0.837))
    low, high = 0.01, 14.99
    for _ in range(60):
        middle = (low + high) / 2.0
        resists = 1.0 / conductance(narrow, middle), 1.0 / conductance(wide, 15.0 - middle)
        low, high = (middle, high) if resists[0] / middle > resists[1] / (15.0 - middle) else (
            low, middle
        )  # fmt: skip
    # films of 23 and 8 W/m²K and 12 mm of glass at 1 W/mK, EN 673:1997
    expected = 1.0 / (1 / 23 + 1 / 8 + sum(resists) + 0.012)
    assert u_value([0.004] * 3, [narrow, wide]) == pytest.approx(expected, rel=1e-9)
    assert u_value([0.004] * 3, [narrow, wide], (25.0, 7.7)) == pytest.approx(
        1.0 / (1 / 25 + 1 / 7.7 + sum(resists) + 0.012), rel=1e-9
    )


def test_panes_gaps_and_faces_of_a_size_that_can_be() -> None:
    for pane in (0.001, 0.1):
        u_value([pane, 0.004], [Gap(0.012)])
    for pane in (0.00098, 0.102):
        with pytest.raises(OutOfRange, match="pane"):
            u_value([pane, 0.004], [Gap(0.012)])
    conductance(Gap(0.05, "air", 1.0, (0.01, 1.0)))
    with pytest.raises(OutOfRange, match=r"the gap is 0\.051 m; this holds from 0 m to 0\.05 m"):
        conductance(Gap(0.051))
    for width, emissivity in ((0.051, 0.5), (0.0, 0.5), (0.012, 0.0098), (0.012, 1.02)):
        with pytest.raises(OutOfRange):
            conductance(Gap(width, "air", 1.0, (emissivity, 0.837)))
