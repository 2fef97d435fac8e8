"""`like` and `product`: what one thing takes over from another, each value with its origin."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from typing import Any

from spec.finding import Finding, Level, Spot
from spec.job.raw import Raw
from spec.job.schema import documents

MARK = re.compile(r"^[A-Z]{1,3}[0-9]{0,3}[a-z]?$")
NAMING = ("products", "assemblies", "finishes", "stacks", "bottles", "surroundings")
"""Containers whose small words may be named by `like` or `product`."""
_NEVER = frozenset({"like", "product", "before", "after", "note", "tell", "title", "photo"})


@cache
def own_place_keys() -> frozenset[str]:
    """The keys that say where a thing is: never taken over."""
    found: set[str] = set()

    def look(schema: Any) -> None:
        if isinstance(schema, dict):
            for key, below in schema.get("properties", {}).items():
                if isinstance(below, dict) and below.get("own_place"):
                    found.add(key)
            for below in schema.values():
                look(below)
        elif isinstance(schema, list):
            for below in schema:
                look(below)

    for document in documents().values():
        look(document)
    return frozenset(found)


def settle(roots: list[Raw]) -> list[Finding]:
    """Carry out every `like` and `product` in these trees, in place; what fails is reported."""
    names: dict[str, Raw] = {}
    for tree in roots:
        for name, raw in _named(tree):
            names.setdefault(name, raw)
    work = _Settling(names)
    for tree in roots:
        work.visit(tree)
    return work.findings


def _named(raw: Raw, inside: str = "") -> Iterator[tuple[str, Raw]]:
    for key, below in raw.map().items():
        if inside in NAMING or (MARK.match(key) and isinstance(below.value, dict)):
            yield key, below
        yield from _named(below, key)


class _Settling:
    def __init__(self, names: dict[str, Raw]) -> None:
        self.names = names
        self.findings: list[Finding] = []
        self.done: set[int] = set()
        self.under_way: list[tuple[str, Raw]] = []

    def visit(self, raw: Raw) -> None:
        """Settle a map and everything below it."""
        if id(raw) in self.done or not isinstance(raw.value, dict):
            return
        self.done.add(id(raw))
        for link in ("like", "product"):
            target = raw.value.get(link)
            if target is not None and isinstance(target.value, str):
                self._take_over(raw, link, target)
        for below in list(raw.value.values()):
            self.visit(below)

    def _take_over(self, raw: Raw, link: str, target: Raw) -> None:
        name = str(target.value)
        source = self.names.get(name)
        if source is None:
            return  # `refers` in the schema reports a name that names nothing
        if any(known is source for _, known in self.under_way) or source is raw:
            loop = " → ".join([n for n, _ in self.under_way] + [name])
            self.findings.append(
                Finding(
                    "reading.loop",
                    Level.ERROR,
                    f"`{link}: {name}` leads back to itself ({loop}): nothing can be taken over",
                    f"write out the facts at one of them in place of `{link}`",
                    (Spot("", target.place),),
                )
            )
            raw.value = {k: v for k, v in raw.map().items() if k != link}
            return
        self.under_way.append((name, raw))
        self.visit(source)
        self.under_way.pop()
        skipped = _NEVER | (own_place_keys() if link == "like" else frozenset())
        facts = {
            key: below.inherited(f"{link} {name}", link if link == "product" else "")
            for key, below in source.map().items()
            if key not in skipped
        }
        raw.value = _overlaid(facts, raw.map())


def _overlaid(under: dict[str, Raw], over: dict[str, Raw]) -> dict[str, Raw]:
    """Maps merged, all else replaced; `dropped` takes an inherited entry out."""
    merged = dict(under)
    for key, raw in over.items():
        below = merged.get(key)
        if raw.state is not None and raw.state.kind == "dropped":
            merged.pop(key, None)
        elif below is not None and isinstance(below.value, dict) and isinstance(raw.value, dict):
            merged[key] = replace(raw, value=_overlaid(below.value, raw.value))
        elif below is None and isinstance(raw.value, dict) and _neighbor(raw) in merged:
            merged = _placed(merged, key, raw)
        else:
            merged[key] = raw
    return merged


def _neighbor(raw: Raw) -> str:
    return raw.text("before") or raw.text("after")


def _placed(entries: dict[str, Raw], key: str, raw: Raw) -> dict[str, Raw]:
    result: dict[str, Raw] = {}
    before, after = raw.text("before"), raw.text("after")
    for name, below in entries.items():
        if name == before:
            result[key] = raw
        result[name] = below
        if name == after:
            result[key] = raw
    return result
