"""Hendrickson, Project Management for Construction, table 10-2: nine activities, thirty days."""

from __future__ import annotations

from datetime import date, timedelta

from spec.derive.formulas.order_of_work import After, Calendar, Work, critical_path, schedule

NETWORK = {
    "A": (4, ""), "B": (3, ""), "C": (8, "A"), "D": (7, "A"), "E": (9, "BC"), "F": (12, "BC"),
    "G": (2, "DE"), "H": (5, "DE"), "I": (6, "FG"),
}  # fmt: skip
WORKS = {
    name: Work(days, tuple(After(before) for before in after))
    for name, (days, after) in NETWORK.items()
}


def test_table_10_2_length_path_and_late_finish() -> None:
    spans = critical_path(WORKS)
    assert max(span.early_finish for span in spans.values()) == 30
    assert [name for name, span in spans.items() if span.critical] == ["A", "C", "F", "I"]
    assert spans["H"].late_finish == 30


def test_table_10_2_on_dates_when_every_day_is_worked() -> None:
    start = date(2026, 11, 2)
    spans = critical_path(WORKS)
    dates = schedule(WORKS, start, Calendar(frozenset(range(7))))
    for name, span in spans.items():
        assert (dates[name].early_start - start).days == span.early_start
        assert (dates[name].early_finish + timedelta(1) - start).days == span.early_finish
        assert (dates[name].late_start - start).days == span.late_start
        assert (dates[name].late_finish + timedelta(1) - start).days == span.late_finish
        assert dates[name].slack == span.slack
