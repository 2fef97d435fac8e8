"""All figures of all sheets: declared completely, worked for both starters, quick to load."""

from __future__ import annotations

import math
import subprocess
import sys

import pytest

from spec.derive.figure import Facts, definitions
from spec.job.schema import SUBJECTS, TRADES
from spec.job.trades import OWN
from spec.quantity.dimensions import DIMENSIONS

DEFINITIONS = tuple(definitions().values())
_PLAIN = {"count", "number", "day"}


@pytest.mark.parametrize("definition", DEFINITIONS, ids=lambda d: d.name)
def test_a_figure_says_what_it_is(definition) -> None:  # type: ignore[no-untyped-def]
    assert definition.title and definition.formula and definition.source
    assert definition.dimension in DIMENSIONS or definition.dimension in _PLAIN
    assert set(definition.trades) <= {*TRADES, "client", OWN}
    assert definition.subject in SUBJECTS
    assert definition.work.__doc__


def test_every_subject_has_a_figure_that_a_rule_can_lean_on() -> None:
    assert {definition.subject for definition in DEFINITIONS} == set(SUBJECTS)


@pytest.mark.parametrize("starter", ["garden", "flat"])
def test_every_figure_of_a_starter_is_worked(starter: str, request: pytest.FixtureRequest) -> None:
    facts: Facts = request.getfixturevalue(starter)
    found = list(facts.figures.all())
    assert len({figure.address for figure in found}) == len(found) > 200
    for figure in found:
        assert not figure.refused, f"{figure.address}: {figure.refused}"
        assert figure.value is not None, f"{figure.address} waits for {set(figure.waits_for)}"
        assert math.isfinite(figure.value), figure.address
        assert figure.inputs, f"{figure.address} is made from nothing"
        unknown = [a for a in figure.inputs if "@" not in a and facts.job.state(a) == "missing"]
        assert all("." in address for address in unknown), f"{figure.address}: {unknown}"


def test_checking_loads_no_heavy_library() -> None:
    """The sheets are loaded at every check: nothing slow may come with them."""
    code = (
        "import sys; from spec.derive.figure import definitions; definitions(); "
        "print(*[m for m in ('networkx', 'psychrolib', 'shapely', 'numpy') if m in sys.modules])"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == ""
