"""Where things sit on ceilings and floors: square off named walls, grids, extents along walls."""

from __future__ import annotations

import pytest
from shapely.geometry import Polygon

from spec.derive.figure import Facts
from spec.job.node import Node, Open
from tests.resolved import facts_of

INCH = 0.0254

ROOM = """
rooms:
  room_one:
    taped: {to: finish}
    height: 96 in
    DIAGONAL
    walls_clockwise:
      WA: {length: 120 in}
      WB: {length: 100 in}
      WC: {length: 120 in}
      WD: {length: 100 in}
    ceiling:
      equipment: {EV1: {is: evaporator, PLACE}}
      lights: {L1: {is: downlight, diameter: 6 in, LIGHT}}
"""


def room(place: str = "", light: str = "center: room", diagonal: str = "") -> Facts:
    text = ROOM.replace("PLACE", place or "center: room, extent: {WA: 1 in, WB: 1 in}")
    facts = facts_of(text.replace("LIGHT", light).replace("DIAGONAL", diagonal))
    assert not facts.job.findings, facts.job.findings[0].message
    return facts


def thing(facts: Facts, mark: str) -> Node:
    found = facts.job.thing(mark)
    assert found is not None
    return found


def outlines(facts: Facts, mark: str = "EV1") -> list[Polygon]:
    return [
        Polygon([(x / INCH, y / INCH) for x, y in outline])
        for outline in facts.places.plan(thing(facts, mark)).outlines
    ]


EXTENT = "extent: {WA: 20 in, WB: 30 in}"


@pytest.mark.parametrize(
    ("place", "bounds"),
    [
        (f"center: {{WA: 40 in, WB: 50 in}}, {EXTENT}", (60, -55, 80, -25)),
        (f"center: {{WD: 70 in, WA: 40 in}}, {EXTENT}", (60, -55, 80, -25)),
        (f"center: {{WC: 60 in, WB: 50 in}}, {EXTENT}", (60, -55, 80, -25)),
        (f"edge: {{WA: 40 in, WD: 50 in}}, {EXTENT}", (50, -70, 70, -40)),
        (f"edge: {{WA: 0, WB: 0}}, {EXTENT}", (100, -30, 120, 0)),
        (f"center: room, {EXTENT}", (50, -65, 70, -35)),
        ("center: room, extent: {WB: 30 in, WA: 20 in}", (50, -65, 70, -35)),
    ],
)
def test_a_thing_is_placed_square_off_two_walls_and_measured_along_them(
    place: str, bounds: tuple[float, ...]
) -> None:
    (outline,) = outlines(room(place))
    assert outline.bounds == pytest.approx(bounds)
    assert outline.area == pytest.approx(600)


def test_a_grid_has_a_place_for_every_pair() -> None:
    facts = room(light="centers: {WA: [20 in, 60 in], WB: [30 in, 60 in, 90 in]}")
    found = outlines(facts, "L1")
    assert {tuple(round(v) for v in p.centroid.coords[0]) for p in found} == {
        (120 - x, -y) for y in (20, 60) for x in (30, 60, 90)
    }
    assert facts.places.how_many(thing(facts, "L1")) == 6
    assert all(p.area == pytest.approx(36) for p in found)


@pytest.mark.parametrize(
    "light",
    [
        "centers: {WA: [20 in], WC: [30 in]}",
        "center: {WA: 20 in, WC: 30 in}",
        "center: {WA: 20 in}",
        "center: {WA: 20 in, WB: TBD}",
        "center: TBD",
        "center: {WA: 1 in, WB: 2 in, WC: 3 in}",
    ],
)
def test_two_walls_that_do_not_cross_or_one_that_is_open_place_nothing(light: str) -> None:
    facts = room(light=light)
    with pytest.raises(Open) as waiting:
        facts.places.plan(thing(facts, "L1"))
    assert waiting.value.address.startswith("L1.center")


def test_in_a_room_out_of_square_distances_stay_square_off_the_walls() -> None:
    facts = room(
        f"center: {{WA: 40 in, WD: 50 in}}, {EXTENT}", diagonal="diagonals: {WA-WC: 150 in}"
    )
    found = facts.places.room("room_one")
    (outline,) = facts.places.plan(thing(facts, "EV1")).outlines
    middle = (sum(x for x, _ in outline) / 4, sum(y for _, y in outline) / 4)
    from spec.place.shapes import edges

    lines = dict(zip(found.walls, edges(found.corners), strict=True))
    assert lines["WA"].distance(middle) / INCH == pytest.approx(40)
    assert lines["WD"].distance(middle) / INCH == pytest.approx(50)


def test_what_covers_all_has_the_outline_of_the_room() -> None:
    text = ROOM.replace("EV1: {is: evaporator, PLACE}", "").replace(
        "equipment: {}", "none: equipment"
    )
    text = text.replace("LIGHT", "center: room").replace("DIAGONAL", "")
    text += "    floor: {existing: {X1: {is: vinyl_tile, covers: all, action: remove}}}\n"
    facts = facts_of(text)
    assert not facts.job.findings
    (outline,) = outlines(facts, "X1")
    assert outline.area == pytest.approx(120 * 100)
