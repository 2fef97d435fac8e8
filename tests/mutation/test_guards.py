"""The list of guards is whole: each module of formulas has its own, and they are there."""

from __future__ import annotations

import pkgutil
from pathlib import Path

import pytest

from spec.derive import formulas
from tests.mutation.equivalent import EQUIVALENT
from tests.mutation.guards import GUARDS

TESTS = Path(__file__).resolve().parents[1]


def test_each_module_of_formulas_is_guarded() -> None:
    assert set(GUARDS) == {found.name for found in pkgutil.iter_modules(formulas.__path__)}
    assert set(EQUIVALENT) <= set(GUARDS)


@pytest.mark.parametrize("module", GUARDS)
def test_its_guards_are_there(module: str) -> None:
    for file in GUARDS[module]:
        assert (TESTS / file).is_file()


def test_each_equivalent_has_its_reason() -> None:
    for module, lines in EQUIVALENT.items():
        for line, reason in lines.items():
            assert reason.strip(), f"{module}: {line}"
