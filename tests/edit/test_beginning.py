"""A starter job: valid, few questions, in the schema's words; and it takes answers."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import click
import pytest
from click.testing import CliRunner, Result
from hypothesis import given, settings
from hypothesis import strategies as st

from spec.check.questions import questions
from spec.cli import cli
from spec.edit.answer import answered, put
from spec.edit.begin import Wishes, asked_for, begin
from spec.edit.features import FEATURES
from spec.edit.refused import Refused
from spec.edit.starter import MOST_QUESTIONS, starter
from spec.finding import Level
from spec.job.resolve import resolve
from spec.job.schema import documents
from spec.pipeline import Checked, check_source
from spec.read import read_text

DAY = date(2026, 9, 8)
ROOMS = ("wine_room:cooled", "tasting_room", "den:living", "hall", "cave:cooled", "loft", "w")


def checked(text: str, so_far: bool = False) -> Checked:
    return check_source(read_text(text, "job.yaml"), Path(), so_far=so_far)


def every_ask() -> set[str]:
    """Every question of the schema files, `{mark}` as a gap."""
    found: set[str] = set()

    def walk(of: object) -> None:
        if isinstance(of, dict):
            ask = of.get("ask")
            if isinstance(ask, str):
                found.add(ask)
            for below in of.values():
                walk(below)
        elif isinstance(of, list):
            for below in of:
                walk(below)

    for document in documents().values():
        walk(document)
    return found


ASKS = re.compile("|".join(re.escape(a).replace(r"\{mark\}", ".+") for a in every_ask()))


@settings(max_examples=25)
@given(
    rooms=st.lists(st.sampled_from(ROOMS), min_size=1, max_size=5, unique=True),
    walls=st.integers(3, 6),
    units=st.sampled_from(["imperial", "metric"]),
    having=st.lists(st.sampled_from(sorted(FEATURES)), unique=True),
)
def test_any_starter_is_quiet_and_asks_what_the_schema_asks(
    rooms: list[str], walls: int, units: str, having: list[str]
) -> None:
    text = starter(rooms, walls=walls, units=units, having=having, on=DAY)
    whole = checked(text)
    assert not [f"{f.place} {f.message}" for f in whole.findings if f.level is not Level.NOTE]
    assert not whole.source.findings
    assert not checked(text, so_far=True).findings
    asked = questions(whole.facts, whole.findings)
    assert 5 <= len(asked) <= MOST_QUESTIONS
    for question in asked:
        node = whole.job.find(question.address)
        assert node is not None and node.state is not None and node.state.kind == "open"
        assert node.decision.ask and ASKS.fullmatch(question.words), question.words
        assert question.person == node.decision.decides
    remarks = re.findall(r"^ *(?:# )?[a-z_]+:.*  # (.*)$", text, re.MULTILINE)
    assert len(remarks) >= len(asked)
    assert not [remark for remark in remarks if not ASKS.fullmatch(remark)]
    for word in having:
        assert (
            f": {FEATURES[word].kind}" in text
            or f"{FEATURES[word].kind}: {{open" in text
            or (FEATURES[word].of)
        )


def test_it_is_written_in_the_order_of_the_file_and_each_word_of_the_schema_once() -> None:
    text = starter(["wine_room:cooled", "tasting_room"], having=FEATURES, on=DAY)
    keys = re.findall(r"^([a-z]\w*):", text, re.MULTILINE)
    assert keys == ["scantling", "house", "job", "people", "elsewhere", "rooms"]
    assert text.index("  wine_room:") < text.index("WA:") < text.index("WD:") < text.index("TA:")
    told = [line.strip() for line in text.splitlines() if re.match(r" *# [A-Z][a-z ]+\. ", line)]
    assert len(told) == len(set(told)) > 10
    assert max(map(len, text.splitlines())) <= 120
    assert "{mark}" not in text


def test_commented_keys_become_the_answers() -> None:
    text = starter(["wine_room:cooled"], having=["door"], on=DAY)
    for address, value in (
        ("WA.length", "9 ft 2 in"),
        ("wine_room.height", "8 ft"),
        ("WB.length", "7 ft"),
    ):
        source = read_text(text, "job.yaml")
        text = put(source, resolve(source), address, value).text
    assert re.search(r"^        length: 9 ft 2 in  # How long is WA\?$", text, re.MULTILINE)
    assert "# length:  # How long is WB?" not in text and "# length:  # How long is WC?" in text
    assert text.count("\n") == starter(["wine_room:cooled"], having=["door"], on=DAY).count("\n")


ANSWERS = {
    "job.number": "26-041",
    "job.title": "Wine room, and a den",
    "job.site.address": "418 Old Ferry Lane",
    "job.site.built": "1938",
    "job.asked_for.bottles": "1500",
    "client.name": "Odalys Quillet",
    "client.phone": "555-0110",
    "lead.name": "Tamsin Orde",
    "wine_room.climate.temperature": "55 °F",
    "wine_room.climate.humidity": "60 %",
}


def test_after_ten_answers_what_is_left_is_asked() -> None:
    text = starter(["wine_room:cooled", "tasting_room"], on=DAY)
    for address, value in ANSWERS.items():
        text = answered(read_text(text, "job.yaml"), Path(), address, value).text
    left = checked(text)
    assert not [f for f in left.findings if f.level is Level.ERROR]
    asked = [q.address for q in questions(left.facts, left.findings)]
    assert 3 <= len(asked) <= 6
    assert "wine_room.cooling.kind" in asked and not set(asked) & set(ANSWERS)


def run(*arguments: str) -> Result:
    return CliRunner().invoke(cli, list(arguments), catch_exceptions=False)


def test_the_command_writes_a_folder_or_a_file_and_never_over_one(tmp_path: Path) -> None:
    made = run("new", str(tmp_path / "quillet"), "--room", "wine_room:cooled", "--on", "2026-09-08")
    assert made.exit_code == 0, made.output
    path = tmp_path / "quillet" / "job.yaml"
    assert str(path) in made.output
    before = path.read_bytes()
    again = run("new", str(path), "--room", "hall")
    assert again.exit_code == 2 and "there already" in again.output
    assert path.read_bytes() == before
    found = run("check", str(path))
    assert found.exit_code == 0 and "Questions for client:" in found.output
    assert "error:" not in found.output and "warning:" not in found.output


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ((), "--room wine_room:cooled"),
        (("--room", "wine_room:coled"), "did you mean `cooled`"),
        (("--room", "1"), "no name of a room"),
        (("--room", "a", "--room", "a"), "twice"),
        (("--room", "a", "--walls", "2"), "3 to 12"),
        (("--room", "a", "--with", "dor"), "did you mean `door`"),
        (("--room", "people"), "people"),
    ],
)
def test_what_cannot_be_begun_is_refused_in_words(
    tmp_path: Path, arguments: tuple[str, ...], words: str
) -> None:
    result = run("new", str(tmp_path / "job.yaml"), *arguments)
    assert result.exit_code == 2 and words in result.output
    assert not list(tmp_path.iterdir())


def test_on_a_terminal_it_asks_and_takes_what_is_known(tmp_path: Path) -> None:
    wishes = ["wine room:cooled, hall", "4", "metric", "door, racks"]
    house, number, title, address, built = ["", ""], ["26-041"], [""], [""], ["19x8", "1938"]

    @click.command()
    def talk() -> None:
        click.echo(begin(tmp_path, asked_for(tmp_path, Wishes((), 4, "imperial", ())), DAY))

    said = [*wishes, *house, *number, *title, *address, *built, *[""] * 20]
    typed = "\n".join(said)
    result = CliRunner().invoke(talk, input=typed, catch_exceptions=False)
    assert result.exit_code == 0, result.output
    assert "not a count" in result.output
    job = resolve(read_text((tmp_path / "job.yaml").read_text(encoding="utf-8"), "job.yaml"))
    wanted = {"job.number": "26-041", "job.units": "metric", "job.site.built": "1938"}
    assert {a: n.written for a in wanted if (n := job.find(a))} == wanted
    assert job.thing("D1") is not None and job.thing("R1") is not None


def test_a_second_beginning_is_refused_before_anything_is_asked(tmp_path: Path) -> None:
    (tmp_path / "job.yaml").write_text("scantling: 1\n", encoding="utf-8")
    with pytest.raises(Refused):
        asked_for(tmp_path, Wishes((), 4, "imperial", ()))
