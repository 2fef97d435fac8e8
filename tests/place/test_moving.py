"""What opens, rolls and blows, and what it meets; sweeps against sectors that shapely makes."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import Point, Polygon, box

from spec.derive.figure import Facts
from spec.job.node import Node
from spec.place import air, moving, plan
from tests.resolved import facts_of

INCH = 0.0254
HALL = """
rooms:
  hall:
    taped: {to: finish}
    height: 96 in
    stacks:
      bar: {bottom_to_top: {lower: {is: cabinets, height: 36 in, depth: 24 in}}}
    walls_clockwise:
      WA: {length: 160 in, ALONG}
      WB: {length: 120 in}
      WC: {length: 160 in, openings: {D1: {is: door, center: 80 in, opens_into: hall,
          leaf: {width: 32 in, height: 80 in}, DOOR}}}
      WD: {length: 120 in}
    floor: {STANDING}
"""


def hall(along: str = "", door: str = "", standing: str = "") -> tuple[Facts, Node]:
    text = HALL.replace("ALONG", along or "none: [devices]")
    text = text.replace("DOOR", door or "hinges_on: left")
    facts = facts_of(text.replace("STANDING", standing or "none: [holes]"))
    assert not facts.job.findings, facts.job.findings[0].message
    room = facts.job.thing("hall")
    assert room is not None
    return facts, room


def thing(facts: Facts, mark: str) -> Node:
    found = facts.job.thing(mark)
    assert found is not None
    return found


@settings(max_examples=50, deadline=None)
@given(st.integers(20, 180), st.sampled_from(["left", "right"]))
def test_a_leaf_sweeps_over_a_sector(angle: int, side: str) -> None:
    facts, _ = hall(door=f"hinges_on: {side}, opens_to: {angle}°")
    (sweep,) = plan.sweeps(facts.places, thing(facts, "D1"))
    swept = Polygon(sweep.outline)
    width = 32 * INCH
    whole = math.radians(angle) / 2 * width**2
    assert 0.98 * whole <= swept.area <= whole
    room = Polygon(facts.places.room("hall").corners)
    assert swept.difference(room.buffer(1e-6)).area < 1e-6
    hinge, edge = sweep.outline[0], sweep.outline[-1]
    assert math.dist(hinge, edge) == pytest.approx(width)


BAR = (
    "millwork: {lower: {left: 24 in, width: 48 in, left_to_right: {B1: {is: cabinet, width: 24 in, "
    "OPENS}, B2: {is: cabinet, width: 24 in}}}}"
)
BOX = (
    "millwork: {{TL1: {{is: table, center: {{WA: {} in, WD: {} in}}, "
    "extent: {{WA: 10 in, WD: 10 in}}, height: {} in}}}}"
)


def met(opens: str, standing: str) -> set[tuple[str, str]]:
    facts, room = hall(BAR.replace("OPENS", opens), standing=standing)
    return {
        (node.key, other.key)
        for node, piece, opened in moving.fronts(facts.places, room)
        for other in moving.met_by_front(opened, piece, facts.places.standing(room))
    }


@settings(max_examples=80, deadline=None)
@given(st.integers(30, 100), st.integers(10, 90))
def test_a_drawer_meets_what_stands_within_its_travel(off: int, along: int) -> None:
    drawer = box(24.12, 24, 47.88, 48)
    table = box(along - 5, off - 5, along + 5, off + 5)
    shared = drawer.intersection(table)
    left, low, right, high = shared.bounds if shared.area else (0, 0, 0, 0)
    assume(not shared.area or min(right - left, high - low) > 0.2)
    hit = met("drawers: {heights: [10 in, 20 in]}", BOX.format(off, along, 30))
    assert (("B1", "TL1") in hit) == (shared.area > 0)


@settings(max_examples=80, deadline=None)
@given(st.integers(30, 60), st.integers(20, 60), st.sampled_from(["left", "right"]))
def test_a_door_meets_what_stands_within_its_swing(off: int, along: int, side: str) -> None:
    hinge = 24.12 if side == "left" else 47.88
    quarter = Point(hinge, 24).buffer(23.76, quad_segs=64).intersection(box(24.12, 24, 47.88, 72))
    table = box(along - 5, off - 5, along + 5, off + 5)
    hit = met(f"doors: 1, hinges_on: {side}", BOX.format(off, along, 30))
    if quarter.buffer(-0.3).intersects(table):
        assert ("B1", "TL1") in hit
    if not quarter.buffer(0.3).intersects(table):
        assert ("B1", "TL1") not in hit


def test_a_drawer_does_not_meet_what_hangs_over_it() -> None:
    facts, room = hall(BAR.replace("OPENS", "drawers: {heights: [10 in, 20 in]}"))
    opened = [front for _, _, front in moving.fronts(facts.places, room)]
    assert [round(front.top / INCH) for front in opened] == [36]


def behind(door: str, place: str) -> list[str]:
    text = HALL.replace("center: 80 in", "left: 40 in").replace(
        "WC: {length: 160 in,", f"WC: {{length: 160 in, devices: {{S1: {{is: dimmer, {place}}}}},"
    )
    facts = facts_of(
        text.replace("ALONG", "none: [devices]")
        .replace("DOOR", door)
        .replace("STANDING", "none: [holes]")
    )
    return [d.key for d, _ in moving.behind_leaf(facts.places, thing(facts, "D1"))]


@pytest.mark.parametrize(
    ("door", "place", "found"),
    [
        ("hinges_on: left, opens_to: 175°", "center: 20 in, aff: 48 in", True),
        ("hinges_on: left, opens_to: 90°", "center: 20 in, aff: 48 in", False),
        ("hinges_on: left, opens_to: 175°", "center: 100 in, aff: 48 in", False),
        ("hinges_on: left, opens_to: 175°", "center: 20 in, aff: 92 in", False),
        ("hinges_on: right, opens_to: 175°", "center: 90 in, aff: 48 in", True),
    ],
)
def test_a_switch_behind_a_leaf(door: str, place: str, found: bool) -> None:
    assert behind(door, place) == (["S1"] if found else [])


def blown(first: str, second: str, apart: int = 40) -> tuple[bool, list[str]]:
    text = HALL.replace(
        "    floor:",
        f"    ceiling: {{equipment: {{EV1: {{is: evaporator, center: {{WA: 60 in, WD: 50 in}}, "
        f"extent: {{WA: 20 in, WD: 20 in}}, blows: {first}}}, EV2: {{is: evaporator, center: "
        f"{{WA: 60 in, WD: {50 + apart} in}}, extent: {{WA: 20 in, WD: 20 in}}, "
        f"blows: {second}}}}}}}"
        "\n    floor:",
    )
    text = text.replace("ALONG", "none: [devices]").replace("DOOR", "hinges_on: left")
    facts = facts_of(text.replace("STANDING", "none: [holes]"))
    room = thing(facts, "hall")
    found = air.machines(facts.places, room)
    close = [
        met.thing.key
        for machine in found
        for met in air.in_the_air(facts.places, room, machine, (), 18 * INCH)
    ]
    return bool(list(air.at_each_other(found))), close


def test_machines_that_blow_at_each_other() -> None:
    assert blown("toward WB", "toward WD") == (True, [])
    assert blown("toward WD", "toward WB") == (False, [])
    assert blown("toward WA", "toward WC") == (False, [])


def test_a_machine_that_blows_at_the_back_of_another_near_it() -> None:
    assert blown("toward WB", "toward WB", 30) == (False, ["EV2"])
    assert blown("toward WB", "toward WB", 60) == (False, [])
