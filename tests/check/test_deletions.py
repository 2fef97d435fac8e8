"""Remove any one decision from a finished job: it is missed, and who needs it is held.

Every entry of both starters takes minutes: a sample of each runs, the same on any day. With
`--every-deletion` each entry is deleted in turn, and the count of the unnoticed is printed.
"""

from __future__ import annotations

import pytest

from spec import files
from tests.check.deletions import Watch

STEP = 41
"""Of so many entries one is deleted in the sample."""
MOST_UNNOTICED = {"garden_store": 0.05, "city_flat": 0.2, "supper_club": 0.2}
"""The share of the entries that may go unnoticed; the goal is none."""


@pytest.mark.parametrize("starter", MOST_UNNOTICED)
def test_what_is_deleted_is_missed(starter: str, request: pytest.FixtureRequest) -> None:
    every = bool(request.config.getoption("--every-deletion"))
    watch = Watch(files.templates() / "jobs" / starter / "job.yaml")
    tried = watch.all()[:: 1 if every else STEP]
    assert len(tried) > 20
    unnoticed = [one.address for one in tried if not watch.noticed(one)]
    with request.config.pluginmanager.getplugin("capturemanager").global_and_fixture_disabled():
        print(f"\n{starter}: {len(unnoticed)} of {len(tried)} deletions unnoticed {unnoticed}")
    assert len(unnoticed) <= MOST_UNNOTICED[starter] * len(tried)
