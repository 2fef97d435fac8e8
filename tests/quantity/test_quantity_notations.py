"""What people write is read exactly."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spec.quantity import (
    DIMENSIONS,
    UNITS,
    Quantity,
    QuantityError,
    Range,
    Series,
    Size,
    parse,
    show,
)

INCH = Fraction(254, 10000)
CHARACTERS = {
    Fraction(1, 2): "½", Fraction(1, 4): "¼", Fraction(3, 4): "¾", Fraction(1, 8): "⅛",
    Fraction(3, 8): "⅜", Fraction(5, 8): "⅝", Fraction(7, 8): "⅞",
}  # fmt: skip

sixty_fourths = st.integers(0, 64 * 12 * 60).map(lambda ticks: Fraction(ticks, 64))


def mixed(value: Fraction, joint: str) -> str:
    whole, part = divmod(value, 1)
    if not part:
        return str(whole)
    return f"{whole}{joint}{part}" if whole else str(part)


def one_character(value: Fraction) -> str:
    whole, part = divmod(value, 1)
    if part not in CHARACTERS:
        return mixed(value, "-")
    return f"{whole or ''}{CHARACTERS[part]}"


INCHES_ALONE = (
    lambda v: f"{mixed(v, '-')} in",
    lambda v: f"{mixed(v, ' ')} in",
    lambda v: f'{mixed(v, "-")}"',
    lambda v: f"{mixed(v, '–')}″",
    lambda v: f"{mixed(v, '-')} inches",
    lambda v: f"{one_character(v)} in",
    lambda v: f"{float(v):.6f} in",
    lambda v: f"{float(v):.6f}".rstrip("0").rstrip(".") + "in",
)
FEET_AND_INCHES = (
    lambda ft, v: f"{ft}' {mixed(v, '-')}\"",
    lambda ft, v: f"{ft}'-{mixed(v, ' ')}\"",
    lambda ft, v: f"{ft}'{mixed(v, '-')}\"",
    lambda ft, v: f"{ft}' - {mixed(v, '-')}\"",
    lambda ft, v: f"{ft}′ {one_character(v)}″",
    lambda ft, v: f"{ft}’ {one_character(v)}”",
    lambda ft, v: f"{ft}' {mixed(v, '-')}''",
    lambda ft, v: f"{ft} ft {mixed(v, '-')} in",
    lambda ft, v: f"{ft} feet {mixed(v, ' ')} inches",
    lambda ft, v: f"{ft}ft {mixed(v, '-')}in",
    lambda ft, v: f"{ft}\N{NO-BREAK SPACE}ft {one_character(v)}\N{NO-BREAK SPACE}in",
)


@pytest.mark.parametrize("write", INCHES_ALONE)
@given(value=sixty_fourths)
def test_inches_are_exact_to_a_sixty_fourth(write, value):
    assert parse(write(value), "length").exact == value * INCH


@pytest.mark.parametrize("write", FEET_AND_INCHES)
@given(value=sixty_fourths)
def test_feet_and_inches_are_exact_to_a_sixty_fourth(write, value):
    feet, inches = divmod(value, 12)
    assert parse(write(feet, inches), "length").exact == value * INCH


@given(value=sixty_fourths, sign=st.sampled_from([1, -1]))
def test_a_shown_length_reads_back_as_itself(value, sign):
    exact = sign * value * INCH
    assert parse(show(float(exact), "offset", "imperial"), "offset").exact == exact


@given(st.integers(-(10**6), 10**6))
def test_tenths_of_millimeters_are_exact(tenths):
    assert parse(f"{tenths / 10:.1f} mm", "offset").exact == Fraction(tenths, 10000)


def test_other_fractions_are_kept_exact():
    assert parse("1/3 in", "length").exact == INCH / 3
    assert parse("⅓ in", "length").exact == INCH / 3
    assert parse("7/100 in", "length").exact == INCH * 7 / 100


@pytest.mark.parametrize(
    ("text", "dimension", "value"),
    [
        ("7' 6-1/2\"", "length", "2.2987"),
        ("90-1/2 in", "length", "2.2987"),
        ("9 ft 1-7/16 in", "length", "2.7797125"),
        ("-7' 6\"", "level", "-2.286"),
        ("2.4 m", "length", "2.4"),
        ("-0.4 m", "offset", "-0.4"),
        ("−9 mm", "level", "-0.009"),
        ("60 ft", "elevation", "18.288"),
        ("-18 °C", "temperature", "-18"),
        ("32 °F", "temperature", "0"),
        ("212 °F", "temperature", "100"),
        ("-40°F", "temperature", "-40"),
        ("50 F", "temperature", "10"),
        ("50 deg F", "temperature", "10"),
        ("50 ºF", "temperature", "10"),
        ("50 ℉", "temperature", "10"),
        ("285.15 K", "temperature", "12"),
        ("1.5 K", "temperature_difference", "1.5"),
        ("9 °F", "temperature_difference", "5"),
        ("2 °C", "temperature_difference", "2"),
        ("2700 K", "color_temperature", "2700"),
        ("60 %", "percent", "0.6"),
        ("12.5%", "percent", "0.125"),
        ("88°", "angle", "88"),
        ("87.5 degrees", "angle", "87.5"),
        ("2400 USD", "money", "2400"),
        ("EUR 12.50", "money", "12.5"),
        ("-640 NOK", "money", "-640"),
        ("4 to 1", "ratio", "4"),
        ("1 to 4", "ratio", "0.25"),
        ("3/8 in per ft", "ratio", "0.03125"),
        ("3/8 in/ft", "ratio", "0.03125"),
        ('3/8" per foot', "ratio", "0.03125"),
        ("20 mm per m", "ratio", "0.02"),
        ("2 %", "ratio", "0.02"),
        ("2 h/day", "hours_per_day", "2"),
        ("30 min per day", "hours_per_day", "0.5"),
        ("8 per day", "per_day", "8"),
        ("0.5 per hour", "per_day", "12"),
        ("72 h", "duration", "259200"),
        ("1 h 30 min", "duration", "5400"),
        ("10 weeks", "duration", "6048000"),
        ("1 day", "duration", "86400"),
        ("2 months", "duration", "5259600"),
        ("2 years", "duration", "63115200"),
        ("150 lb", "mass", "68.0388555"),
        ("5 lb 4 oz", "mass", "2.3813599425"),
        ("1.1 kg", "mass", "1.1"),
        ("25 kg/m", "line_mass", "25"),
        ("84 kg/m²", "area_mass", "84"),
        ("2.0 kN/m²", "area_load", "2000"),
        ("100 kg/m2", "area_load", "980.665"),
        ("25 bar", "pressure", "2500000"),
        ("7 l/s", "air_flow", "0.007"),
        ("36 m³/h", "air_flow", "0.01"),
        ("8 m/s", "speed", "8"),
        ("7.2 W/m", "power_per_length", "7.2"),
        ("45 W/m²", "power_per_area", "45"),
        ("1.0 W/m²K", "u_value", "1"),
        ("1.0 W/(m²·K)", "u_value", "1"),
        ("3.3 m2K/W", "r_value", "3.3"),
        ("RSI 3.3", "r_value", "3.3"),
        ("0.036 W/(m K)", "conductivity", "0.036"),
        ("2.5 mm²", "wire", "0.0000025"),
        ("1.5 mm2 copper", "wire", "0.0000015"),
        ("230 V", "voltage", "230"),
        ("30 mA", "current", "0.03"),
        ("100 VA", "apparent_power", "100"),
        ("41 dB", "sound", "41"),
        ("30 dBA", "sound", "30"),
        ("200 cm²", "area", "0.02"),
        ("750 ml", "volume", "0.00075"),
        ("38", "count", "38"),
        ("12 bottles", "count", "12"),
        (".5 m", "length", "0.5"),
        ("  600   mm ", "length", "0.6"),
        ("36-in", "length", "0.9144"),
    ],
)
def test_one_value(text, dimension, value):
    quantity = parse(text, dimension)
    assert isinstance(quantity, Quantity)
    assert quantity.exact == Fraction(value)
    assert quantity.written == text.strip()
    assert quantity.si == float(Fraction(value))


@pytest.mark.parametrize(
    "text",
    [
        "0.27 Btu/h ft2 F",
        "0.27 Btu/h ft² °F",
        "0.27 BTU/(h·ft²·°F)",
        "0.27 Btu/hr-ft2-F",
        "0.27 Btu per h ft2 F",
        "0.27 Btu/(hr ft^2 °F)",
    ],
)
def test_the_spellings_of_a_compound_unit_are_one_unit(text):
    assert parse(text, "u_value").exact == parse("0.27 Btu/h ft² °F", "u_value").exact


@pytest.mark.parametrize("text", ["R-19", "R19", "R 19", "r-19", "19 h ft² °F/Btu"])
def test_r_values_are_imperial_unless_they_say_otherwise(text):
    assert parse(text, "r_value").si == pytest.approx(19 * 0.1761102, rel=1e-6)


def test_ranges():
    band = parse("20 °F to 115 °F", "temperature", "range")
    assert isinstance(band, Range)
    assert (band.low.si, band.high.si) == pytest.approx((-20 / 3, 415 / 9))
    humidity = parse("55 to 70 %", "percent", "range")
    assert (humidity.low.exact, humidity.high.exact) == (Fraction(55, 100), Fraction(70, 100))
    assert humidity.low.written == "55 %"
    thin = parse("1/2 in to 3 in", "length", "range")
    assert (thin.low.exact, thin.high.exact) == (INCH / 2, INCH * 3)
    below = parse("-5 to -2 °C", "temperature", "range")
    assert (below.low.exact, below.high.exact) == (-5, -2)
    feet = parse("1' 6\" to 2'", "length", "range")
    assert (feet.low.exact, feet.high.exact) == (18 * INCH, 24 * INCH)
    prices = parse("500 to 800 USD", "money", "range")
    assert (prices.low.unit, prices.high.exact) == ("USD", 800)
    wires = parse("14 to 12 AWG", "wire", "range")
    assert wires.low.exact < wires.high.exact
    assert parse("0 to 600 mm", "length", "range").low.exact == 0
    assert parse("5 to 5 °C", "temperature", "range").low.exact == 5


def test_a_value_or_a_range():
    assert isinstance(parse("60 %", "percent", "one_or_range"), Quantity)
    assert isinstance(parse("55 to 70 %", "percent", "one_or_range"), Range)
    assert isinstance(parse("4 to 1", "ratio", "one_or_range"), Quantity)
    with pytest.raises(QuantityError, match="without a unit"):
        parse("55 to 70", "percent", "one_or_range")


@pytest.mark.parametrize(
    ("text", "millimeters"),
    [
        ("12 in x 24 in", (304.8, 609.6)),
        ("12 x 24 in", (304.8, 609.6)),
        ("12×24 in", (304.8, 609.6)),
        ("12in X 24in", (304.8, 609.6)),
        ("600 x 820 x 570 mm", (600, 820, 570)),
        ("24 in x 34-1/2 in x 24 in", (609.6, 876.3, 609.6)),
        ("2' 8\" x 6' 8\"", (812.8, 2032)),
        ("2 ft x 30 in", (609.6, 762)),
    ],
)
def test_sizes_are_wide_high_and_deep(text, millimeters):
    size = parse(text, "length", "size")
    assert isinstance(size, Size)
    assert tuple(side.exact * 1000 for side in size.sides) == tuple(
        Fraction(str(side)) for side in millimeters
    )
    assert size.written == text


def test_series():
    months = parse("51 55 61 68 75 80 82 82 79 69 60 53 °F", "temperature", "series")
    assert isinstance(months, Series)
    assert len(months.values) == 12
    assert months.values[0].exact == Fraction(19 * 5, 9)
    assert months.values[0].written == "51 °F"
    cold = parse("-5 -5 −1 5 11.5 °C", "temperature", "series")
    assert [value.exact for value in cold.values] == [-5, -5, -1, 5, Fraction(23, 2)]
    assert [v.exact / INCH for v in parse("6 10-1/2 1/2 in", "length", "series").values] == [
        6, Fraction(21, 2), Fraction(1, 2),
    ]  # fmt: skip
    assert [v.exact for v in parse("74, 72, 71 %", "percent", "series").values] == [
        Fraction(74, 100), Fraction(72, 100), Fraction(71, 100),
    ]  # fmt: skip
    assert len(parse("5 °C", "temperature", "series").values) == 1
    assert [v.unit for v in parse("10 20 USD", "money", "series").values] == ["USD", "USD"]


def test_bare_numbers_take_the_unit_of_the_file():
    assert parse("600", "length", bare_unit="mm").exact == Fraction(3, 5)
    assert parse("600", "length", bare_unit="mm").written == "600 mm"
    size = parse("600 x 820", "length", "size", "mm")
    assert [side.exact for side in size.sides] == [Fraction(3, 5), Fraction(41, 50)]
    assert size.written == "600 x 820 mm"
    series = parse("180 180 360", "length", "series", "mm")
    assert (series.values[2].exact, series.written) == (Fraction(9, 25), "180 180 360 mm")
    band = parse("45 to 60", "length", "range", "mm")
    assert (band.high.exact, band.written) == (Fraction(3, 50), "45 to 60 mm")
    assert parse("-9", "level", bare_unit="mm").exact == Fraction(-9, 1000)
    assert parse("11.5 m", "length", bare_unit="mm").exact == Fraction(23, 2)
    assert parse("12 x 24 in", "length", "size", "mm").sides[0].exact == 12 * INCH


def test_the_unit_of_lengths_is_not_lent_to_other_dimensions():
    with pytest.raises(QuantityError, match="without a unit"):
        parse("40", "power", bare_unit="mm")


@pytest.mark.parametrize("dimension", sorted(set(DIMENSIONS) - {"temperature"}))
def test_zero_needs_no_unit(dimension):
    assert parse("0", dimension).exact == 0


@pytest.mark.parametrize("unit", UNITS, ids=lambda unit: f"{unit.dimension}: {unit.symbol}")
def test_every_name_of_a_unit_reads_as_that_unit(unit):
    for name in (unit.symbol, *filter(None, unit.aliases)):
        quantity = parse(f"2 {name}", unit.dimension)
        assert quantity.exact == (2 + unit.offset) * unit.factor, name


@pytest.mark.parametrize("dimension", DIMENSIONS.values(), ids=lambda kind: kind.name)
def test_what_messages_propose_can_be_read(dimension):
    *first, last = dimension.sample.split(" or ")
    for sample in [*", ".join(first).split(", "), last]:
        if sample:
            parse(sample, dimension.name)
    for unit in dimension.usual:
        parse(f"12 {unit}", dimension.name)
