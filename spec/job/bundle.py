"""One schema file for editors: every reference local, and a state allowed wherever a decision is.

The stored schemas know no states: a job is held against them with its states taken out. An
ordinary YAML editor sees the file as it was written, so the bundle offers open, assumed, not
applicable and dropped in place of every value, thing and heading. What a decision asks begins its
description: it is what an editor shows beside a key.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any

from spec.job.schema import documents

DIALECT = "https://json-schema.org/draft/2020-12/schema"

_BASE = "https://scantling.invalid/schemas/"
_STATE = {"$ref": "#/$defs/states.state"}
_ALWAYS_PLAIN = frozenset({"is", "like", "none", "note", "tell", "scantling", "scantling_house"})
_STATES = frozenset({"state", "open", "to_be_decided", "assumed", "not_applicable", "dropped"})
_WORDS = ("title", "description")
_NAMED = ("properties", "patternProperties")
_ONE = ("additionalProperties", "contains", "else", "if", "items", "not", "propertyNames", "then")
_SEVERAL = ("allOf", "anyOf", "oneOf", "prefixItems")
_OF_THE_FILE = frozenset({"$schema", "$id", "$defs"})


@cache
def bundle(name: str = "root") -> dict[str, Any]:
    """The schema of a job file (`root`) or of house standards (`house`), whole in one file.

    Valid JSON Schema 2020-12 without the project's own words. The same object each time: read
    it, do not change it. KeyError for a name that is no schema file.
    """
    source = documents()[name]
    top = _Bundler().whole(name, source)
    return {
        "$schema": DIALECT,
        "$id": f"{_BASE}bundled/{name}.json",
        "title": source["title"],
        "description": source["description"],
        **{key: value for key, value in top.items() if key not in ("title", "description")},
    }


class _Bundler:
    """Gathers what a schema refers to, each definition once, under `file.definition`."""

    def __init__(self) -> None:
        self.found: dict[str, Any] = {}
        self.dropped = _OF_THE_FILE.union(documents()["annotations"]["properties"])

    def whole(self, file: str, source: Mapping[str, Any]) -> dict[str, Any]:
        """A file's top with everything that it reaches under `$defs`."""
        top = self.local(source, file, stateless=False)
        self.reach("states", "state")
        top["$defs"] = dict(sorted(self.found.items()))
        return top

    def reach(self, file: str, pointer: str) -> str:
        """The local reference to a definition, which is brought along with all it needs."""
        key = ".".join([file, *pointer.split("/")])
        if key not in self.found:
            self.found[key] = {}
            schema = _definition(file, pointer)
            stateless = file in ("states", "quantities")
            self.found[key] = self.local(schema, file, stateless)
            if file == "states" and pointer in _STATES:
                # so that beside an open decision an editor shows what is asked
                self.found[key].pop("description")
        return f"#/$defs/{key}"

    def local(
        self, schema: Mapping[str, Any], file: str, stateless: bool, test: bool = False
    ) -> dict[str, Any]:
        """A schema with local references; `test`: the condition of an `if`, kept as it is."""
        made: dict[str, Any] = {}
        for key, value in schema.items():
            if key == "$ref":
                made[key] = self.reach(*_target(value, file))
            elif key in _NAMED:
                made[key] = {
                    name: self.property(name, below, file, stateless or test)
                    for name, below in value.items()
                }
            elif key in _ONE:
                inside = test or key in ("if", "not")
                whole = isinstance(value, bool)
                made[key] = value if whole else self.local(value, file, stateless, inside)
            elif key in _SEVERAL:
                made[key] = [self.local(below, file, stateless, test) for below in value]
            elif key not in self.dropped:
                made[key] = value
        return made

    def property(
        self, name: str, schema: Mapping[str, Any], file: str, stateless: bool
    ) -> dict[str, Any]:
        """What may stand under a key: the value itself or, where it is a decision, a state."""
        own = self.local(schema, file, stateless)
        question = _question(schema, file)
        if question:
            own["description"] = question
        if stateless or name in _ALWAYS_PLAIN:
            return own
        return {**{key: own[key] for key in _WORDS if key in own}, "anyOf": [own, _STATE]}


def _target(ref: str, file: str) -> tuple[str, str]:
    document, _, pointer = ref.partition("#/$defs/")
    return document.removeprefix(_BASE).removesuffix(".json") or file, pointer


def _question(schema: Mapping[str, Any], file: str) -> str:
    """What is asked under a key, and what it is; empty where nothing is asked."""
    ask = about = ""
    while True:
        ask = ask or str(schema.get("decision", {}).get("ask", ""))
        about = about or str(schema.get("description", ""))
        if "$ref" not in schema:
            return f"{ask.replace('{mark}', 'it')} {about}".strip() if ask else ""
        file, pointer = _target(str(schema["$ref"]), file)
        schema = _definition(file, pointer)


def _definition(file: str, pointer: str) -> Mapping[str, Any]:
    schema: Mapping[str, Any] = documents()[file]["$defs"]
    for step in pointer.split("/"):
        schema = schema[step]
    return schema
