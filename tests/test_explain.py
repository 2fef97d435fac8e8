"""`scantling explain`: rules, decisions and figures by name, and the nearest name for a slip."""

from __future__ import annotations

import pytest
from click.testing import CliRunner, Result

from spec.cli import cli
from spec.compose.manual.decisions import by_pattern
from spec.derive.figure import definitions
from spec.explain import explained


def explain(name: str) -> Result:
    return CliRunner().invoke(cli, ["explain", name], catch_exceptions=False)


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("millwork.stack-does-not-fit", "The heights of a stack do not add up"),
        ("reading.unknown-key", "cannot be read as it was meant"),
        ("envelope.not-decided", "A silence is an omission"),
        ("check.rule-failed", "a fault of the program"),
        ("cooling.load", "Cooling load on the design day"),
        ("cooling.load@wine_room", "Cooling load on the design day"),
        ("door.leaf.width", "How wide is the leaf of the door?"),
        ("leaf.follows", "leaf"),
        ("climate.temperature", "temperature"),
        ("job.revision.date", "Of which day is the revision?"),
        ("backing.margin", "Default: "),
    ],
)
def test_a_name_of_any_sort_is_explained(name: str, words: str) -> None:
    result = explain(name)
    assert result.exit_code == 0
    assert words in result.output


@pytest.mark.parametrize("name", definitions())
def test_every_figure_can_be_explained_with_its_own_words(name: str) -> None:
    made = definitions()[name]
    text = explained(name)
    assert text is not None
    for part in (made.title, made.source, made.holds):
        assert part in text


def test_every_decision_can_be_explained() -> None:
    for name, entries in by_pattern().items():
        text = explained(name)
        assert text is not None
        assert all(words in text for entry in entries for words in entry.words)
        assert "Written: " in text or "Written (" in text


def test_a_bare_key_lists_the_decisions_that_it_may_be() -> None:
    text = explain("humidity").output
    assert "asked in several places" in text
    for name in ("room.climate.humidity", "climate.monthly.humidity", "promise.up_to.humidity"):
        assert name in text
    assert "Which humidity is kept in the room?" in text


@pytest.mark.parametrize(
    ("slip", "meant"),
    [
        ("door.leaf.widht", "door.leaf.width"),
        ("coolin.load", "cooling.load"),
        ("hinges_onn", "hinges_on"),
        ("millwork.stack-do-not-fit", "millwork.stack-does-not-fit"),
    ],
)
def test_a_slip_is_met_with_the_nearest_name(slip: str, meant: str) -> None:
    result = explain(slip)
    assert result.exit_code == 2
    assert f"is called `{slip}`; did you mean `{meant}`?" in result.output


def test_what_is_like_nothing_is_said_to_be_unknown() -> None:
    result = explain("zzz")
    assert result.exit_code == 2
    assert result.output == "scantling: no rule, decision or figure is called `zzz`\n"
