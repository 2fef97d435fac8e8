"""Any one decision of a finished job can be open: it is checked, composed, and nothing breaks."""

from __future__ import annotations

from pathlib import Path

import pytest

from spec.compose import compose, left_unsaid
from spec.pipeline import Checked, check_file
from tests.check.deletions import deletions

STEP = {"garden_store": 97, "city_flat": 113, "supper_club": 131}
"""Of so many entries one is left open in the sample."""


def left_open(text: str, job: Checked) -> list[tuple[str, str]]:
    """Every entry's address, and the file with `TBD` in place of what it says."""
    found = []
    for one in deletions(text, job.job):
        key = text[one.start : one.end].partition(":")[0]
        found.append((one.address, f"{text[: one.start]}{key}: TBD{text[one.end :]}"))
    return found


@pytest.mark.parametrize("starter", STEP)
def test_any_decision_may_be_open(starter: str, starters: Path, tmp_path: Path) -> None:
    folder = starters / starter
    text = (folder / "job.yaml").read_text(encoding="utf-8")
    (tmp_path / "house.yaml").write_bytes((folder / "house.yaml").read_bytes())
    job = tmp_path / "job.yaml"
    whole = check_file(folder / "job.yaml")
    for number, (address, changed) in enumerate(left_open(text, whole)[:: STEP[starter]]):
        job.write_text(changed, encoding="utf-8")
        checked = check_file(job)
        failed = [f.message for f in checked.findings if f.rule == "check.rule-failed"]
        assert not failed, f"{address}: {failed}"
        left_unsaid(checked)
        if number % 4 == 0:
            documents = compose(checked).documents
            assert any(document.head.held for document in documents), address
