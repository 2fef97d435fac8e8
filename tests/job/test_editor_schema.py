"""The schema for editors takes the starters whichever YAML an editor reads: typed or as text."""

from __future__ import annotations

from datetime import date, datetime
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator

from spec import files
from spec.job.bundle import bundle

STARTERS = sorted(files.templates().glob("jobs/*/job.yaml"))


@cache
def validator() -> Draft202012Validator:
    return Draft202012Validator(bundle())


def as_json(value: Any) -> Any:
    """What a YAML 1.1 reader made of a file, as an editor hands it to a JSON Schema.

    The key `on` is the one word of the grammar that YAML 1.1 takes for a truth value.
    """
    if isinstance(value, dict):
        return {"on" if key is True else key: as_json(below) for key, below in value.items()}
    if isinstance(value, list):
        return [as_json(below) for below in value]
    if isinstance(value, datetime | date):
        return value.isoformat()
    return value


LOADERS = {
    "YAML 1.1, typed": lambda text: as_json(yaml.load(text, yaml.SafeLoader)),
    "everything as text": lambda text: yaml.load(text, yaml.BaseLoader),
}


def wrong(value: Any) -> list[str]:
    return [f"{e.json_path}: {e.message[:120]}" for e in validator().iter_errors(value)]


@pytest.mark.parametrize("loader", LOADERS)
@pytest.mark.parametrize("path", STARTERS, ids=lambda path: path.parent.name)
def test_a_starter_is_taken(path: Path, loader: str) -> None:
    assert not wrong(LOADERS[loader](path.read_text(encoding="utf-8")))


def entries(value: Any, path: tuple[str, ...] = ()) -> list[tuple[str, ...]]:
    found = [path] if path else []
    if isinstance(value, dict):
        for key, below in value.items():
            found += entries(below, (*path, key))
    return found


PLAIN = {"is", "like", "none", "scantling", "tell", "note"}
STATES: list[Any] = [
    "TBD",
    {"open": "client", "due": "2026-11-06", "waits_for": "AP2"},
    {"not_applicable": "there is none"},
]


def test_a_state_may_stand_at_every_third_place_of_a_starter() -> None:
    """Not one by one, which takes minutes: every place of one depth at a time, parents apart."""
    text = (STARTERS[0].parent.parent / "garden_store_first_visit" / "job.yaml").read_text(
        encoding="utf-8"
    )
    whole = yaml.load(text, yaml.BaseLoader)
    places = [p for p in entries(whole) if not PLAIN & set(p) and not state_inside(whole, p)]
    assert len(places) > 100
    for n, state in enumerate(STATES):
        job = yaml.load(text, yaml.BaseLoader)
        put = [p for p in places[n::3] if not any(p[: len(q)] == q for q in places[n::3] if q != p)]
        for path in put:
            node = job
            for step in path[:-1]:
                node = node[step]
            node[path[-1]] = state
        assert not wrong(job), state


def state_inside(whole: Any, path: tuple[str, ...]) -> bool:
    """Whether a path leads into a state that is there already."""
    node = whole
    for step in path:
        if {"open", "assumed", "not_applicable", "dropped"} & set(node):
            return True
        node = node[step]
    return False


def test_a_slip_in_a_state_is_underlined_by_the_editor() -> None:
    assert wrong({"scantling": 1, "job": {"number": {"open": "client", "by": "2026-11-06"}}})
    assert not wrong({"scantling": 1, "job": {"number": {"open": "client", "due": "2026-11-06"}}})
