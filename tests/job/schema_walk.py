"""An independent walk over the schema files: what the tests of the schemas look at.

It follows references and kinds by the rules of the annotation vocabulary and shares no code with
the compiler's own walk.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

FOLDER = Path(__file__).resolve().parents[2] / "schemas"
BASE = "https://scantling.invalid/schemas/"
FILES = {path.stem: json.loads(path.read_text("utf-8")) for path in sorted(FOLDER.glob("*.json"))}
TOPS = ("root", "house")
SHARED = ("annotations", "quantities", "states")
INHERITED = ("decides", "trades", "before", "absence")
HAS_KEYS = {"properties", "patternProperties", "allOf", "anyOf", "oneOf"}
NAMED = ("properties", "patternProperties", "$defs")


@dataclass(frozen=True)
class Property:
    """A key as it is met on the way down from the top of a file.

    `merged` is its schema with those that it refers to, `file` where that one's references start,
    `around` where those of its `siblings` do; `own` is the annotation that it has itself and
    `decision` the same with what it inherits.
    """

    path: str
    name: str
    file: str
    merged: dict[str, Any]
    decision: dict[str, Any]
    own: dict[str, Any]
    siblings: dict[str, Any]
    around: str
    pattern: bool

    @property
    def is_map(self) -> bool:
        return "properties" in self.merged or "patternProperties" in self.merged

    @property
    def forms(self) -> list[tuple[dict[str, Any], str]]:
        """The forms that the value may have, each with the file that its references start from."""
        below = [*self.merged.get("anyOf", ()), *self.merged.get("oneOf", ())]
        return [form for part in below for form in _forms(part, self.file)] or [
            (self.merged, self.file)
        ]

    @property
    def kinds(self) -> set[str]:
        """The kinds that a thing under this key may be."""
        found: set[str] = set()
        for form, _ in self.forms:
            said = form.get("properties", {}).get("is", {})
            named = [said["const"]] if "const" in said else said.get("enum", ())
            found.update(named or ([form["kind"]] if "kind" in form else ()))
        return found

    @property
    def is_plain(self) -> bool:
        return self.name in ("is", "like", "none", "note", "tell")


def _forms(schema: dict[str, Any], file: str) -> list[tuple[dict[str, Any], str]]:
    _, file, merged = follow(schema, file)
    below = [*merged.get("anyOf", ()), *merged.get("oneOf", ())]
    return [form for part in below for form in _forms(part, file)] or [(merged, file)]


def target(ref: str, file: str) -> tuple[str, str, dict[str, Any]]:
    """File, definition and schema that a reference names; KeyError where there is none."""
    document, _, pointer = ref.partition("#/$defs/")
    file = document.removeprefix(BASE).removesuffix(".json") or file
    found = FILES[file]["$defs"]
    for step in pointer.split("/"):
        found = found[step]
    return file, pointer.split("/")[0], found


def follow(schema: dict[str, Any], file: str) -> tuple[list[dict[str, Any]], str, dict[str, Any]]:
    """The schema and those it refers to; the last one's file; all merged, the nearest winning.

    A reference that names nothing ends the chain; a test of its own reports it.
    """
    chain = [schema]
    while "$ref" in chain[-1]:
        try:
            file, _, found = target(chain[-1]["$ref"], file)
        except KeyError:
            break
        chain.append(found)
    merged: dict[str, Any] = {}
    for part in reversed(chain):
        merged.update({key: value for key, value in part.items() if key != "$ref"})
    return chain, file, merged


def properties() -> Iterator[Property]:
    """Every property that can be reached from the top of a job file or of house standards."""
    seen: set[str] = set()
    for top in TOPS:
        yield from _below(FILES[top], top, {}, top, seen)


def _below(
    schema: dict[str, Any], file: str, parts: dict[str, Any], path: str, seen: set[str]
) -> Iterator[Property]:
    chain, file, merged = follow(schema, file)
    for part in reversed(chain):
        parts = {**parts, **{k: v for k, v in part.get("decision", {}).items() if k in INHERITED}}
    here = [id(part) for part in chain if HAS_KEYS & set(part)]
    key = json.dumps([here, parts])
    if key in seen:
        return
    seen.add(key)
    for group in ("properties", "patternProperties"):
        for name, below in merged.get(group, {}).items():
            yield from _one(name, below, file, parts, path, merged, group != "properties", seen)
    for branch in (*merged.get("allOf", ()), *merged.get("anyOf", ())):
        inner = branch.get("then", branch)
        kind = branch.get("if", {}).get("properties", {}).get("is", {}).get("const", "")
        yield from _below(inner, file, parts, f"{path}[{kind}]" if kind else path, seen)


def _one(
    name: str,
    schema: dict[str, Any],
    file: str,
    parts: dict[str, Any],
    path: str,
    around: dict[str, Any],
    pattern: bool,
    seen: set[str],
) -> Iterator[Property]:
    chain, behind, merged = follow(schema, file)
    own: dict[str, Any] = {}
    for part in reversed(chain):
        own.update(part.get("decision", {}))
    step = f"{path}.{'*' if pattern else name}"
    siblings = around.get("properties", {})
    yield Property(step, name, behind, merged, {**parts, **own}, own, siblings, file, pattern)
    if name not in ("note", "tell"):
        yield from _below(schema, file, parts, step, seen)


def schemas(of: Any, path: str) -> Iterator[tuple[str, dict[str, Any]]]:
    """Every schema inside a file, with its path; what stands in `enum` or `default` is none."""
    if not isinstance(of, dict):
        return
    yield path, of
    for key, value in of.items():
        if key in NAMED:
            for name, below in value.items():
                yield from schemas(below, f"{path}/{key}/{name}")
        elif key in ("items", "if", "then", "else", "not", "additionalProperties"):
            yield from schemas(value, f"{path}/{key}")
        elif key in ("allOf", "anyOf", "oneOf"):
            for number, below in enumerate(value):
                yield from schemas(below, f"{path}/{key}/{number}")


def every_schema() -> Iterator[tuple[str, str, dict[str, Any]]]:
    """File, path and schema of everything in the folder but the meta-schema."""
    for name, document in FILES.items():
        if name != "annotations":
            for path, schema in schemas(document, name):
                yield name, path, schema
