"""The schemas are the checklist: every one of them is whole, closed and says what it must."""

from __future__ import annotations

import re
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from jsonschema_specifications import REGISTRY as SPECIFICATIONS
from referencing import Registry, Resource
from referencing.jsonschema import DRAFT202012
from schema_walk import (
    BASE,
    FILES,
    SHARED,
    TOPS,
    Property,
    every_schema,
    follow,
    properties,
    schemas,
    target,
)

from spec import files
from spec.finding import Level
from spec.job.kinds import KIND_OF_CONTAINER
from spec.job.resolve import resolve
from spec.quantity import parse
from spec.quantity.dimensions import DIMENSIONS
from spec.read import read

PROPERTIES = list(properties())
OWN_WORDS = set(FILES["annotations"]["properties"])
STANDARD = {
    key
    for document in SPECIFICATIONS
    if "2020-12" in document
    for key in SPECIFICATIONS.contents(document).get("properties", {})
}
NAME = re.compile(r"^[a-z][a-z0-9_]*(\.[a-z][a-z0-9_]*)?$")
PATTERNS = re.compile(r"^\^.*\$$")


def meta_validator() -> Draft202012Validator:
    annotations = FILES["annotations"]
    registry = SPECIFICATIONS.with_resource(
        annotations["$id"], Resource(contents=annotations, specification=DRAFT202012)
    )
    return Draft202012Validator(annotations, registry=registry)


def test_every_file_is_valid_by_the_standard_and_by_the_vocabulary() -> None:
    Draft202012Validator.check_schema(FILES["annotations"])
    validator = meta_validator()
    for name, document in FILES.items():
        if name == "annotations":
            continue
        assert document["$schema"] == FILES["annotations"]["$id"], name
        assert document["$id"] == f"{BASE}{name}.json"
        Draft202012Validator.check_schema(document)
        wrong = [f"{e.json_path}: {e.message}" for e in validator.iter_errors(document)]
        assert not wrong, (name, wrong[:10])


@pytest.mark.parametrize(
    "spoilt",
    [
        {"trades": ["joinery"]},
        {"before": "someday"},
        {"absence": "fatal"},
        {"ask": "How wide"},
        {"needed": {"if": "glazing"}},
        {"decides": "neighbor"},
        {"asks": "How wide is it?"},
    ],
)
def test_the_meta_schema_refuses_a_wrong_annotation_however_deep(spoilt: dict[str, Any]) -> None:
    document = deepcopy(FILES["job"])
    document["$defs"]["site"]["properties"]["built"]["decision"].update(spoilt)
    assert list(meta_validator().iter_errors(document))


def test_no_keyword_is_misspelt() -> None:
    known = STANDARD | OWN_WORDS
    strange = [
        (path, key) for _, path, schema in every_schema() for key in schema if key not in known
    ]
    assert not strange


def test_every_reference_names_a_definition() -> None:
    broken = []
    for file, path, schema in every_schema():
        if "$ref" in schema:
            try:
                target(schema["$ref"], file)
            except KeyError:  # collected, to name them all at once
                broken.append((path, schema["$ref"]))
    assert not broken


def test_every_definition_is_used() -> None:
    reached: set[tuple[str, str]] = set()
    seen: set[tuple[str, str]] = set()

    def reach(file: str, schema: dict[str, Any]) -> None:
        for _, below in schemas(schema, file):
            if "$ref" in below:
                to, name, found = target(below["$ref"], file)
                whole = (to, below["$ref"].partition("#")[2])
                reached.add((to, name))
                if whole not in seen:
                    seen.add(whole)
                    reach(to, found)

    for top in TOPS:
        reach(top, FILES[top])
    idle = [
        f"{file}.{name}"
        for file, document in FILES.items()
        if file not in SHARED
        for name in document.get("$defs", {})
        if (file, name) not in reached
    ]
    assert not idle


def test_every_property_is_a_whole_decision() -> None:
    lacking = []
    for one in PROPERTIES:
        if one.is_plain or one.pattern:
            continue
        asked = one.own.get("needed", "never") != "never"
        if (not one.is_map or asked) and not one.own.get("ask"):
            lacking.append((one.path, "ask"))
        if not one.is_map:
            lacking += [
                (one.path, part)
                for part in ("decides", "trades", "before", "absence")
                if part not in one.decision
            ]
    assert not lacking


def test_every_property_has_words_for_a_table_head_and_a_sentence_that_explains() -> None:
    lacking = [
        (one.path, word)
        for one in PROPERTIES
        if not one.pattern
        for word in ("title", "description")
        if not str(one.merged.get(word, "")).strip()
    ]
    assert not lacking


def test_every_fact_has_a_title_of_its_own_and_not_that_of_its_quantity() -> None:
    lazy = [
        path
        for file, path, schema in every_schema()
        if file not in SHARED
        and path.split("/")[-2:-1] == ["properties"]
        and schema.get("$ref", "").startswith("quantities.json")
        and "title" not in schema
    ]
    assert not lazy


def test_every_leaf_has_a_type() -> None:
    untyped = [
        one.path
        for one in PROPERTIES
        if not one.is_plain and not TYPES & set(one.merged) and not all(map(_typed, one.forms))
    ]
    assert not untyped


TYPES = {"quantity", "scalar", "enum", "const"}


def _typed(form: tuple[dict[str, Any], str]) -> bool:
    schema, file = form
    if (TYPES | {"properties", "patternProperties"}) & set(schema):
        return True
    return schema.get("type") == "array" and bool(TYPES & set(follow(schema["items"], file)[2]))


def test_objects_are_closed() -> None:
    loose = []
    for _, path, schema in every_schema():
        has_keys = "properties" in schema or "patternProperties" in schema
        chooses = any("then" in branch for branch in schema.get("allOf", ()))
        condition = "/if" in path
        closed = schema.get("additionalProperties") is False
        if has_keys and not chooses and not condition and not closed:
            loose.append(path)
    assert not loose


def test_keys_are_small_words_and_patterns_whole() -> None:
    wrong = []
    for file, path, schema in every_schema():
        if file == "states":
            continue
        wrong += [(path, key) for key in schema.get("properties", {}) if not NAME.match(key)]
        wrong += [
            (path, key) for key in schema.get("patternProperties", {}) if not PATTERNS.match(key)
        ]
    assert not wrong


def test_every_kind_of_a_heading_has_its_branch_and_every_branch_its_kind() -> None:
    wrong = []
    for file, path, schema in every_schema():
        branches = [b for b in schema.get("allOf", ()) if "then" in b]
        if not branches:
            continue
        listed = schema["properties"]["is"]["enum"]
        chosen: list[str] = []
        for branch in branches:
            test = branch["if"]["properties"]["is"]
            named = test.get("enum", [test.get("const")])
            chosen += named
            own = follow(branch["then"], file)[2].get("properties", {}).get("is", {})
            allowed = own.get("enum", [own.get("const")])
            wrong += [
                (path, kind, "is not among its own kinds") for kind in named if kind not in allowed
            ]
        if sorted(listed) != sorted(chosen):
            wrong.append((path, str(set(listed) ^ set(chosen)), "listed or chosen, not both"))
    assert not wrong


def test_conditions_name_keys_beside_them() -> None:
    everywhere = {key for _, _, schema in every_schema() for key in schema.get("properties", {})}
    wrong = []
    for one in PROPERTIES:
        needed = one.own.get("needed")
        if not isinstance(needed, dict) or ".products." in one.path:
            continue  # a product's facts are asked for at the thing that it becomes
        said = needed.get("when", needed.get("unless"))
        firsts = [path.split(".")[0] for path in ([said] if isinstance(said, str) else said)]
        beside = [first for first in firsts if first in one.siblings]
        wrong += [(one.path, first) for first in firsts if first not in everywhere]
        if not beside:
            wrong.append((one.path, str(said)))
        elif "is" in needed and isinstance(said, str) and "." not in said:
            words = [w for w in needed["is"] if not _may_be(one.siblings[said], one, w)]
            wrong += [(one.path, f"{said}: {word}") for word in words]
    assert not wrong


def _may_be(schema: dict[str, Any], one: Property, word: str) -> bool:
    """Whether a key beside a property may have this word as its value."""
    file = one.around
    merged = follow(schema, file)[2]
    words = merged.get("enum", [merged["const"]] if "const" in merged else None)
    return words is None or word in words


def kinds() -> set[str]:
    """Every kind that a thing may be, and every container by its entries' kind."""
    found = {"address", "thing", "standard", "product"}
    for one in PROPERTIES:
        found |= one.kinds
        if one.merged.get("container") or one.merged.get("heading"):
            found |= {one.name, one.name.removesuffix("s"), KIND_OF_CONTAINER.get(one.name, "")}
    return found


def test_links_name_known_kinds() -> None:
    known = kinds()
    strange = [
        (path, kind)
        for _, path, schema in every_schema()
        for kind in (*schema.get("refers", ()), *schema.get("keyed_by", ()))
        if kind not in known
    ]
    assert not strange


def test_every_default_of_the_house_can_be_read_and_says_where_it_comes_from() -> None:
    thresholds = FILES["house"]["$defs"]["thresholds"]["properties"]
    assert len(thresholds) > 50
    for name, schema in thresholds.items():
        merged = follow(schema, "house")[2]
        where = merged["description"].lower()
        assert re.search(r"common practice|from memory|maker's data", where), name
        if "quantity" in merged:
            dimension, *form = merged["quantity"].split()
            parse(merged["default"], dimension, form[0] if form else "one")
        else:
            assert merged["scalar"] == "count" and merged["default"].isdigit(), name


def test_every_quantity_has_a_dimension_that_the_compiler_reads() -> None:
    used = {
        schema["quantity"].split()[0] for _, _, schema in every_schema() if "quantity" in schema
    }
    assert used <= set(DIMENSIONS)


def test_somebody_does_every_kind_of_thing() -> None:
    done = FILES["house"]["$defs"]["done_by"]["properties"]
    trades = FILES["annotations"]["$defs"]["trade"]["enum"]
    placed = {
        kind
        for one in PROPERTIES
        if one.pattern and one.path.split(".")[-2].split("[")[0] in HEADINGS
        for kind in one.kinds
    }
    assert {"door", "backing", "downlight", "evaporator", "cabinet"} <= placed
    assert not placed - set(done)
    for kind, schema in done.items():
        default = schema["default"]
        for trade in [default] if isinstance(default, str) else default.values():
            assert trade in trades, kind


HEADINGS = [
    "openings",
    "holes",
    "existing",
    "devices",
    "lights",
    "drivers",
    "equipment",
    "backing",
    "millwork",
    "appliances",
    "fixtures",
    "elsewhere",
    "left_to_right",
    "bottom_to_top",
]


def test_the_registry_has_every_file_once() -> None:
    registry: Registry[Any] = Registry().with_resources(
        (document["$id"], Resource(contents=document, specification=DRAFT202012))
        for document in FILES.values()
    )
    assert len(registry) == len(FILES)


@pytest.mark.parametrize("path", sorted(files.templates().glob("jobs/*/job.yaml")), ids=str)
def test_the_starter_jobs_fit_the_schemas(path: Path) -> None:
    job = resolve(read(path), path.parent)
    assert not [str(finding) for finding in job.findings if finding.level is Level.ERROR]
