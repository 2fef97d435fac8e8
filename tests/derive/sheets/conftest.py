"""The starters, with all that follows from them."""

from __future__ import annotations

from pathlib import Path

import pytest

from spec.derive.figure import Facts
from spec.pipeline import check_file


@pytest.fixture(scope="session")
def garden(starters: Path) -> Facts:
    return check_file(starters / "garden_store" / "job.yaml").facts


@pytest.fixture(scope="session")
def flat(starters: Path) -> Facts:
    return check_file(starters / "city_flat" / "job.yaml").facts
