"""A waived finding holds nothing, does not count, is printed; an expired waiver waives nothing."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from spec.finding import Finding
from spec.pipeline import Checked, check_file
from spec.report import Shown, findings_json, findings_text
from tests.resolved import STACK_TOO_LOW

RULE = "millwork.stack-does-not-fit"
WAIVER = """waivers:
  WV1: {finding: RULE, at: AT, why: it stands free, who: Tamsin, when: 2026-10-01MORE}
"""


def check(folder: Path, rule: str = RULE, at: str = "racks", more: str = "") -> Checked:
    text = STACK_TOO_LOW + WAIVER.replace("RULE", rule).replace("AT", at).replace("MORE", more)
    path = folder / "job.yaml"
    path.write_text(text, encoding="utf-8")
    return check_file(path, so_far=True, shown_as="job.yaml")


def stack(checked: Checked) -> Finding:
    (found,) = (f for f in checked.findings if f.rule == RULE)
    return found


@pytest.mark.parametrize("at", ["racks", "room_one", "[racks, room_one]"])
def test_a_waiver_names_the_rule_and_the_place(tmp_path: Path, at: str) -> None:
    waived = stack(check(tmp_path, at=at)).waived
    assert waived is not None
    assert (waived.who, waived.when, waived.why) == ("Tamsin", "2026-10-01", "it stands free")


@pytest.mark.parametrize(
    ("rule", "at"), [(RULE, "WA"), (RULE, "[racks, WA]"), ("millwork.run-does-not-fit", "racks")]
)
def test_another_rule_or_another_place_is_not_waived(tmp_path: Path, rule: str, at: str) -> None:
    assert stack(check(tmp_path, rule, at)).waived is None


@pytest.mark.parametrize(
    ("until", "holds"), [("2026-10-11", False), ("2026-10-12", True), ("2027-01-01", True)]
)
def test_a_waiver_is_good_up_to_its_last_day(tmp_path: Path, until: str, holds: bool) -> None:
    assert (stack(check(tmp_path, more=f", until: {until}")).waived is not None) == holds


def test_the_day_is_the_one_that_is_asked_for(tmp_path: Path) -> None:
    check(tmp_path, more=", until: 2026-12-31")
    path = tmp_path / "job.yaml"
    for day, holds in ((date(2026, 12, 31), True), (date(2027, 1, 1), False)):
        found = check_file(path, so_far=True, on=day)
        assert (stack(found).waived is not None) == holds


def test_a_waiver_that_is_still_open_waives_nothing(tmp_path: Path) -> None:
    path = tmp_path / "job.yaml"
    path.write_text(STACK_TOO_LOW + "waivers: {WV1: TBD}\n", encoding="utf-8")
    assert stack(check_file(path, so_far=True)).waived is None


def test_a_waived_error_is_printed_and_does_not_count(tmp_path: Path) -> None:
    before = check(tmp_path, at="WA")
    assert Shown(before, (stack(before),), True).status == 1
    checked = check(tmp_path)
    shown = Shown(checked, (stack(checked),), True)
    assert shown.status == 0
    text = findings_text(shown)
    assert f"[{RULE}] (waived by Tamsin: it stands free)" in text
    assert "1 waived" in text and "no errors" in text
    assert '"waived": {' in findings_json(shown)


def test_a_waiver_for_one_choice_of_an_open_decision_is_not_unused(tmp_path: Path) -> None:
    height = "{open: client, due: 2026-11-06, either: {low: 90 in, full: 96 in}}"
    text = STACK_TOO_LOW.replace("height: 90 in", f"height: {height}")
    waiver = WAIVER.replace("RULE", RULE).replace("AT", "racks").replace("MORE", "")
    path = tmp_path / "job.yaml"
    for chosen in (text, text.replace("{low: 90 in, full: 96 in}", "{full: 96 in, low: 90 in}")):
        path.write_text(chosen + waiver, encoding="utf-8")
        found = check_file(path, shown_as="job.yaml").findings
        assert [f for f in found if f.rule == RULE and f.waived]
        assert "job.waiver-unused" not in {f.rule for f in found}
