"""Silences and questions: asked at the stage that needs them, of the person who can answer."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner

from spec.check.questions import by_person, questions
from spec.check.run import check
from spec.cli import cli
from spec.job.schema import STAGES
from spec.job.stage import reached, stage
from spec.pipeline import check_file
from tests.resolved import facts_of, job_of, said_of

VISITS = """
job: {revision: {mark: B, date: DAY}}
trades:
  framing: {visits: {framing: {starts: 2026-11-09, days: 5, stage: rough}}}
  board: {visits: {board: {starts: 2026-12-01, days: 3, stage: close_in}}}
  refrigeration:
    visits:
      set: {starts: 2027-01-22, days: 2}
      commissioning: {starts: 2027-03-08, days: 2}
rooms: {room_one: {TAPED use: wine_storage}}
"""


@pytest.mark.parametrize(
    ("day", "taped", "wanted"),
    [
        ("2026-10-01", False, "measure"),
        ("2026-10-01", True, "order_material"),
        ("2026-11-08", True, "order_material"),
        ("2026-11-09", True, "rough"),
        ("2026-12-01", True, "close_in"),
        ("2027-01-22", True, "fit"),
        ("2027-03-08", True, "commission"),
        ("2027-05-01", True, "commission"),
    ],
)
def test_the_stage_follows_from_the_visits_and_the_day(day: str, taped: bool, wanted: str) -> None:
    words = "taped: {to: structure, who: A, when: 2026-09-29}, " if taped else ""
    job = job_of(VISITS.replace("DAY", day).replace("TAPED", words))
    assert stage(job) == wanted
    other = job_of(
        VISITS.replace("DAY", "2020-01-01").replace("TAPED", words), on=date.fromisoformat(day)
    )
    assert stage(other) == wanted


@pytest.mark.parametrize(
    "text", ["job: {number: 1}", "trades: {framing: {firm: A}}", "trades: TBD"]
)
def test_without_a_dated_visit_it_is_the_first_visit(text: str) -> None:
    assert stage(job_of(text)) == "first_visit"


def test_a_decision_is_due_from_the_stage_that_it_must_precede() -> None:
    for i, one in enumerate(STAGES):
        for j, now in enumerate(STAGES):
            assert reached(one, now) == (i <= j)


def silences(text: str) -> dict[str, str]:
    return {
        f.address: str(f.level)
        for f in said_of(text, so_far=False)
        if f.rule.endswith(".not-decided")
    }


def test_silences_grow_with_the_stage_and_never_shrink() -> None:
    words = "taped: {to: structure, who: A, when: 2026-09-29}, "
    before: set[str] = set()
    for day in ("2026-10-01", "2026-11-09", "2026-12-01", "2027-03-08"):
        found = silences(VISITS.replace("DAY", day).replace("TAPED", words))
        due = {a for a, level in found.items() if level != "note"}
        assert before <= due
        before = due
    assert "WA" not in before and len(before) > 20


def test_what_is_answered_in_any_way_is_no_silence() -> None:
    base = "rooms: {room_one: {CLIMATE}}"
    silent = silences(base.replace("CLIMATE", "title: A"))
    assert silent.get("room_one.climate") or silent.get("room_one.use")
    address = "room_one.use"
    assert address in silent
    for text in (
        "use: tasting",
        "use: TBD",
        "use: {not_applicable: a store}",
        "use: {assumed: tasting}",
    ):
        assert address not in silences(base.replace("CLIMATE", text))


def test_a_heading_is_accounted_for_by_name_or_in_none() -> None:
    words = "taped: {to: structure, who: A, when: 2026-09-29}, walls_clockwise: {WA: {WALL}}, "
    base = VISITS.replace("DAY", "2026-10-12").replace("TAPED", words)
    asked = {"WA.openings", "WA.devices", "WA.millwork"}

    def missed(wall: str) -> set[str]:
        found = said_of(base.replace("WALL", wall), so_far=False)
        return {f.address for f in found if f.rule == "envelope.heading-not-accounted-for"}

    assert asked | {"WA.lights"} <= missed("length: 9 ft")
    told = missed("none: [openings, devices], millwork: TBD")
    assert not asked & told and "WA.lights" in told


def test_a_silence_names_its_trades_its_question_and_its_cure() -> None:
    words = "taped: {to: structure, who: A, when: 2026-09-29}, "
    words += "walls_clockwise: {WA: {openings: {D1: {is: door}}}}, "
    found = said_of(VISITS.replace("DAY", "2026-10-12").replace("TAPED", words), so_far=False)
    (leaf,) = (f for f in found if f.address == "D1.leaf" and f.rule.endswith("not-decided"))
    assert "D1" in leaf.message and "?" in leaf.message and "`leaf`" in leaf.cure
    assert leaf.trades and leaf.place.line > 1
    assert "{mark}" not in leaf.message + leaf.cure


OPEN = """
people: {client: {name: Odalys}}
finishes:
  F1: {is: paint, title: Paint, color: {open: client, due: 2026-11-06}, sheen: TBD}
  F2:
    is: paint
    title: Oil
    color: {open: engineer, ask: Is it red?, either: {red: Red, blue: Blue}}
circuits: {C1: {voltage: {assumed: 120 V, until: the panel is opened, who: electrical}}}
"""


def test_questions_are_grouped_by_the_person_who_can_answer() -> None:
    facts = facts_of(OPEN)
    groups = by_person(questions(facts, check(facts, so_far=True)))
    found = {
        person: {q.address: (q.words, q.due) for q in theirs} for person, theirs in groups.items()
    }
    assert "F1.color" in found["client"] and found["client"]["F1.color"][1] == "2026-11-06"
    assert "F1" in found["client"]["F1.color"][0]
    assert found["engineer"]["F2.color"][0] == "Is it red? (red or blue)"
    words = found["electrical"]["C1.voltage"][0]
    assert words.startswith("Please confirm")
    assert "120 V" in words and "the panel is opened" in words
    decider = facts.job.find("F1.sheen")
    assert decider is not None and "F1.sheen" in found[decider.decision.decides]


def test_the_lead_is_asked_first() -> None:
    facts = facts_of(OPEN.replace("open: client", "open: lead"))
    assert next(iter(by_person(questions(facts, ())))) == "lead"


FIRST = "garden_store_first_visit"


def test_a_first_visit_asks_at_most_fifteen_questions_each_at_its_line(starters: Path) -> None:
    path = starters / FIRST / "job.yaml"
    result = CliRunner().invoke(cli, ["check", str(path)], catch_exceptions=False)
    assert result.exit_code == 0, result.output
    asked = re.findall(r"^  (\S+):(\d+):(\d+): (.*\?.*) \[(\S+)\]$", result.output, re.MULTILINE)
    assert 5 <= len(asked) <= 15
    lines = path.read_text(encoding="utf-8").splitlines()
    for file, line, column, words, _ in asked:
        assert file == str(path)
        assert 1 <= int(line) <= len(lines) and 1 <= int(column) <= len(lines[int(line) - 1]) + 1
        assert "{" not in words
    assert not re.findall(r": (error|warning): ", result.output)


def test_every_question_of_the_first_visit_is_of_a_decision_that_is_due(starters: Path) -> None:
    checked = check_file(starters / FIRST / "job.yaml")
    asked = questions(checked.facts, checked.findings)
    assert len({q.address for q in asked}) == len(asked)
    for question in asked:
        assert checked.job.state(question.address) in ("open", "assumed", "missing")


def test_what_a_missing_product_would_answer_is_not_asked_beside_it() -> None:
    text = """
    job: {revision: {mark: B, date: 2026-10-12}}
    trades: {framing: {visits: {framing: {starts: 2026-11-09, days: 5, stage: rough}}}}
    products: {plain: {is: receptacle}}
    rooms:
      hall:
        taped: {to: structure, who: A, when: 2026-09-29}
        walls_clockwise: {WA: {devices: {RC1: {is: receptacle, product: plain}}}}
    """
    assert any(address.startswith("RC1.") for address in silences(text))
    slip = text.replace("product: plain", "product: plian")
    assert not any(address.startswith("RC1.") for address in silences(slip))
    assert [f.address for f in said_of(slip) if f.rule == "job.names-nothing"] == ["RC1.product"]
