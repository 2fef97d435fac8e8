"""One answer in a job file: the rest of the file stays, the job reads as before but for it."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from hypothesis import given, settings
from hypothesis import strategies as st

from spec import files
from spec.cli import cli
from spec.edit.answer import put
from spec.edit.refused import Refused
from spec.edit.spans import Item, Spans
from spec.edit.wording import in_yaml
from spec.job.job import Job
from spec.job.node import Node
from spec.job.resolve import resolve
from spec.read import Mapping, Scalar, Source, read, read_text

JOBS = files.templates() / "jobs"
STARTERS = ("garden_store", "city_flat", "garden_store_first_visit")


@cache
def read_starter(name: str) -> tuple[Source, Job, Spans]:
    source = read(JOBS / name / "job.yaml", "job.yaml")
    return source, resolve(source, JOBS / name), Spans("job.yaml", source.text)


@cache
def own_leaves(name: str) -> tuple[Node, ...]:
    """The values and states that the job file itself writes, each at its key."""
    _, job, spans = read_starter(name)

    def is_own(node: Node) -> bool:
        item = spans.item_at(node.key_place)
        return node.origin == "" and item is not None and item.key == node.key

    return tuple(leaf for leaf in job.tree.leaves() if leaf.parent is not None and is_own(leaf))


def said(job: Job) -> dict[str, tuple[str, str, str]]:
    """What a job says, wherever it stands."""
    return {
        n.address: (n.written.strip(), n.standing, n.state.who if n.state else "")
        for n in job.tree.walk()
    }


def comments(text: str) -> list[str]:
    return re.findall(r"(?m)(?:^|\s)# .*$", text)


def as_typed(spans: Spans, node: Node) -> str:
    """The value of a leaf as somebody would type it for the command."""
    item = spans.item_at(node.key_place)
    assert item is not None
    plain = item.value.form in ("text", "block_text") and node.state is None
    return node.written if plain else spans.written(item.value)


def drawn(name: str, data: st.DataObject, leaves: list[Node]) -> list[tuple[Node, Item]]:
    """Some leaves with their entries, the last of the file first: what is before stays in place."""
    _, _, spans = read_starter(name)
    chosen = data.draw(st.lists(st.sampled_from(leaves), min_size=1, max_size=40, unique=True))
    found = [(leaf, spans.item_at(leaf.key_place)) for leaf in chosen]
    pairs = [(leaf, item) for leaf, item in found if item is not None]
    return sorted(pairs, key=lambda pair: -pair[1].start)


def with_text(source: Source, text: str) -> Source:
    return source._replace(text=text)


@pytest.mark.parametrize("name", STARTERS)
@settings(max_examples=8)
@given(data=st.data())
def test_the_same_answers_anew_leave_the_same_job(name: str, data: st.DataObject) -> None:
    source, job, spans = read_starter(name)
    text, touched = source.text, set()
    for leaf, item in drawn(name, data, list(own_leaves(name))):
        text = put(with_text(source, text), job, leaf.address, as_typed(spans, leaf)).text
        first = source.text.count("\n", 0, item.start)
        touched |= set(range(first, source.text.count("\n", 0, item.value.end) + 1))
    assert said(resolve(read_text(text, "job.yaml"), JOBS / name)) == said(job)
    assert sorted(comments(text)) == sorted(comments(source.text))
    new = iter(text.split("\n"))
    others = [line for n, line in enumerate(source.text.split("\n")) if n not in touched]
    assert all(line in new for line in others)


@pytest.mark.parametrize("name", STARTERS)
@settings(max_examples=8)
@given(data=st.data())
def test_opening_decisions_and_answering_them_again_gives_the_file_back(
    name: str, data: st.DataObject
) -> None:
    source, job, spans = read_starter(name)

    def is_plain(leaf: Node) -> bool:
        """A value on one line, written as the command writes it, on which no address rests."""
        item = spans.item_at(leaf.key_place)
        if item is None or item.value.form != "text" or leaf.state is not None:
            return False
        as_written = source.text[item.value.start : item.value.end]
        return leaf.key not in SHAPING and in_yaml(leaf.written, item.in_braces) == as_written

    chosen = drawn(name, data, [leaf for leaf in own_leaves(name) if is_plain(leaf)])
    text = source.text
    for leaf, _ in chosen:
        text = put(with_text(source, text), job, leaf.address, "open: lead").text
    opened = resolve(read_text(text, "job.yaml"), JOBS / name)
    for leaf, _ in chosen:
        assert opened.state(leaf.address) == "open"
        text = put(with_text(source, text), opened, leaf.address, leaf.written).text
    assert text == source.text


SHAPING = ("is", "like", "product", "scantling", "lengths", "file")
"""Keys on whose values it rests which addresses there are."""


WORDS = st.text(st.characters(min_codepoint=32, max_codepoint=0x2FF, exclude_categories=["C"]))


@settings(max_examples=400)
@given(text=WORDS | st.text(": #,{}[]'\"\\-?&*!|>%@`~a1", min_size=1), braces=st.booleans())
def test_a_text_is_read_back_as_it_was_said(text: str, braces: bool) -> None:
    said = text.strip()
    if not said:
        return
    written = in_yaml(said, braces)
    value = f"{{x: {written}, y: 1}}" if braces else written
    source = read_text(f"scantling: 1\nx: {value}\n", "job.yaml")
    node = source.root.get("x")
    if braces:
        assert isinstance(node, Mapping) and len(node.entries) == 2
        node = node.get("x")
    assert isinstance(node, Scalar) and node.text == said


JOB = """\
# at the top
scantling: 1
job:
  units: imperial   # for papers
  revision: {mark: A, date: 2026-10-12, reason: First}
people:
  client: {name: Ada Quist}   # the elder
  lead:
    # title:
    name: Tamsin Orde
    # email:   # Where are papers sent?

finishes:
  F1:
    is: paint   # two coats
    color:
      open: client   # asked twice
      # once by letter
      due: 2026-11-06
      note: she has the card
    sheen: TBD
  F2: {is: paint, title: Oil, color: {open: client, either: {dark: Dark tea, light: "Straw, pale"}}}
  F3: {like: F2, title: Another oil}
rooms:
  wine_room:
    use: wine_storage
    walls_clockwise:
      WA: {faces: outdoors}
      WB: {}
surroundings: TBD
overrides: {fill.least: {value: 80 %, why: small, who: lead, when: 2026-10-12}}
"""


@pytest.fixture
def job_file(tmp_path: Path) -> Path:
    path = tmp_path / "job.yaml"
    path.write_bytes(JOB.replace("overrides", "# overrides").encode())
    return path


def answer(path: Path, address: str, value: str, *more: str) -> Result:
    arguments = ["answer", str(path), address, value, *more]
    return CliRunner().invoke(cli, arguments, catch_exceptions=False)


def changed(before: str, after: str) -> tuple[list[str], list[str]]:
    old, new = before.splitlines(), after.splitlines()
    return [line for line in old if line not in new], [line for line in new if line not in old]


@pytest.mark.parametrize(
    ("address", "value", "line"),
    [
        ("job.units", "metric", "  units: metric   # for papers"),
        ("client.phone", "555-0110", "  client: {name: Ada Quist, phone: 555-0110}   # the elder"),
        ("client.firm", "Quist, Ada", '  client: {name: Ada Quist, firm: "Quist, Ada"}'
         "   # the elder"),
        ("lead.email", "t@orde.example", "    email: t@orde.example  # Where are papers sent?"),
        ("lead.firm", "Orde and Pike: builders", '    firm: "Orde and Pike: builders"'),
        ("F1.sheen", "assumed: satin", "    sheen: {assumed: satin}"),
        ("F1.title", "Paint No. 3 #7", '    title: "Paint No. 3 #7"'),
        ("WA.length", "9' 1-1/4\"", "      WA: {length: 9' 1-1/4\", faces: outdoors}"),
        ("WB.faces", "TBD", "      WB: {faces: TBD}"),
        ("F2.color", "light", '  F2: {is: paint, title: Oil, color: "Straw, pale"}'),
        ("F2.color", "*red", '  F2: {is: paint, title: Oil, color: "*red"}'),
        ("datum.zero", "hall stone", "datum: {zero: hall stone}"),
    ],
)  # fmt: skip
def test_one_line_changes(job_file: Path, address: str, value: str, line: str) -> None:
    before = job_file.read_text(encoding="utf-8")
    result = answer(job_file, address, value)
    assert result.exit_code in (0, 1), result.output
    after = job_file.read_text(encoding="utf-8")
    gone, come = changed(before, after)
    assert come == [line]
    assert len(gone) <= 1
    number = after.splitlines().index(line) + 1
    assert re.match(
        rf"{re.escape(str(job_file))}:{number}:\d+: {re.escape(address)} was ", (result.output)
    )


def test_a_state_on_several_lines_gives_way_and_its_comments_stay(job_file: Path) -> None:
    result = answer(job_file, "F1.color", "Dark tea")
    after = job_file.read_text(encoding="utf-8")
    assert "    color: Dark tea\n    # asked twice\n    # once by letter\n    sheen: TBD\n" in after
    assert "gone with it: due: 2026-11-06, note: she has the card" in result.output
    assert comments(after) == comments(JOB.replace("overrides", "# overrides"))


def test_a_comment_behind_the_key_stays_there(job_file: Path) -> None:
    text = job_file.read_text("utf-8").replace("    color:\n", "    color:   # by sample\n")
    job_file.write_text(text, encoding="utf-8")
    answer(job_file, "F1.color", "Dark tea")
    after = job_file.read_text(encoding="utf-8")
    assert "    color: Dark tea  # by sample\n    # asked twice\n" in after
    assert comments(after) == comments(text)


def test_a_text_of_several_lines_gives_way_to_a_line(job_file: Path) -> None:
    block = "    note: |  # of the office\n      First # no remark\n\n      Second\n    sheen"
    job_file.write_text(JOB.replace("    sheen", block).replace("overrides", "# o"), "utf-8")
    assert answer(job_file, "F1.note", "One").exit_code == 0
    after = job_file.read_text(encoding="utf-8")
    assert "    note: One\n    # of the office\n    sheen: TBD\n" in after


def test_open_is_a_word_where_the_schema_has_it(job_file: Path) -> None:
    answer(job_file, "surroundings", "{hall: TBD}")
    made = answer(job_file, "WA.devices", "{DC1: {is: contact, normally: closed}}")
    assert made.exit_code == 0, made.output
    assert answer(job_file, "DC1.normally", "open").exit_code == 0
    assert "normally: open}" in job_file.read_text(encoding="utf-8")


def test_what_comes_by_like_is_said_and_written_at_the_thing_itself(job_file: Path) -> None:
    result = answer(job_file, "F3.color", "Red")
    assert "F3.like" in result.output and "it is now Red" in result.output
    text = job_file.read_text(encoding="utf-8")
    assert "F3: {like: F2, title: Another oil, color: Red}" in text
    assert text.count("either") == 1


def test_a_part_of_what_is_open_as_a_whole_begins_it(job_file: Path) -> None:
    assert answer(job_file, "surroundings", "{hall: TBD}").exit_code == 0
    result = answer(job_file, "hall.summer.temperature", "75 °F")
    assert result.exit_code == 0
    assert "surroundings: {hall: {summer: {temperature: 75 °F}}}" in job_file.read_text("utf-8")


@pytest.mark.parametrize(
    ("address", "value", "words"),
    [
        ("job.units", "imperal", "did you mean `imperial`"),
        ("WA.length", "9 cubits", "cubits"),
        ("WA.lenght", "9 ft", "did you mean `length`"),
        ("WA.faces", "attic", "attic"),
        ("G1.color", "red", "did you mean `F1.color`"),
        ("F1", "red", "several lines"),
        ("F2.color.hue", "red", "answer `F2.color` first"),
        ("job.units.paper", "A4", "has no `paper`"),
        ("scantling", "2", "version"),
        ("WA.length", "", "empty"),
        ("WA.faces", "{a: 1, b c}", "cannot be read"),
        ("job.revision.date", "2026-13-01", "2026-13-01"),
        ("F1.sheen", "{open: client, deu: 2026-11-06}", "deu"),
        ("F1.sheen", "dropped: no", "nothing of that name"),
    ],
)
def test_a_wrong_answer_is_refused_and_the_file_stays(
    job_file: Path, address: str, value: str, words: str
) -> None:
    before = job_file.read_bytes()
    result = answer(job_file, address, value)
    assert result.exit_code == 2
    assert words in result.output and "Traceback" not in result.output
    assert job_file.read_bytes() == before
    assert [path.name for path in job_file.parent.iterdir()] == ["job.yaml"]


def test_a_standard_of_the_house_is_no_answer_of_the_job(garden_store: Path) -> None:
    before = garden_store.read_bytes()
    result = answer(garden_store, "cooled_outside_wall_2x6.title", "Another")
    assert result.exit_code == 2
    assert "house.yaml:" in result.output and "overrides" in result.output
    assert garden_store.read_bytes() == before


def test_a_contradiction_that_follows_is_said_and_the_answer_stands(garden_store: Path) -> None:
    result = answer(garden_store, "RC2.aff", "24 in")
    plain = answer(garden_store, "F6.color", "Dark tea")
    assert plain.exit_code == 0, plain.output
    assert "error: " in result.output
    assert result.exit_code == 1
    assert "aff: 24 in" in garden_store.read_text(encoding="utf-8")


@pytest.mark.parametrize("end", ["\r\n", "\n"])
@pytest.mark.parametrize("mark", ["\ufeff", ""])
def test_line_ends_and_the_byte_order_mark_stay(job_file: Path, end: str, mark: str) -> None:
    text = mark + job_file.read_text(encoding="utf-8").replace("\n", end)
    job_file.write_bytes(text.encode())
    assert answer(job_file, "lead.phone", "555-0121").exit_code == 0
    line = f"    phone: 555-0121{end}"
    after = job_file.read_bytes().decode()
    assert line in after
    assert after.replace(line, "", 1) == text


def test_the_mode_stays_and_a_protected_file_is_left_alone(job_file: Path) -> None:
    job_file.chmod(0o640)
    assert answer(job_file, "job.units", "metric").exit_code == 0
    assert job_file.stat().st_mode & 0o777 == 0o640
    job_file.chmod(0o440)
    before = job_file.read_bytes()
    result = answer(job_file, "job.units", "imperial")
    assert result.exit_code == 2 and "write-protected" in result.output
    assert job_file.read_bytes() == before


def test_a_file_with_slips_that_stop_reading_is_not_edited(job_file: Path) -> None:
    job_file.write_text(JOB + 'accepted: {AX1: {says: "the rest}\n', encoding="utf-8")
    before = job_file.read_bytes()
    result = answer(job_file, "job.units", "metric")
    assert result.exit_code == 2 and "mended first" in result.output
    assert f"{job_file}:" in result.output
    assert job_file.read_bytes() == before


def test_a_value_may_begin_with_a_minus(job_file: Path) -> None:
    answer(job_file, "surroundings", "{hall: TBD}")
    result = answer(job_file, "hall.winter.temperature", "-5 °C")
    assert result.exit_code == 0, result.output
    assert "temperature: -5 °C" in job_file.read_text(encoding="utf-8")


def test_an_answer_may_bring_questions(job_file: Path) -> None:
    result = answer(job_file, "wine_room.cooling.service.filter_every", "90 days")
    assert result.exit_code == 0, result.output
    assert "Newly asked:" in result.output
    assert "[wine_room.cooling.kind]" in result.output


def test_a_part_of_what_waits_for_a_choice_is_not_answered_alone(job_file: Path) -> None:
    source = read(job_file, "job.yaml")
    with pytest.raises(Refused) as refused:
        put(source, resolve(source), "F2.color.hue", "red")
    assert "F2.color" in refused.value.cure
