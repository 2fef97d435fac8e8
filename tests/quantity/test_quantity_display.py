"""Computed values are printed in one way; what was written is printed as it was written."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spec.quantity import DIMENSIONS, both, parse, show
from spec.quantity.display import DISPLAY
from spec.quantity.units import find

INCH = 0.0254


@pytest.mark.parametrize(
    ("si", "dimension", "imperial", "metric"),
    [
        (90.5 * INCH, "length", "7' 6-1/2\"", "2299 mm"),
        (24 * INCH, "length", "24 in", "610 mm"),
        (0.625 * INCH, "length", "5/8 in", "16 mm"),
        (71.5 * INCH, "length", "71-1/2 in", "1816 mm"),
        (72 * INCH, "length", "6' 0\"", "1829 mm"),
        (71.99 * INCH, "length", "6' 0\"", "1829 mm"),
        (95.99 * INCH, "length", "8' 0\"", "2438 mm"),
        (2.4, "length", "7' 10-1/2\"", "2400 mm"),
        (11.5, "length", "37' 8-3/4\"", "11.5 m"),
        (0.010, "length", "13/32 in", "10 mm"),
        (0.0002, "length", "7.9 mil", "0.2 mm"),
        (0.0, "length", "0 in", "0 mm"),
        (-0.009, "level", "-11/32 in", "-9 mm"),
        (-2.0, "offset", "-6' 6-3/4\"", "-2000 mm"),
        (18.288, "elevation", "60 ft", "18 m"),
        (13.0, "temperature", "55.4 °F", "13 °C"),
        (-0.01, "temperature", "32 °F", "0 °C"),
        (1.5, "temperature_difference", "2.7 °F", "1.5 K"),
        (1000.0, "heat_flow", "3412 Btu/h", "1000 W"),
        (96.0, "power", "96 W", "96 W"),
        (3.35, "r_value", "19 h ft² °F/Btu", "3.35 m²K/W"),
        (0.6, "percent", "60 %", "60 %"),
        (4.0, "ratio", "4 to 1", "4 to 1"),
        (1 / 48, "ratio", "1/4 in per ft", "2.1 %"),
        (0.015, "ratio", "0.18 in per ft", "1.5 %"),
        (70 * 86400.0, "duration", "10 weeks", "10 weeks"),
        (14 * 86400.0, "duration", "14 days", "14 days"),
        (72 * 3600.0, "duration", "72 h", "72 h"),
        (45 * 60.0, "duration", "45 min", "45 min"),
        (2.081e-6, "wire", "14 AWG", "2.08 mm²"),
        (53.5e-6, "wire", "1/0 AWG", "53.5 mm²"),
        (2.5e-6, "wire", "2.5 mm²", "2.5 mm²"),
        (7182.0, "area_load", "150 psf", "7.18 kN/m²"),
        (5.72135e-12, "permeance", "0.1 perm", "5.7 ng/(Pa s m²)"),
        (88.0, "angle", "88°", "88°"),
        (230.0, "voltage", "230 V", "230 V"),
        (2400.0, "money", "2400", "2400"),
        (2400.5, "money", "2400.50", "2400.50"),
        (38.0, "count", "38", "38"),
        (8.0, "per_day", "8 per day", "8 per day"),
        (30.0, "sound", "30 dB", "30 dB"),
    ],
)
def test_show(si, dimension, imperial, metric):
    assert show(si, dimension, "imperial") == imperial
    assert show(si, dimension, "metric") == metric


def test_money_is_followed_by_its_currency():
    assert show(12.5, "money", "metric", currency="EUR") == "12.50 EUR"


@pytest.mark.parametrize("system", ["imperial", "metric"])
@given(
    dimension=st.sampled_from(sorted(set(DIMENSIONS) - {"money", "count"})),
    number=st.floats(0, 300),
)
def test_what_is_shown_reads_back_within_its_rounding(system, dimension, number):
    kind = DIMENSIONS[dimension]
    unit = find(dimension, "mm²" if dimension == "wire" else kind.usual[-1])
    si = number * float(unit.factor)
    if kind.most is not None:
        si = min(si, float(kind.most))
    shown = show(si, dimension, system)
    back = parse(shown, dimension).si
    steps = DISPLAY[dimension][0 if system == "imperial" else 1]
    if dimension == "ratio" or not steps:
        half = {"ratio": 0.005, "length": INCH / 32}.get(dimension, INCH / 32)
    else:
        step = next(step for step in steps if abs(si) < step.below)
        half = 0.5 * 10**-step.places * float(find(dimension, step.unit).factor)
    slack = 0.005 * si if dimension == "wire" else 1e-9 * abs(si)
    assert abs(back - si) <= half * (1 + 1e-9) + slack, shown


@pytest.mark.parametrize("dimension", DIMENSIONS)
def test_every_dimension_has_its_row(dimension):
    assert show(0.5, dimension, "imperial")
    assert show(0.5, dimension, "metric")


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_no_number_is_no_text(value):
    with pytest.raises(ValueError, match="finite"):
        show(value, "length", "metric")


def test_unknown_systems_and_dimensions_are_mistakes_of_the_program():
    with pytest.raises(ValueError, match="system"):
        show(1.0, "length", "nautical")
    with pytest.raises(KeyError):
        show(1.0, "smell", "metric")


@pytest.mark.parametrize(
    ("text", "dimension", "shape", "imperial", "metric"),
    [
        ("7'-6 1/2\"", "length", "one", "7'-6 1/2\"", "7'-6 1/2\" (2299 mm)"),
        ("2.4 m", "length", "one", "2.4 m (7' 10-1/2\")", "2.4 m"),
        ("60 %", "percent", "one", "60 %", "60 %"),
        ("120 V", "voltage", "one", "120 V", "120 V"),
        ("0", "length", "one", "0", "0"),
        ("R-19", "r_value", "one", "R-19", "R-19 (3.35 m²K/W)"),
        ("14 AWG copper", "wire", "one", "14 AWG copper", "14 AWG copper (2.08 mm²)"),
        ("2.5 mm²", "wire", "one", "2.5 mm²", "2.5 mm²"),
        ("3400 Btu/h", "power", "one", "3400 Btu/h", "3400 Btu/h (996 W)"),
        ("680 W", "power", "one", "680 W", "680 W"),
        ("680 W", "heat_flow", "one", "680 W (2320 Btu/h)", "680 W"),
        ("2400 USD", "money", "one", "2400 USD", "2400 USD"),
        (
            "20 °F to 115 °F", "temperature", "range",
            "20 °F to 115 °F", "20 °F to 115 °F (-6.7 to 46.1 °C)",
        ),
        ("12 in x 24 in", "length", "size", "12 in x 24 in", "12 in x 24 in (305 x 610 mm)"),
        (
            "600 x 2400 mm", "length", "size",
            "600 x 2400 mm (23-5/8 in x 7' 10-1/2\")", "600 x 2400 mm",
        ),
        ("50 59 °F", "temperature", "series", "50 59 °F", "50 59 °F (10 15 °C)"),
    ],
)  # fmt: skip
def test_both(text, dimension, shape, imperial, metric):
    quantity = parse(text, dimension, shape)
    assert both(quantity, "imperial") == imperial
    assert both(quantity, "metric") == metric


def test_a_bare_number_is_printed_with_its_unit():
    quantity = parse("600", "length", bare_unit="mm")
    assert both(quantity, "metric") == "600 mm"
    assert f"{quantity}" == "600 mm"
