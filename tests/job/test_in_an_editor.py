"""The bundled schema in an ordinary YAML editor, by its language server (npm)."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from spec.cli import cli
from spec.job.schema import root
from tests.job.language_server import LanguageServer
from tests.npm import installed

pytestmark = pytest.mark.outside
ERROR = 1
DOOR = """scantling: 1
rooms:
  hall:
    walls_clockwise:
      WA:
        openings:
          D1:
            is: door
            {}
"""


@pytest.fixture(scope="module")
def editor(tmp_path_factory: pytest.TempPathFactory) -> Iterator[LanguageServer]:
    folder = tmp_path_factory.mktemp("editor")
    package = installed("yaml-language-server@1", folder)
    names = {"root": "job.yaml", "house": "house.yaml"}
    schemas = {}
    for name, pattern in names.items():
        arguments = ["schema", *(["--house"] if name == "house" else [])]
        printed = CliRunner().invoke(cli, arguments, catch_exceptions=False).stdout
        (folder / f"{name}.json").write_text(printed, encoding="utf-8")
        schemas[folder / f"{name}.json"] = pattern
    with LanguageServer(package / "bin" / "yaml-language-server", schemas) as server:
        yield server


def hover(editor: LanguageServer, path: Path, text: str, key: str) -> str:
    """What is shown beside the first such key of a text that is open."""
    line, row = next((n, row) for n, row in enumerate(text.splitlines()) if key in row)
    shown = editor.at("textDocument/hover", path, line, row.index(key) + 1)
    return str(shown["contents"]["value"])


def labels(editor: LanguageServer, path: Path, text: str) -> set[str]:
    """What is offered at the end of the last line of a text."""
    editor.open(path, text)
    rows = text.splitlines()
    offered: Any = editor.at("textDocument/completion", path, len(rows) - 1, len(rows[-1]))
    return {item["label"] for item in offered["items"]}


def test_an_editor_finds_nothing_wrong_with_the_starters(
    editor: LanguageServer, starters: Path
) -> None:
    for path in sorted(starters.glob("*/*.yaml")):
        found = editor.open(path, path.read_text(encoding="utf-8"))
        wrong = [f"{d['range']['start']}: {d['message']}" for d in found if d["severity"] == ERROR]
        assert not wrong, f"{path}: {wrong[:5]}"


@pytest.mark.parametrize(
    ("key", "asks"),
    [
        ("title", "What is the job called?"),
        ("hinges_on", "On which side are the hinges of it"),
        ("leaf", "What is the leaf of it like?"),
        ("walls_clockwise", "Which walls has it, clockwise?"),
    ],
)
def test_beside_a_key_stands_what_it_asks(
    editor: LanguageServer, starters: Path, key: str, asks: str
) -> None:
    path = starters / "garden_store" / "job.yaml"
    text = path.read_text(encoding="utf-8")
    editor.open(path, text)
    assert asks in hover(editor, path, text, f"{key}:")


def test_an_open_decision_still_shows_its_question(editor: LanguageServer, tmp_path: Path) -> None:
    path = tmp_path / "job.yaml"
    text = DOOR.format("hinges_on: {open: client}")
    assert editor.open(path, text) == []
    assert "On which side are the hinges of it" in hover(editor, path, text, "hinges_on")


def test_inside_a_door_its_facts_are_offered(editor: LanguageServer, tmp_path: Path) -> None:
    door = root().below("rooms").entry.below("walls_clockwise").entry  # type: ignore[union-attr]
    kind = door.below("openings").entry.of_kind("door")  # type: ignore[union-attr]
    offered = labels(editor, tmp_path / "job.yaml", DOOR.format("").rstrip("\n"))
    assert set(kind.names) - {"is"} <= offered
    assert "columns" not in offered


def test_inside_a_leaf_its_facts_and_the_states_are_offered(
    editor: LanguageServer, tmp_path: Path
) -> None:
    text = DOOR.format("leaf:\n              ").rstrip("\n")
    assert {"width", "thickness", "open", "assumed"} <= labels(editor, tmp_path / "job.yaml", text)


def test_a_wrong_word_is_underlined(editor: LanguageServer, tmp_path: Path) -> None:
    (found,) = editor.open(tmp_path / "job.yaml", DOOR.format("hinges_on: lefft"))
    assert found["severity"] == ERROR
    assert found["range"]["start"] == {"line": 8, "character": 23}


def test_the_readmes_first_line_finds_the_schema(editor: LanguageServer, tmp_path: Path) -> None:
    """A file of any name that names the schema itself, beside the schema as it is printed."""
    readme = (Path(__file__).parent.parent.parent / "README.md").read_text(encoding="utf-8")
    (line,) = (row for row in readme.splitlines() if row.startswith("# yaml-language-server"))
    (printed,) = re.findall(r"scantling schema > (\S+?)`", readme)
    schema = CliRunner().invoke(cli, ["schema"], catch_exceptions=False).stdout
    (tmp_path / printed).write_text(schema, encoding="utf-8")
    text = f"{line}\n" + DOOR.format("hinges_on: lefft")
    (found,) = editor.open(tmp_path / "lakeside.yaml", text)
    assert found["range"]["start"] == {"line": 9, "character": 23}
