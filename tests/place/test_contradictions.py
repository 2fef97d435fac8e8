"""What is decided and cannot be is said at its place, never passed over in silence."""

from __future__ import annotations

import pytest

from spec.compose.gates import gates
from spec.finding import Finding
from spec.job.node import Open
from tests.resolved import facts_of, one, said_of

RULE = "envelope.cannot-be-set-out"
ROOM = """
job: {units: metric}
rooms:
  room_one:
    taped: {to: finish}
    height: HEIGHT
    STACKS
    walls_clockwise:
      WA: {length: 3 m, ON_WALL}
      WB: {length: 2 m}
      WC: {length: 3 m}
      WD: {length: 2 m}
    ceiling: {lights: {L1: {is: downlight, center: {AT}}}}
"""


def room(
    on_wall: str = "faces: outdoors",
    at: str = "WA: 1 m, WD: 1 m",
    height: str = "2.5 m",
    stacks: str = "use: tasting",
) -> str:
    text = ROOM.replace("ON_WALL", on_wall).replace("AT}", f"{at}}}")
    return text.replace("HEIGHT", height).replace("STACKS", stacks)


def said(text: str, rule: str = RULE) -> Finding:
    return one([f for f in said_of(text) if f.rule == rule], rule)


def test_a_room_that_can_be_set_out_is_not_spoken_of() -> None:
    assert not [f for f in said_of(room()) if f.rule.startswith("envelope.")]


def test_more_off_both_corners_than_the_wall_is_long() -> None:
    window = "openings: {N1: {is: window, left: 2 m, right: 1.5 m, bottom: 1 m, height: 1 m}}"
    found = said(room(window))
    assert [spot.address for spot in found.spots] == ["N1.left", "N1.right"]
    assert "3000 mm" in found.message and "nothing is left" in found.message
    facts = facts_of(room(window))
    with pytest.raises(Open):
        facts.places.net_area(facts.job.walls[0])


def test_a_bottom_above_its_top() -> None:
    found = said(
        room("fixtures: {FX1: {is: mirror, left: 1 m, width: 1 m, bottom: 2 m, top: 1 m}}")
    )
    assert found.address == "FX1.bottom" and "not below its top" in found.message


@pytest.mark.parametrize(
    ("thing", "address"),
    [
        ("openings: {N1: {is: window, left: 1 m, width: 1 m}}", "N1.height"),
        ("openings: {N1: {is: window, left: 1 m, width: 1 m, height: 1 m}}", "N1.aff"),
        ("fixtures: {N1: {is: mirror, left: 1 m, right: 1 m, bottom: 1 m}}", "N1.height"),
    ],
)
def test_a_height_that_is_missing_is_waited_for_and_not_0(thing: str, address: str) -> None:
    facts = facts_of(room(thing))
    window = facts.job.thing("N1")
    assert window is not None
    with pytest.raises(Open) as waiting:
        facts.places.rect(window)
    assert waiting.value.address == address


def test_what_has_no_size_is_not_set_out_by_its_edge() -> None:
    text = room().replace("lights: {L1: {is: downlight, center", "holes: {H1: {edge")
    facts = facts_of(text)
    hole = facts.job.thing("H1")
    assert hole is not None
    with pytest.raises(Open) as waiting:
        facts.places.plan(hole)
    assert waiting.value.address == "H1.extent"


@pytest.mark.parametrize(
    "height",
    [
        "{WA: 2.5 m, WB: 2.4 m, WC: 2 m, WD: 2.3 m}",
        "{WA: 2.5 m, WB: 2.4 m}",
        "{WA: 2.5 m, WD: 2.4 m}",
        "{WA: 2.5 m, WC: 2.5 m}",
        "{WA: 2.5 m}",
    ],
)
def test_heights_that_make_no_slope(height: str) -> None:
    found = said(room(height=height))
    assert found.address == "room_one.height" and "make no ceiling" in found.message


def test_a_place_off_two_walls_that_run_parallel() -> None:
    found = said(room(at="WA: 1 m, WC: 1 m"))
    assert found.address == "L1.center" and "WA and WC" in found.message


def test_a_light_beyond_the_walls_of_its_room() -> None:
    found = said(room(at="WA: 9 m, WD: 1 m"), "envelope.outside-its-room")
    assert found.address == "L1.center" and "beyond the walls" in found.message
    half_through = said(room(at="WA: 1 m, WD: 2.99 m"), "envelope.outside-its-room")
    assert half_through.address == "L1.center"


STACKS = (
    "stacks: {bar: {bottom_to_top: {lower: {is: cabinets, height: 1 m, depth: 60 cm}}}, "
    "cellar: {bottom_to_top: {lower: {is: cabinets, height: 2 m, depth: 30 cm}}}}"
)
RUN = "millwork: {lower: {STACKleft_to_right: {B1: {is: cabinet, width: 3 m}}}}"


def test_a_run_that_several_stacks_fit() -> None:
    found = said(room(RUN.replace("STACK", ""), stacks=STACKS))
    assert [spot.address for spot in found.spots] == ["WA.lower", "bar", "cellar"]
    assert "stack: bar" in found.cure
    named = room(RUN.replace("STACK", "stack: cellar, "), stacks=STACKS)
    assert not [f for f in said_of(named) if f.rule == RULE]
    facts = facts_of(named)
    assert facts.places.runs(facts.job.walls[0])[0].pieces[0].height == pytest.approx(2.0)


@pytest.mark.parametrize("wall", ["length: 0", "length: 3 m, corner: 180°"])
def test_walls_that_enclose_nothing(wall: str) -> None:
    text = room().replace("length: 3 m", wall).replace("length: 2 m", wall)
    found = said(text)
    assert "make no room" in found.message


def test_layers_thicker_than_the_room() -> None:
    text = "assemblies: {A1: {from_room_outward: {b: {material: cork, thickness: 1.6 m}, "
    text += "s: {material: air, thickness: 1 cm, role: structure}}}}\n"
    text += room("assembly: A1").replace("WC: {length: 3 m", "WC: {length: 3 m, assembly: A1")
    found = said(text.replace("to: finish", "to: structure"))
    assert "nothing of WB is left" in found.message


def test_what_rests_on_tapes_that_make_no_room_is_held() -> None:
    text = room().replace("height:", "diagonals: {WA-WC: 99 m}\n    height:", 1)
    facts = facts_of(text)
    gate = gates(facts, said_of(text), "framing", ["WA.length"])[0]
    assert [reason.address for reason in gate.reasons] == ["room_one.diagonals.WA-WC"]


def test_a_mark_used_twice_gives_no_findings_about_places() -> None:
    devices = "devices: {RC1: {is: receptacle, center: 2.5 m, aff: 40 cm}}"
    text = room(devices).replace("WB: {length: 2 m", f"WB: {{length: 2 m, {devices}")
    assert [f.rule for f in said_of(text)] == ["job.name-used-twice"]
