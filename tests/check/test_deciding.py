"""Open decisions: the last day for each, and what their choices change."""

from __future__ import annotations

import csv
from datetime import date
from io import StringIO
from pathlib import Path

import pytest

from spec.check.choices import changed_leaves, of_each_decision, settled
from spec.check.questions import questions
from spec.compose import orders
from spec.compose.blocks import Table
from spec.compose.context import Reader
from spec.compose.documents.checklist import decisions_table, question_lists
from spec.compose.parts.selections import decisions_of_client
from spec.pipeline import Checked, check_file
from tests.resolved import facts_of

DOOR = """
calendar: {working_days: Monday to Friday, holidays: [HOLIDAY]}
trades:
  doors: {LEAD visits: {measure: {starts: 2026-04-06, days: 1, stage: measure},
                        hang: {starts: 2026-06-01, days: 1, stage: fit}}}
rooms: {hall: {walls_clockwise: {WA: {openings: {D1: {is: door, leaf: {width: {open: client}}}}}}}}
"""


def last_day(text: str) -> tuple[str, str]:
    asked = [q for q in questions(facts_of(text), ()) if q.address == "D1.leaf.width"]
    return asked[0].last, asked[0].holds


@pytest.mark.parametrize(
    ("lead", "holiday", "wanted"),
    [
        # Monday 2026-06-01 less a reserve of 5 working days is Monday 05-25; less 70 days 03-16.
        ("lead_time: {from_order: 10 weeks},", "2026-12-25", "2026-03-16"),
        # With 05-25 a holiday the reserve reaches back to Friday 05-22; less 70 days is Friday.
        ("lead_time: {from_order: 10 weeks},", "2026-05-25", "2026-03-13"),
        # From the shelf: the working day before the trade first comes, a Friday.
        ("", "2026-12-25", "2026-04-03"),
        ("", "2026-04-03", "2026-04-02"),
    ],
)
def test_the_last_day_is_counted_back_from_the_visit(lead: str, holiday: str, wanted: str) -> None:
    assert last_day(DOOR.replace("LEAD", lead).replace("HOLIDAY", holiday)) == (wanted, "doors")


def test_without_a_dated_visit_there_is_no_last_day() -> None:
    text = (
        "rooms: {hall: {walls_clockwise: {WA: {openings: {D1: {is: door, leaf: {width: TBD}}}}}}}"
    )
    assert last_day(text) == ("", "")


@pytest.fixture(scope="module")
def flat(starters: Path) -> Checked:
    return check_file(starters / "city_flat" / "job.yaml")


def test_what_is_the_same_under_every_choice_is_settled(flat: Checked) -> None:
    same = settled(flat.job, flat.alternatives)
    assert {"bar.counter.height", "bar.counter.edge", "bar.counter.sink"} <= same
    assert not {"bar.counter.material", "bar.counter.weight", "bar.counter.installed_by"} & same
    (group,) = of_each_decision(flat.alternatives).values()
    counter = flat.job.find("bar.counter")
    assert counter is not None
    changed = set(changed_leaves(counter, group))
    assert {f"bar.counter.{path}" for path in changed}.isdisjoint(same)
    assert {"material", "template", "sealing"} <= changed


def test_what_is_settled_holds_no_order(flat: Checked) -> None:
    for _, order in orders(flat):
        assert "bar.counter.height" not in " ".join(order.head.held)


def test_the_client_sees_what_each_choice_changes(flat: Checked) -> None:
    client = Reader(flat.facts, flat.findings, alternatives=flat.alternatives)
    tables = [b for b in decisions_of_client(client) if isinstance(b, Table)]
    (compared,) = [t for t in tables if t.caption.startswith("What the choice changes")]
    assert compared.columns == ("", "Stone", "Oak")
    rows = {row.cells[0]: row.cells[1:] for row in compared.rows}
    assert rows["Weight"] == ("84 kg/m²", "29 kg/m²")
    weights = next(cells for label, cells in rows.items() if label.startswith("Weight of the top"))
    area = [0.6 * 2.436, 0.605 * 2.436]
    got = [float(text.removesuffix(" kg")) for text in weights]
    assert got == pytest.approx([area[0] * 84, area[1] * 29], rel=0.005)


def test_the_checklist_has_a_row_for_every_decision_and_question(flat: Checked) -> None:
    table = decisions_table(Reader(flat.facts, flat.findings))
    addresses = [row.cells[2] for row in table.rows]
    assert len(set(addresses)) == len(addresses)
    leaves = {leaf.address for leaf in flat.job.tree.leaves()}
    asked = {q.address for q in questions(flat.facts, flat.findings)}
    assert set(addresses) == leaves | asked
    held = next(row.cells for row in table.rows if row.cells[2] == "D2.leaf.weight")
    assert held[5:10] == ("assumed", "lead", "2026-11-20", "2026-12-04", "millwork")


def test_everybody_who_owes_an_answer_gets_a_list(flat: Checked) -> None:
    people = {q.person for q in questions(flat.facts, flat.findings)}
    names = {d.name for d in question_lists(Reader(flat.facts, flat.findings))}
    assert names == {f"questions-{person}" for person in people}


def test_the_packet_holds_the_checklist_as_a_table(flat: Checked) -> None:
    from spec.pipeline import extras

    text = extras(flat, ())["lead/checklist.csv"].decode("utf-8-sig")
    rows = list(csv.DictReader(StringIO(text)))
    due = {row["due"] for row in rows if row["state"] in ("open", "assumed") and row["due"]}
    assert due and all(date.fromisoformat(day) for day in due)
