"""Hendrickson, Project Management for Construction, table 10-2: nine activities, thirty days."""

from __future__ import annotations

from datetime import date

from spec.derive.formulas.order_of_work import After, Calendar, Work, schedule

NETWORK = {
    "A": (4, ""), "B": (3, ""), "C": (8, "A"), "D": (7, "A"), "E": (9, "BC"), "F": (12, "BC"),
    "G": (2, "DE"), "H": (5, "DE"), "I": (6, "FG"),
}  # fmt: skip
WORKS = {
    name: Work(days, tuple(After(before) for before in after))
    for name, (days, after) in NETWORK.items()
}


def test_table_10_2_length_path_and_late_finish() -> None:
    start = date(2026, 11, 2)
    found = schedule(WORKS, start, Calendar(frozenset(range(7))))
    assert (max(dates.early_finish for dates in found.values()) - start).days + 1 == 30
    assert {name for name, dates in found.items() if dates.critical} == set("ACFI")
    assert (found["H"].late_finish - start).days + 1 == 30
