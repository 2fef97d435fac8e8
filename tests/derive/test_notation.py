"""The notation of formulas: what it means, what it refuses, how it is laid out and spoken."""

from __future__ import annotations

import re
from typing import Any

import pytest

from spec.compose.formula import LONGEST_LINE, as_text, lines, spoken
from spec.derive.figure import definitions
from spec.derive.notation import (
    Call,
    Chain,
    Fraction,
    NotationError,
    Number,
    Power,
    Product,
    Symbol,
    Words,
    cases,
    parse,
)

ALL = [
    pytest.param(case, id=f"{definition.name}-{number}")
    for definition in definitions().values()
    for number, case in enumerate(cases(definition.formula))
]


def test_letters_are_symbols_and_words_are_names() -> None:
    term = parse("U R_si + rail height x Δh_b").term
    assert term == Chain(
        (
            ("", Product((Symbol("U"), Symbol("R", "si")), (False, False))),
            ("+", Product((Words("rail height"), Symbol("Δh", "b")), (False, True))),
        )
    )


def test_a_fraction_reaches_back_over_its_product_and_forward_over_one_factor() -> None:
    assert parse("2 r L / (U I)").term == Fraction(
        Product((Number("2"), Symbol("r"), Symbol("L")), (False,) * 3),
        parse("(U I)").term,
    )


def test_powers_bind_to_their_base_and_functions_to_their_parentheses() -> None:
    assert parse("w L^4").term == Product(
        (Symbol("w"), Power(Symbol("L"), Number("4"))), (False, False)
    )
    assert parse("p_sat(surface)").term == Call(Symbol("p", "sat"), (Words("surface"),))
    assert parse("p (q)").term != parse("p(q)").term
    assert parse("sum over warm walls of (A)").term == Call(
        Words("sum"), (Symbol("A"),), "warm walls"
    )


def test_the_remark_is_no_part_of_the_formula() -> None:
    formula = parse("load / given; with 3 % spare, say")
    assert formula.remark == "with 3 % spare, say"
    assert formula.term == parse("load / given").term


@pytest.mark.parametrize(
    "text",
    [
        "a / b c",
        "a / b x c",
        "a / b / c",
        "length of a bottle",
        "d -e",
        "a +",
        "(a",
        "a)",
        "",
        "2 3",
        "c²",
        "ρi",
        "wide(b)",
        "sum over of (a)",
        '"a < b"',
        "a, b",
        "area 5",
    ],
)
def test_what_can_be_read_in_two_ways_or_none_is_refused_with_its_place(text: str) -> None:
    with pytest.raises(NotationError) as refused:
        parse(text)
    assert str(refused.value)


def test_every_formula_of_the_sheets_follows_the_notation() -> None:
    refused = []
    for definition in definitions().values():
        for case in cases(definition.formula):
            try:
                parse(case)
            except NotationError as error:
                refused.append(f"{definition.name}: {error}")
    assert refused == []


@pytest.mark.parametrize("case", ALL)
def test_what_is_spoken_has_no_signs(case: str) -> None:
    assert re.fullmatch(r"[A-Za-z0-9]([A-Za-z0-9 ,.'-]*[A-Za-z0-9'])?", spoken(case)), spoken(case)
    assert ", ," not in spoken(case)


@pytest.mark.parametrize("case", ALL)
def test_a_layout_holds_every_word_and_number_of_the_formula(case: str) -> None:
    laid = " ".join(_words({"is": "row", "parts": lines(parse(case).term)}))
    written = re.sub(
        r'\bsum over\b|\bof(?= \()|\bsum(?=\()|\bsqrt\b|["]', " ", case.partition(";")[0]
    )
    for word in re.findall(r"[A-Za-z]{2,}|\d+(?:\.\d+)?", written):
        assert word in laid, (word, laid)


def test_a_long_sum_is_broken_before_a_sign() -> None:
    laid = lines(parse(" + ".join(["first name", "second name", "third name"] * 5)).term)
    assert len(laid) > 1
    assert all(line["parts"][0] == {"is": "op", "text": "+"} for line in laid[1:])
    assert all(len(" ".join(_words(line))) <= LONGEST_LINE + 20 for line in laid)


def test_fractions_are_stacked_in_the_outermost_row_only() -> None:
    (line,) = lines(parse("(a / b) / (c + d / e)").term)
    assert line["is"] == "frac"
    assert "frac" not in str(line["a"]) + str(line["b"])
    assert _words(line) == ["a", "/", "b", "c", "+", "d", "/", "e"]


def test_in_one_line_of_text_it_reads_as_on_paper() -> None:
    assert (
        as_text('"racks, full" x w - 1; say | 2 a; else')
        == "racks, full × w − 1, say; or 2 a, else"
    )


def _words(part: dict[str, Any]) -> list[str]:
    inside = [*part.get("parts", ()), *(part[key] for key in ("a", "b") if key in part)]
    own = [part["text"]] if part.get("text") else []
    return own + [word for below in inside for word in _words(below)]
