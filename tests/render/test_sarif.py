"""Findings as SARIF 2.1.0: what a reader of the format sees, against the published schema."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path
from typing import Any
from urllib.parse import unquote

import pytest
from click.testing import CliRunner, Result
from jsonschema import Draft4Validator

from spec.check.rule import rules
from spec.cli import cli
from spec.pipeline import run as compile_job
from tests.npm import installed
from tests.resolved import STACK_TOO_LOW

WAIVER = """waivers:
  WV1:
    {finding: millwork.stack-does-not-fit, at: racks, why: it stands free, who: Tamsin,
     when: 2026-10-01, until: 2027-01-01}
"""
TWICE = "trades: {doors: {firm: one}, doors: {firm: two}}\n"


def check(*arguments: str) -> Result:
    return CliRunner().invoke(
        cli, ["check", "--format", "sarif", *arguments], catch_exceptions=False
    )


def run_of(*arguments: str) -> dict[str, Any]:
    (run,) = json.loads(check(*arguments).stdout)["runs"]
    return dict(run)


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def written(folder: Path, text: str, name: str = "job.yaml") -> str:
    path = folder / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    return name


def test_every_rule_of_the_catalogue_is_described_and_every_result_points_at_its_own(
    here: Path, starters: Path
) -> None:
    run = run_of(str(starters / "garden_store_first_visit" / "job.yaml"))
    described = run["tool"]["driver"]["rules"]
    assert {rule["id"] for rule in described} >= set(rules())
    for rule in described:
        for part in ("shortDescription", "fullDescription", "help"):
            assert rule[part]["text"].strip()
    for name, rule in rules().items():
        (about,) = (r for r in described if r["id"] == name)
        assert about["defaultConfiguration"]["level"] == rule.level
        assert rule.why in about["help"]["text"]
        assert rule.example.bad.strip() in about["help"]["text"]
    assert run["results"]
    for result in run["results"]:
        assert described[result["ruleIndex"]]["id"] == result["ruleId"]


def test_it_says_what_json_says_at_the_same_places(here: Path) -> None:
    name = written(here, STACK_TOO_LOW + WAIVER + TWICE, "my jobs/50 %: a.yaml")
    told = json.loads(CliRunner().invoke(cli, ["check", "--format", "json", name]).stdout)
    results = run_of(name)["results"]
    assert len(results) == len(told["findings"]) > 3
    for result, finding in zip(results, told["findings"], strict=True):
        assert (result["ruleId"], result["level"]) == (finding["rule"], finding["level"])
        assert result["message"]["text"].startswith(finding["message"])
        assert finding["cure"] in result["message"]["text"]
        spots = [*result["locations"], *result.get("relatedLocations", [])]
        places = [place_of(spot) for spot in spots]
        assert places == [(p["file"], p["line"], p["column"]) for p in finding["places"]]
    assert any("relatedLocations" in result for result in results)


def place_of(spot: dict[str, Any]) -> tuple[str, int, int]:
    physical = spot["physicalLocation"]
    region = physical["region"]
    uri = physical["artifactLocation"]["uri"]
    return unquote(uri), region["startLine"], region["startColumn"]


def test_a_waived_finding_is_a_suppressed_result(here: Path) -> None:
    before = run_of("--so-far", written(here, STACK_TOO_LOW))
    after = run_of("--so-far", written(here, STACK_TOO_LOW + WAIVER))
    (plain,), (waived,) = (
        [r for r in run["results"] if r["ruleId"] == "millwork.stack-does-not-fit"]
        for run in (before, after)
    )
    assert plain["suppressions"] == []
    (suppression,) = waived["suppressions"]
    assert suppression["kind"] == "external" and suppression["status"] == "accepted"
    assert suppression["justification"] == "it stands free"
    assert suppression["properties"] == {
        "who": "Tamsin", "when": "2026-10-01", "until": "2027-01-01"
    }  # fmt: skip
    assert plain["partialFingerprints"] == waived["partialFingerprints"]


def test_several_jobs_are_one_run_and_the_worst_counts(here: Path) -> None:
    names = [written(here, STACK_TOO_LOW, "a/job.yaml"), written(here, "- one\n", "b.yaml")]
    result = check("--so-far", *names)
    assert result.exit_code == 2
    (run,) = json.loads(result.stdout)["runs"]
    assert run["invocations"] == [{"executionSuccessful": False}]
    assert {place_of(r["locations"][0])[0] for r in run["results"]} == set(names)
    assert run_of("--so-far", names[0])["invocations"] == [{"executionSuccessful": True}]
    assert check("--so-far", names[0]).exit_code == 1


def test_files_are_named_from_where_the_command_runs(here: Path, starters: Path) -> None:
    shutil.copytree(starters / "garden_store", here / "jobs" / "garden_store")
    house = here / "jobs" / "garden_store" / "house.yaml"
    house.write_text(house.read_text("utf-8").replace("12 in", "12 inn", 1), encoding="utf-8")
    relative = run_of("--so-far", "jobs/garden_store/job.yaml")
    absolute = run_of("--so-far", str(here / "jobs" / "garden_store" / "job.yaml"))
    assert relative == absolute
    named = {place_of(spot)[0] for r in relative["results"] for spot in r["locations"]}
    assert named == {"jobs/garden_store/job.yaml", "jobs/garden_store/house.yaml"}
    bases = {
        spot["physicalLocation"]["artifactLocation"]["uriBaseId"]
        for result in relative["results"]
        for spot in result["locations"]
    }
    assert bases == set(relative["originalUriBaseIds"])


def test_a_file_elsewhere_has_its_whole_address(
    here: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    written(here, STACK_TOO_LOW)
    (here / "deeper").mkdir()
    monkeypatch.chdir(here / "deeper")
    (place,) = {
        json.dumps(spot["physicalLocation"]["artifactLocation"])
        for result in run_of("--so-far", "../job.yaml")["results"]
        for spot in result["locations"]
    }
    assert json.loads(place) == {"uri": (here / "job.yaml").as_uri()}


def test_the_same_job_gives_the_same_bytes_and_the_packet_has_them_too(
    here: Path, starters: Path
) -> None:
    job = starters / "garden_store_first_visit" / "job.yaml"
    assert check(str(job)).stdout == check(str(job)).stdout
    compile_job(job, here / "packet")
    text = (here / "packet" / "findings" / "findings.sarif").read_text(encoding="utf-8")
    (run,) = json.loads(text)["runs"]
    told = json.loads((here / "packet" / "findings" / "findings.json").read_text("utf-8"))
    assert [r["ruleId"] for r in run["results"]] == [f["rule"] for f in told["findings"]]
    assert set(re.findall(r'"uri": "(.*)"', text)) == {"job.yaml"}


@pytest.mark.outside
def test_it_is_valid_by_the_published_schema(here: Path, starters: Path) -> None:
    """The schema of SARIF 2.1.0 as the npm package @microsoft/jest-sarif ships it."""
    package = installed("@microsoft/jest-sarif@1.0.0-beta.0", here / "npm")
    schema = json.loads((package / "lib/schemas/sarif-2.1.0-rtm.5.json").read_text("utf-8"))
    validator = Draft4Validator(schema)
    names = [
        written(here, STACK_TOO_LOW + WAIVER + TWICE, "waived.yaml"),
        written(here, "- one\n", "list.yaml"),
        *(str(path) for path in sorted(starters.glob("*/job.yaml"))),
    ]
    for chosen in ([name] for name in names):
        assert not list(validator.iter_errors(json.loads(check(*chosen).stdout)))
    whole = json.loads(check(*names).stdout)
    assert not list(validator.iter_errors(whole))
    whole["runs"][0]["results"][0]["level"] = "grave"
    assert list(validator.iter_errors(whole))
