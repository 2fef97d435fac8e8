"""Every formula refuses what is not a number, in plain words, and documents itself."""

from __future__ import annotations

import importlib
import inspect
import math
import pkgutil
from collections.abc import Callable
from typing import Any

import pytest

from spec.derive import formulas
from spec.derive.formulas import air, weights
from spec.derive.formulas.range import NotCovered, OutOfRange
from tests.derive.formulas.calls import CALLS

NUMBERS = [
    pytest.param(function, given, name, id=f"{function.__module__}.{function.__name__}.{name}")
    for function, given in CALLS
    for name, value in given.items()
    if isinstance(value, float)
]
MODULES = [
    importlib.import_module(f"{formulas.__name__}.{found.name}")
    for found in pkgutil.iter_modules(formulas.__path__)
]
PUBLIC = [
    pytest.param(thing, id=f"{module.__name__.rsplit('.', 1)[1]}.{name}")
    for module in MODULES
    for name, thing in vars(module).items()
    if inspect.isfunction(thing) and thing.__module__ == module.__name__ and name[0] != "_"
]


@pytest.mark.parametrize(("function", "given", "name"), NUMBERS)
@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_what_is_not_a_number_is_refused(
    function: Callable[..., Any], given: dict[str, Any], name: str, bad: float
) -> None:
    function(**given)  # the call as it stands is good
    with pytest.raises(OutOfRange) as refused:
        function(**{**given, name: bad})
    assert str(refused.value)


@pytest.mark.parametrize("function", PUBLIC)
def test_every_formula_says_units_result_errors_and_source(function: Callable[..., Any]) -> None:
    text = " ".join((inspect.getdoc(function) or "").split())
    assert text
    parameters = [p for p in inspect.signature(function).parameters.values() if p.name != "self"]
    for parameter in parameters:
        assert parameter.name in text, f"{parameter.name} is not explained"
    if any(p.annotation == "float" for p in parameters):
        assert "[" in text
    assert "Raises" in text
    if function.__module__.rsplit(".", 1)[1] != "range":
        assert "Returns" in text
        assert "Source" in text


def test_a_refusal_reads_like_a_sentence() -> None:
    with pytest.raises(OutOfRange) as refused:
        air.dew_point(20.0, 1.4)
    assert str(refused.value) == "the relative humidity is 1.4; this holds from 0 to 1"
    assert (refused.value.low, refused.value.high, refused.value.value) == (0.0, 1.0, 1.4)
    with pytest.raises(OutOfRange, match="the area is -1 m²; it has to be at least 0 m²"):
        weights.sheet(-1.0, 0.01, 700.0)


def test_a_refusal_says_the_same_in_other_units_where_it_has_no_value() -> None:
    with pytest.raises(OutOfRange, match=r"^the area is not a number$"):
        weights.sheet(math.nan, 0.01, 700.0)
    says = "two sizes of wire are not in the table"
    assert NotCovered(says).said(str) == str(NotCovered(says)) == says
