"""What cannot be read is refused in plain words, with what would put it right."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spec.quantity import (
    DIMENSIONS,
    SHAPES,
    Quantity,
    QuantityError,
    Range,
    Series,
    Size,
    parse,
)


def refused(text, dimension, shape="one", bare_unit=None):
    with pytest.raises(QuantityError) as caught:
        parse(text, dimension, shape, bare_unit)
    return caught.value


@pytest.mark.parametrize(
    ("text", "dimension", "message", "cure"),
    [
        ("30", "length", "30 is a number without a unit", "write 30 in or 30 mm"),
        ("120/240 V", "voltage", "two values with a slash between them", "120 V or 240 V"),
        ("1-1/2 W", "power", "has a fraction, and a power has none", "a decimal"),
        ("72/68 °F", "temperature", "two values with a slash", "72 °F or 68 °F"),
        ("8'-", "length", "ends in a hyphen", "or 8'"),
        ("8' 6\"-", "length", "ends in a hyphen", "or 8' 6\""),
        ("1 mPa", "pressure", '"mPa" is not "MPa"', "write 1 MPa, if that is meant"),
        ("1 mpa", "pressure", "m is a thousandth and M a million", "1 MPa"),
        ("5 MA", "current", '"MA" is not "mA"', "write 5 mA, if that is meant"),
        ("2 Mm", "length", '"Mm" is not "mm"', "2 mm"),
        ("3 ML", "volume", '"ML" is not "mL"', "3 mL"),
        ("1/2", "length", "1/2 is a number without a unit", "write 1/2 in or 1/2 mm"),
        ("0", "temperature", "0 is a number without a unit", "write 0 °F or 0 °C"),
        ("60", "percent", "60 is a number without a unit", "write 60 %"),
        ("88", "angle", "88 is a number without a unit", "write 88°"),
        ("5 ft", "area", "5 ft is a length, and an area is wanted", "like 12 ft²"),
        ("3 h", "hours_per_day", "3 h is a time, and a time per day is wanted", "2 h/day"),
        ("2°", "ratio", "2° is an angle, and a slope is wanted", "1/4 in per ft"),
        ("7' 6\"", "mass", "is a length, and a weight is wanted", "85 lb"),
        ("R-19", "u_value", "is an R-value, and a U-value is wanted", "0.27"),
        ("2400 USD", "length", "is an amount of money, and a length", "24 in"),
        ("72 degrees", "temperature", "is an angle, and a temperature is wanted", "55 °F"),
        ("3 inchs", "length", '"inchs" is not a unit of length', "did you mean 3 in"),
        ("3 metrs", "length", "not a unit of length", "did you mean 3 m"),
        ("90 cfn", "air_flow", '"cfn" is not a unit of flow of air', "did you mean 90 cfm"),
        ("0.3 Btu/h ft F", "u_value", "is a thermal conductivity, and a U-value", "Btu/h ft²"),
        ("10 rpm", "frequency", '"rpm" is not a unit of frequency', "like 60 Hz"),
        ("10 rpm", "speed", '"rpm" is not a unit of speed', ""),
        ("30 dBA at 1 m", "sound", '"at 1 m" after 30 dBA is no part', "write 30 dBA alone"),
        ("10 A C", "current", '"C" after 10 A is no part of a current', "write 10 A alone"),
        ("8 kg each", "mass", '"each" after 8 kg is no part', "write 8 kg alone"),
        ("nan", "length", "not a number", "24 in"),
        (".inf", "length", "not a number", "24 in"),
        ("-inf mm", "length", "not a number", "24 in"),
        ("∞ mm", "length", "not a number", "24 in"),
        ("1e5 mm", "length", "exponent", "write the number out"),
        ("1,200 mm", "length", "comma in a number", "write 1200 or 1.200"),
        ("2,4 m", "length", "comma in a number", "write 24 or 2.4"),
        ("1_000 mm", "length", "a line in a number", "write 1000"),
        ("99999999999999999 mm", "length", "too long a number", ""),
        ("9999999999 mm", "length", "too large to be meant", "check the number"),
        ("9999999999 ft 3 in", "length", "too large to be meant", "check the number"),
        ("R-9999999999", "r_value", "too large to be meant", "check the number"),
        ("-3 in", "length", "-3 in is less than 0, which a length cannot be", "minus"),
        ("-2' 6\"", "length", "less than 0", "minus"),
        ("-5 psf", "area_load", "less than 0", "minus"),
        ("-5 %", "percent", "less than 0", "minus"),
        ("-1", "count", "less than 0", "minus"),
        ("1.5", "count", "not a whole number", "write 2"),
        ("120 %", "percent", "more than 100 %", "at most 100 %"),
        ("361°", "angle", "more than 360°", "at most"),
        ("25 h/day", "hours_per_day", "more than 24 h/day", "at most"),
        ("-500 °F", "temperature", "colder than anything can be", "check"),
        ("3/0 in", "length", "divides by 0", "like 1/2"),
        ("R-1/0", "r_value", "divides by 0", "like 1/2"),
        ("3-5/4 in", "length", "fraction in 3-5/4 is one or more", "3-1/4"),
        ("7' 6", "length", "without an inch mark", "write 7' 6\""),
        ("7' 6-1/2", "length", "without an inch mark", "write 7' 6-1/2\""),
        ("7' 14\"", "length", "14 in after the ft, and 12 in are 1 ft", "check both"),
        ("7.5' 6\"", "length", "not whole", "write whole ft"),
        ("1:4", "ratio", "1:4 does not say which is the rise", "write 1 to 4"),
        ("4 to 0", "ratio", "no run", "4 to 1"),
        ("2400 USX", "money", "USX is no currency", "2400 USD"),
        ("$50", "money", "which currency", "2400 USD"),
        ("50", "money", "without a unit", "50 USD or 50 EUR"),
        ("U-0.27", "u_value", "whether it is in Btu/h ft² °F or in W/m²K", "0.27 Btu/h ft2 F or"),
        ("99 AWG", "wire", "no wire of a building", "14 AWG"),
        ("rest", "length", '"rest" is not a length', "24 in"),
        ("at least 60 mm", "length", "is not a length", "24 in"),
        ("", "length", "nothing is written where a length is wanted", "24 in"),
        ("   ", "length", "nothing is written where a length is wanted", "24 in"),
        ("90 - 1/2 in", "length", "is not one number", "24 in"),
        ("55-70 %", "percent", "is not one number", "60 %"),
        ("1.5.2 in", "length", "is not one number", "24 in"),
        ("20 °F to 30 °F", "temperature", "two values where one", "write one"),
        ("12 in x 24 in", "length", "a size where one value", "write one"),
        ("51 55 61 °F", "temperature", "several numbers where one", "write one"),
        ("１２ in", "length", "is not a length", "24 in"),
        ("12 in" + " x" * 300, "length", "characters are too many", "24 in"),
    ],
)
def test_one_value(text, dimension, message, cure):
    error = refused(text, dimension)
    assert message in error.message
    assert cure in error.cure
    assert str(error) == f"{error.message}: {error.cure}"


@pytest.mark.parametrize(
    ("text", "dimension", "shape", "message", "cure"),
    [
        ("60 %", "percent", "range", "one value where a lowest and a highest", "55 to 70 %"),
        ("55-70 %", "percent", "range", "joins two values by a dash", "write 55 to 70 %"),
        ("55–70 %", "percent", "range", "joins two values by a dash", "write 55 to 70 %"),
        ("70 to 55 %", "percent", "range", "from the higher to the lower", "lower value first"),
        (
            "20 to 30",
            "length",
            "range",
            "20 to 30 are numbers without a unit",
            "20 to 30 in or 20 to 30 mm",
        ),
        ("20 mm to 30", "length", "range", "last number of", "one unit at the end"),
        ("2 to 4' 6\"", "length", "range", "2 is a number without a unit", "2 in or 2 mm"),
        ("1 to 2 to 3 m", "length", "range", "more than two values", "the lowest and the"),
        ("12 in", "length", "size", "one side where two or three are wanted", "12 in x 24 in"),
        ("12 in x 24", "length", "size", "last number of 12 in x 24 has no unit", "one unit"),
        (
            "12 x 24",
            "length",
            "size",
            "12 x 24 are numbers without a unit",
            "12 x 24 in or 12 x 24 mm",
        ),
        ("1 x 2 x 3 x 4 m", "length", "size", "more than three sides", ""),
        ("250 x full x 180 mm", "length", "size", '"x full" is not a unit', ""),
        ("12 in x -3 in", "length", "size", "less than 0", ""),
        ("51 55 61", "temperature", "series", "are numbers without a unit", "51 55 61 °F or"),
        ("30", "temperature", "series", "30 is a number without a unit", "30 °F or 30 °C"),
        ("6 in 10 in", "length", "series", "not numbers and then one unit", "at the end"),
        ("10 1/2 12 in", "length", "series", "one number or two", "write 10-1/2"),
        ("[-5, -5] °C", "temperature", "series", "is not a temperature", ""),
        ("5 6 kg", "length", "series", "6 kg is a weight, and a length is wanted", ""),
        ("5 6 -7 mm", "length", "series", "less than 0", ""),
    ],
)
def test_other_shapes(text, dimension, shape, message, cure):
    error = refused(text, dimension, shape)
    assert message in error.message
    assert cure in error.cure


def test_a_size_of_which_only_the_first_number_has_a_unit_is_not_guessed():
    assert "one unit" in refused("12 in x 24", "length", "size", bare_unit="mm").cure


def test_unknown_dimensions_and_shapes_are_mistakes_of_the_program():
    with pytest.raises(KeyError):
        parse("1 m", "smell")
    with pytest.raises(ValueError, match="shape") as caught:
        parse("1 m", "length", "blob")
    assert not isinstance(caught.value, QuantityError)


PIECES = st.lists(
    st.sampled_from(
        [*"0123456789.,:/-+x×to'\"°%½⅝′″ FCKRUWm²", " ", " to ", " x ", " in", " ft", " mm", "°C",
         "R-", "1/0", "AWG", " USD", "/day", " per ", "nan", "inf", "\x00", "\n", "0x1", "1e9"]
    ),
    max_size=14,
).map("".join)  # fmt: skip
TYPES = {
    "one": Quantity, "heights": Quantity, "range": Range, "size": Size, "series": Series,
    "one_or_range": (Quantity, Range),
}  # fmt: skip


@settings(max_examples=1500, deadline=None)
@given(
    text=st.one_of(PIECES, st.text(max_size=30)),
    dimension=st.sampled_from(sorted(DIMENSIONS)),
    shape=st.sampled_from(SHAPES),
    bare_unit=st.sampled_from([None, "mm", "in"]),
)
def test_any_text_is_a_value_or_a_refusal_in_words(text, dimension, shape, bare_unit):
    try:
        value = parse(text, dimension, shape, bare_unit)
    except QuantityError as error:
        assert error.message and error.cure
        assert not re.search(r"\bNone\b|Fraction|Traceback|object at", error.message + error.cure)
        return
    assert isinstance(value, TYPES[shape])


@settings(max_examples=500, deadline=None)
@given(text=PIECES, dimension=st.sampled_from(sorted(DIMENSIONS)))
def test_values_stay_within_the_bounds_of_their_dimension(text, dimension):
    kind = DIMENSIONS[dimension]
    try:
        exact = parse(text, dimension).exact
    except QuantityError:
        return
    assert kind.least is None or exact >= kind.least
    assert kind.most is None or exact <= kind.most


@settings(max_examples=300, deadline=None)
@given(number=st.integers(1, 999), dimension=st.sampled_from(sorted(set(DIMENSIONS) - {"count"})))
def test_the_cure_for_a_missing_unit_cures(number, dimension):
    error = refused(str(number), dimension)
    assert "without a unit" in error.message
    for written in error.cure.removeprefix("write ").split(" or "):
        try:
            parse(written, dimension)
        except QuantityError as other:
            assert "more than" in other.message or "wire" in other.message
