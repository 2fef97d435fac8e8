"""`like` and `product`: what one thing takes over from another, each value with its origin.

Facts about a place are taken over here and left out by the walk, which knows the schema.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from typing import Any

from spec.finding import Finding, Level, Spot
from spec.job.raw import Raw
from spec.job.schema import documents, target

MARK = re.compile(r"^[A-Z]{1,3}[0-9]{0,3}[a-z]?$")
NAMING = ("products", "assemblies", "finishes", "stacks", "bottles", "surroundings")
"""Containers whose small words may be named by `like` or `product`."""
ORDERING = ("walls_clockwise", "left_to_right", "bottom_to_top", "from_room_outward")
"""Keys under which the order counts: a new entry says before or after which inherited one."""
LINKS = ("like", "product")
_SAID_THERE = frozenset({"note", "tell", "photo"})
_NEVER = _SAID_THERE | {"like", "before", "after", "title"}
_SURFACES = ("walls_clockwise", "rooms", "as_found")
_FLAT = ("ceiling", "floor")


_PARTS = frozenset(
    [
        "properties",
        "patternProperties",
        "$defs",
        "allOf",
        "anyOf",
        "oneOf",
        "then",
        "items",
        "additionalProperties",
    ]
)


@cache
def _container_keys() -> frozenset[str]:
    """The keys that hold entries with names of their own."""
    found: set[str] = set()

    def holds_entries(schema: Any) -> bool:
        while not (schema.get("container") or schema.get("heading")):
            ref = str(schema.get("$ref", ""))
            if not ref or ref.startswith("quantities.json#"):
                return False
            schema = target(ref)[1]
        return True

    heap: list[Any] = list(documents().values())
    while heap:
        schema = heap.pop()
        named = schema.get("properties", {})
        for key, below in named.items():
            if key not in found and holds_entries(below):
                found.add(key)
        for part in (named, schema.get("patternProperties", {}), schema.get("$defs", {})):
            heap += [below for below in part.values() if not _PARTS.isdisjoint(below)]
        for key in ("allOf", "anyOf", "oneOf"):
            heap += schema.get(key, ())
        for key in ("then", "items", "additionalProperties"):
            if isinstance(schema.get(key), dict):
                heap.append(schema[key])
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
    marked = inside in _container_keys()
    for key, below in raw.map().items():
        if inside in NAMING or (marked and MARK.match(key) and isinstance(below.value, dict)):
            yield key, below
        yield from _named(below, key)


class _Settling:
    def __init__(self, names: dict[str, Raw]) -> None:
        self.names = names
        self.findings: list[Finding] = []
        self.done: set[int] = set()
        self.under_way: list[tuple[str, Raw]] = []

    def visit(self, raw: Raw, name: str = "") -> None:
        """Settle a map and everything below it."""
        if id(raw) in self.done or not isinstance(raw.value, dict):
            return
        self.done.add(id(raw))
        for link in LINKS:
            aim = raw.map().get(link)
            if aim is not None and isinstance(aim.value, str):
                self._take_over(raw, link, aim, name)
        for key, below in list(raw.map().items()):
            if name in _SURFACES or key in _FLAT:
                self._refuse_like(key, below)
            self.visit(below, key)

    def _refuse_like(self, name: str, raw: Raw) -> None:
        """A wall, a room and what is over and under it hold things with marks of their own."""
        aim = raw.map().get("like")
        if aim is None or aim.origin:
            return
        message = f"{name} cannot be like {aim.value}: the things on it have marks, which are not"
        self.findings.append(
            Finding(
                "reading.unknown-key",
                Level.ERROR,
                f"{message} used twice",
                "write out what it has; layers that are the same are named by one `assembly`",
                (Spot("" if name in _FLAT else name, aim.key_place),),
            )
        )
        raw.value = {k: v for k, v in raw.map().items() if k != "like"}

    def _take_over(self, raw: Raw, link: str, aim: Raw, own_name: str) -> None:
        name = str(aim.value)
        source = self.names.get(name)
        if source is None:
            return  # a name that names nothing is reported with all other links
        if any(known is source for _, known in self.under_way) or source is raw:
            loop = " → ".join([n for n, _ in self.under_way] + [own_name, name])
            address = own_name if self.names.get(own_name) is raw else ""
            self.findings.append(
                Finding(
                    "reading.loop",
                    Level.ERROR,
                    f"`{link}: {name}` leads back to itself ({loop}): nothing can be taken over",
                    f"write out the facts at one of them in place of `{link}`",
                    (Spot(address, aim.place),),
                )
            )
            raw.value = {k: v for k, v in raw.map().items() if k != link}
            return
        self.under_way.append((own_name or name, raw))
        self.visit(source, name)
        self.under_way.pop()
        own = source.map() if link == "product" else _written_there(source.map())
        through = link if link == "product" else ""
        facts = {
            key: below.inherited(f"{link} {name}", through)
            for key, below in own.items()
            if key not in _NEVER and not (link == "product" and key == "product")
        }
        facts = {key: _untold(below) for key, below in facts.items()}
        raw.value = _overlaid(facts, raw.map())


def _untold(raw: Raw) -> Raw:
    """What is copied, without what was said to somebody about the place that it was written at."""
    if isinstance(raw.value, dict):
        raw.value = {k: _untold(v) for k, v in raw.value.items() if k not in _SAID_THERE}
    return raw


def _written_there(entries: dict[str, Raw]) -> dict[str, Raw]:
    """The facts of a thing without those that its product gives: whoever is like it has it too."""
    kept: dict[str, Raw] = {}
    for key, raw in entries.items():
        if raw.through == "product":
            continue
        below = raw.value
        kept[key] = replace(raw, value=_written_there(below)) if isinstance(below, dict) else raw
    return kept


def _overlaid(under: dict[str, Raw], over: dict[str, Raw], inside: str = "") -> dict[str, Raw]:
    """Maps merged, all else replaced; `dropped` takes an inherited entry out."""
    merged = dict(under)
    waiting: dict[str, Raw] = {}
    for key, raw in over.items():
        below = merged.get(key)
        if below is not None and raw.state is not None and raw.state.kind == "dropped":
            merged.pop(key)
        elif below is not None and isinstance(below.value, dict) and isinstance(raw.value, dict):
            merged[key] = replace(raw, value=_overlaid(below.value, raw.value, key))
        elif below is None and inside in ORDERING and _neighbor(raw):
            waiting[key] = raw
        else:
            merged[key] = raw
    while ready := [key for key, raw in waiting.items() if _neighbor(raw) in merged]:
        merged = _placed(merged, ready[0], waiting.pop(ready[0]))
    return {**merged, **waiting}


def _neighbor(raw: Raw) -> str:
    return raw.text("before") or raw.text("after")


def _placed(entries: dict[str, Raw], key: str, raw: Raw) -> dict[str, Raw]:
    before, after = raw.text("before"), raw.text("after")
    facts = {k: v for k, v in raw.map().items() if k not in ("before", "after")}
    placed = replace(raw, value=facts)
    result: dict[str, Raw] = {}
    for name, below in entries.items():
        if name == before:
            result[key] = placed
        result[name] = below
        if name == after:
            result[key] = placed
    return result
