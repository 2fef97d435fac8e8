"""Whoever puts the printed numbers into the printed formula gets the printed result."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

import pytest

from spec.derive.figure import Facts, Given
from spec.derive.notation import (
    Call,
    Chain,
    Fraction,
    Group,
    Number,
    Power,
    Product,
    Symbol,
    Term,
    Words,
    cases,
    parse,
)

_SAME_EVERYWHERE = {"π": math.pi, "g": 9.80665}
_FUNCTIONS = {"sqrt": math.sqrt, "sin": math.sin, "cos": math.cos, "arcsin": math.asin}
_FUNCTIONS |= {"ln": math.log, "log": math.log10}
_IN_DEGREES = ("sin", "cos")
_EACH_IN_ITS_OWN = {
    "cooling.sound": "the levels are the parts",
    "cooling.holds": "U and A of all surfaces are summed by the figure that it uses",
    "envelope.r_between": "the resistances of the layers are named by the layers",
}


_GARDEN = {
    "openings.leaf_weight",
    "openings.arch_radius",
    "openings.gate_radius",
    "openings.gate_leaf",
    "millwork.shelf_sag",
    "millwork.shelf_sag_most",
    "millwork.shelf_span_most",
    "millwork.ladder_length",
    "millwork.ladder_foot",
    "millwork.ladder_clear",
    "millwork.ladder_push",
    "millwork.slide_reserve",
    "storage.corner_pitch",
    "storage.bottle_room",
}


class Unnamed(Exception):
    """A name of the formula that no number is printed for."""


def worth(term: Term, known: Mapping[str, float]) -> float:
    """The number that a formula comes to."""
    match term:
        case Number(text):
            return float(text)
        case Symbol(letter, below):
            return _named(f"{letter}_{below}" if below else letter, known)
        case Words(text):
            return _named(text, known)
        case Group(body):
            return worth(body, known)
        case Power(base, exponent):
            return float(worth(base, known) ** worth(exponent, known))
        case Product(factors):
            return math.prod(worth(factor, known) for factor in factors)
        case Fraction(above, below_it):
            return worth(above, known) / worth(below_it, known)
        case Chain(terms):
            return sum(-worth(t, known) if sign == "-" else worth(t, known) for sign, t in terms)
        case Call(Words("sum"), (body,), over) if over:
            return worth(body, known)  # of one part
        case Call(Words(name) | Symbol(name), (argument,)) if name in _FUNCTIONS:
            value = worth(argument, known)
            return _FUNCTIONS[name](math.radians(value) if name in _IN_DEGREES else value)
    raise Unnamed(str(term))


def _named(name: str, known: Mapping[str, float]) -> float:
    try:
        return known[name]
    except KeyError:
        raise Unnamed(name) from None


def _numbers(given: Given) -> dict[str, float]:
    return _SAME_EVERYWHERE | {name: value for name, value, _ in given}


def _results(formula: str, known: Mapping[str, float]) -> Iterator[float]:
    for case in cases(formula):
        try:
            yield worth(parse(case).term, known)
        except Unnamed:
            continue


def followed(facts: Facts) -> set[str]:
    """The figures whose result, or whose shares, come out of their formula; counts are rounded."""
    found = set()
    for figure in facts.figures.all():
        definition = figure.definition
        if definition.dimension == "count":
            continue
        if figure.value is None or (not figure.given and figure.remark):
            continue
        whole = _numbers(figure.given)
        shares = [(p.value, whole | _numbers(p.given)) for p in figure.parts if p.given]
        for value, known in shares or [(figure.value, whole)]:
            results = list(_results(definition.formula, known))
            if not results:
                continue
            close = [math.isclose(abs(r), abs(value), rel_tol=1e-6, abs_tol=1e-12) for r in results]
            assert any(close), f"{figure.address}: {value}, by its formula {results}"
            found.add(definition.name)
    return found


def _unnamed_symbols(facts: Facts) -> dict[str, set[str]]:
    """Symbols that no printed number goes by, in the case of a formula that lacks fewest."""
    found: dict[str, set[str]] = {}
    for figure in facts.figures.all():
        if figure.value is None or (not figure.given and figure.remark):
            continue
        known = {*_SAME_EVERYWHERE, *(name for name, _, _ in figure.given)}
        known |= {name for part in figure.parts for name, _, _ in part.given}
        lacking = [_symbols(parse(c).term) - known for c in cases(figure.definition.formula)]
        fewest = min(lacking, key=len)
        if fewest:
            found.setdefault(figure.definition.name, set()).update(fewest)
    return found


def _symbols(term: Term) -> set[str]:
    match term:
        case Symbol(letter, below):
            return {f"{letter}_{below}" if below else letter}
        case Group(body):
            return _symbols(body)
        case Power(a, b) | Fraction(a, b):
            return _symbols(a) | _symbols(b)
        case Product(factors):
            return set().union(*map(_symbols, factors))
        case Chain(terms):
            return set().union(*(_symbols(t) for _, t in terms))
        case Call(_, arguments):
            return set().union(*map(_symbols, arguments))
    return set()


@pytest.mark.parametrize("starter", ["garden", "flat"])
def test_every_symbol_of_a_formula_is_printed_with_its_number(
    starter: str, request: pytest.FixtureRequest
) -> None:
    facts: Facts = request.getfixturevalue(starter)
    assert set(_unnamed_symbols(facts)) <= set(_EACH_IN_ITS_OWN)


@pytest.mark.parametrize(
    ("starter", "at_least"),
    [
        ("garden", _GARDEN),
        ("flat", {"envelope.retarder", "openings.pane_weight", "storage.peg_room"}),
    ],
)
def test_the_numbers_put_in_give_the_result(
    starter: str, at_least: set[str], request: pytest.FixtureRequest
) -> None:
    found = followed(request.getfixturevalue(starter))
    always = {
        "cooling.transmission",
        "cooling.infiltration",
        "cooling.doorway",
        "cooling.people",
        "cooling.product",
        "cooling.fans",
        "cooling.design_hour",
        "cooling.hour_margin",
        "cooling.needed",
        "cooling.margin",
        "cooling.runs",
        "cooling.pull_down",
        "cooling.condensate",
        "electrical.drop",
        "lighting.drop",
        "openings.u_value",
        "openings.surface",
        "openings.dry_up_to",
        "envelope.dew_margin",
        "envelope.u_value",
        "envelope.board_area",
        "area.wall",
        "area.volume",
        "millwork.loaded_weight",
        "millwork.line_load",
        "millwork.floor_pressure",
        "millwork.room_load",
        "millwork.floor_used",
        "millwork.top_area",
    }
    assert always | at_least <= found
