"""Figures worked out again at the ends of what a standard of the house may be."""

from __future__ import annotations

from pathlib import Path

import pytest

from spec.derive.figure import Facts, definitions
from spec.derive.uncertain import Ranges, Reach
from spec.job.schema import root
from spec.pipeline import check_file
from spec.quantity import Quantity, Range, parse


@pytest.fixture(scope="module")
def garden(starters: Path) -> Facts:
    return check_file(starters / "garden_store" / "job.yaml").facts


def reaches(facts: Facts, name: str) -> dict[str, Reach]:
    room = facts.job.thing("wine_room")
    assert room is not None
    return {r.standard: r for r in Ranges(facts).of(facts.figures.get(name, room))}


def test_it_is_what_the_house_would_have_got(garden_store: Path) -> None:
    found = reaches(check_file(garden_store).facts, "cooling.needed")
    reach = found["infiltration.changes"]
    house = garden_store.parent / "house.yaml"
    text = house.read_text(encoding="utf-8")
    for end, value in (("6 per day", reach.least.value), ("24 per day", reach.most.value)):
        house.write_text(
            text.replace("thresholds:", f"thresholds:\n  infiltration.changes: {end}", 1),
            encoding="utf-8",
        )
        other = check_file(garden_store).facts
        room = other.job.thing("wine_room")
        assert room is not None
        assert other.job.limit("infiltration.changes") != 12.0
        assert other.figures.value("cooling.needed", room) == value
    assert (reach.least.value or 0) < (reach.figure.value or 0) < (reach.most.value or 0)


def test_only_standards_with_a_range_that_the_figure_has_read(garden: Facts) -> None:
    found = reaches(garden, "cooling.pull_down")
    assert set(found) == {
        "cooling.hours",
        "door_opening.lasts",
        "infiltration.changes",
        "wine.heat_capacity",
    }
    assert all(reach.least.value != reach.most.value for reach in found.values())
    assert not reaches(garden, "cooling.people")


def test_the_job_itself_stays_as_it_was(garden: Facts) -> None:
    before = garden.job.limit("wine.heat_capacity")
    other = garden.job.instead("wine.heat_capacity", _quantity("4000 J/kgK"))
    assert other.limit("wine.heat_capacity") == pytest.approx(4000.0)
    assert garden.job.limit("wine.heat_capacity") == before


def test_every_range_holds_its_default_and_moves_a_figure(garden: Facts) -> None:
    thresholds = root("house").below("thresholds")
    assert thresholds is not None
    named = {name for name, shape in thresholds.items() if "range" in shape.schema}
    for name in named:
        span = garden.job.range_of(name)
        shape = thresholds.below(name)
        assert isinstance(span, Range) and shape is not None
        default = parse(str(shape.schema["default"]), shape.quantity[0])
        assert isinstance(default, Quantity)
        assert span.low.si <= default.si <= span.high.si
    ranges = Ranges(garden)
    ranged = [f for f in garden.figures.all() if f.definition.ranged]
    assert {f.definition.name for f in ranged} == {
        name for name, made in definitions().items() if made.ranged
    }
    assert {reach.standard for f in ranged for reach in ranges.of(f)} == named


def _quantity(text: str) -> Quantity:
    found = parse(text, "heat_capacity")
    assert isinstance(found, Quantity)
    return found
