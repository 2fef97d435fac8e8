"""The days in documents: those of the sheets, in the order's table, the lead's list and chart."""

from __future__ import annotations

from datetime import date
from functools import cache

import pytest

from spec import files
from spec.compose import readers
from spec.compose.blocks import Paragraph, Picture, Row, Table
from spec.compose.context import Reader
from spec.compose.documents.order_of_work import order_of_work
from spec.compose.parts.dates import to_bring
from spec.compose.parts.work import neighbors_in_time
from spec.derive.sheets import bought
from spec.draw.scene import Label
from spec.pipeline import Checked, check_file


@cache
def checked(job: str) -> Checked:
    return check_file(files.templates() / "jobs" / job / "job.yaml")


def lead(job: str) -> Reader:
    return Reader(checked(job).facts, checked(job).findings)


def brought(job: str, trade: str) -> dict[str, Row]:
    reader = next(r for r in readers(checked(job)) if r.trade == trade)
    return {row.cells[0]: row for b in to_bring(reader) if isinstance(b, Table) for row in b.rows}


def test_a_trade_reads_when_its_work_is_measured_ordered_and_on_site() -> None:
    # Tue 2027-02-02 less 7 days of wood, 5 working days, and 4 or 9 weeks; Thanksgiving is before
    row = brought("garden_store", "millwork")["shop work of millwork"]
    assert row.cells[1:] == (
        "Tue\xa02026-12-22\nI4 on 2026-12-22",
        "Tue\xa02026-11-17\nAP5 due 2026-11-09",
        "Tue\xa02027-01-19",
        "millwork: millwork\nTue\xa02027-02-02",
    )
    assert {"millwork.lead_time.from_order", "millwork.millwork.starts", "I4.due"} <= row.cites


def test_what_is_ordered_says_so_and_for_which_day_it_is_promised() -> None:
    row = brought("garden_store", "doors")["D1 door"]
    assert row.cells[2] == "ordered\nMon\xa02026-10-12"
    assert row.cells[3] == "Wed\xa02027-01-13\npromised\nMon\xa02026-12-21"


def test_the_visits_of_an_order_say_their_last_day() -> None:
    reader = next(r for r in readers(checked("garden_store")) if r.trade == "millwork")
    table = next(b for b in neighbors_in_time(reader) if isinstance(b, Table))
    (own,) = [row for row in table.rows if row.cells[3] == "this order"]
    assert own.cells[:2] == ("Tue\xa02027-02-02", "9, until Fri\xa02027-02-12")
    days = [row.cells[0].partition("\xa0")[2] for row in table.rows]
    assert days == sorted(days)


@pytest.mark.parametrize("job", ["garden_store", "city_flat", "supper_club"])
def test_the_lead_s_list_holds_all_that_is_ordered_by_the_day_to_do_it(job: str) -> None:
    reader = lead(job)
    (orders, _) = [b for b in order_of_work(reader).blocks if isinstance(b, Table)]
    names = " ".join(row.cells[0] for row in orders.rows)
    for item in bought.bought(reader.facts):
        assert item.thing.key in names
    for row in orders.rows:
        by, latest = row.cells[3].split("\n")[0], row.cells[5]
        assert date.fromisoformat(latest[4:]), row
        assert by[:3] in ("Mon", "Tue", "Wed", "Thu", "Fri")
    days = [c for row in orders.rows if (c := row.cells[2]) and "ordered" not in c]
    assert [d[4:14] for d in days] == sorted(d[4:14] for d in days)


def test_the_lead_reads_on_what_the_end_hangs_and_sees_it_dark() -> None:
    blocks = order_of_work(lead("garden_store")).blocks
    hangs = next(b for b in blocks if isinstance(b, Paragraph) and "hangs on" in b.sentence.text)
    assert "I4; delivery of millwork; millwork: millwork" in hangs.sentence.text
    (picture,) = [b for b in blocks if isinstance(b, Picture)]
    labels = [s for s in picture.scene.shapes if isinstance(s, Label)]
    strong = {s.text for s in labels if s.strong}
    assert {"board: board", "millwork: millwork", "lead: hand over"} <= strong
    assert "order of millwork" in {s.text for s in labels} - strong


def test_without_a_dated_visit_the_lead_s_list_says_so() -> None:
    blocks = order_of_work(lead("garden_store_first_visit")).blocks
    assert [b.sentence.text for b in blocks if isinstance(b, Paragraph)] == [
        "Nothing in the job has a lead time for a visit that is dated."
    ]
    assert not [b for b in blocks if isinstance(b, Table | Picture)]
