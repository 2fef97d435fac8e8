"""Where schemas/ and templates/ lie: inside the package when installed, beside it in a checkout."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def _folder(name: str) -> Path:
    inside = _PACKAGE / f"_{name}"
    return inside if inside.is_dir() else _PACKAGE.parent / name


def schemas() -> Path:
    """The folder of the JSON Schemas."""
    return _folder("schemas")


def templates() -> Path:
    """The folder of templates, standing prose, starter jobs and fonts."""
    return _folder("templates")
