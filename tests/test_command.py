"""The command from outside: every subcommand, its exit status, what goes where."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from jsonschema import Draft202012Validator

from spec import __version__
from spec.check.rule import rules
from spec.cli import cli
from spec.job.bundle import bundle

GOOD = """scantling: 1
job: {number: 26-001, units: imperial, revision: {mark: A, date: 2026-10-12}}
people:
  client: {name: Odalys Quillet, decides: selections}
  lead: {name: Tamsin Orde, firm: Orde and Pike}
"""
BAD = GOOD.replace("2026-10-12", "2026-13-12")
WORSE = BAD.replace("imperial", "imperal")


def run(*arguments: str) -> Result:
    return CliRunner().invoke(cli, list(arguments), catch_exceptions=False)


def written(folder: Path, text: str, name: str = "job.yaml") -> str:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return str(path)


def outside(*arguments: str, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
    """The command as another program calls it, its output in pipes."""
    call = "from spec.cli import main; main()"
    return subprocess.run(
        [sys.executable, "-c", call, *arguments],
        cwd=cwd,
        capture_output=True,
        text=True,
        check=False,
        encoding="utf-8",
    )


def test_help_names_every_subcommand_and_the_version_is_the_packages() -> None:
    text = run("--help").output
    for name in ("demo", "check", "show", "compile", "explain", "manual", "schema"):
        assert re.search(rf"^  {name}\b", text, re.MULTILINE), name
        assert run(name, "--help").exit_code == 0
        assert run(name, "-h").output == run(name, "--help").output
    assert run("--version").output == f"scantling {__version__}\n"


@pytest.mark.parametrize(
    "arguments",
    [
        ("chekc",),
        ("check",),
        ("check", "job.yaml", "--on", "tomorrow"),
        ("check", "job.yaml", "--on", "2026-02-30"),
        ("check", "job.yaml", "--format", "xml"),
        ("show", "job.yaml"),
        ("compile", "job.yaml"),
        ("explain",),
        ("check", "job.yaml", "--strict"),
    ],
)
def test_a_command_that_cannot_be_understood_is_status_2(arguments: tuple[str, ...]) -> None:
    result = run(*arguments)
    assert result.exit_code == 2
    assert "Traceback" not in result.output and result.output


def test_check_is_0_without_errors_1_with_and_2_without_a_file(tmp_path: Path) -> None:
    good, bad = written(tmp_path, GOOD), written(tmp_path, BAD, "bad.yaml")
    assert run("check", "--so-far", good).exit_code == 0
    assert run("check", "--so-far", bad).exit_code == 1
    assert run("check", "--so-far", str(tmp_path / "none.yaml")).exit_code == 2
    assert run("check", "--so-far", str(tmp_path)).exit_code == 2


@pytest.mark.parametrize(
    ("names", "status"),
    [(("good",), 0), (("good", "bad"), 1), (("bad", "list", "good"), 2), (("list", "bad"), 2)],
)
def test_of_several_jobs_the_worst_counts_and_all_are_told(
    tmp_path: Path, names: tuple[str, ...], status: int
) -> None:
    texts = {"good": GOOD, "bad": BAD, "list": "- one\n"}
    paths = [written(tmp_path, texts[name], f"{name}.yaml") for name in names]
    result = run("check", "--so-far", *paths)
    assert result.exit_code == status
    for path in paths:
        assert path in result.output


def test_findings_have_their_place_level_and_rule(tmp_path: Path) -> None:
    path = written(tmp_path, BAD)
    first = run("check", "--so-far", path).output.splitlines()[0]
    found = re.fullmatch(r"(.+):(\d+):(\d+): (error|warning|note): (.+) \[([a-z.-]+)\]", first)
    assert found is not None, first
    assert found[1] == path and (found[2], found[3]) == ("2", "66")


FORM: dict[str, Any] = {
    "type": "object",
    "required": ["job", "usable", "stage", "findings", "questions"],
    "additionalProperties": False,
    "properties": {
        "job": {"type": "string"},
        "usable": {"type": "boolean"},
        "stage": {"type": "string"},
        "findings": {
            "type": "array",
            "items": {
                "type": "object",
                "required": ["rule", "level", "message", "cure", "trades", "places"],
                "additionalProperties": False,
                "properties": {
                    "rule": {"pattern": r"^[a-z_]+\.[a-z-]+$"},
                    "level": {"enum": ["error", "warning", "note"]},
                    "message": {"type": "string", "minLength": 5},
                    "cure": {"type": "string"},
                    "trades": {"type": "array", "items": {"type": "string"}},
                    "places": {
                        "type": "array",
                        "minItems": 1,
                        "items": {
                            "type": "object",
                            "required": ["address", "file", "line", "column"],
                            "properties": {
                                "line": {"type": "integer", "minimum": 1},
                                "column": {"type": "integer", "minimum": 1},
                            },
                        },
                    },
                    "waived": {"type": "object", "required": ["who", "when", "why", "until"]},
                },
            },
        },
        "questions": {
            "type": "array",
            "items": {
                "type": "object",
                "required": ["question", "address", "person", "due", "file", "line", "column"],
            },
        },
    },
}


def test_json_has_one_form_for_good_bad_and_unusable_files(tmp_path: Path, starters: Path) -> None:
    check = Draft202012Validator(FORM)
    files = [
        written(tmp_path, GOOD),
        written(tmp_path, BAD, "bad.yaml"),
        written(tmp_path, "- one\n", "list.yaml"),
        str(starters / "garden_store_first_visit" / "job.yaml"),
    ]
    single = []
    for path in files:
        told = json.loads(run("check", path, "--format", "json").stdout)
        assert not list(check.iter_errors(told))
        single.append(told)
    assert [told["usable"] for told in single] == [True, True, False, True]
    assert single[3]["questions"]
    several = run("check", *files, "--format", "json")
    assert several.exit_code == 2 and json.loads(several.stdout) == single


def test_text_and_json_say_the_same(tmp_path: Path) -> None:
    path = written(tmp_path, WORSE)
    told = json.loads(run("check", "--so-far", path, "--format", "json").stdout)
    text = run("check", "--so-far", path).output
    assert len(told["findings"]) == 2 and told["questions"] == []
    for finding in told["findings"]:
        place = finding["places"][0]
        assert f"{place['file']}:{place['line']}:{place['column']}: {finding['level']}: " in text
        assert f"{finding['message']} [{finding['rule']}]" in text


def test_in_a_pipe_there_is_no_color_and_nothing_on_standard_error(tmp_path: Path) -> None:
    written(tmp_path, BAD)
    done = outside("check", "--so-far", "job.yaml", cwd=tmp_path)
    assert done.returncode == 1
    assert "\x1b" not in done.stdout and "job.yaml:2:66: error:" in done.stdout
    assert done.stderr == ""


def test_the_day_decides_the_stage(starters: Path) -> None:
    path = str(starters / "garden_store" / "job.yaml")
    for day, stage in (("2026-10-12", "order material"), ("2026-11-10", "rough")):
        assert f", stage {stage} on {day}: " in run("check", "--so-far", path, "--on", day).output


def test_show_prints_a_thing_with_values_and_origins(starters: Path) -> None:
    path = str(starters / "garden_store" / "job.yaml")
    result = run("show", path, "D1")
    assert result.exit_code == 0
    assert re.search(r"^D1  \(door, .*job\.yaml:\d+:\d+\)$", result.output, re.MULTILINE)
    assert re.search(
        r"^  leaf\.width: .* \[written here, .*job\.yaml:\d+:\d+\]$", result.output, re.M
    )
    assert "where: " in result.output


@pytest.mark.parametrize(
    ("address", "meant"), [("D11", "`D1"), ("D1.leaf.widht", "`D1.leaf.width`")]
)
def test_show_of_an_unknown_address_is_status_2(starters: Path, address: str, meant: str) -> None:
    result = run("show", str(starters / "garden_store" / "job.yaml"), address)
    assert result.exit_code == 2
    assert f"nothing has the address `{address}`; did you mean {meant}" in result.output


def test_explain_prints_a_rule_and_names_the_nearest(tmp_path: Path) -> None:
    name = "millwork.stack-does-not-fit"
    result = run("explain", name)
    assert result.exit_code == 0
    for word in (name, "Why: ", "Source: ", "Told to: ", "Wrong:", "Right:"):
        assert word in result.output
    wrong = run("explain", "millwork.stack-do-not-fit")
    assert wrong.exit_code == 2 and f"did you mean `{name}`" in wrong.output
    assert run("explain", "zzz").exit_code == 2


def test_every_rule_can_be_explained_with_its_own_words() -> None:
    for name, rule in rules().items():
        text = run("explain", name).output
        assert rule.why in text and rule.source in text
        assert rule.example.bad.strip().splitlines()[0].strip() in text


def test_schema_prints_the_one_file_for_editors() -> None:
    assert json.loads(run("schema").output) == bundle()


def test_compile_writes_a_packet_and_says_where(tmp_path: Path) -> None:
    path = written(tmp_path, GOOD)
    done = outside("compile", path, "--out", str(tmp_path / "packet"))
    assert done.returncode in (0, 1), done.stderr
    index = tmp_path / "packet" / "index.html"
    assert f"packet: open {index}" in done.stdout and index.is_file()
    assert "\x1b" not in done.stdout + done.stderr and "Traceback" not in done.stderr
    told = json.loads((tmp_path / "packet" / "findings" / "findings.json").read_text("utf-8"))
    assert not list(Draft202012Validator(FORM).iter_errors(told))


def test_a_job_that_cannot_be_used_leaves_the_packet_alone(tmp_path: Path) -> None:
    out = tmp_path / "packet"
    assert run("compile", written(tmp_path, GOOD), "--out", str(out)).exit_code in (0, 1)
    before = {p: p.read_bytes() for p in out.rglob("*") if p.is_file()}
    result = run("compile", written(tmp_path, "- one\n"), "--out", str(out))
    assert result.exit_code == 2
    assert {p: p.read_bytes() for p in out.rglob("*") if p.is_file()} == before


def test_demo_keeps_what_the_user_has_changed(tmp_path: Path, starters: Path) -> None:
    target = tmp_path / "demo"
    shutil.copytree(starters / "garden_store_first_visit", target / "garden_store")
    mine = target / "garden_store" / "job.yaml"
    text = mine.read_text(encoding="utf-8").replace("number: 26-041", "number: my-own")
    mine.write_text(text, encoding="utf-8")
    result = run("demo", str(target))
    assert result.exit_code in (0, 1)
    assert mine.read_text(encoding="utf-8") == text
    for folder in starters.iterdir():
        assert (target / folder.name / "job.yaml").is_file()
        assert str(target / folder.name / "job.yaml") in result.output
    about = json.loads((target / "packet" / "packet.json").read_text("utf-8"))
    assert "my-own" in json.dumps(about)


def test_demo_into_a_place_that_cannot_be_written_is_status_2(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("mine")
    result = run("demo", str(tmp_path / "file"))
    assert result.exit_code == 2
    assert "cannot be written" in result.output and (tmp_path / "file").read_text() == "mine"
