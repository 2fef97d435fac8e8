"""What the README shows is what the program does."""

from __future__ import annotations

import re
from pathlib import Path

from click.testing import CliRunner

from spec.cli import cli

README = (Path(__file__).parent.parent / "README.md").read_text(encoding="utf-8")


def test_the_finding_of_the_tour_is_a_real_one(garden_store: Path) -> None:
    block = re.search(r"at both places:\n\n```\n(.*?)```", README, re.DOTALL)
    assert block is not None
    moved = re.search(r"\(`(center: [^`]*)`\)", README)
    assert moved is not None
    text = garden_store.read_text(encoding="utf-8")
    before = re.search(r"RC2: \{is: receptacle, (center: [^,]*, aff: [^,]*),", text)
    assert before is not None
    garden_store.write_text(text.replace(before[0], before[0].replace(before[1], moved[1])))
    result = CliRunner().invoke(cli, ["check", str(garden_store)])
    said = result.output.replace(f"{garden_store.parent}/", "")
    for line in block[1].strip().splitlines():
        assert line in said


def test_every_command_of_the_table_is_there_and_the_others_too() -> None:
    named = set(re.findall(r"^\| `scantling (\w+)", README, re.MULTILINE))
    assert named == set(cli.commands)


def test_the_picture_is_there() -> None:
    for path in re.findall(r"!\[[^\]]+\]\(([^)]+)\)", README):
        assert (Path(__file__).parent.parent / path).stat().st_size > 1000
