"""Slips of the pen in keys, words and values: named at their place, with what was meant."""

from __future__ import annotations

from datetime import date

import pytest

from spec.job.node import Node
from spec.quantity import Quantity
from tests.resolved import job_of, one

JOB = """
job: {units: imperial, revision: {mark: B, date: 2026-10-12}}
trades: {doors: {firm: Halyard}}
rooms:
  room_one:
    use: tasting
    walls_clockwise:
      WA:
        length: 9 ft
        openings: {D1: {is: door, hinges_on: left, leaf: {width: 30 in, height: 80 in}, left: 1 ft}}
"""


def at(address: str, text: str) -> Node:
    found = job_of(text).find(address)
    assert found is not None
    return found


def test_the_job_that_the_others_spoil_has_no_finding() -> None:
    assert not job_of(JOB).findings


@pytest.mark.parametrize(
    ("good", "bad", "address", "meant"),
    [
        ("job:", "jbo:", "jbo", "job"),
        ("units:", "unit:", "job.unit", "units"),
        ("walls_clockwise:", "walls:", "room_one.walls", "walls_clockwise"),
        ("length:", "lenght:", "WA.lenght", "length"),
        ("openings:", "opening:", "WA.opening", "openings"),
        ("hinges_on:", "hinge_on:", "D1.hinge_on", "hinges_on"),
        ("leaf:", "leafs:", "D1.leafs", "leaf"),
        ("width:", "widht:", "D1.leaf.widht", "width"),
        ("firm:", "fim:", "doors.fim", "firm"),
    ],
)
def test_an_unknown_key_is_named_with_the_one_that_was_meant(
    good: str, bad: str, address: str, meant: str
) -> None:
    found = one(job_of(JOB.replace(good, bad, 1)).findings, "reading.unknown-key")
    assert found.address == address
    assert f"did you mean `{meant}`" in found.message


def test_what_stands_beside_an_unknown_key_is_read() -> None:
    job = job_of(JOB.replace("hinges_on:", "hinge_on:"))
    door = job.thing("D1")
    assert door is not None and door.si("leaf.width") == pytest.approx(0.762)


@pytest.mark.parametrize(
    ("good", "bad", "address", "meant"),
    [
        ("imperial", "imperal", "job.units", "imperial"),
        ("hinges_on: left", "hinges_on: leff", "D1.hinges_on", "left"),
        ("is: door", "is: dor", "D1.is", "door"),
        ("use: tasting", "use: tastin", "room_one.use", "tasting"),
    ],
)
def test_an_unknown_word_is_named_with_the_one_that_was_meant(
    good: str, bad: str, address: str, meant: str
) -> None:
    job = job_of(JOB.replace(good, bad, 1))
    found = one(job.findings, "reading.unknown-word")
    assert found.address == address
    assert f"did you mean `{meant}`" in found.message and meant in found.cure
    assert job.state(address) == "unreadable"


def test_a_trade_is_one_of_the_list() -> None:
    found = one(job_of(JOB.replace("doors:", "door:")).findings, "reading.missing-key")
    assert "did you mean `doors`" in found.message


@pytest.mark.parametrize(
    ("key", "under", "source"),
    [
        ("rough_opening: 32 in x 82 in", "D1", "leaf"),
        ("jamb_depth: 5 in", "D1", "wall"),
        ("area: 70 ft2", "WA", "length"),
        ("finished_length: 9 ft", "WA", "layers"),
        ("area: 99 ft2", "room_one", "walls"),
        ("volume: 900 ft3", "room_one", "heights"),
    ],
)
def test_what_can_be_computed_is_refused_with_what_it_follows_from(
    key: str, under: str, source: str
) -> None:
    before = {"D1": "hinges_on: left, ", "WA": "length: 9 ft\n", "room_one": "use: tasting\n"}[
        under
    ]
    indent = {"D1": ", ", "WA": "\n        ", "room_one": "\n    "}[under]
    text = JOB.replace(
        before, before.rstrip(", \n") + indent + key + (", " if under == "D1" else "\n")
    )
    found = one(job_of(text).findings, "reading.computed-value")
    assert found.address == f"{under}.{key.partition(':')[0]}"
    assert source in found.message


@pytest.mark.parametrize(
    ("written", "meters"),
    [("300", 0.3), ("1 ft", 0.3048), ("30 cm", 0.3), ("0", 0.0), ("1200.5", 1.2005)],
)
def test_bare_lengths_are_millimeters_where_the_file_says_so(written: str, meters: float) -> None:
    text = "lengths: mm" + JOB.replace("left: 1 ft", f"left: {written}")
    assert not job_of(text).findings
    assert at("D1", text).si("left") == pytest.approx(meters)


@pytest.mark.parametrize("head", ["", "lengths: TBD", "lengths: cm"])
def test_bare_lengths_are_refused_where_it_does_not(head: str) -> None:
    job = job_of(head + JOB.replace("left: 1 ft", "left: 300"))
    found = one(job.findings, "reading.unreadable-value")
    assert found.address == "D1.left" and "unit" in found.message


def test_millimeters_are_for_lengths_only() -> None:
    text = "lengths: mm" + JOB.replace("hinges_on: left", "hinges_on: left, leaf: {weight: 30}")
    text = text.replace(", leaf: {width: 30 in, height: 80 in}", "")
    assert one(job_of(text).findings, "reading.unreadable-value").address == "D1.leaf.weight"


def test_three_heights_are_kept_and_the_smallest_governs() -> None:
    text = JOB.replace("length: 9 ft", "length: [9 ft, 8' 11-1/2\", 9' 1\"]")
    wall = at("WA", text)
    assert wall.si("length") == pytest.approx(2.7305)
    values = wall.quantity("length")
    assert [v.si for v in values if isinstance(v, Quantity)] == pytest.approx(
        [2.7432, 2.7305, 2.7686]
    )


@pytest.mark.parametrize("listed", ["[9 ft]", "[9 ft, 9 ft]", "[9 ft, 9 ft, 9 ft, 9 ft]"])
def test_heights_come_in_threes(listed: str) -> None:
    job = job_of(JOB.replace("length: 9 ft", f"length: {listed}"))
    assert job.state("WA.length") == "unreadable"


@pytest.mark.parametrize(
    "day", ["2026-13-01", "2026-02-29", "12 October", "10/12/2026", "2026-1-2"]
)
def test_a_day_that_is_none(day: str) -> None:
    job = job_of(JOB.replace("2026-10-12", day))
    assert one(job.findings, "reading.unreadable-value").address == "job.revision.date"
    assert job.day is None


def test_the_day_is_the_revisions_or_the_one_that_is_asked_for() -> None:
    assert job_of(JOB).day == date(2026, 10, 12)
    assert job_of(JOB, on=date(2027, 1, 2)).day == date(2027, 1, 2)


def test_a_span_of_days_is_every_day_of_it() -> None:
    node = at("calendar", "calendar: {holidays: [2026-11-26, 2026-12-30 to 2027-01-02]}")
    days = node.quantity("holidays")
    assert days == (
        date(2026, 11, 26),
        *(date(2026, 12, d) for d in (30, 31)),
        *(date(2027, 1, d) for d in (1, 2)),
    )


@pytest.mark.parametrize(
    ("good", "bad", "address"),
    [
        (
            "{is: door, hinges_on: left, leaf: {width: 30 in, height: 80 in}, left: 1 ft}",
            "door",
            "D1",
        ),
        ("leaf: {width: 30 in, height: 80 in}", "leaf: [30 in, 80 in]", "D1.leaf"),
        ("length: 9 ft", "length: {a: 9 ft}", "WA.length"),
        ("{units: imperial, revision: {mark: B, date: 2026-10-12}}", "soon", "job"),
    ],
)
def test_a_value_of_the_wrong_shape_holds_its_place_and_nothing_else(
    good: str, bad: str, address: str
) -> None:
    job = job_of(JOB.replace(good, bad))
    assert job.state(address) == "unreadable"
    assert {f.address for f in job.findings} == {address} or address == "WA.length"
    assert job.find("room_one.use") is not None


@pytest.mark.parametrize(
    ("good", "bad", "form"),
    [("is: door", "is: [door]", "a list"), ("is: door", "is: {a: b}", "a map")],
)
def test_a_kind_that_is_no_word(good: str, bad: str, form: str) -> None:
    found = one(job_of(JOB.replace(good, bad)).findings, "reading.unknown-word")
    assert found.address == "D1.is" and form in found.message and "door" in found.cure


def test_the_second_of_a_name_used_twice_is_not_read() -> None:
    """What is said of the first is not said of its namesake's place."""
    other = "      WB: {length: 1 ft, openings: {D1: {is: window, left: 9 ft, width: 9 ft}}}\n"
    found = job_of(JOB + other).findings
    assert [finding.rule for finding in found] == ["job.name-used-twice"]
    assert len(job_of(JOB + other).things("door", "window")) == 1
    second = job_of(JOB + other).walls[1].find("D1")
    assert second is not None and second.standing == "unreadable" and not second.children
