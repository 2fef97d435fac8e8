"""A job held against its JSON Schema, and what the validator says put into the lead's words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache
from typing import Any

from jsonschema import Draft202012Validator
from jsonschema.exceptions import ValidationError
from referencing import Registry
from referencing.jsonschema import DRAFT202012

from spec.finding import Finding, Level, Spot
from spec.job.node import Node
from spec.job.raw import Raw, State
from spec.job.schema import documents

_IN_WALK = frozenset({"additionalProperties", "unevaluatedProperties", "propertyNames"})


@cache
def _validator(name: str) -> Any:
    registry: Any = Registry().with_resources(
        (str(schema["$id"]), DRAFT202012.create_resource(schema)) for schema in documents().values()
    )
    return Draft202012Validator(documents()[name], registry=registry)


def against_schema(raw: Raw, top: Node, name: str) -> Iterator[Finding]:
    """What the schema refuses; each refused node counts as unreadable from here on.

    Unknown keys were reported by the walk, which knows the thing's own words for them.
    """
    for error in _validator(name).iter_errors(_plain(raw)):
        if error.validator in _IN_WALK:
            continue
        steps = [step for step in error.absolute_path]
        below = _raw_at(raw, steps)
        if error.validator == "required" and _stated(below, error):
            continue
        node = _node_at(top, steps)
        if node.state is not None and node.state.kind == "unreadable":
            continue
        message, cure = _in_words(error, node)
        yield Finding(
            _RULES.get(str(error.validator), "reading.not-as-the-schema-has-it"),
            Level.ERROR,
            message,
            cure,
            (Spot(node.address, below.place),),
        )
        if node.parent is not None and error.validator != "required":
            node.state = State("unreadable", below.place, who="lead", why=str(error.instance)[:60])
            node.value = None


def _plain(raw: Raw) -> Any:
    """The tree without states: what has no value is not there."""
    if isinstance(raw.value, dict):
        return {k: _plain(v) for k, v in raw.value.items() if v.value is not None}
    if isinstance(raw.value, list):
        return [_plain(v) for v in raw.value if v.value is not None]
    return raw.value


def _raw_at(raw: Raw, steps: Iterable[str | int]) -> Raw:
    for step in steps:
        value = raw.value
        if isinstance(value, dict) and step in value:
            raw = value[str(step)]
        elif isinstance(value, list) and isinstance(step, int):
            raw = [item for item in value if item.value is not None][step]
    return raw


def _node_at(top: Node, steps: Iterable[str | int]) -> Node:
    node = top
    for step in steps:
        below = node.children.get(str(step))
        if below is None:
            return node
        node = below
    return node


def _stated(raw: Raw, error: ValidationError) -> bool:
    missing = _missing(error)
    return all(key in raw.map() and raw.map()[key].state is not None for key in missing)


def _missing(error: ValidationError) -> list[str]:
    required: Any = error.validator_value
    there: Any = error.instance
    return [key for key in required if key not in there]


_RULES = {
    "required": "reading.missing-key",
    "type": "reading.wrong-shape",
    "enum": "reading.unknown-word",
    "const": "reading.unknown-word",
}


def _in_words(error: ValidationError, node: Node) -> tuple[str, str]:
    here = f"`{node.address}`" if node.address else "the job file"
    kind = error.validator
    if kind == "required":
        keys = ", ".join(f"`{key}`" for key in _missing(error))
        return f"{here} means nothing without {keys}", f"write {keys}, or mark it open"
    if kind == "type":
        due: Any = error.validator_value
        wants = due if isinstance(due, list) else [due]
        return (
            f"{_form(error.instance)} stands at {here} where {_wanted(wants)} is due",
            f"write {_wanted(wants)}; {node.shape.description}".rstrip("; "),
        )
    if kind in ("enum", "const"):
        known = (
            error.validator_value
            if isinstance(error.validator_value, list)
            else [error.validator_value]
        )
        words = ", ".join(str(word) for word in known if isinstance(word, str))
        return f"`{error.instance}` is not a word that {here} knows", f"use one of: {words}"
    if kind == "pattern":
        return f"`{error.instance}` is not as {here} asks for it", node.shape.description
    if kind in ("anyOf", "oneOf"):
        return f"what stands at {here} fits none of its forms", node.shape.description
    return f"what stands at {here} is not as it should be", node.shape.description


def _form(instance: Any) -> str:
    if isinstance(instance, dict):
        return "a map"
    return "a list" if isinstance(instance, list) else f"the text `{instance}`"


def _wanted(types: list[str]) -> str:
    words = {"object": "a map", "array": "a list", "string": "a text", "number": "a number"}
    named = [words[t] for t in types if t in words]
    return " or ".join(named) or "a value"
