"""How the value of a decision is written in a job file, in words with an example."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Any

from spec.compose.manual.entry import listed, plain
from spec.job.kinds import KIND_OF_CONTAINER
from spec.job.schema import Shape, documents, types_of
from spec.quantity.dimensions import DIMENSIONS

_MANY = 24
"""So many keys of a map are named; of a thing with more, its kind's section lists them."""
_REFERS = {"address": "any address of the job or the house standards", "thing": "any thing"}


def written(shape: Shape, key: str = "") -> str:
    """The forms that the value may take, each with an example where the notation has one."""
    forms = shape.alternatives or (shape,)
    return "\n".join(dict.fromkeys(form for one in forms for form in _form(one, key)))


def default_text(shape: Shape) -> str:
    """What holds where a firm writes nothing; empty where there is no default."""
    default = shape.schema.get("default")
    return "" if default is None else _value(default)


def _form(shape: Shape, key: str) -> Iterator[str]:
    schema = shape.schema
    listing = "array" in types_of(schema) and not shape.quantity[0]
    if "enum" in schema or "const" in schema:
        words = schema.get("enum", [schema.get("const")])
        yield "one of: " + ", ".join(dict.fromkeys(map(_value, words)))
    elif shape.quantity[0]:
        yield _quantity(*shape.quantity, str(schema.get("sides", "")))
    elif shape.refers:
        named = [_REFERS.get(kind, plain(kind)) for kind in shape.refers]
        also = "".join(f", or {word}" for word in schema.get("also", ()))
        yield f"the name of: {', '.join(named)}{also}"
    elif shape.scalar:
        yield _scalar(shape.scalar, str(schema.get("pattern", "")))
    elif shape.is_map:
        yield _map(shape, key)
    elif not listing:
        yield "any value"
    if listing and shape.item is not shape:
        yield from (f"a list, each {form}" for form in _form(shape.item, key))
    elif listing:
        yield "or a list of them"


def _map(shape: Shape, key: str) -> str:
    entry = shape.entry
    if entry is not None:
        kinds = kinds_of(entry, key)
        what = f"each a {listed([plain(kind) for kind in kinds], 'or')}" if kinds else ""
        each = what or f"each {written(entry.for_map() if entry.is_map else entry)}"
        return f"a map of entries by name, {each}"
    names = shape.names
    if not names or len(names) > _MANY:
        return "a map of facts"
    return f"a map of: {', '.join(names)}"


def kinds_of(entry: Shape, container: str) -> tuple[str, ...]:
    """The kinds of thing that an entry under a container may be; none where it is a value."""
    form = entry.for_map()
    if form.kinds:
        return form.kinds
    kind = form.default_kind or (KIND_OF_CONTAINER.get(container, "") if form.is_map else "")
    return (kind,) if kind else ()


def _quantity(dimension: str, form: str, sides: str) -> str:
    about = DIMENSIONS[dimension]
    sample = _samples().get((dimension, form, sides)) or _samples().get((dimension, form, ""))
    if sample:
        return f"{_FORMS.get(form, about.title)}: {sample.rstrip('.')}"
    return f"{about.title}: {about.sample}"


_FORMS = {"range": "from the least to the most", "series": "a series, one unit at its end"}


@cache
def _samples() -> dict[tuple[str, str, str], str]:
    """The example of each notation that the quantities' schema gives, by dimension and form."""
    found: dict[tuple[str, str, str], str] = {}
    for schema in documents()["quantities"]["$defs"].values():
        dimension, _, form = str(schema.get("quantity", "")).partition(" ")
        about = str(schema.get("description", ""))
        if dimension and any(sign.isdigit() for sign in about):
            found.setdefault((dimension, form or "one", str(schema.get("sides", ""))), about)
    return found


@cache
def _scalar(scalar: str, pattern: str) -> str:
    """What a type of value that is no quantity looks like, from the quantities' schema."""
    known = documents()["quantities"]["$defs"]
    fitting = (d for d in known.values() if pattern and d.get("pattern") == pattern)
    about = next(fitting, known[scalar])
    title = str(about["title"])
    return f"{title[:1].lower()}{title[1:]}: {str(about['description']).rstrip('.')}"


def _value(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, dict):
        return ", ".join(f"{key}: {_value(below)}" for key, below in value.items())
    if isinstance(value, list):
        return f"[{', '.join(map(_value, value))}]"
    return str(value)
