"""A job held against its JSON Schema, and what the validator says put into the lead's words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache
from typing import Any

from jsonschema import Draft202012Validator
from jsonschema.exceptions import ValidationError
from jsonschema.validators import extend

from spec.finding import Finding, Level, Spot
from spec.job.node import Node
from spec.job.raw import Raw, State
from spec.job.schema import documents, target
from spec.meant import did_you_mean

_IN_WALK = frozenset({"additionalProperties", "unevaluatedProperties", "propertyNames"})


@cache
def _validator(name: str) -> Any:
    return _holding(documents()[name])


def _holding(schema: Any) -> Any:
    quick: Any = extend
    words = {"$ref": _ref, "allOf": _all_of, "properties": _properties}
    return quick(Draft202012Validator, words)(schema)


# The validator's own keywords, with short cuts that change no verdict: references are followed by
# our own table, of the branches that tell kinds apart only that of the thing's kind is entered,
# and a text is not held against a schema that takes any text. Schemas are loaded once and kept,
# so they are told apart by `id`.


def _ref(validator: Any, ref: str, instance: Any, schema: Any) -> Iterator[ValidationError]:
    yield from validator.descend(instance, target(ref)[1])


_branches: dict[int, dict[str, Any] | None] = {}
_any_text: dict[int, bool] = {}


def _all_of(validator: Any, branches: Any, instance: Any, schema: Any) -> Iterator[ValidationError]:
    known = _branches.get(id(branches), _UNSEEN)
    if known is _UNSEEN:
        known = _branches[id(branches)] = _by_kind(branches)
    if known is None:
        yield from Draft202012Validator.VALIDATORS["allOf"](validator, branches, instance, schema)
    elif isinstance(instance, dict) and isinstance(kind := instance.get("is", ""), str):
        for n, then in known.get(kind, ()):
            yield from validator.descend(instance, then, schema_path=n)


_UNSEEN: Any = object()


def _by_kind(branches: Any) -> dict[str, Any] | None:
    """The branches by the kind that enters them; None where they are not told apart by kind."""
    found: dict[str, Any] = {}
    for n, branch in enumerate(branches):
        test = branch.get("if", {})
        kind = test.get("properties", {}).get("is", {})
        plain = set(branch) == {"if", "then"} and set(test) == {"properties", "required"}
        if not plain or test["required"] != ["is"] or set(test["properties"]) != {"is"}:
            return None
        for word in [kind["const"]] if set(kind) == {"const"} else kind.get("enum", ()):
            found.setdefault(word, []).append((n, branch["then"]))
    return found


def _properties(
    validator: Any, properties: Any, instance: Any, schema: Any
) -> Iterator[ValidationError]:
    if not isinstance(instance, dict):
        return
    for key, value in instance.items():
        below = properties.get(key)
        if below is None or (isinstance(value, str) and _takes_any_text(below)):
            continue
        yield from validator.descend(value, below, path=key, schema_path=key)


def _takes_any_text(schema: Any) -> bool:
    known = _any_text.get(id(schema))
    if known is None:
        ref = str(schema.get("$ref", ""))
        behind = target(ref)[1] if ref.startswith("quantities.json#") else {}
        checked = (set(schema) - {"$ref"} | set(behind)) & _CHECKING
        types = behind.get("type", schema.get("type", ()))
        known = checked <= {"type", "items", "minItems", "maxItems"} and "string" in types
        _any_text[id(schema)] = known and (not ref or bool(behind))
    return _any_text[id(schema)]


_CHECKING = frozenset(Draft202012Validator.VALIDATORS)


def against_schema(raw: Raw, top: Node, name: str) -> Iterator[Finding]:
    """What the schema of a whole file refuses; each refused node counts as unreadable from here on.

    Unknown keys were reported by the walk, which knows the thing's own words for them.
    """
    return _refused(_validator(name), raw, top)


def against_shape(raw: Raw, node: Node) -> Iterator[Finding]:
    """The same of one value that stands in no file's tree."""
    if raw.value is not None:
        yield from _refused(_holding(node.shape.schema), raw, node)


def _refused(validator: Any, raw: Raw, top: Node) -> Iterator[Finding]:
    for error in validator.iter_errors(_plain(raw)):
        if error.validator in _IN_WALK:
            continue
        if _for_a_state(raw, error):
            continue
        steps = list(error.absolute_path)
        below = _raw_at(raw, steps)
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
        if (node.parent is not None or top.address) and error.validator != "required":
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


def _for_a_state(raw: Raw, error: ValidationError) -> bool:
    """Whether only that is missing which a state stands in place of."""
    below = _raw_at(raw, error.absolute_path)
    if error.validator == "required":
        entries = below.map()
        return all(key in entries and _without_value(entries[key]) for key in _missing(error))
    if error.validator in ("minProperties", "minItems"):
        items = below.value if isinstance(below.value, list) else below.map().values()
        return any(_without_value(item) for item in items)
    if error.validator in ("anyOf", "oneOf"):
        forms: dict[str | int, bool] = {}
        for inner in error.context or ():
            form = inner.relative_schema_path[0]
            forms[form] = forms.get(form, True) and _for_a_state(raw, inner)
        return any(forms.values())
    return False


def _without_value(raw: Raw) -> bool:
    return raw.value is None and raw.state is not None


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
        beside = node.parent.shape.names if node.parent is not None else ()
        slip = close_word(node.key, beside if node.key not in beside else ())
        return f"{here} means nothing without {keys}{slip}", f"write {keys}, or mark it open"
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
        possible = [str(word) for word in known if isinstance(word, str)]
        if not isinstance(error.instance, str):
            return f"{_form(error.instance)} stands at {here} where one word is due", (
                f"use one of: {', '.join(possible)}"
            )
        slip = close_word(str(error.instance), possible)
        message = f"`{error.instance}` is not a word that {here} knows{slip}"
        return message, f"use one of: {', '.join(possible)}"
    if kind == "pattern":
        return f"`{error.instance}` is not as {here} asks for it", node.shape.description
    if kind in ("anyOf", "oneOf"):
        return f"what stands at {here} fits none of its forms", node.shape.description
    return f"what stands at {here} is not as it should be", node.shape.description


def close_word(word: str, known: Iterable[str]) -> str:
    """`; did you mean ...?` where one of the known words begins like this or is much like it."""
    names = list(known)
    longer = [name for name in names if name.startswith(f"{word}_")]
    return did_you_mean(word, names, least=0.6, before=longer)


def _form(instance: Any) -> str:
    if isinstance(instance, dict):
        return "a map"
    return "a list" if isinstance(instance, list) else f"the text `{instance}`"


def _wanted(types: list[str]) -> str:
    words = {"object": "a map", "array": "a list", "string": "a text", "number": "a number"}
    named = [words[t] for t in types if t in words]
    return " or ".join(named) or "a value"
