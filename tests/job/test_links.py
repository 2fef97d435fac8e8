"""Names that point at things: nothing there, the wrong kind, a slip of the pen, a circle."""

from __future__ import annotations

import pytest

from spec.finding import Finding
from tests.resolved import job_of, one

JOB = """
people: {client: {name: Odalys}}
trades: {painting_hall: {trade: painting}}
elsewhere: {PN1: {is: panelboard}}
circuits: {C1: {panelboard: PN1}}
finishes: {F1: {is: paint, title: Paint}}
approvals: {AP1: {of: F1, who: client}}
surroundings: {outdoors: {from: climate}}
assemblies: {A1: {from_room_outward: {board: {material: gypsum_board, thickness: 1/2 in}}}}
rooms:
  room_one:
    finishes: {walls: F1}
    diagonals: {WA-WC: 12 ft}
    stacks: {racks: {bottom_to_top: {lower: {is: racks, height: 30 in, depth: 14 in}}}}
    walls_clockwise:
      WA:
        faces: outdoors
        assembly: A1
        openings: {D1: {is: door}}
        devices: {RC1: {is: receptacle, fed_from: C1}}
        millwork: {lower: {left_to_right: {R1: {is: racks}}}}
      WB: {faces: outdoors, tell: {framing: Mind the pipe., painting_hall: Two coats.}}
      WC: {back_of: WE}
    ceiling: {lights: {L1: {is: downlight, centers: {WA: [3 ft], WB: [3 ft]}, fed_from: C1}}}
    floor: {stops: {D1: {line: middle}}}
  room_two:
    walls_clockwise:
      WE: {lines_up: {D1: 3 ft}}
"""

GOOD_AND_BAD = [
    ("faces: outdoors", "outdors", "did you mean `outdoors`", "WA.faces"),
    ("assembly: A1", "A2", "did you mean `A1`", "WA.assembly"),
    ("fed_from: C1}", "C9}", "did you mean `C1`", "RC1.fed_from"),
    ("panelboard: PN1", "PN2", "did you mean `PN1`", "C1.panelboard"),
    ("walls: F1", "F2", "did you mean `F1`", "room_one.finishes.walls"),
    ("back_of: WE", "WX", "did you mean `W", "WC.back_of"),
    ("of: F1", "F9", "names nothing", "AP1.of"),
    ("diagonals: {WA-WC", "diagonals: {WA-WX", "`WX` names nothing", "room_one.diagonals.WA-WX"),
    ("centers: {WA", "centers: {WX", "`WX` names nothing", "L1.centers.WX"),
    ("lines_up: {D1", "lines_up: {D9", "did you mean `D1`", "WE.lines_up.D9"),
    ("stops: {D1", "stops: {D9", "did you mean `D1`", "room_one.floor.stops.D9"),
    ("millwork: {lower", "millwork: {lowr", "`lowr` names nothing", "WA.lowr"),
    ("tell: {framing", "tell: {framng", "did you mean `framing`", "WB.tell.framng"),
    (
        "tell: {framing",
        "tell: {painting_hal",
        "did you mean `painting_hall`",
        "WB.tell.painting_hal",
    ),
]


def spoilt(good: str, bad: str) -> tuple[Finding, ...]:
    assert JOB.count(good) >= 1, good
    key = good.rpartition(": ")[0]
    new = bad if "{" in good else f"{key}: {bad}"
    return job_of(JOB.replace(good, new, 1)).findings


def test_the_job_that_the_others_spoil_has_no_finding() -> None:
    assert not job_of(JOB).findings


@pytest.mark.parametrize(("good", "bad", "words", "address"), GOOD_AND_BAD)
def test_a_name_that_names_nothing(good: str, bad: str, words: str, address: str) -> None:
    found = one(spoilt(good, bad), "job.names-nothing")
    assert words in found.message and found.cure
    assert found.address == address


@pytest.mark.parametrize(
    ("good", "bad", "due", "other"),
    [
        ("faces: outdoors", "racks", "surrounding", "racks"),
        ("assembly: A1", "WB", "assembly", "WB"),
        ("fed_from: C1}", "D1}", "circuit", "D1"),
        ("panelboard: PN1", "C1", "panelboard", "C1"),
        ("walls: F1", "A1", "finish", "A1"),
        ("back_of: WE", "D1", "wall", "D1"),
        ("lines_up: {D1", "lines_up: {WB", "door", "WB"),
        ("centers: {WA", "centers: {D1", "wall", "D1"),
    ],
)
def test_a_name_of_the_wrong_kind_of_thing(good: str, bad: str, due: str, other: str) -> None:
    found = one(spoilt(good, bad), "job.link-to-wrong-kind")
    assert due in found.message
    assert [spot.address for spot in found.spots[1:]] == [other]


def test_feeds_that_run_in_a_circle_are_named() -> None:
    text = """
    elsewhere: {PS1: {is: driver, fed_from: S1}}
    rooms:
      room_one:
        walls_clockwise:
          WA: {devices: {S1: {is: dimmer, fed_from: S2}, S2: {is: dimmer, fed_from: S1}}}
    """
    found = [f for f in job_of(text).findings if f.rule == "electrical.feeds-itself"]
    assert found and all("S1" in f.message and "S2" in f.message for f in found)


CIRCLES = {
    "the air of two rooms": (
        "rooms: {one: {climate: {same_as: two}}, two: {climate: {same_as: one}}}",
        ["one", "two"],
    ),
    "the air of a surrounding and itself": (
        "surroundings: {attic: {same_as: attic}}",
        ["attic"],
    ),
    "the level of two floors": (
        "rooms: {one: {floor: {level: {same_as: two}}}, two: {floor: {level: {same_as: one}}}}",
        ["one", "two"],
    ),
    "two walls, each the other's back": (
        "rooms: {one: {walls_clockwise: {WA: {back_of: WB}}}, "
        "two: {walls_clockwise: {WB: {back_of: WA}}}}",
        ["WA", "WB"],
    ),
    "three decisions, one of them through a paper": (
        "finishes: {F1: {is: paint, color: {open: client, waits_for: F2.color}}, "
        "F2: {is: paint, color: {open: client, waits_for: AP1}}}\n"
        "approvals: {AP1: {when: {open: client, waits_for: F1.color}}}",
        ["F1.color", "F2.color", "AP1.when"],
    ),
}


@pytest.mark.parametrize("case", CIRCLES)
def test_what_follows_from_itself_is_named_at_every_place(case: str) -> None:
    text, names = CIRCLES[case]
    found = [f for f in job_of(text).findings if f.rule == "job.follows-from-itself"]
    assert sorted(f.address for f in found) == sorted(names)
    assert all(name in f.message for f in found for name in names)


def test_waiting_for_one_that_waits_for_none_is_no_circle() -> None:
    text = (
        "finishes: {F1: {is: paint, color: {open: client, waits_for: F2.color}}, "
        "F2: {is: paint, color: {open: client, waits_for: AP1}}}\n"
        "approvals: {AP1: {of: F1.color, when: {open: client}}}"
    )
    assert not [f for f in job_of(text).findings if f.rule == "job.follows-from-itself"]


def test_a_thing_that_is_still_open_may_be_named() -> None:
    text = JOB.replace("{is: paint, title: Paint}", "TBD").replace("{is: panelboard}", "TBD")
    assert not job_of(text).findings


def test_without_a_house_bottles_are_not_held_against_it() -> None:
    assert not job_of("job: {asked_for: {of_which: {magnum: 50}}}").findings
