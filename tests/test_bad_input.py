"""Bad input of any kind: one clear message with its place, no traceback, nothing lost."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from spec.cli import cli

PLACE = re.compile(r"^\S*job\.yaml:\d+:\d+: error: ", re.MULTILINE)


def run(*arguments: str) -> Result:
    return CliRunner().invoke(cli, list(arguments), catch_exceptions=False)


def check(path: Path, *more: str) -> Result:
    return run("check", str(path), *more)


def written(folder: Path, text: str | bytes) -> Path:
    path = folder / "job.yaml"
    path.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
    return path


UNUSABLE = {
    "not utf-8": (b"scantling: 1\njob: {title: \xff\xfe}\n", "UTF-8"),
    "empty": ("", "nothing"),
    "only a comment": ("# nothing yet\n", "nothing"),
    "a list": ("- one\n- two\n", "list"),
    "a text": ("wine room\n", "text"),
    "nested 61 deep": ("a: " + "[" * 61 + "]" * 61 + "\n", "60"),
    "nested 10000 deep": ("a: " + "[" * 10000 + "]" * 10000 + "\n", "60"),
    "later version": ("scantling: 2\njob: {number: 1}\n", "version"),
}


@pytest.mark.parametrize("case", UNUSABLE)
def test_an_unusable_file_is_one_message(tmp_path: Path, case: str) -> None:
    text, word = UNUSABLE[case]
    result = check(written(tmp_path, text))
    assert result.exit_code == 2
    assert len(PLACE.findall(result.output)) == 1, result.output
    assert word in result.output
    assert "Traceback" not in result.output


@pytest.mark.parametrize("megabytes", [6, 50])
def test_a_large_file_is_refused_before_it_is_parsed(tmp_path: Path, megabytes: int) -> None:
    path = tmp_path / "job.yaml"
    path.write_bytes(b"scantling: 1\n" + b"# padding\n" * (megabytes * 100_000))
    result = check(path)
    assert result.exit_code == 2
    assert "MB" in result.output and len(PLACE.findall(result.output)) == 1


ROOM = """scantling: 1
rooms:
  tasting_room:
    taped: {to: finish}
    height: HEIGHT
    walls_clockwise:
      TA: {length: LENGTH, TA_MORE}
"""


def room(height: str = "8 ft", length: str = "12 ft", more: str = "faces: outdoors") -> str:
    text = ROOM.replace("HEIGHT", height).replace("LENGTH", length).replace("TA_MORE", more)
    return text + "surroundings: {outdoors: {from: climate}}\n"


READABLE = {
    "a number without a unit": (room(height="96"), 5, "unit"),
    "an unknown unit": (room(height="8 cubits"), 5, "cubits"),
    "not a number": (room(height="NaN"), 5, "NaN"),
    "infinite": (room(height="inf ft"), 5, "inf"),
    "a negative length": (room(height="-8 ft"), 5, "less than 0"),
    "an unknown key": (room(more="facing: outdoors"), 7, "did you mean"),
    "a map where a value is due": (room(more="faces: {a: b}"), 7, "faces"),
    "a list where a map is due": (room().replace("{to: finish}", "[finish]"), 4, "taped"),
    "a name that names nothing": (room(more="faces: moon"), 7, "moon"),
    "a duplicate key": (room(more="faces: outdoors, faces: outdoors"), 7, "faces"),
    "a comma that cut a sentence": (
        room().replace("{from: climate}", "{from: climate, note: dry, mostly}"),
        8,
        "comma",
    ),
    "a tab": (room().replace("    height", "\theight"), 5, "tab"),
    "an anchor": (room().replace("{to: finish}", "&a {to: finish}"), 4, "&a"),
    "a tag": (room().replace("{to: finish}", "!!map {to: finish}"), 4, "tag"),
    "a text after a hash": (
        room().replace("{from: climate}", "{from: climate, note: stud #2 grade}"),
        8,
        "#",
    ),
    "a control character": (room().replace("outdoors}", "out\x07doors}", 1), 7, "character"),
    "a misspelt state": (room(height="{opne: client, due: 2026-11-06}"), 5, "did you mean `open`"),
    "an unknown kind": (
        room(more="devices: {RC1: {is: receptable, center: 2 ft, aff: 16 in}}"),
        7,
        "did you mean `receptacle`",
    ),
    "a state of its own loop": (
        room() + "products: {one: {is: sensor, like: two}, two: {is: sensor, like: one}}\n",
        9,
        "itself",
    ),
}


@pytest.mark.parametrize("case", READABLE)
def test_a_slip_is_named_at_its_place_and_the_rest_goes_on(tmp_path: Path, case: str) -> None:
    text, line, word = READABLE[case]
    path = written(tmp_path, text)
    result = check(path, "--so-far")
    errors = [row for row in result.output.splitlines() if ": error: " in row]
    assert result.exit_code in (1, 2)
    assert any(f"job.yaml:{line}:" in row and word in row for row in errors), result.output
    assert "Traceback" not in result.output
    assert path.read_bytes() == text.encode("utf-8")


def test_a_length_is_no_area(tmp_path: Path) -> None:
    grille = "appliances: {RF1: {is: refrigerator, vent_area: 5 ft}}"
    result = check(written(tmp_path, room(more=grille)), "--so-far")
    assert result.exit_code == 1
    assert "error: 5 ft is a length, and an area is wanted" in result.output
    assert len(PLACE.findall(result.output)) == 1


def test_a_version_that_is_none_is_said_once(tmp_path: Path) -> None:
    result = check(written(tmp_path, "scantling: 1.1\njob: {number: 26-001}\n"), "--so-far")
    assert len(PLACE.findall(result.output)) == 1
    assert "write `scantling: 1`" in result.output and "once these are mended" not in result.output


def test_missing_house_standards_are_said_and_the_job_is_read(tmp_path: Path) -> None:
    text = "scantling: 1\nhouse: {file: nowhere.yaml, edition: 2026-07}\njob: {number: 26-001}\n"
    result = check(written(tmp_path, text), "--so-far")
    assert result.exit_code == 1
    assert "job.yaml:2:" in result.output and "nowhere.yaml" in result.output


@pytest.mark.parametrize("name", ["../house.yaml", "/etc/hostname", "a/../../b.yaml"])
def test_a_house_file_outside_the_folder_is_refused(tmp_path: Path, name: str) -> None:
    inside = tmp_path / "job"
    inside.mkdir()
    text = f"scantling: 1\nhouse: {{file: {name}, edition: 2026-07}}\n"
    result = check(written(inside, text), "--so-far")
    assert result.exit_code == 1
    assert "outside" in result.output


def test_a_missing_file_is_said(tmp_path: Path) -> None:
    result = check(tmp_path / "job.yaml")
    assert result.exit_code == 2
    assert "job.yaml" in result.output and "Traceback" not in result.output


def test_several_jobs_in_one_call_are_all_checked(tmp_path: Path, garden_store: Path) -> None:
    bad = written(tmp_path, "- a list\n")
    result = run("check", str(bad), str(garden_store))
    assert result.exit_code == 2
    assert "stage order material" in result.output


def test_slips_of_writing_are_told_before_and_apart_from_the_rest() -> None:
    dictated = Path(__file__).parent / "read" / "data" / "first_dictation.yaml"
    lines = check(dictated).output.splitlines()
    apart = lines.index("What else is to be said, once these are mended:")
    before = [line for line in lines[:apart] if ": error: " in line]
    after = [line for line in lines[apart:] if ": error: " in line]
    assert len(before) >= 20 and after
    assert any("a comma" in line or "commas cut" in line for line in before)
    assert not any("not known under" in line for line in before)
    assert not any("commas cut" in line for line in after)


@pytest.mark.parametrize("name", ["loop", "n" * 300 + ".png"])
def test_a_file_that_no_disk_can_have_is_said(tmp_path: Path, name: str) -> None:
    (tmp_path / "loop").symlink_to(tmp_path / "loop")
    path = tmp_path / "job.yaml"
    path.write_text(f"scantling: 1\nphotos: {{X1: {name}}}\n", encoding="utf-8")
    said = CliRunner().invoke(cli, ["check", "--so-far", str(path)])
    assert said.exit_code == 1 and not isinstance(said.exception, OSError | RuntimeError)
    assert "job.yaml:2:10: error: " in said.output and name in said.output


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="a full device, of Linux")
def test_an_output_that_cannot_be_written_is_said(garden_store: Path) -> None:
    call = "from spec.cli import main; main()"
    with Path("/dev/full").open("w", encoding="utf-8") as full:
        done = subprocess.run(
            [sys.executable, "-c", call, "show", str(garden_store), "WA"],
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
        )
    assert done.returncode == 2
    assert done.stderr.startswith("scantling: the output could not be written")


def test_letters_that_a_terminal_lacks_break_nothing(garden_store: Path) -> None:
    call = "from spec.cli import main; main()"
    done = subprocess.run(
        [sys.executable, "-c", call, "show", str(garden_store), "D1"],
        capture_output=True,
        env={**os.environ, "PYTHONIOENCODING": "cp1252"},
        check=False,
    )
    assert done.returncode == 0 and b"Traceback" not in done.stderr
    assert "D1" in done.stdout.decode("cp1252")


def test_house_standards_are_no_job(garden_store: Path) -> None:
    said = CliRunner().invoke(cli, ["check", str(garden_store.parent / "house.yaml")])
    assert said.exit_code == 2
    assert "this is a file of house standards, and a job file is due here" in said.output
    assert len(said.output.strip().splitlines()) == 2


@pytest.mark.parametrize(
    ("before", "typed", "message", "cure"),
    [
        (
            "width: 24 in, bins: 4",
            "width: 24 in bins: 4",
            "a comma, or a new line, is missing before `bins:`",
            "width: 24 in, bins: 4",
        ),
        (
            "width: 120 in, bottom: 88 in",
            "width: 120,5 in, bottom: 88 in",
            "a comma cuts `120,5 in` in two",
            "width: 120.5 in, bottom: 88 in",
        ),
    ],
)
def test_the_cure_of_a_slip_is_what_was_meant(
    garden_store: Path, before: str, typed: str, message: str, cure: str
) -> None:
    text = garden_store.read_text(encoding="utf-8")
    assert before in text
    garden_store.write_text(text.replace(before, typed, 1), encoding="utf-8")
    lines = CliRunner().invoke(cli, ["check", str(garden_store)]).output.splitlines()
    assert message in lines[0] and cure in lines[1]


def test_the_sum_counts_what_is_printed(tmp_path: Path) -> None:
    path = tmp_path / "job.yaml"
    path.write_text(
        "scantling: 1\njob: {number: 26-001, title: A room, units: metric}\n", encoding="utf-8"
    )
    said = CliRunner().invoke(cli, ["check", str(path)])
    printed = re.findall(r"^\S+:\d+:\d+: (error|warning):", said.output, re.MULTILINE)
    sums = said.output.strip().splitlines()[-1]
    wanted = f"{printed.count('error') or 'no'} error"
    assert wanted in sums and said.exit_code == int("error" in printed)
