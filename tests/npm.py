"""Packages of the npm registry, for tests that need one."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest


def installed(package: str, folder: Path) -> Path:
    """The folder of a package (`name@version`), installed below `folder`."""
    npm = shutil.which("npm")
    if not npm:
        pytest.skip("npm is not installed")
    subprocess.run(
        [npm, "install", "--silent", "--no-audit", "--no-fund", "--ignore-scripts",
         "--prefix", str(folder), package],
        check=True, capture_output=True, text=True, timeout=300,
    )  # fmt: skip
    return folder / "node_modules" / package.rpartition("@")[0]
