"""What a rule is: a sentence a person would say, with its level, trades, reason and examples."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable, Iterator
from functools import cache
from typing import NamedTuple

from spec.derive.figure import COMMON_PRACTICE, Facts
from spec.finding import Level
from spec.job.node import Node

__all__ = ["COMMON_PRACTICE", "Example", "Facts", "Node", "Rule", "Said", "rule", "rules", "said"]


class Said(NamedTuple):
    """What a rule says: where, what is wrong with the actual values, what puts it right."""

    addresses: tuple[str, ...]
    message: str
    cure: str


def said(at: Node | str, message: str, cure: str, *also: Node | str) -> Said:
    """Report at one place, with the other side of a conflict as further places."""
    spots = (at, *also)
    return Said(tuple(s if isinstance(s, str) else s.address for s in spots), message, cure)


class Example(NamedTuple):
    """The smallest job fragment that breaks a rule, and the one change that puts it right."""

    bad: str
    good: str


class Rule(NamedTuple):
    """A rule as declared; `kinds` are the things it is asked of one by one (none: asked once)."""

    name: str
    level: Level
    trades: tuple[str, ...]
    why: str
    source: str
    example: Example
    kinds: tuple[str, ...]
    silence: bool
    speaks: Callable[..., Iterator[Said]]

    @property
    def subject(self) -> str:
        """The subject of the job that the rule speaks of: the folder it stands in."""
        return self.speaks.__module__.removeprefix("spec.check.rules.").split(".")[0]


_rules: dict[str, Rule] = {}


def rule(
    name: str,
    *,
    level: Level,
    trades: tuple[str, ...],
    why: str,
    bad: str,
    good: str,
    each: tuple[str, ...] = (),
    silence: bool = False,
    source: str = COMMON_PRACTICE,
) -> Callable[[Callable[..., Iterator[Said]]], Rule]:
    """Declare a rule.

    With `each`, the generator is called with the facts and every thing of these kinds in turn;
    a decision that is still open silences it for that thing only. A rule of `silence` speaks of
    what the file does not say: it is not asked of half a file, nor before material is ordered.
    """

    def declare(speaks: Callable[..., Iterator[Said]]) -> Rule:
        if name in _rules:
            raise ValueError(f"rule {name} is declared twice")
        declared = Rule(name, level, trades, why, source, Example(bad, good), each, silence, speaks)
        _rules[name] = declared
        return declared

    return declare


@cache
def rules() -> dict[str, Rule]:
    """Every rule by name, in alphabetical order."""
    from spec.check import rules as package  # noqa: PLC0415 - the rules import this module

    for module in pkgutil.walk_packages(package.__path__, f"{package.__name__}."):
        importlib.import_module(module.name)
    return dict(sorted(_rules.items()))
