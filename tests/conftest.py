"""Settings and things that several tests share."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from hypothesis import settings

from spec import files

settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")

OUTSIDE = "outside"


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--outside",
        action="store_true",
        help="run only the tests that need a program from outside Python",
    )
    parser.addoption(
        "--every-deletion",
        action="store_true",
        help="delete every entry of the starters, not a sample: takes minutes",
    )


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    wanted = bool(config.getoption("--outside"))
    kept = [item for item in items if (item.get_closest_marker(OUTSIDE) is not None) == wanted]
    left_out = [item for item in items if item not in set(kept)]
    if not wanted:
        config.stash[_LEFT_OUT] = len(left_out)
    items[:] = kept
    config.hook.pytest_deselected(items=left_out)


_LEFT_OUT = pytest.StashKey[int]()


def pytest_terminal_summary(
    terminalreporter: pytest.TerminalReporter, config: pytest.Config
) -> None:
    left_out = config.stash.get(_LEFT_OUT, 0)
    if left_out:
        terminalreporter.write_line(
            f"{left_out} tests need a program from outside Python and were left out (--outside)"
        )


@pytest.fixture(scope="session")
def starters() -> Path:
    """The folder of the starter jobs as they travel with the program."""
    return files.templates() / "jobs"


@pytest.fixture
def garden_store(starters: Path, tmp_path: Path) -> Path:
    """A copy of the first starter to plant faults in: the path of its job file."""
    target = tmp_path / "garden_store"
    shutil.copytree(starters / "garden_store", target)
    return target / "job.yaml"
