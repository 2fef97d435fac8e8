"""House standards: read with their job, departed from by address, and seen to be departed from."""

from __future__ import annotations

from pathlib import Path

import pytest

from spec.compose.gates import gates
from spec.job.node import Open
from spec.job.record import recording
from spec.pipeline import Checked, check_file
from spec.report import shown_thing
from tests.resolved import one

HOUSE = """scantling_house: 1
edition: 2026-07
thresholds: {driver.headroom: 25 %, board.thermal_barrier: 1/2 in}
products: {strip_a: {is: strip, watts: 2 W/ft, voltage: 24 V}}
done_by: {strip: electrical}
assemblies:
  base_wall:
    title: Base
    from_room_outward: {board: {material: gypsum_board, thickness: 1/2 in, role: board}}
"""
JOB = """scantling: 1
house: {file: house.yaml, edition: 2026-07}
assemblies: {A1: {like: base_wall}}
rooms:
  room_one:
    walls_clockwise: {WA: {lights: {LS1: {product: strip_a}}}}
"""


def job(folder: Path, more: str = "", house: str = HOUSE) -> Checked:
    (folder / "house.yaml").write_text(house, encoding="utf-8")
    (folder / "job.yaml").write_text(JOB + more, encoding="utf-8")
    return check_file(folder / "job.yaml", so_far=True, shown_as="job.yaml")


def override(address: str, value: str) -> str:
    return f"overrides: {{{address}: {{value: {value}, why: so, who: Tamsin, when: 2026-10-01}}}}\n"


def test_a_house_without_a_job_departing_from_it(tmp_path: Path) -> None:
    found = job(tmp_path)
    assert not found.job.findings
    assert found.job.limit("driver.headroom") == pytest.approx(0.25)
    assert found.job.done_by(found.job.things("strip")[0]) == "electrical"
    leaf = found.job.find("A1.board.thickness")
    assert leaf is not None and leaf.place.file == "house.yaml"


@pytest.mark.parametrize(
    ("address", "value", "si"),
    [
        ("driver.headroom", "30 %", 0.30),
        ("cooled_wall.minimum_r", "R-21", 21 * 0.17611),
        ("board.thermal_barrier", "5/8 in", 0.015875),
    ],
)
def test_a_threshold_is_overridden_whether_the_house_has_it_or_not(
    tmp_path: Path, address: str, value: str, si: float
) -> None:
    found = job(tmp_path, override(address, value))
    assert not found.job.findings
    with recording() as read:
        assert found.job.limit(address) == pytest.approx(si, rel=1e-4)
    assert read == {address, f"overrides.{address}"}
    text = shown_thing(found, address)
    assert text is not None and value in text
    assert "override of the house, job.yaml:7:" in text


def test_a_default_stands_where_the_job_names_its_house(tmp_path: Path) -> None:
    spots = [job(tmp_path).job.spot(a) for a in ("cooled_wall.minimum_r", "driver.headroom")]
    assert [(s.place.file, s.place.line) for s in spots] == [("job.yaml", 2), ("house.yaml", 3)]


def test_what_is_not_overridden_keeps_the_schemas_default(tmp_path: Path) -> None:
    from spec.job.schema import root

    shape = root("house").below("thresholds")
    assert shape is not None
    default = shape.below("cooled_wall.minimum_r")
    assert default is not None
    written = job(tmp_path).job.threshold("cooled_wall.minimum_r").written
    assert written == default.schema["default"]
    with pytest.raises(KeyError):
        job(tmp_path).job.threshold("cooled_wall.minimum_rr")


@pytest.mark.parametrize(
    ("address", "value", "at", "written"),
    [
        ("strip_a.watts", "3 W/ft", "LS1.watts", "3 W/ft"),
        ("base_wall.board.thickness", "5/8 in", "A1.board.thickness", "5/8 in"),
        ("base_wall.title", "Other", "base_wall.title", "Other"),
        ("done_by.strip", "millwork", "done_by.strip", "millwork"),
        ("done_by.downlight", "millwork", "done_by.downlight", "millwork"),
    ],
)
def test_an_override_reaches_whoever_takes_the_standard_over(
    tmp_path: Path, address: str, value: str, at: str, written: str
) -> None:
    found = job(tmp_path, override(address, value))
    assert not found.job.findings
    leaf = found.job.find(at)
    assert leaf is not None and leaf.written == written
    assert leaf.origin == "override" and f"overrides.{address}" in leaf.cites
    assert "[override of the house, job.yaml:7:" in (shown_thing(found, at) or "")


def test_overriding_who_does_a_kind_changes_whose_it_is(tmp_path: Path) -> None:
    found = job(tmp_path, override("done_by.strip", "millwork"))
    assert found.job.done_by(found.job.things("strip")[0]) == "millwork"


@pytest.mark.parametrize("value", ["{open: lead, meanwhile: 30 %}", "{assumed: 30 %}"])
def test_an_override_that_is_not_settled_is_worked_with_and_holds(
    tmp_path: Path, value: str
) -> None:
    found = job(tmp_path, override("driver.headroom", value))
    with recording() as read:
        assert found.job.limit("driver.headroom") == pytest.approx(0.3)
    material, _ = gates(found.facts, (), "electrical", read)
    assert [r.address for r in material.reasons] == ["driver.headroom"]


@pytest.mark.parametrize(
    "written", [override("driver.headroom", "30 cubits"), "overrides: {driver.headroom: TBD}\n"]
)
def test_an_override_without_a_value_does_not_fall_back_to_the_house(
    tmp_path: Path, written: str
) -> None:
    found = job(tmp_path, written)
    with pytest.raises(Open) as waiting:
        found.job.limit("driver.headroom")
    assert waiting.value.address == "driver.headroom"


def test_an_override_of_nothing_is_said(tmp_path: Path) -> None:
    found = one(job(tmp_path, override("driver.headrom", "30 %")).job.findings, "job.names-nothing")
    assert "did you mean `driver.headroom`" in found.message and found.place.line == 7


def test_an_override_of_the_jobs_own_fact_is_said(tmp_path: Path) -> None:
    text = "job: {units: imperial}\n" + override("job.units", "metric")
    found = one(job(tmp_path, text).job.findings, "job.overrides-itself")
    assert "job.yaml:7:" in found.message and found.place.line == 8


@pytest.mark.parametrize(
    ("house", "rule", "words"),
    [
        ("- a\n", "reading.no-house-standards", "list"),
        ("scantling_house: 2\n", "reading.no-house-standards", "version 2"),
        ("scantling: 1\n", "reading.no-house-standards", "house standards is due here"),
        (HOUSE.replace("25 %", "25 cubits"), "reading.unreadable-value", "cubits"),
        (HOUSE.replace("headroom", "hedroom"), "reading.unknown-key", "did you mean"),
        (HOUSE.replace("done_by", "done_bye"), "reading.unknown-key", "did you mean `done_by`"),
        (HOUSE + "job: {number: 3}\n", "reading.unknown-key", "`job`"),
    ],
)
def test_what_is_wrong_with_the_house_is_said_at_its_place(
    tmp_path: Path, house: str, rule: str, words: str
) -> None:
    said = [f for f in job(tmp_path, house=house).job.findings if f.rule == rule]
    assert len(said) == 1 and words in said[0].message
    whole = rule == "reading.no-house-standards"
    assert said[0].place.file == ("job.yaml" if whole else "house.yaml")


def test_a_slip_in_the_house_leaves_the_rest_of_it(tmp_path: Path) -> None:
    found = job(tmp_path, house=HOUSE.replace("25 %", "25 cubits"))
    leaf = found.job.find("LS1.watts")
    assert leaf is not None and leaf.written == "2 W/ft"
    with pytest.raises(Open):
        found.job.limit("driver.headroom")


@pytest.mark.parametrize(
    ("address", "value", "at"),
    [
        ("base_wall.board.role", "rotten", "base_wall.board.role"),
        ("base_wall.board", "plywood", "base_wall.board"),
        ("base_wall.board.material", "{a: b}", "base_wall.board.material"),
        ("base_wall.board", "{material: plywood, thick: 1 in}", "base_wall.board.thick"),
        ("base_wall.board.thickness", "{open: lead, dew: x}", "base_wall.board.thickness"),
        ("cooled_wall.minimum_r", "soft", "cooled_wall.minimum_r"),
        ("driver.headroom", "{a: b}", "driver.headroom"),
        ("done_by.door", "doors and glazing", "done_by.door"),
    ],
)
def test_an_override_is_held_against_the_schema(
    tmp_path: Path, address: str, value: str, at: str
) -> None:
    checked = job(tmp_path, override(address, value))
    found = [f for f in checked.findings if f.level == "error"]
    assert found and all(f.place.file == "job.yaml" and f.place.line == 7 for f in found)
    assert at in {f.address for f in found}, [(f.address, f.message) for f in found]
    assert len({f.place for f in found}) == len(found), [(f.address, f.message) for f in found]


def test_an_override_of_a_whole_layer_is_read_with_all_that_is_in_it(tmp_path: Path) -> None:
    value = "{material: plywood, thickness: 3/4 in, role: board}"
    checked = job(tmp_path, override("base_wall.board", value))
    assert not checked.job.findings
    for address in ("base_wall.board.thickness", "A1.board.thickness"):
        leaf = checked.job.find(address)
        assert leaf is not None and leaf.written == "3/4 in"
        assert leaf.origin == "override" and leaf.through == "overrides.base_wall.board"
