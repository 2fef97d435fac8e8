"""What may stand in place of a value, a thing or a heading, anywhere: each state, read in full."""

from __future__ import annotations

from pathlib import Path

import pytest

from spec.job.job import Job
from spec.job.node import Node, Open
from spec.job.raw import State
from spec.pipeline import check_file
from tests.resolved import job_of, one, rules_of, said_of

ROOM = """
surroundings: {outdoors: {from: climate}}
approvals: {AP2: {of: WA, who: client}}
rooms:
  room_one:
    use: tasting
    taped: {to: finish, who: Ansel, when: 2026-09-29}
    height: HEIGHT
    walls_clockwise:
      WA:
        length: 10 ft
        faces: outdoors
        openings: {D1: {is: door, leaf: {width: WIDTH, height: 80 in}, left: 1 ft}}
"""


def room(height: str = "8 ft", width: str = "30 in") -> Job:
    return job_of(ROOM.replace("HEIGHT", height).replace("WIDTH", width))


def node(job: Job, address: str) -> Node:
    found = job.find(address)
    assert found is not None, address
    return found


def state(job: Job, address: str) -> State:
    found = node(job, address).state
    assert found is not None, address
    return found


def clean(job: Job) -> Job:
    assert not job.findings, [f"{f.rule}: {f.message}" for f in job.findings]
    return job


def test_an_open_decision_says_who_by_when_and_what_it_waits_for() -> None:
    text = "{open: client, due: 2026-11-06, waits_for: AP2, ask: How high?, why: unsure}"
    found = state(clean(room(text)), "room_one.height")
    assert (found.kind, found.who, found.due) == ("open", "client", "2026-11-06")
    assert (found.waits_for, found.ask, found.why) == (("AP2",), "How high?", "unsure")


def test_to_be_decided_is_open_without_a_person_or_date() -> None:
    found = state(clean(room("TBD")), "room_one.height")
    assert (found.kind, found.who, found.due) == ("open", "", "")


def test_in_quotes_it_is_a_text_like_any_other() -> None:
    job = job_of("job: {title: 'TBD'}")
    assert node(job, "job.title").state is None
    assert node(job, "job").text("title") == "TBD"


@pytest.mark.parametrize("text", ["TBD", "{open: lead}", "{assumed: TBD}"])
def test_what_has_no_value_makes_its_reader_wait_and_names_the_address(text: str) -> None:
    thing = node(room(width=text), "D1")
    for default in ((), (1.0,)):
        with pytest.raises(Open) as waiting:
            thing.si("leaf.width", *default)
        assert waiting.value.address == "D1.leaf.width"
    assert not thing.has("leaf.width")


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("{open: client, meanwhile: 36 in}", "open"),
        ("{assumed: 36 in, until: glazing submittal}", "assumed"),
        ("{open: client, either: {narrow: 30 in, wide: 36 in}, meanwhile: wide}", "open"),
        ("{open: client, either: {wide: 36 in, narrow: 30 in}}", "open"),
        ("36 in", "decided"),
    ],
)
def test_a_working_value_is_worked_with_and_its_standing_kept(text: str, kind: str) -> None:
    job = clean(room(width=text))
    assert node(job, "D1").si("leaf.width") == pytest.approx(0.9144)
    assert node(job, "D1.leaf.width").written == "36 in"
    assert job.state("D1.leaf.width") == kind


def test_each_choice_can_be_taken_and_its_facts_have_addresses() -> None:
    text = "{open: client, either: {narrow: 30 in, wide: 36 in}}"
    first = clean(room(width=text))
    found = state(first, "D1.leaf.width")
    assert (found.choices, found.chosen) == (("narrow", "wide"), "narrow")
    whole = ROOM.replace("HEIGHT", "8 ft").replace("WIDTH", text)
    other = job_of(whole, choose={found.place: "wide"})
    assert node(other, "D1").si("leaf.width") == pytest.approx(0.9144)
    assert state(other, "D1.leaf.width").chosen == "wide"


def test_choices_of_maps_and_of_whole_things() -> None:
    text = """
    rooms:
      room_one:
        walls_clockwise:
          WA:
            openings:
              D1: {open: client, either: {
                door: {is: door, leaf: {width: 30 in}}, arch: {is: arch, width: 40 in}}}
    """
    job = job_of(text)
    place = state(job, "D1").place
    assert node(job, "D1").kind == "door" and job.find("D1.width") is None
    other = job_of(text, choose={place: "arch"})
    assert node(other, "D1").kind == "arch" and other.find("D1.leaf") is None
    assert other.state("D1.width") == "open"


def test_not_applicable_is_an_answer_with_its_reason() -> None:
    job = clean(room(width="{not_applicable: a curtain, who: client, when: 2026-10-01}"))
    assert job.state("D1.leaf.width") == "not_applicable"
    assert state(job, "D1.leaf.width").why == "a curtain"
    assert node(job, "D1").si("leaf.width", 0.0) == 0.0
    with pytest.raises(Open):
        node(job, "D1").si("leaf.width")


def test_a_thing_that_is_not_applicable_is_no_thing_and_an_open_one_is() -> None:
    text = ROOM.replace("HEIGHT", "8 ft").replace("{is: door, leaf: {width: WIDTH, ", "{")
    gone = job_of(text.replace("{height: 80 in}, left: 1 ft}", "{not_applicable: walled up}"))
    assert gone.state("D1") == "not_applicable" and not gone.things("door")
    assert not [t for t in gone.everything if t.key == "D1"]
    still_open = job_of(text.replace("{height: 80 in}, left: 1 ft}", "TBD"))
    assert not still_open.find("D1.leaf")
    assert still_open.state("D1") == "open" and not still_open.findings


@pytest.mark.parametrize(
    ("path", "address"),
    [
        ("rooms", "rooms"),
        ("rooms.room_one", "room_one"),
        ("rooms.room_one.walls_clockwise", "room_one.walls_clockwise"),
        ("rooms.room_one.walls_clockwise.WA", "WA"),
        ("rooms.room_one.walls_clockwise.WA.openings", "WA.openings"),
        ("rooms.room_one.walls_clockwise.WA.openings.D1", "D1"),
        ("rooms.room_one.walls_clockwise.WA.openings.D1.leaf", "D1.leaf"),
        ("rooms.room_one.walls_clockwise.WA.openings.D1.leaf.width", "D1.leaf.width"),
        ("job", "job"),
        ("job.site.built", "job.site.built"),
        ("people.client", "client"),
        ("trades.doors.visits.door", "doors.door"),
        ("access.lift", "access.lift"),
        ("circuits.C1", "C1"),
        ("finishes", "finishes"),
        ("products.one", "one"),
    ],
)
@pytest.mark.parametrize(
    ("text", "kind"),
    [("TBD", "open"), ("{open: client}", "open"), ("{not_applicable: none}", "not_applicable")],
)
def test_a_state_stands_anywhere(path: str, address: str, text: str, kind: str) -> None:
    for key in reversed(path.split(".")):
        text = f"{{is: door, {key}: {text}}}" if key == "leaf" else f"{{{key}: {text}}}"
    job = clean(job_of(text[1:-1]))
    assert job.state(address) == kind


def test_what_stands_in_an_open_map_is_open_too() -> None:
    text = "{open: client, meanwhile: {is: door, leaf: {width: 30 in}}}"
    whole = ROOM.replace("HEIGHT", "8 ft")
    job = job_of(whole.replace("{is: door, leaf: {width: WIDTH, height: 80 in}, left: 1 ft}", text))
    assert job.state("D1.leaf.width") == "open"
    assert node(job, "D1").si("leaf.width") == pytest.approx(0.762)


@pytest.mark.parametrize(
    ("fact", "written"),
    [
        ("center", "center: {WA: TBD, WB: TBD}"),
        ("center.WA", "center: {WA: TBD, WB: 3 ft}"),
        ("extent.WB", "center: room, extent: {WA: 2 ft, WB: TBD}"),
        ("capacity.value", "capacity: {value: TBD, at: {room: 55 °F, outdoors: 95 °F}}"),
        ("capacity.at.room", "capacity: {value: 800 W, at: {room: TBD, outdoors: 95 °F}}"),
    ],
)
def test_a_form_that_a_state_leaves_empty_is_not_refused(fact: str, written: str) -> None:
    text = f"""
    rooms:
      room_one:
        walls_clockwise: {{WA: {{length: 9 ft}}, WB: {{length: 9 ft}}}}
        ceiling: {{equipment: {{EV1: {{is: evaporator, {written}}}}}}}
    """
    job = clean(job_of(text))
    for leaf in node(job, f"EV1.{fact}").leaves():
        assert job.state(leaf.address) == "open"


def test_a_thing_that_does_not_say_what_it_is_is_one_error() -> None:
    text = ROOM.replace("HEIGHT", "8 ft").replace("WIDTH", "30 in").replace("is: door, ", "")
    job = job_of(text)
    found = one(job.findings, "reading.missing-key")
    assert found.address == "D1" and "door" in found.cure and len(job.findings) == 1
    assert job.state("D1") == "unreadable"


@pytest.mark.parametrize("text", ["36 cubits", "-3 in", "wide", "{WA: 3 in}", "[30 in, TBD]"])
def test_what_cannot_be_read_counts_as_unreadable_and_has_one_error(text: str) -> None:
    job = room(width=text)
    assert job.state("D1.leaf.width") == "unreadable"
    errors = [f for f in job.findings if f.address == "D1.leaf.width"]
    assert [str(f.level) for f in errors] == ["error"]
    with pytest.raises(Open):
        node(job, "D1").si("leaf.width")
    assert node(job, "D1").si("leaf.height") == pytest.approx(2.032)


@pytest.mark.parametrize("text", ["", "~", "null"])
def test_a_key_with_nothing_behind_it_is_said_once(text: str) -> None:
    job = room(height=text)
    assert rules_of(job) == ["reading.key-without-value"]
    assert job.state("room_one.height") == "unreadable"


@pytest.mark.parametrize("text", ['""', "'  '", '"\u00a0"', "[30 in, '']", '{assumed: " "}'])
def test_a_blank_text_says_nothing(text: str) -> None:
    job = room(width=text)
    assert job.state("D1.leaf.width") == "unreadable"
    assert one(job.findings, "reading.unreadable-value").place.column > 20


def test_a_blank_reason_is_none() -> None:
    job = room(width='{not_applicable: " "}')
    assert job.state("D1.leaf.width") == "unreadable"
    assert "no text" in one(job.findings, "reading.wrong-state").message


def test_a_blank_text_of_a_text_is_asked_for_again() -> None:
    text = 'elsewhere:\n  PN1: {is: panelboard, where: "", title: Board}\n'
    job = job_of(text)
    found = one(job.findings, "reading.unreadable-value")
    assert found.address == "PN1.where" and found.place.column == 32
    with pytest.raises(Open):
        node(job, "PN1").text("where")


WRONG = {
    "{open: client, due: soon}": (33, "due"),
    "{open: client, due: 2026-02-30}": (33, "due"),
    "{not_applicable: no, when: last week}": (40, "when"),
    "{open: client, by: 2026-11-06}": (28, "`by`"),
    "{open: client, wait_for: AP2}": (28, "did you mean `waits_for`"),
    "{assumed: 8 ft, unti: taped}": (29, "did you mean `until`"),
    "{open: {a: b}}": (20, "no text"),
    "{open: client, either: [8 ft, 9 ft]}": (36, "two choices"),
    "{open: client, either: {low: 8 ft}}": (36, "two choices"),
    "{open: client, either: {low: 8 ft, high: 9 ft}, meanwhile: middle}": (72, "none of the"),
    "{assumed: TBD}": (23, "no value to work with"),
    "{open: client, meanwhile: {open: lead}}": (39, "no value to work with"),
}


@pytest.mark.parametrize("text", WRONG)
def test_a_slip_in_a_state_is_named_and_the_state_stands(text: str) -> None:
    column, words = WRONG[text]
    job = room(text)
    found = one(job.findings, "reading.wrong-state")
    assert words in found.message and found.cure
    assert (found.place.line, found.place.column) == (8, column)
    assert found.address == "room_one.height"
    assert job.state("room_one.height") in ("open", "assumed", "not_applicable")


def test_what_an_open_decision_waits_for_must_be_there() -> None:
    found = one(room("{open: client, waits_for: AP3}").findings, "job.names-nothing")
    assert found.address == "room_one.height" and "did you mean `AP2`" in found.message
    assert not room("{open: client, waits_for: [AP2, D1.leaf.width]}").findings


def test_a_width_that_is_called_open_is_no_state() -> None:
    text = """
    rooms:
      room_one:
        stacks: {racks: {bottom_to_top: {lower: {is: racks, height: 30 in, depth: 14 in}}}}
        walls_clockwise:
          WA: {millwork: {lower: {left_to_right: {R1: {is: blind_corner, open: 20 in}}}}}
    """
    job = job_of(text)
    assert job.state("R1.open") == "decided"
    assert node(job, "R1").si("open") == pytest.approx(0.508)


def test_a_choice_with_a_contradiction_is_said_of_that_choice_only(tmp_path: Path) -> None:
    text = """scantling: 1
surroundings: {outdoors: {from: climate}}
rooms:
  room_one:
    taped: {to: finish, who: A, when: 2026-09-29}
    height: 8 ft
    diagonals: {WA-WC: 12 ft 9-5/8 in}
    stacks:
      racks:
        bottom_to_top:
          lower: {is: racks, height: 30 in, depth: 14 in}
          space: {is: gap, height: 66 in}
    walls_clockwise:
      WA:
        length: 10 ft
        faces: outdoors
        millwork:
          lower:
            left_to_right:
              R1: {is: racks, width: {open: client, either: {small: 60 in, large: 150 in}}}
              R2: {is: filler, width: rest}
      WB: {length: 8 ft, faces: outdoors}
      WC: {length: 10 ft, faces: outdoors}
      WD: {length: 8 ft, faces: outdoors}
"""
    path = tmp_path / "job.yaml"
    path.write_text(text, encoding="utf-8")
    found = check_file(path, so_far=True).findings
    fits = [f for f in found if f.rule == "millwork.run-does-not-fit"]
    assert len(fits) == 1 and "with R1.width: large, " in fits[0].message


def test_dropped_takes_out_only_what_was_taken_over() -> None:
    found = one(room("{dropped: none}").findings, "reading.nothing-to-drop")
    assert found.address == "room_one.height"


def test_states_are_asked_about_once_and_silences_apart() -> None:
    said = said_of(ROOM.replace("HEIGHT", "TBD").replace("WIDTH", "30 in"), so_far=False)
    assert not [f for f in said if f.address == "room_one.height"]
