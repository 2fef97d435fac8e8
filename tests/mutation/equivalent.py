"""Survivors that change nothing that anybody could see: the list, and what holds of any module."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from pathlib import Path

LIST = tomllib.loads(Path(__file__).with_suffix(".toml").read_text("utf-8"))
"""Module: groups of changed lines with one reason."""

EQUIVALENT: dict[str, dict[str, str]] = {
    module: {line: group["why"] for group in groups for line in group["lines"]}
    for module, groups in LIST.items()
}
"""Module: the changed line without its indentation: why the error is none."""


def _edge_of_an_allowance(before: str, after: str) -> bool:
    """A rounding is forgiven there; no figure falls just on the end of it."""
    return "1e-" in before and before.replace("=", "") == after.replace("=", "")


def _lengths_alike(before: str, after: str) -> bool:
    """The two that run together are of one length by how they are made."""
    return before.replace("strict=True", "strict=False") == after


def _for_type_checkers(before: str, after: str) -> bool:
    """An import for type checkers alone; made at run time it only costs."""
    return after == "if not TYPE_CHECKING:"


EVERYWHERE = (_edge_of_an_allowance, _lengths_alike, _for_type_checkers)


def is_equivalent(module: str, before: str, after: str) -> bool:
    """Whether a survivor is known to change nothing."""
    return _key(before, after) in EQUIVALENT.get(module, {}) or any(
        why(before, after) for why in EVERYWHERE
    )


def stale(module: str, seen: Sequence[tuple[str, str]]) -> list[str]:
    """Lines of a module's list that no survivor, of which the line before and after, matched."""
    return sorted(set(EQUIVALENT.get(module, {})) - {_key(*lines) for lines in seen})


def _key(before: str, after: str) -> str:
    return f"{before} -> {after}" if after == "return" else after
