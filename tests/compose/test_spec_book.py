"""The spec book is fit to sign: it says whom to ring, what each mark is, what was agreed, whole."""

from __future__ import annotations

from functools import cache

import pytest

from spec import files
from spec.compose.blocks import Bullets, Facts, Paragraph, Table
from spec.compose.context import Reader
from spec.compose.documents.spec_book import spec_book
from spec.pipeline import check_file


@cache
def rows(job: str) -> dict[str, list[tuple[str, ...]]]:
    """The rows of all tables by caption."""
    known = check_file(files.templates() / "jobs" / job / "job.yaml")
    reader = Reader(known.facts, known.findings, alternatives=known.alternatives)
    found: dict[str, list[tuple[str, ...]]] = {}
    for block in spec_book(reader).blocks:
        if isinstance(block, Table | Facts):
            title = block.caption if isinstance(block, Table) else block.title
            found.setdefault(title, []).extend(row.cells for row in block.rows)
        elif isinstance(block, Paragraph):
            found.setdefault("prose", []).append((block.sentence.text,))
        elif isinstance(block, Bullets):
            found.setdefault("prose", []).extend((item.text,) for item in block.items)
    return found


def row(job: str, table: str, mark: str) -> str:
    return " | ".join(next(r for r in rows(job)[table] if mark in r[0].split(", ")))


def test_the_first_page_says_whom_to_ring() -> None:
    said = " ".join(" ".join(r) for r in rows("garden_store")[""])
    for word in ("Tamsin Orde", "Orde and Pike Room Builders", "555-0121"):
        assert word in said


def test_a_change_says_what_changes_and_for_how_much() -> None:
    said = row("garden_store", "Changes since the price was agreed", "CN1")
    for word in ("Refrigerator moved", "R12 racks", "380 USD", "2026-10-09", "client", "e-mail"):
        assert word in said


def test_surveys_and_readings_have_their_results() -> None:
    assert "present" in row("garden_store", "Surveys", "Lead paint")
    assert "71 %" in row("garden_store", "Readings before the work", "RD1")
    assert "1.8 %" in row("city_flat", "Readings before the work", "RD3")


def test_the_client_can_tell_one_rack_from_the_other() -> None:
    table = "What the marks in the pictures mean"
    assert "Diamond bin" in row("garden_store", table, "R1")
    assert "40 bottles" in row("garden_store", table, "R1")
    assert "52 bottles" in row("garden_store", table, "R3")
    assert "magnum" in row("garden_store", table, "R10")


@pytest.mark.parametrize(
    ("job", "light", "by"),
    [("garden_store", "L4", "S5"), ("garden_store", "LS3", "S2"), ("city_flat", "PL1", "SW1a")],
)
def test_every_light_says_what_dims_it(job: str, light: str, by: str) -> None:
    assert f"dimmer {by}," in row(job, "Lights, and what dims or switches them", light)


def test_what_is_open_is_asked_in_words_and_not_by_mark() -> None:
    asked = " ".join(r[0] for r in rows("garden_store")["Your decisions"])
    for words in (
        "What color is the bar and table stain F6?",
        "Which edge has the counter of the bar?",
        "the sample of the bar and table stain F6",
        "the refrigerator RF1",
    ):
        assert words in asked


@pytest.mark.parametrize("job", ["garden_store", "city_flat"])
def test_nothing_is_promised_beside_the_promises_nor_named_by_an_address(job: str) -> None:
    said = [(table, cell) for table, every in rows(job).items() for r in every for cell in r]
    for table, cell in said:
        for internal in ("finishes_everywhere", "room.finishes", "waits for trades", "asked for:"):
            assert internal not in cell or table.startswith("job:"), (table, cell)
    titles = {
        r[0] for r in rows(job)["Computed from the job; local codes and licensed practice decide"]
    }
    assert not titles & {"Order by", "Decide by", "Order this trade's work by"}
    assert not [t for t in titles if "delivery" in t or "winter" in t]
