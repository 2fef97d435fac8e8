"""What takes the same place, against overlaps that shapely finds; what is related does not."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Point, Polygon, box

from spec.derive.figure import Facts
from spec.place import collisions, plan
from spec.place.collisions import Collision
from spec.place.shapes import within
from tests.resolved import facts_of

INCH = 0.0254
ROOM = """
rooms:
  hall:
    taped: {to: finish}
    height: 96 in
    stacks:
      bar: {bottom_to_top: {lower: {is: cabinets, height: 36 in, depth: 24 in}}}
    walls_clockwise:
      WA: {length: 160 in, THINGS}
      WB: {length: 120 in}
      WC: {length: 160 in}
      WD: {length: 120 in}
    ceiling: {OVERHEAD}
    floor: {STANDING}
"""


def hall(things: str = "", overhead: str = "", standing: str = "") -> Facts:
    text = ROOM.replace("THINGS", things or "none: [devices]")
    text = text.replace("OVERHEAD", overhead or "none: [devices]")
    facts = facts_of(text.replace("STANDING", standing or "none: [holes]"))
    assert not facts.job.findings, facts.job.findings[0].message
    return facts


def pairs(found: list[Collision]) -> set[tuple[str, str]]:
    return {(hit.one.key, hit.other.key) for hit in found}


def on_wall(things: str) -> list[Collision]:
    facts = hall(things)
    wall = facts.job.thing("WA")
    assert wall is not None
    return collisions.on_wall(facts.places, wall)


def on_ceiling(overhead: str) -> list[Collision]:
    facts = hall(overhead=overhead)
    ceiling = facts.job.find("hall.ceiling")
    assert ceiling is not None
    return collisions.on_ceiling(facts.places, ceiling)


def on_floor(standing: str, things: str = "", overhead: str = "") -> list[Collision]:
    facts = hall(things, overhead, standing)
    room = facts.job.thing("hall")
    assert room is not None
    return collisions.on_floor(facts.places, room, facts.places.standing(room))


EV = "{{is: evaporator, center: {{WA: {} in, WD: {} in}}, extent: {{WA: {} in, WD: {} in}}}}"
place = st.tuples(
    *[st.integers(30, 90), st.integers(30, 130), st.integers(4, 40)], st.integers(4, 40)
)


@settings(max_examples=60, deadline=None)
@given(place, place)
def test_two_machines_in_a_ceiling(
    one: tuple[int, int, int, int], other: tuple[int, int, int, int]
) -> None:
    found = on_ceiling(f"equipment: {{EV1: {EV.format(*one)}, EV2: {EV.format(*other)}}}")
    a, b = (
        box(along - wide / 2, off - deep / 2, along + wide / 2, off + deep / 2)
        for off, along, wide, deep in (one, other)
    )
    shared = a.intersection(b)
    if shared.area == 0:
        assert not found
        return
    left, low, right, high = shared.bounds
    assert pairs(found) == {("EV1", "EV2")}
    assert found[0].wide / INCH == pytest.approx(right - left)
    assert found[0].high / INCH == pytest.approx(high - low)
    assert found[0].off == ("WA", "WD")
    assert found[0].at_one == pytest.approx((one[0] * INCH, one[1] * INCH))


TABLE = (
    "{{is: table, center: {{WA: {} in, WD: {} in}}, extent: {{WA: {} in, WD: {} in}}, "
    "height: 30 in}}"
)


@settings(max_examples=60, deadline=None)
@given(place, place)
def test_two_tables_on_a_floor(
    one: tuple[int, int, int, int], other: tuple[int, int, int, int]
) -> None:
    found = on_floor(f"millwork: {{TL1: {TABLE.format(*one)}, TL2: {TABLE.format(*other)}}}")
    a, b = (
        box(along - wide / 2, off - deep / 2, along + wide / 2, off + deep / 2)
        for off, along, wide, deep in (one, other)
    )
    assert bool(found) == (a.intersection(b).area > 0)


@given(
    st.lists(st.tuples(st.floats(-5, 5), st.floats(-5, 5)), min_size=3, max_size=3, unique=True),
    st.lists(st.tuples(st.floats(-5, 5), st.floats(-5, 5)), min_size=3, max_size=3, unique=True),
)
def test_outlines_overlap_where_they_share_an_area(
    one: list[tuple[float, float]], other: list[tuple[float, float]]
) -> None:
    a, b = Polygon(one), Polygon(other)
    if min(a.area, b.area) < 0.01:
        return
    reach = plan.overlap(one, other)
    if abs(reach) > 1e-6:
        assert (reach > 0) == (a.intersection(b).area > 0)


@given(st.floats(-1, 5), st.floats(-1, 5))
def test_a_point_within_a_room_with_a_corner_cut_out(x: float, y: float) -> None:
    corners = ((0.0, 0.0), (0.0, 4.0), (4.0, 4.0), (4.0, 2.0), (2.0, 2.0), (2.0, 0.0))
    shape = Polygon(corners)
    if shape.exterior.distance(Point(x, y)) > 1e-9:
        assert within(corners, (x, y)) == shape.contains(Point(x, y))


MIRROR = "FX1: {is: mirror, left: 40 in, width: 30 in, bottom: 40 in, height: 30 in}"
WINDOW = "openings: {N1: {is: window, left: 60 in, width: 30 in, bottom: 30 in, height: 40 in}}"


def test_a_mirror_before_a_window() -> None:
    hit = on_wall(f"{WINDOW}, fixtures: {{{MIRROR}}}")
    assert pairs(hit) == {("N1", "FX1")}
    assert (hit[0].wide / INCH, hit[0].high / INCH) == pytest.approx((10, 30))
    assert hit[0].at_one == pytest.approx((75 * INCH, 50 * INCH))


@pytest.mark.parametrize(
    "things",
    [
        "backing: {BK1: {for: [FX1], left: 40 in, width: 30 in, aff: 60 in, member: 2x6}}, "
        f"fixtures: {{{MIRROR}}}",
        f"fixtures: {{{MIRROR}}}, holes: {{H1: {{center: 50 in, aff: 50 in, size: 2 in}}}}",
        "holes: {H1: {center: 10 in, aff: 40 in, size: 2 in}}, millwork: {lower: {left: 0, "
        "width: 4 ft, left_to_right: {B1: {is: cabinet, width: 4 ft}}}}",
        f"{WINDOW}, existing: {{X1: {{is: shelving, left: 60 in, width: 30 in, bottom: 0, "
        "height: 80 in, action: [remove, dispose]}}}}".replace("}}}}", "}}"),
    ],
    ids=["backing behind", "its own hole", "hole behind a cabinet", "what goes away"],
)
def test_what_may_share_a_place_of_a_wall(things: str) -> None:
    assert not on_wall(things)


def test_a_hole_half_under_a_machine_is_in_its_way() -> None:
    machine = (
        "equipment: {EV1: {is: evaporator, left: 40 in, bottom: 70 in, "
        "size: 30 in x 12 in x 14 in}}"
    )
    hole = "holes: {{H1: {{center: {} in, aff: 76 in, size: 3 in}}}}"
    assert pairs(on_wall(f"{hole.format(70)}, {machine}")) == {("H1", "EV1")}
    assert not on_wall(f"{hole.format(60)}, {machine}")
    assert not on_wall(f"{hole.format(90)}, {machine}")


BACKED = """
  backing: {BK1: {for: [L1], center: room, extent: {WA: 14 in, WD: 14 in}, member: 2x10}},
  lights: {L1: {is: pendant, width: 20 in, center: room}, L2: {is: downlight, diameter: 6 in,
      center: {WA: 60 in, WD: WHERE}}}
""".strip()


def test_a_light_over_a_light_and_its_backing_is_said_once() -> None:
    hit = on_ceiling(BACKED.replace("WHERE", "80 in"))
    assert pairs(hit) == {("L1", "L2")}
    assert [node.key for node in hit[0].also] == ["BK1"]
    assert not on_ceiling(BACKED.replace("WHERE", "110 in"))


def test_what_has_no_known_size_takes_no_place() -> None:
    hole = "holes: {H1: {center: room, size: 4 in}}"
    alarm = "devices: {SD1: {is: smoke_alarm, center: {WA: 63 in, WD: 80 in}}}"
    register = "existing: {X1: {is: supply_register, center: room, action: keep}}"
    assert pairs(on_ceiling(f"{hole}, {alarm}")) == {("H1", "SD1")}
    assert not on_ceiling(f"{hole}, {register}")


def test_a_light_that_hangs_into_a_cabinet() -> None:
    light = (
        "lights: {{L1: {{is: pendant, width: 12 in, height: 10 in, bottom: {} in, "
        "center: {{WA: 20 in, WD: 30 in}}}}}}"
    )
    bar = (
        "millwork: {lower: {left: 0, width: 4 ft, left_to_right: {B1: {is: cabinet, width: 4 ft}}}}"
    )
    assert pairs(on_floor("", bar, light.format(30))) == {("B1", "L1")}
    assert not on_floor("", bar, light.format(60))


def test_what_is_moved_takes_its_new_place() -> None:
    alarm = "devices: {SD1: {is: smoke_alarm, center: {WA: 60 in, WD: 80 in}}}"
    there = "{surface: hall.ceiling, center: {WA: 61 in, WD: 80 in}}"
    old = (
        "existing: {X1: {is: luminaire, size: 8 in x 8 in, center: {WA: 20 in, WD: 20 in}, "
        f"action: move, to: {there}}}}}"
    )
    assert pairs(on_ceiling(f"{old}, {alarm}")) == {("X1", "SD1")}
    assert not on_ceiling(f"{old.replace('61 in', '80 in')}, {alarm}")
