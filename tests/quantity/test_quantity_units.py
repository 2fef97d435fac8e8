"""The conversion factors, against pint and against printed values."""

from __future__ import annotations

import math
from fractions import Fraction

import pint
import pytest

from spec.quantity import DIMENSIONS, UNITS, parse
from spec.quantity.units import BY_NAME, plain

registry = pint.UnitRegistry()

BASE = {
    "length": "m", "offset": "m", "level": "m", "elevation": "m", "area": "m**2",
    "volume": "m**3", "mass": "kg", "line_mass": "kg/m", "area_mass": "kg/m**2",
    "area_load": "Pa", "density": "kg/m**3", "pressure": "Pa",
    "temperature_difference": "delta_degC",
    "color_temperature": "K", "power": "W", "heat_flow": "W", "power_per_length": "W/m",
    "power_per_area": "W/m**2", "voltage": "V", "current": "A", "apparent_power": "V*A",
    "frequency": "Hz", "wire": "m**2", "illuminance": "lx", "air_flow": "m**3/s",
    "speed": "m/s", "permeance": "kg/(m**2*s*Pa)", "r_value": "m**2*K/W", "u_value": "W/(m**2*K)",
    "conductivity": "W/(m*K)", "heat_capacity": "J/(kg*K)", "angle": "degree",
    "ratio": "dimensionless", "percent": "dimensionless", "duration": "s", "per_day": "1/day",
    "hours_per_day": "hour/day",
}  # fmt: skip

BTU = "international_british_thermal_unit"
SPELLED = {
    "mil": "thou", "t": "tonne", "gal": "US_liquid_gallon", "psi": "psi", "in H2O": "inch_H2O",
    "in²": "inch**2", "ft²": "foot**2", "mm²": "mm**2", "cm²": "cm**2", "m²": "m**2",
    "in³": "inch**3", "ft³": "foot**3", "m³": "m**3", "in": "inch", "ft": "foot", "yd": "yard",
    "kg/m²": "kg/m**2", "g/m²": "g/m**2", "kN/m²": "kN/m**2", "lb/ft³": "lb/foot**3",
    "kg/m³": "kg/m**3", "°C": "delta_degC", "°F": "delta_degF", "Btu/h": f"{BTU}/hour",
    "hp": "horsepower", "W/ft": "W/foot", "Btu/h ft²": f"{BTU}/hour/foot**2",
    "W/ft²": "W/foot**2", "W/m²": "W/m**2", "fc": "lumen/foot**2", "cfm": "foot**3/minute",
    "m³/h": "m**3/hour", "m³/s": "m**3/s", "ft/min": "foot/minute", "mph": "mile/hour",
    "ft/s": "foot/s", "km/h": "km/hour", "perm": "grain/hour/foot**2/inch_Hg_32F",
    "ng/(Pa s m²)": "nanogram/(Pa*s*m**2)", "h ft² °F/Btu": f"hour*foot**2*delta_degF/{BTU}",
    "m²K/W": "m**2*K/W", "Btu/h ft² °F": f"{BTU}/(hour*foot**2*delta_degF)",
    "W/m²K": "W/(m**2*K)", "Btu in/h ft² °F": f"{BTU}*inch/(hour*foot**2*delta_degF)",
    "Btu/h ft °F": f"{BTU}/(hour*foot*delta_degF)", "W/mK": "W/(m*K)",
    "Btu/lb °F": f"{BTU}/(lb*delta_degF)", "J/kgK": "J/(kg*K)", "kJ/kgK": "kJ/(kg*K)",
    "°": "degree", "in per ft": "inch/foot", "mm per m": "mm/m", "cm per m": "cm/m",
    "%": "percent", "min": "minute", "h": "hour", "per day": "1/day", "per hour": "1/hour",
    "per week": "1/week", "per month": "1/month", "per year": "1/year", "h/day": "hour/day",
    "min/day": "minute/day", "L": "liter", "L/s": "liter/s", "VA": "V*A", "kVA": "kV*A",
    "lb/ft": "lb/foot", "oz": "ounce", "W": "watt", "A": "ampere", "V": "volt",
}  # fmt: skip
# pint knows no decibel of sound and no bottle; its temperatures have offsets: tested below.
WITHOUT_PINT = {"temperature", "sound", "count"}


def test_every_dimension_is_compared_with_pint_or_named():
    assert set(BASE) | WITHOUT_PINT | {"money"} == set(DIMENSIONS)


def in_pint(unit):
    if unit.symbol == "psf":
        return "lb/foot**2" if unit.dimension == "area_mass" else "force_pound/foot**2"
    if unit.symbol == "kg/m²" and unit.dimension == "area_load":
        return "force_kilogram/m**2"
    return SPELLED.get(unit.symbol, unit.symbol)


@pytest.mark.parametrize(
    "unit",
    [unit for unit in UNITS if unit.dimension not in WITHOUT_PINT],
    ids=lambda unit: f"{unit.dimension}: {unit.symbol}",
)
def test_factor_agrees_with_pint(unit):
    reference = registry.Quantity(1, in_pint(unit)).to(BASE[unit.dimension]).magnitude
    # SP 811 prints the perm with six digits.
    tolerance = 5e-6 if unit.symbol == "perm" else 1e-9
    assert float(unit.factor) == pytest.approx(reference, rel=tolerance)


@pytest.mark.parametrize(("symbol", "name"), [("°F", "degF"), ("°C", "degC"), ("K", "kelvin")])
@pytest.mark.parametrize("number", [300, 55, 32, 1, "98.6"])
def test_temperatures_agree_with_pint(symbol, name, number):
    reference = registry.Quantity(float(number), name).to("degC").magnitude
    assert parse(f"{number} {symbol}", "temperature").si == pytest.approx(reference, abs=1e-9)


# NIST SP 811 (2008), appendix B.8, as printed there (six or seven digits).
@pytest.mark.parametrize(
    ("text", "dimension", "printed"),
    [
        ("1 ft", "length", 3.048e-1),
        ("1 lb", "mass", 4.535924e-1),
        ("1 Btu/h", "heat_flow", 2.930711e-1),
        ("1 psi", "pressure", 6.894757e3),
        ("1 lbf/ft2", "area_load", 4.788026e1),
        ("1 cfm", "air_flow", 4.719474e-4),
        ("1 gal", "volume", 3.785412e-3),
        ("1 fc", "illuminance", 1.076391e1),
        ("1 perm", "permeance", 5.72135e-11),
        ("1 in H2O", "pressure", 2.490889e2),
        ("1 h ft2 F/Btu", "r_value", 1.761102e-1),
        ("1 Btu/h ft2 F", "u_value", 5.678263),
        ("1 Btu in/h ft2 F", "conductivity", 1.442279e-1),
        ("1 Btu/h ft F", "conductivity", 1.730735),
        ("1 Btu/lb F", "heat_capacity", 4.1868e3),
        ("1 hp", "power", 7.456999e2),
        ("1 lb/ft3", "density", 1.601846e1),
    ],
)
def test_factors_as_printed_by_nist(text, dimension, printed):
    assert parse(text, dimension).si == pytest.approx(printed, rel=3e-7)


# ASTM B258 nominal areas in circular mils, as quoted in NEC chapter 9 table 8 (from memory):
# rounded there to three or four digits.
@pytest.mark.parametrize(
    ("gauge", "circular_mils"),
    [("14", 4110), ("12", 6530), ("10", 10380), ("8", 16510), ("6", 26240), ("4", 41740),
     ("2", 66360), ("1/0", 105600), ("2/0", 133100), ("4/0", 211600)],
)  # fmt: skip
def test_wire_gauges(gauge, circular_mils):
    mil = 0.0254 / 1000
    area = parse(f"{gauge} AWG copper", "wire").si
    assert area == pytest.approx(circular_mils * math.pi / 4 * mil**2, rel=1e-3)


@pytest.mark.parametrize(
    ("text", "dimension", "same"),
    [
        ("2 KG", "mass", "2 kg"),
        ("3 Kw", "power", "3 kW"),
        ("2 MM", "length", "2 mm"),
        ("5 ma", "current", "5 mA"),
        ("30 ml", "volume", "30 mL"),
        ("1 MPA", "pressure", "1 MPa"),
        ("4 Millimeters", "length", "4 mm"),
        ("1/2 HP", "power", "0.5 hp"),
    ],
)
def test_a_sloppy_case_is_read_where_it_can_mean_one_thing_only(text, dimension, same):
    assert parse(text, dimension).exact == parse(same, dimension).exact


def test_a_name_means_one_unit_of_a_dimension():
    for dimension in DIMENSIONS:
        seen = {}
        for unit in UNITS:
            if unit.dimension == dimension:
                for name in filter(None, (unit.symbol, *unit.aliases)):
                    assert seen.setdefault(plain(name), unit) is unit, (dimension, name)
        assert set(seen) - {"mpa"} <= set(BY_NAME[dimension])  # MPa by its case alone


def test_the_base_unit_of_a_dimension_has_the_factor_one():
    for kind in DIMENSIONS.values():
        if unit := BY_NAME[kind.name].get(kind.si):
            assert unit.factor == 1, kind.name


def test_heights_above_sea_level_and_levels_are_lengths():
    for name in ("offset", "level", "elevation"):
        assert parse("3 ft", name).exact == Fraction(9144, 10000)
        assert parse("-3 ft", name).exact == Fraction(-9144, 10000)
