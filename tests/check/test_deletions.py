"""Remove any one decision from a finished job: it is missed, and who needs it is held.

Every entry of both starters takes minutes: here a sample of each runs, the same on any day.
"""

from __future__ import annotations

import pytest

from spec import files
from tests.check.deletions import Watch

STARTERS = ("garden_store", "city_flat")
EVERY = 41


@pytest.mark.parametrize("starter", STARTERS)
def test_what_is_deleted_is_missed(starter: str) -> None:
    watch = Watch(files.templates() / "jobs" / starter / "job.yaml")
    sample = watch.all()[::EVERY]
    assert len(sample) > 20
    unnoticed = [one.address for one in sample if not watch.noticed(one)]
    assert not unnoticed
