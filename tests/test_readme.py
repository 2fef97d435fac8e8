"""What the README shows is what the program does."""

from __future__ import annotations

import re
from pathlib import Path

from click.testing import CliRunner

from spec.cli import cli
from spec.compose.blocks import Formula, Heading, Table
from spec.compose.context import Reader
from spec.compose.documents.calculation_sheet import calculation_sheet
from spec.pipeline import check_file

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


def test_the_working_of_the_tour_is_in_the_calculation_sheet(garden_store: Path) -> None:
    block = re.search(r"### A figure and its working.*?```\n(.*?)```", README, re.DOTALL)
    assert block is not None
    checked = check_file(garden_store, shown_as=garden_store.name)
    blocks = calculation_sheet(Reader(checked.facts, checked.findings)).blocks
    (start,) = (
        n for n, b in enumerate(blocks) if isinstance(b, Heading) and b.text == "Weight of the leaf"
    )
    printed: list[str] = []
    for said in blocks[start : start + 3]:
        match said:
            case Heading(text=text) | Formula(text=text):
                printed.append(text)
            case Table(caption=caption, rows=rows):
                printed += [caption, *(cell for row in rows for cell in row.cells)]
    shown = "\n".join(printed)
    for piece in re.split(r" {2,}|\n", block[1].strip()):
        assert piece in shown
