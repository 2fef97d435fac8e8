"""What the program rests on: every dependency is used, and held to a compatible range."""

from __future__ import annotations

import re
import tomllib
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest

import spec

SOURCE = Path(spec.__file__).parent
PROJECT = SOURCE.parent / "pyproject.toml"
_IMPORT = re.compile(r"^\s*(?:import|from) (\w+)", re.MULTILINE)


def needed() -> list[str]:
    found: list[str] = tomllib.loads(PROJECT.read_text(encoding="utf-8"))["project"]["dependencies"]
    return found


@pytest.mark.skipif(not PROJECT.is_file(), reason="installed, not a checkout")
def test_every_dependency_is_imported_and_has_a_lower_and_an_upper_bound() -> None:
    imported = {
        name
        for path in SOURCE.rglob("*.py")
        for name in _IMPORT.findall(path.read_text(encoding="utf-8"))
    }
    used = {d.lower() for name in imported for d in packages_distributions().get(name, ())}
    for requirement in needed():
        name, low, high = re.fullmatch(r"([\w-]+)(>=[\d.]+),(<[\d.]+)", requirement).groups()  # type: ignore[union-attr]
        assert name.lower() in used, f"{name} is imported nowhere"
        assert low and high
