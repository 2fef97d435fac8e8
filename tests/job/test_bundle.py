"""The schema for editors: one file, ordinary JSON Schema, that takes the file as it was typed."""

from __future__ import annotations

import json
import re
from copy import deepcopy
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from spec import files
from spec.job.bundle import DIALECT, bundle
from spec.read import Mapping, Node, Scalar, Sequence, read

JOB: dict[str, Any] = {
    "scantling": 1,
    "job": {
        "number": 26,
        "title": "Wine room",
        "site": {"address": "418 Old Ferry Lane", "built": 1938, "elevation": "60 ft"},
        "units": "imperial",
        "revision": {"mark": "B", "date": "2026-10-12", "reason": "Refrigerator moved"},
        "asked_for": {"bottles": 1500, "of_which": {"magnum": 50}},
    },
    "trades": {
        "doors": {
            "firm": "Halyard",
            "lead_time": "10 weeks",
            "visits": {"door": {"starts": "2027-01-20", "days": 2, "note": "ring first"}},
        },
        "stone": {"firm": "Calder Slab", "lead_time": {"from_template": "2 weeks"}},
    },
    "permits": {"PM1": {"is": "electrical_permit", "number": 3307, "when": "2026-10-05"}},
}
STATES: list[Any] = [
    "TBD",
    {"open": "client", "due": "2026-11-06", "waits_for": "AP2", "meanwhile": "10 weeks"},
    {"open": "client", "either": {"stone": {"days": 2}, "oak": {"days": 1}}},
    {"assumed": "10 weeks", "until": "the firm confirms"},
    {"not_applicable": "nothing to order"},
    {"dropped": "not in this job"},
]
PLACES = [
    ("job", "number"),
    ("job", "site", "elevation"),
    ("job", "asked_for", "of_which", "magnum"),
    ("job", "asked_for"),
    ("trades", "doors", "lead_time"),
    ("trades", "doors", "visits", "door"),
    ("trades", "doors", "visits", "door", "days"),
    ("trades", "doors", "visits"),
    ("trades", "stone", "lead_time", "from_template"),
    ("permits", "PM1", "when"),
    ("permits", "PM1"),
    ("permits",),
]


@cache
def validator() -> Draft202012Validator:
    return Draft202012Validator(bundle())


def wrong(job: Any) -> list[str]:
    return [error.json_path for error in validator().iter_errors(job)]


def put(path: tuple[str, ...], value: Any) -> dict[str, Any]:
    job = deepcopy(JOB)
    node = job
    for step in path[:-1]:
        node = node[step]
    node[path[-1]] = value
    return job


@pytest.mark.parametrize("name", ["root", "house"])
def test_it_is_ordinary_json_schema_with_nothing_outside_itself(name: str) -> None:
    whole = bundle(name)
    assert whole["$schema"] == DIALECT
    Draft202012Validator.check_schema(whole)
    text = json.dumps(whole)
    for ref in set(_refs(whole)):
        assert ref.startswith("#/$defs/") and ref.removeprefix("#/$defs/") in whole["$defs"]
    for word in ('"decision":', '"own_place":', '"refers":', '"quantity":'):
        assert word not in text


def _refs(schema: Any) -> list[str]:
    if isinstance(schema, dict):
        here = [schema["$ref"]] if isinstance(schema.get("$ref"), str) else []
        return here + [ref for below in schema.values() for ref in _refs(below)]
    if isinstance(schema, list):
        return [ref for below in schema for ref in _refs(below)]
    return []


def test_it_is_made_once() -> None:
    assert bundle() is bundle()


def test_values_as_yaml_types_them_are_taken() -> None:
    assert wrong(JOB) == []


@pytest.mark.parametrize("path", PLACES)
@pytest.mark.parametrize("state", STATES)
def test_a_state_may_stand_in_place_of_every_value_thing_and_heading(
    path: tuple[str, ...], state: Any
) -> None:
    assert wrong(put(path, state)) == []


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("job", "numbr"), "26-041"),
        (("job", "units"), "cubits"),
        (("job", "site", "built"), "long ago"),
        (("trades", "joiner"), {"firm": "no such trade, and none named"}),
        (("trades", "doors", "visits", "door", "starts"), "next week"),
        (("trades", "doors", "lead_time"), {"open": "client", "by": "2026-11-06"}),
        (("permits", "PM1", "is"), "fishing_permit"),
        (("permits", "first"), {"is": "electrical_permit"}),
        (("scantling",), {"open": "lead"}),
    ],
)
def test_what_a_job_file_cannot_say_is_refused(path: tuple[str, ...], value: Any) -> None:
    assert wrong(put(path, value))


@pytest.mark.parametrize("path", sorted(files.templates().glob("jobs/*/*.yaml")), ids=str)
def test_the_starter_files_pass_in_an_ordinary_editor(path: Path) -> None:
    house = "scantling_house:" in path.read_text("utf-8")
    source = read(path, version_key="scantling_house" if house else "scantling")
    errors = Draft202012Validator(bundle("house" if house else "root")).iter_errors(
        as_typed(source.root)
    )
    assert not [f"{error.json_path}: {error.message[:200]}" for error in errors]


def as_typed(node: Node) -> Any:
    """Plain values as an editor reads them by YAML 1.2's core schema: yes is text, 3 a number."""
    if isinstance(node, Mapping):
        return {entry.key: as_typed(entry.value) for entry in node.entries}
    if isinstance(node, Sequence):
        return [as_typed(item) for item in node.items]
    assert isinstance(node, Scalar)
    if node.quoted:
        return node.text
    if re.fullmatch(r"[-+]?[0-9]+", node.text):
        return int(node.text)
    if re.fullmatch(r"[-+]?[0-9]+\.[0-9]+", node.text):
        return float(node.text)
    return {"true": True, "false": False}.get(node.text, node.text)
