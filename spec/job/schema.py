"""The schemas as the compiler walks them: which facts a thing may have, and what is asked of each.

A schema file is plain JSON Schema 2020-12 with the project's annotation vocabulary
(schemas/annotations.json). `Shape` is one place in it with references followed and the
kind chosen.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from functools import cache, cached_property
from typing import Any, NamedTuple

from spec import files

Schema = Mapping[str, Any]

STAGES = (
    "first_visit",
    "measure",
    "order_material",
    "rough",
    "close_in",
    "final_measure",
    "finish",
    "fit",
    "commission",
    "hand_over",
)
"""The stages of a job in order."""

TRADES = (
    "demolition",
    "framing",
    "insulation",
    "board",
    "plaster",
    "electrical",
    "refrigeration",
    "plumbing",
    "heating",
    "painting",
    "flooring",
    "stone",
    "doors",
    "glazing",
    "millwork",
    "metalwork",
    "appliances",
    "cleaning",
)
"""The trades, in the order in which they usually come."""

SUBJECTS = (
    "job",
    "access",
    "existing",
    "envelope",
    "openings",
    "cooling",
    "electrical",
    "lighting",
    "millwork",
    "appliances",
    "finishes",
    "order_of_work",
)
"""The subjects, in the order of the checklist."""

_BASE = "https://scantling.invalid/schemas/"


@cache
def documents() -> dict[str, Schema]:
    """Every schema file by name without suffix, each reference with the file that it leads to."""
    found: dict[str, Schema] = {}
    for path in sorted(files.schemas().glob("*.json")):
        text = path.read_text(encoding="utf-8")
        found[path.stem] = json.loads(_LOCAL.sub(rf"\g<1>{path.name}#", text))
    return found


_LOCAL = re.compile(r'("\$ref"\s*:\s*")#')


class Decision(NamedTuple):
    """What the annotation says of one decision, after inheritance from what it stands in."""

    ask: str
    decides: str
    trades: tuple[str, ...]
    before: str
    needed: str | Mapping[str, Any]
    absence: str
    subject: str

    @property
    def gate(self) -> str:
        """`material` where it must be known to buy, `build` where only to cut and build."""
        return "material" if STAGES.index(self.before) <= _MATERIAL else "build"


_OUTER = ("title", "description", "own_place", "container", "heading", "decision")
_MATERIAL = STAGES.index("order_material")
_PLAIN = Decision("", "lead", (), "order_material", "never", "error", "job")


class Shape:
    """One place in the schema: references followed, kind chosen, annotation inherited."""

    def __init__(self, schema: Schema, file: str, decision: Decision) -> None:
        self.file = file
        self.schema = schema
        self.decision = decision
        self.heading = bool(schema.get("heading"))
        """A heading that its wall, ceiling or floor must account for."""
        self.container = self.heading or bool(schema.get("container"))
        """Addresses leave its key out."""
        self._below: dict[str, Shape | None] = {}
        self._kinds: dict[str, Shape] = {}

    @property
    def title(self) -> str:
        """What the decision is called in a table head or a label."""
        return str(self.schema.get("title", ""))

    @property
    def description(self) -> str:
        """What it is and what it collides with."""
        return str(self.schema.get("description", ""))

    @property
    def is_map(self) -> bool:
        """A map of named facts or entries."""
        return bool(self._properties or self._patterns or self.schema.get("type") == "object")

    @property
    def own_place(self) -> bool:
        """A fact about a place: never inherited."""
        return bool(self.schema.get("own_place"))

    @property
    def quantity(self) -> tuple[str, str]:
        """Dimension and shape of a quantity, or two empty strings."""
        words = str(self.schema.get("quantity", "")).split()
        return (words[0], words[1] if len(words) > 1 else "one") if words else ("", "")

    @property
    def scalar(self) -> str:
        """The type of a value that is no quantity."""
        return str(self.schema.get("scalar", ""))

    @property
    def refers(self) -> tuple[str, ...]:
        """The kinds of things that the value may name."""
        return tuple(self.schema.get("refers", ()))

    @property
    def default_kind(self) -> str:
        """The kind that an entry has when it says none."""
        return str(self.schema.get("kind", ""))

    @cached_property
    def _properties(self) -> Mapping[str, Schema]:
        merged: dict[str, Schema] = dict(self.schema.get("properties", {}))
        return merged

    @cached_property
    def _patterns(self) -> tuple[tuple[re.Pattern[str], Schema], ...]:
        return tuple(
            (re.compile(pattern), schema)
            for pattern, schema in self.schema.get("patternProperties", {}).items()
        )

    @property
    def names(self) -> tuple[str, ...]:
        """The keys that are known by name, in the schema's order."""
        return tuple(self._properties)

    @property
    def takes_entries(self) -> bool:
        """Whether its keys are marks or words of the job rather than facts."""
        return bool(self._patterns)

    @property
    def entry(self) -> Shape | None:
        """What an entry under it is, whatever its name."""
        if not self._patterns:
            return None
        return self._make("*", self._patterns[0][1])

    def below(self, key: str) -> Shape | None:
        """The shape under a key, or None where the schema knows no such key."""
        if key not in self._below:
            schema = self._properties.get(key)
            if schema is None:
                schema = next((s for p, s in self._patterns if p.search(key)), None)
            if schema is None:
                extra = self.schema.get("additionalProperties")
                schema = extra if isinstance(extra, dict) else None
            self._below[key] = None if schema is None else self._make(key, schema)
        return self._below[key]

    def _make(self, key: str, schema: Schema) -> Shape:
        known = self._below.get(key)
        if known is not None:
            return known
        shape = _follow(schema, self.file, self.decision, named=key in self._properties)
        self._below[key] = shape
        return shape

    @property
    def kinds(self) -> tuple[str, ...]:
        """The kinds that may stand here."""
        own = self._properties.get("is", {})
        if "const" in own:
            return (str(own["const"]),)
        return tuple(own.get("enum", ()))

    @cached_property
    def alternatives(self) -> tuple[Shape, ...]:
        """The forms that a value may take here; none where there is one only."""
        outer = {k: v for k, v in self.schema.items() if k in _OUTER}
        found = []
        for schema in self.schema.get("anyOf", self.schema.get("oneOf", ())):
            shape = _follow(schema, self.file, self.decision, named=False)
            found.append(Shape({**shape.schema, **outer}, shape.file, self.decision))
        return tuple(found)

    def for_map(self) -> Shape:
        """The form that a map takes here."""
        return next((a for a in self.alternatives if a.is_map), self)

    def for_list(self) -> Shape:
        """The form that a list takes here."""
        lists = (a for a in self.alternatives if "array" in types_of(a.schema))
        return next(lists, self.for_text("") if self.alternatives else self)

    def for_text(self, text: str) -> Shape:
        """The form that a text likeliest takes: a known word, a quantity, a name, any text."""
        return self.texts(text)[0]

    def texts(self, text: str) -> tuple[Shape, ...]:
        """The forms that a text may take here, likeliest first; at least one."""
        plain = [a for a in self.alternatives if not a.is_map]
        words = [a for a in plain if a._lists(text)]
        if words:
            return tuple(words)
        numeric = text[:1].isdigit() or text[:1] in "-+." or text[:2] == "R-"
        fitting = [a for a in plain if not a._closed and a._may_be(text, numeric)]
        return tuple(sorted(fitting, key=lambda a: not a.quantity[0])) or tuple(plain) or (self,)

    def _lists(self, text: str) -> bool:
        return text in self.schema.get("enum", ()) or text == self.schema.get("const")

    @property
    def _closed(self) -> bool:
        return "enum" in self.schema or "const" in self.schema

    def _may_be(self, text: str, numeric: bool) -> bool:
        if self.quantity[0]:
            return numeric
        return "pattern" not in self.schema or bool(re.search(self.schema["pattern"], text))

    @cached_property
    def item(self) -> Shape:
        """What each value of a list is; itself where one and many are said to be the same."""
        items = self.schema.get("items")
        if not isinstance(items, dict) or self.quantity[0]:
            return self
        found = _follow(items, self.file, self.decision, named=False)
        return found.for_text("") if found.alternatives else found

    def of_kind(self, kind: str) -> Shape:
        """The shape once its kind is known; itself where kinds make no difference."""
        if kind not in self._kinds:
            self._kinds[kind] = self
            for branch in self.schema.get("allOf", ()):
                test = branch.get("if", {}).get("properties", {}).get("is", {})
                if test.get("const") == kind or kind in test.get("enum", ()):
                    found = _follow(branch["then"], self.file, self.decision, named=False)
                    self._kinds[kind] = found
                    break
        return self._kinds[kind]

    def items(self) -> Iterator[tuple[str, Shape]]:
        """Every known key with its shape."""
        for name in self._properties:
            shape = self.below(name)
            if shape is not None:
                yield name, shape


def _decision(own: Schema, inherited: Decision, subject: str, named: bool) -> Decision:
    """Only a property itself says whether it is needed and how it is asked for."""
    if not own and not named and subject == inherited.subject:
        return inherited
    return Decision(
        ask=str(own.get("ask", "" if named else inherited.ask)),
        decides=str(own.get("decides", inherited.decides)),
        trades=tuple(own.get("trades", inherited.trades)),
        before=str(own.get("before", inherited.before)),
        needed=own.get("needed", "never" if named else inherited.needed),
        absence=str(own.get("absence", inherited.absence)),
        subject=subject,
    )


_SHAPES: dict[tuple[int, int, bool], tuple[Decision, Shape]] = {}
"""Every shape once: by the identity of its schema, which lives as long as `documents`, and of the
annotation that it inherits, which is kept beside it."""


def _follow(schema: Schema, file: str, inherited: Decision, *, named: bool) -> Shape:
    """Follow references; keywords beside a `$ref` win over those behind it."""
    key = (id(schema), id(inherited), named)
    if key not in _SHAPES:
        _SHAPES[key] = inherited, _followed(schema, file, inherited, named)
    return _SHAPES[key][1]


def _followed(schema: Schema, file: str, inherited: Decision, named: bool) -> Shape:
    subject = str(documents()[file].get("subject", "")) or inherited.subject
    chain = [schema]
    while "$ref" in schema:
        file, schema = target(str(schema["$ref"]))
        chain.append(schema)
    merged: dict[str, Any] = {}
    own: dict[str, Any] = {}
    for part in reversed(chain):
        merged.update(part)
        own.update(part.get("decision", {}))
    merged.pop("$ref", None)
    return Shape(merged, file, _decision(own, inherited, subject, named))


def types_of(schema: Schema) -> tuple[str, ...]:
    """The types that a schema allows, also where it names one alone."""
    types = schema.get("type", ())
    return (types,) if isinstance(types, str) else tuple(types)


@cache
def target(ref: str) -> tuple[str, Schema]:
    """The file and the schema that a reference leads to."""
    name, _, pointer = ref.partition("#")
    file = name.removeprefix(_BASE).removesuffix(".json")
    schema: Any = documents()[file]
    for step in pointer.strip("/").split("/"):
        if step:
            schema = schema[step.replace("~1", "/").replace("~0", "~")]
    return file, schema


@cache
def root(name: str = "root") -> Shape:
    """The shape of a whole file: `root` for a job, `house` for house standards."""
    return _follow(documents()[name], name, _PLAIN, named=False)
