"""The standing words: complete for every trade, sourced, short, and filled in from the job."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest

from spec import files, pipeline
from spec.compose.blocks import Bullets, Heading, Paragraph, Sentence
from spec.compose.context import Reader
from spec.compose.parts.prose import cautions, hold_points, named_values
from spec.compose.prose import prose
from spec.job.schema import TRADES

FOLDER = files.templates() / "prose"
PARTS = ("cautions", "hold_points", "method")
EVERY = sorted(FOLDER.rglob("*.md"))
BRITISH = frozenset(
    {"colour", "metre", "litre", "fibre", "centre", "grey", "mould", "labour", "odour"}
    | {"vapour", "aluminium", "neighbour", "licence", "tyre", "millimetre", "organise"}
)
SOURCE = re.compile(r"CFR|IRC|NEC|NFPA|OSHA|NIOSH|ASHRAE|safety data sheet|common practice")


@cache
def checked(job: str) -> pipeline.Checked:
    return pipeline.check_file(files.templates() / "jobs" / job / "job.yaml")


def name_of(path: Path) -> str:
    return str(path.relative_to(FOLDER).with_suffix("")).replace("\\", "/")


@pytest.mark.parametrize("part", PARTS)
def test_every_trade_has_its_words_and_nobody_else(part: str) -> None:
    there = {path.stem for path in (FOLDER / part).glob("*.md")} - {"everyone"}
    assert there == set(TRADES)


@pytest.mark.parametrize("path", EVERY, ids=name_of)
def test_a_text_is_short_american_and_only_what_a_page_can_show(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    words = re.findall(r"[A-Za-z]+", text.lower())
    assert len(words) < 900 if path.parent.name == "client" else len(words) < 330
    assert not BRITISH & set(words)
    assert not re.search(r"<[a-z]|```|^\||\]\(|!\[", text, re.MULTILINE)


@pytest.mark.parametrize("trade", TRADES)
def test_every_caution_names_a_public_source_or_what_it_is(trade: str) -> None:
    text = (FOLDER / "cautions" / f"{trade}.md").read_text(encoding="utf-8")
    assert len(SOURCE.findall(text)) >= 2


@pytest.mark.parametrize("trade", TRADES)
def test_hold_points_are_boxes_to_tick(trade: str) -> None:
    blocks = list(prose(f"hold_points/{trade}", boxes=True))
    lists = [b for b in blocks if isinstance(b, Bullets)]
    assert lists
    assert {b.marks for b in lists} == {"box"}
    assert sum(len(b.items) for b in lists) >= 4


@pytest.mark.parametrize("job", ["garden_store", "city_flat", "supper_club"])
@pytest.mark.parametrize("path", EVERY, ids=name_of)
def test_named_values_stand_in_every_job(job: str, path: Path) -> None:
    known = checked(job)
    look = named_values(Reader(known.facts, known.findings))
    for name in re.findall(r"\{([^}|]*)\}", path.read_text(encoding="utf-8")):
        assert look(name) is not None, name


def sentences(blocks: object) -> list[Sentence]:
    found: list[Sentence] = []
    for block in blocks:  # type: ignore[attr-defined]
        if isinstance(block, Paragraph):
            found.append(block.sentence)
        elif isinstance(block, Bullets):
            found += block.items
    return found


def test_a_value_that_is_missing_leaves_out_its_sentence_and_nothing_else() -> None:
    with_year = sentences(prose("cautions/everyone", {"job.site.built": "1938"}))
    without = sentences(prose("cautions/everyone"))
    assert len(with_year) == len(without) + 1
    assert any("asbestos" in s.text for s in without)
    assert not any("{" in s.text for s in (*with_year, *without))


def test_an_order_has_the_cautions_of_all_and_of_its_trade() -> None:
    known = checked("garden_store")
    reader = Reader(known.facts, known.findings, "refrigeration")
    said = " ".join(s.text for s in sentences(cautions(reader)))
    assert "Local codes" in said
    assert "82.161" in said
    year = next(s for s in sentences(cautions(reader)) if "1938" in s.text)
    assert "job.site.built" in year.cites
    assert any(isinstance(b, Heading) and b.level == 3 for b in hold_points(reader))


US_ONLY = re.compile(r"CFR|\bNEC\b|NFPA|\bIRC\b|OSHA|TSCA| \d+ ft\b| in behind|square feet|\d lb\b")


@pytest.mark.parametrize("trade", TRADES)
@pytest.mark.parametrize(("job", "customary"), [("garden_store", True), ("city_flat", False)])
def test_units_and_codes_are_those_of_the_job(trade: str, job: str, customary: bool) -> None:
    """Both starters are given every trade's words: none has another system's units or codes."""
    known = checked(job)
    reader = Reader(known.facts, known.findings, trade)
    said = " ".join(s.text for s in sentences([*cautions(reader), *hold_points(reader)]))
    assert "{" not in said and " | " not in said
    assert bool(US_ONLY.search(said)) == customary
    if not customary:
        assert "local codes" in said
