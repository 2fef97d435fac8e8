"""What the contributor's guide shows works as it is written there."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
GUIDE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
JOB = """scantling: 1
rooms: {hall: {walls_clockwise: {WA: {openings: {
  D1: {is: door, peephole: 70 in, leaf: {height: 80 in}}}}}}}
"""
COMMAND = "from spec.cli import main; main()"
READ = """
import sys
from pathlib import Path
from spec.pipeline import check_file
checked = check_file(Path(sys.argv[1]))
door = checked.job.thing("D1")
figure = checked.facts.figures.get("openings.peephole_share", door)
print(round(figure.value, 4), sorted(figure.inputs))
"""


def blocks(language: str) -> list[str]:
    """The examples of the guide in one language, each of thirty lines at most."""
    found = re.findall(rf"^```{language}\n(.*?)^```", GUIDE, re.MULTILINE | re.DOTALL)
    assert all(len(block.splitlines()) <= 30 for block in found)
    return found


def put_before(path: Path, line: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert text.count(line) == 1
    path.write_text(text.replace(line, new.rstrip(",\n") + ",\n" + line), encoding="utf-8")


@pytest.fixture(scope="module")
def checkout(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the project with the guide's decision, rule, threshold and figure put in."""
    copy = tmp_path_factory.mktemp("checkout")
    for folder in ("spec", "schemas", "templates"):
        shutil.copytree(ROOT / folder, copy / folder)
    decision, threshold = blocks("json")
    text = (copy / "schemas/openings.json").read_text(encoding="utf-8")
    door = re.search(r'^    "door": \{.*?^      "properties": \{\n', text, re.MULTILINE | re.DOTALL)
    assert door is not None
    written = decision.rstrip(",\n") + ",\n"
    text = f"{text[: door.end()]}{written}{text[door.end() :]}"
    (copy / "schemas/openings.json").write_text(text, encoding="utf-8")
    house = copy / "schemas/house.json"
    put_before(house, '        "purchase.reserve": ', threshold)
    modules = re.findall(r"`(spec/[\w/]+\.py)`:\n\n```python", GUIDE)
    for path, code in zip(modules, blocks("python"), strict=True):
        assert not (copy / path).exists()
        (copy / path).write_text(code, encoding="utf-8")
    (copy / "job.yaml").write_text(JOB, encoding="utf-8")
    return copy


def run(checkout: Path, *arguments: str) -> str:
    done = subprocess.run(
        [sys.executable, *arguments],
        cwd=checkout,
        env={**os.environ, "PYTHONPATH": str(checkout)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert "Traceback" not in done.stderr, done.stderr
    return done.stdout


def test_the_decision_and_the_rule_speak(checkout: Path) -> None:
    said = run(checkout, "-c", COMMAND, "check", "--so-far", "job.yaml")
    wanted = "warning: the peephole of D1 is at 70 in [openings.peephole-too-high]"
    assert f"job.yaml:3:18: {wanted}" in said


def test_the_figure_is_worked_out_and_knows_its_inputs(checkout: Path) -> None:
    assert run(checkout, "-c", READ, "job.yaml").strip() == (
        "0.875 ['D1.leaf.height', 'D1.peephole']"
    )


def test_the_rule_has_its_page(checkout: Path) -> None:
    assert "six feet" in run(checkout, "-c", COMMAND, "explain", "openings.peephole-too-high")


def test_every_folder_of_the_house_is_named() -> None:
    for folder in (ROOT / "spec").iterdir():
        if folder.is_dir() and (folder / "__init__.py").exists():
            assert re.search(rf"^  {folder.name}/ ", GUIDE, re.MULTILINE), folder.name
