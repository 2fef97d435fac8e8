"""Where things sit on a wall: every way of saying it, both sides of a wall, parts of glass."""

from __future__ import annotations

import pytest

from spec.derive.figure import Facts
from spec.job.node import Node, Open
from spec.place import Rect, plan
from spec.place.sizes import member_depth
from tests.resolved import facts_of

INCH = 0.0254

WALL = """
rooms:
  room_one:
    taped: {to: finish}
    height: 96 in
    walls_clockwise:
      WA:
        length: 120 in
        openings: {D1: {is: cased_opening, left: 30 in, width: 40 in, height: 80 in}}
        fixtures: {FX1: {is: mirror, PLACE}}
      WB: {length: 100 in}
      WC: {length: 120 in}
      WD: {length: 100 in}
"""


def thing(facts: Facts, mark: str) -> Node:
    found = facts.job.thing(mark)
    assert found is not None
    return found


def rect_of(place: str) -> tuple[float, float, float, float]:
    facts = facts_of(WALL.replace("PLACE", place))
    assert not facts.job.findings, facts.job.findings[0].message
    rect = facts.places.rect(thing(facts, "FX1")).rect
    return tuple(round(x / INCH, 6) for x in (rect.left, rect.bottom, rect.right, rect.top))  # type: ignore[return-value]


SIZE = "width: 20 in, height: 30 in"
WHERE = {
    f"{SIZE}, left: 10 in, bottom: 40 in": (10, 40, 30, 70),
    f"{SIZE}, right: 10 in, bottom: 40 in": (90, 40, 110, 70),
    f"{SIZE}, center: 50 in, bottom: 40 in": (40, 40, 60, 70),
    f"{SIZE}, center: wall, bottom: 40 in": (50, 40, 70, 70),
    f"{SIZE}, center: D1, bottom: 40 in": (40, 40, 60, 70),
    f"{SIZE}, left: 10 in, top: 80 in": (10, 50, 30, 80),
    f"{SIZE}, left: 10 in, aff: 60 in": (10, 45, 30, 75),
    f"{SIZE}, left: 0, bottom: 0": (0, 0, 20, 30),
    "height: 30 in, left: 10 in, right: 20 in, bottom: 40 in": (10, 40, 100, 70),
    "width: 20 in, left: 10 in, bottom: 40 in, top: 90 in": (10, 40, 30, 90),
    "left: 10 in, right: 20 in, bottom: 40 in, top: 90 in": (10, 40, 100, 90),
}


@pytest.mark.parametrize("place", WHERE)
def test_every_way_of_saying_where(place: str) -> None:
    assert rect_of(place) == pytest.approx(WHERE[place])


@pytest.mark.parametrize(
    ("place", "address"),
    [
        (f"{SIZE}, bottom: 40 in", "FX1.left"),
        (f"{SIZE}, left: 10 in", "FX1.aff"),
        (f"{SIZE}, left: TBD, bottom: 40 in", "FX1.left"),
        (f"{SIZE}, center: TBD, bottom: 40 in", "FX1.center"),
        (f"{SIZE}, left: 10 in, aff: TBD", "FX1.aff"),
        ("width: TBD, height: 3 in, left: 10 in, bottom: 40 in", "FX1.width"),
        (f"{SIZE}, left: 1 ft, bottom: {{open: lead}}", "FX1.bottom"),
        ("width: 20 in, height: TBD, left: 1 ft, bottom: 1 ft", "FX1.height"),
    ],
)
def test_a_place_that_is_open_is_waited_for_by_name(place: str, address: str) -> None:
    facts = facts_of(WALL.replace("PLACE", place))
    with pytest.raises(Open) as waiting:
        _ = facts.places.rect(thing(facts, "FX1"))
    assert waiting.value.address == address


def test_a_thing_that_waits_leaves_the_others_on_the_wall() -> None:
    facts = facts_of(WALL.replace("PLACE", f"{SIZE}, left: TBD, bottom: 40 in"))
    wall = facts.job.walls[0]
    assert [on.node.key for on in facts.places.on(wall)] == ["D1"]


@pytest.mark.parametrize(
    "text",
    [
        "FX1: {is: mirror, width: 1 ft, height: 1 ft, center: FX1, bottom: 0}",
        "FX1: {is: mirror, width: 1 ft, height: 1 ft, center: FX2, bottom: 0}, "
        "FX2: {is: mirror, width: 1 ft, height: 1 ft, center: FX1, bottom: 0}",
    ],
)
def test_things_that_are_placed_by_each_other_are_named_and_have_no_place(text: str) -> None:
    facts = facts_of(WALL.replace("FX1: {is: mirror, PLACE}", text))
    found = [f for f in facts.job.findings if f.rule == "job.placed-by-itself"]
    assert found and found[0].address == "FX1" and "FX1" in found[0].message
    with pytest.raises(Open):
        facts.places.rect(thing(facts, "FX1"))


def test_net_area_is_without_openings() -> None:
    facts = facts_of(WALL.replace("PLACE", f"{SIZE}, left: 1 in, bottom: 40 in"))
    area = facts.places.net_area(facts.job.walls[0])
    assert area / INCH**2 == pytest.approx(120 * 96 - 40 * 80)


def test_rectangles_that_only_touch_do_not_meet() -> None:
    one, other = Rect(0, 0, 1, 1), Rect(1, 0, 1, 1)
    assert not one.meets(other) and not other.meets(one)
    assert one.meets(Rect(0.999, 0.5, 1, 1)) and one.overlap(Rect(1.5, 0, 1, 1))[0] == -0.5


TWO_ROOMS = """
rooms:
  room_one:
    taped: {to: finish}
    height: 96 in
    walls_clockwise:
      WA: {length: 120 in}
      WB:
        length: 100 in
        faces: room_two
        openings:
          D1:
            is: door
            left: 20 in
            opens_into: room_two
            leaf: {width: 30 in, height: 80 in}
      WC: {length: 120 in}
      WD: {length: 100 in}
  room_two:
    taped: {to: finish}
    height: 96 in
    walls_clockwise:
      TA: {length: 120 in}
      TB: {length: 110 in}
      TC: {length: 120 in}
      TD: {length: 110 in, back_of: WB LINES}
"""


def seen(lines: str) -> Rect:
    facts = facts_of(TWO_ROOMS.replace(" LINES", lines))
    wall = next(wall for wall in facts.job.walls if wall.key == "TD")
    found = list(facts.places.seen_from(wall))
    assert [on.node.key for on in found] == ["D1"] and found[0].wall == "TD"
    return found[0].rect


def test_a_door_seen_from_the_other_side_lines_up_as_it_says() -> None:
    rect = seen(", lines_up: {D1: 70 in}")
    assert rect.center / INCH == pytest.approx(70) and rect.width / INCH == pytest.approx(30)
    assert rect.bottom == 0


def test_without_it_the_two_sides_are_brought_together_by_their_middles() -> None:
    """35 in from the left corner of WB is 15 in left of its middle: 15 in right of TD's."""
    assert seen("").center / INCH == pytest.approx(55 + 15)


def test_the_area_of_a_shared_wall_is_without_the_door_on_both_sides() -> None:
    facts = facts_of(TWO_ROOMS.replace(" LINES", ""))
    walls = {wall.key: wall for wall in facts.job.walls}
    assert facts.places.net_area(walls["TD"]) / INCH**2 == pytest.approx(110 * 96 - 30 * 80)


GLASS = """
rooms:
  room_one:
    taped: {to: finish}
    height: 2500 mm
    walls_clockwise:
      WA:
        length: 3000 mm
        openings:
          G1:
            is: glass_front
            left: 100 mm
            width: 2800 mm
            bottom: 0
            height: 2300 mm
            left_to_right:
              G1a: {is: fixed, width: 600 mm}
              G1b: {is: fixed, width: rest}
              G1c: {is: fixed, width: 800 mm}
      WB: {length: 2000 mm}
      WC: {length: 3000 mm}
      WD: {length: 2000 mm}
"""


def test_parts_of_a_glass_front_stand_side_by_side_in_it() -> None:
    facts = facts_of(GLASS)
    assert not facts.job.findings, facts.job.findings[0].message
    parts = [facts.places.rect(thing(facts, mark)).rect for mark in ("G1a", "G1b", "G1c")]
    assert [round(p.left, 6) for p in parts] == [0.1, 0.7, 2.1]
    assert [round(p.width, 6) for p in parts] == [0.6, 1.4, 0.8]
    assert {round(p.height, 6) for p in parts} == {2.3}
    assert parts[-1].right == pytest.approx(2.9)


@pytest.mark.parametrize(
    ("member", "inches"),
    [("2x6", 5.5), ("2 of 2x10", 9.25), ("2x8, No. 2", 7.25), ("steel post", 0), ("2x4 flat", 3.5)],
)
def test_a_member_by_its_nominal_name_is_as_deep_as_it_is_dressed(
    member: str, inches: float
) -> None:
    """American Softwood Lumber Standard PS 20, table 3 (from memory)."""
    assert member_depth(member) / INCH == pytest.approx(inches)


def test_a_rough_opening_is_leaves_gaps_frame_and_shim() -> None:
    text = TWO_ROOMS.replace(" LINES", "").replace(
        "leaf: {width: 30 in, height: 80 in}",
        """leaf:
              width: 18 in
              height: 80 in
              count: 2
              gap: {sides: 1/8 in, meeting: 1/4 in, head: 1/8 in, bottom: 1/2 in}
            frame: {jambs: 1 in, head: 1 in, shim: 1/2 in, mullions: 2 in}
            side_lights: {left: 12 in}
            transom: {height: 14 in}""",
    )
    facts = facts_of(text)
    assert not facts.job.findings, facts.job.findings[0].message
    rect = facts.places.rect(thing(facts, "D1")).rect
    wide = 2 * 18 + 2 / 8 + 1 / 4 + 12 + 2 + 2 * (1 + 0.5)
    high = 80 + 1 / 8 + 1 / 2 + 14 + 2 + 1 + 0.5
    assert (rect.width / INCH, rect.height / INCH) == pytest.approx((wide, high))


BAR = """
rooms:
  room_one:
    taped: {to: finish}
    height: 96 in
    stacks: {bar: {bottom_to_top: {toe: {is: plinth, under: lower, height: 4 in},
        lower: {is: cabinets, height: 30 in, depth: 24 in}}}}
    walls_clockwise:
      WA:
        length: 120 in
        millwork:
          lower:
            left: 30 in
            width: 60 in
            left_to_right: {B1: {is: cabinet, width: 24 in}, B2: {is: sink_base, width: 36 in}}
        devices: {RC1: {is: receptacle, center: 40 in, aff: 44 in}}
        fixtures: {SK1: {is: sink, center: B2, bowl: 20 in x 8 in x 16 in, RIM}}
      WB:
        length: 100 in
        devices: {RC2: {is: receptacle, center: 30 in, aff: 44 in}}
      WC: {length: 120 in}
      WD: {length: 100 in}
"""


@pytest.mark.parametrize(("rim", "top"), [("over: B2", 34), ("rim_aff: 36 in", 36)])
def test_a_sink_hangs_from_its_rim(rim: str, top: float) -> None:
    facts = facts_of(BAR.replace("RIM", rim))
    rect = facts.places.rect(thing(facts, "SK1")).rect
    found = (rect.left / INCH, rect.bottom / INCH, rect.width / INCH, rect.height / INCH)
    assert found == pytest.approx((62, top - 8, 20, 8))


def test_between_two_things_on_walls_it_is_as_far_as_in_plan() -> None:
    """From the right edge of a plate at 40 in to the bowl at 62 in; across the corner otherwise."""
    facts = facts_of(BAR.replace("RIM", "over: B2"))
    sink = thing(facts, "SK1")
    straight = plan.between(facts.places, thing(facts, "RC1"), sink)
    assert straight / INCH == pytest.approx(62 - 40 - 2.75 / 2)
    across = plan.between(facts.places, thing(facts, "RC2"), sink)
    assert across / INCH == pytest.approx(((120 - 82) ** 2 + (30 - 2.75 / 2) ** 2) ** 0.5)
