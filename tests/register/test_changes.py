"""Two revisions side by side: what differs, which papers are wrong, what is done already."""

from __future__ import annotations

import shutil
from collections.abc import Iterable
from functools import cache
from pathlib import Path

from click.testing import CliRunner

from spec import files
from spec.cli import cli
from spec.compose import Composed, compose
from spec.compose.blocks import Document, Paragraph, Row, Table
from spec.pipeline import check_source
from spec.read import read_text
from spec.register.changes import changes, papers
from spec.register.notice import notice
from tests.resolved import job_of

STARTER = files.templates() / "jobs" / "garden_store"

JOB = """
products: {oak_ladder: {is: ladder, length: 8 ft, weight: 34 lb}}
rooms:
  wine_room:
    walls_clockwise:
      WA:
        openings:
          D1: {is: door, leaf: {width: 32 in}}
          D2: {is: door, leaf: {width: 30 in, height: 80 in}}
        millwork: {LD1: {product: oak_ladder}, LD2: {product: oak_ladder}}
"""


def said(change: tuple[str, str]) -> list[tuple[str, str, str]]:
    before, after = job_of(JOB), job_of(JOB.replace(*change))
    return [(c.address, c.was, c.now) for c in changes(before, after)]


def test_a_decision_is_given_as_it_was_and_as_it_is() -> None:
    assert said(("32 in", "34 in")) == [("D1.leaf.width", "32 in", "34 in")]
    assert said(("32 in", "{open: client, due: 2026-11-06}")) == [
        ("D1.leaf.width", "32 in", "OPEN: client decides, by 2026-11-06")
    ]
    assert said(("32 in}", "32 in, core: solid}")) == [("D1.leaf.core", "", "solid")]


def test_a_thing_that_comes_or_goes_is_one_change() -> None:
    gone = ("          D2: {is: door, leaf: {width: 30 in, height: 80 in}}\n", "")
    assert said(gone) == [("D2", "door", "")]
    before, after = job_of(JOB.replace(*gone)), job_of(JOB)
    assert [(c.address, c.was, c.now) for c in changes(before, after)] == [("D2", "", "door")]


def test_what_is_taken_over_from_a_product_changes_once() -> None:
    assert said(("34 lb", "36 lb")) == [("oak_ladder.weight", "34 lb", "36 lb")]


def test_the_same_job_with_another_mark_and_day_has_no_changes() -> None:
    marked = "job: {revision: {mark: A, date: 2026-10-12}}" + JOB
    again = marked.replace("mark: A, date: 2026-10-12", "mark: B, date: 2026-10-19")
    assert changes(job_of(marked), job_of(again)) == ()


@cache
def composed(*edits: tuple[str, str]) -> Composed:
    """The documents of the starter with some lines changed, as they follow from its text."""
    return compose(check_source(read_text(edited(edits), "job.yaml"), STARTER))


def edited(edits: Iterable[tuple[str, str]]) -> str:
    text = (STARTER / "job.yaml").read_text(encoding="utf-8")
    for old, new in edits:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


REVISED = ("    mark: B\n    date: 2026-10-12\n", "    mark: C\n    date: 2026-11-20\n")
QUICKER = ("rating: dry\n    lead_time: 12 weeks", "rating: dry\n    lead_time: 10 weeks")
LOWER = ("waits_for: AP2, meanwhile: Dark tea}", "waits_for: AP2, meanwhile: Light tea}")


def rows(of: Document, caption: str) -> dict[str, Row]:
    (table,) = [b for b in of.blocks if isinstance(b, Table) and b.caption == caption]
    return {row.cells[0]: row for row in table.rows}


def test_the_papers_that_state_a_change_go_out_and_no_others() -> None:
    before, after = composed(), composed(QUICKER)
    going = papers(before, after, changes(before.checked.job, after.checked.job))
    assert {p.document.folder for p in going} == {"electrical", "engineer"}
    for paper in going:
        assert paper.how == "changed"
        assert [c.address for c in paper.changes] == ["chandelier_iron_8.lead_time"]


def test_every_paper_that_goes_out_says_why() -> None:
    before, after = composed(), composed(LOWER)
    found = changes(before.checked.job, after.checked.job)
    assert [c.address for c in found] == ["F6.color"]
    going = papers(before, after, found)
    assert {"millwork", "client"} <= {p.document.folder for p in going}
    assert all(p.changes == found for p in going)


def test_a_paper_for_a_trade_that_is_no_longer_there_is_withdrawn() -> None:
    before, after = composed(), composed()
    fewer = after._replace(documents=tuple(d for d in after.documents if d.folder != "cleaning"))
    assert [(p.document.folder, p.how) for p in papers(before, fewer, ())] == [
        ("cleaning", "withdrawn")
    ]
    assert [(p.document.folder, p.how) for p in papers(fewer, before, ())] == [("cleaning", "new")]


def test_the_notice_says_what_is_ordered_and_begun_already() -> None:
    taller = ("            lead_time: 10 weeks\n", "            lead_time: 11 weeks\n")
    of = notice(composed(), composed(REVISED, QUICKER, taller))
    decisions = rows(of, "Decisions")
    door = next(row for row in decisions.values() if "D1.lead_time" in row.cells[0])
    assert door.cells[1:3] == ("10 weeks", "11 weeks")
    assert door.cells[4] == "OR2 ordered Mon\xa02026-10-12" and door.tone == "held"
    lamp = next(row for name, row in decisions.items() if "chandelier" in name)
    assert lamp.cells[3] == "electrical, engineer"
    assert lamp.cells[4] == "electrical: rough begun Wed\xa02026-11-18"
    first = of.blocks[0]
    assert isinstance(first, Paragraph)
    assert first.sentence.text == "From revision B of 2026-10-12 to revision C of 2026-11-20."


def test_where_nothing_differs_the_notice_says_that_all_papers_are_right() -> None:
    of = notice(composed(), composed(REVISED))
    words = [b.sentence.text for b in of.blocks if isinstance(b, Paragraph)]
    assert words[1:] == ["None: every paper that was issued is still right.", "Nothing."]


def test_a_packet_compiled_since_an_issue_holds_the_notice(tmp_path: Path) -> None:
    shutil.copytree(STARTER, tmp_path / "issued")
    shutil.copytree(STARTER, tmp_path / "job")
    (tmp_path / "job" / "job.yaml").write_text(edited([REVISED, QUICKER]), encoding="utf-8")
    job, issued = (str(tmp_path / name / "job.yaml") for name in ("job", "issued"))
    out = tmp_path / "packet"
    done = CliRunner().invoke(cli, ["compile", job, "--since", issued, "--out", str(out)])
    assert done.exit_code == 0, done.output
    page = (out / "lead" / "changes.html").read_text(encoding="utf-8")
    assert "chandelier iron 8" in page and "12 weeks" in page and "10 weeks" in page
    assert "lead/changes.html" in (out / "index.html").read_text(encoding="utf-8")


def test_an_issue_that_cannot_be_read_stops_before_anything_is_written(tmp_path: Path) -> None:
    (tmp_path / "issued.yaml").write_text("- no job", encoding="utf-8")
    out = tmp_path / "packet"
    arguments = ["--since", str(tmp_path / "issued.yaml"), "--out", str(out)]
    done = CliRunner().invoke(cli, ["compile", str(STARTER / "job.yaml"), *arguments])
    assert done.exit_code == 2 and "issued.yaml" in done.output
    assert not out.exists()
