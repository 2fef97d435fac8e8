"""Finished rooms from what was taped: layers and finishes off, heights, slopes, volume."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Point as At
from shapely.geometry import Polygon, box

from spec.derive.figure import Facts
from spec.job.node import Open
from spec.job.record import recording
from spec.place.ceilings import Ceiling, Slope
from spec.place.shapes import Line, corners_of, edges
from tests.resolved import facts_of, one, said_of

INCH = 0.0254

RECTANGLE = """
assemblies:
  A1:
    from_room_outward:
      board: {material: gypsum_board, thickness: 1/2 in, role: board}
      furring: {material: air, thickness: 1 in, role: insulation}
      studs: {material: mineral_wool, thickness: 5-1/2 in, role: [structure, insulation]}
      siding: {material: cypress_siding, thickness: 3/4 in, role: structure}
  A2:
    from_room_outward:
      cork: {material: cork, thickness: 2 in}
      slab: {material: concrete, thickness: 4 in, role: structure}
finishes:
  F1: {is: plaster, title: Lime, thickness: 3/8 in}
  F3: {is: tile, title: Stone, thickness: 3/4 in}
rooms:
  room_one:
    taped: {to: FACE}
    height: HEIGHT
    finishes: {walls: F1, floor: F3}
    walls_clockwise:
      WA: {length: 10 ft, assembly: A1}
      WB: {length: 8 ft, assembly: A1}
      WC: {length: 10 ft, assembly: none}
      WD: {length: 8 ft, assembly: A1, finish: {not_applicable: left bare}}
    ceiling: {assembly: A1, finish: {not_applicable: left bare}}
    floor: {assembly: A2}
"""


def rectangle(
    face: str = "structure", height: str = "9 ft", more: dict[str, str] | None = None
) -> Facts:
    text = RECTANGLE.replace("FACE", face).replace("HEIGHT", height)
    for old, new in (more or {}).items():
        text = text.replace(old, new)
    facts = facts_of(text)
    assert not facts.job.findings, facts.job.findings[0].message
    return facts


def size(facts: Facts) -> tuple[float, float, float]:
    room = facts.places.room("room_one")
    return room.length("WA") / INCH, room.length("WB") / INCH, room.height / INCH


def test_taped_to_the_finish_nothing_is_taken_off() -> None:
    assert size(rectangle("finish")) == pytest.approx((120, 96, 108))


def test_taped_to_structure_layers_and_finishes_are_taken_off() -> None:
    """WA and WB: board, furring, plaster; WC: plaster; WD: board and furring."""
    wide = 120 - (1.5 + 0.375) - 1.5
    deep = 96 - (1.5 + 0.375) - 0.375
    high = 108 - 1.5 - (2 + 0.75)
    assert size(rectangle("structure")) == pytest.approx((wide, deep, high))


def test_taped_to_the_board_only_finishes_are_taken_off() -> None:
    high = 108 - (2 + 0.75)  # the floor's layers have no board: taped to what carries them
    assert size(rectangle("board")) == pytest.approx((120 - 0.375, 96 - 0.75, high))


def test_the_smallest_of_three_heights_governs() -> None:
    assert size(rectangle("finish", "[9 ft, 8' 11\", 9' 1\"]"))[2] == pytest.approx(107)


def test_what_a_room_rests_on_is_recorded() -> None:
    facts = rectangle("structure")
    with recording() as read:
        facts.places.room("room_one")
    assert {"WA.length", "WB.assembly", "A1.board.thickness", "F1.thickness"} <= read
    assert {"room_one.taped.to", "room_one.height", "A2.cork.thickness"} <= read
    assert "A1.siding.thickness" not in read
    with recording() as again:
        facts.places.room("room_one")
    assert again == read


@pytest.mark.parametrize(
    ("old", "new", "address"),
    [
        ("length: 8 ft, assembly: A1}", "length: TBD, assembly: A1}", "WB.length"),
        ("length: 8 ft, assembly: A1}", "length: 8 ft, assembly: TBD}", "WB.assembly"),
        ("height: 9 ft", "height: TBD", "room_one.height"),
        ("taped: {to: structure}", "taped: {to: TBD}", "room_one.taped.to"),
        ("thickness: 3/8 in", "thickness: TBD", "F1.thickness"),
        ("walls: F1", "walls: TBD", "room_one.finishes.walls"),
        ("assembly: none}", "assembly: none, finish: TBD}", "WC.finish"),
    ],
)
def test_a_room_waits_for_what_is_open_and_names_it(old: str, new: str, address: str) -> None:
    text = RECTANGLE.replace("FACE", "structure").replace("HEIGHT", "9 ft")
    assert old in text
    with pytest.raises(Open) as waiting:
        facts_of(text.replace(old, new)).places.room("room_one")
    assert waiting.value.address == address


def test_an_assumed_length_is_worked_with() -> None:
    facts = rectangle("finish", more={"length: 8 ft,": "length: {assumed: 8 ft},"})
    assert size(facts)[1] == pytest.approx(96)


SLOPED = """
rooms:
  room_one:
    taped: {to: finish}
    height: {WA: 9' 0", WC: 7' 2"}
    walls_clockwise:
      WA: {length: 12 ft}
      WB: {length: 10 ft}
      WC: {length: 12 ft}
      WD: {length: 10 ft}
"""


def test_a_ceiling_that_slopes_from_wall_to_wall() -> None:
    room = facts_of(SLOPED).places.room("room_one")
    assert room.height == pytest.approx(108 * INCH)
    assert [h / INCH for _, h in room.profile("WA")] == pytest.approx([108, 108])
    assert [at / INCH for at, _ in room.profile("WA")] == pytest.approx([0, 144])
    assert room.profile("WC")[0][1] == pytest.approx(86 * INCH)
    assert room.height_at("WB", 60 * INCH) == pytest.approx(97 * INCH)
    assert room.wall_area("WB") == pytest.approx(120 * 97 * INCH**2)
    assert room.volume == pytest.approx(144 * 120 * 97 * INCH**3)


def test_the_height_of_a_wall_is_its_lowest() -> None:
    facts = facts_of(SLOPED)
    walls = {wall.key: facts.places.height(wall) for wall in facts.job.walls}
    assert walls == pytest.approx(
        {"WA": 108 * INCH, "WB": 86 * INCH, "WC": 86 * INCH, "WD": 86 * INCH}
    )


def test_one_height_of_a_slope_fixes_nothing() -> None:
    text = SLOPED.replace(", WC: 7' 2\"", "")
    with pytest.raises(Open):
        facts_of(text).places.room("room_one")


@given(
    st.floats(3.0, 8.0),
    st.floats(3.0, 8.0),
    st.floats(0.5, 2.4),
    st.floats(0.1, 1.2),
    st.floats(2.5, 3.5),
)
def test_volume_under_a_part_that_slopes_against_numeric_integration(
    wide: float, deep: float, low: float, rise: float, flat: float
) -> None:
    corners = [(0.0, 0.0), (wide, 0.0), (wide, -deep), (0.0, -deep)]
    ceiling = Ceiling(flat, (Slope(edges(corners)[0], low, rise),))
    steps = 2000
    total = 0.0
    for n in range(steps):
        at = (wide / 2, -deep * (n + 0.5) / steps)
        total += ceiling.height(at) * wide * deep / steps
    assert ceiling.volume(corners) == pytest.approx(total, rel=1e-5)


@settings(max_examples=4)
@given(st.floats(0.2, 1.0), st.floats(0.3, 1.2), st.floats(-0.5, 0.5))
def test_volume_over_a_floor_that_is_out_of_square(low: float, rise: float, off: float) -> None:
    corners = [(0.0, 0.0), (5.0, 0.0), (5.0 + off, -4.0), (off / 2, -4.0 + off)]
    ceiling = Ceiling(2.7, (Slope(Line((0.0, 0.0), (1.0, 0.0)), low, rise),))
    floor, total, cell = Polygon(corners), 0.0, 0.1
    for i in range(-10, 70):
        for j in range(-50, 10):
            square = box(i * cell, j * cell, (i + 1) * cell, (j + 1) * cell)
            shared = square.intersection(floor) if square.intersects(floor) else None
            if shared is not None and shared.area:
                total += shared.area * ceiling.height(shared.centroid.coords[0])
    assert ceiling.volume(corners) == pytest.approx(total, rel=2e-3)


L_SHAPE = """
rooms:
  room_one:
    taped: {to: finish}
    height: 9 ft
    walls_clockwise:
      WA: {length: 12 ft}
      WB: {length: 6 ft}
      WC: {length: 4 ft, corner: 270°}
      WC1: {length: 4 ft}
      WD: {length: 8 ft}
      WE: {length: 10 ft}
"""


def test_an_l_shaped_room() -> None:
    facts = facts_of(L_SHAPE)
    room = facts.places.room("room_one")
    foot = 0.3048
    assert room.area == pytest.approx((12 * 6 + 8 * 4) * foot**2)
    assert room.around == pytest.approx(44 * foot)
    assert room.taping is not None and room.taping.error < 1e-9
    assert room.volume == pytest.approx(room.area * 9 * foot)


def test_layers_go_round_the_corner_of_270() -> None:
    text = "assemblies: {A1: {from_room_outward: {b: {material: cork, thickness: 3 in}, "
    text += "s: {material: air, thickness: 4 in, role: structure}}}}\n"
    text += L_SHAPE.replace("to: finish", "to: structure")
    for name in ("WA", "WB", "WC", "WC1", "WD", "WE"):
        text = text.replace(f"{name}: {{", f"{name}: {{assembly: A1, ")
    room = facts_of(text).places.room("room_one")
    lengths = [room.length(w) / INCH for w in room.walls]
    assert lengths == pytest.approx([144 - 6, 72 - 6, 48, 48, 96 - 6, 120 - 6])
    taped = Polygon([(0, 0), (144, 0), (144, -72), (96, -72), (96, -120), (0, -120)])
    assert room.area / INCH**2 == pytest.approx(taped.buffer(-3, join_style="mitre").area)


@given(st.lists(st.floats(0.0, 0.3), min_size=4, max_size=4))
def test_moved_walls_meet_in_corners_of_the_moved_polygon(offs: list[float]) -> None:
    corners = [(0.0, 0.0), (5.0, 0.2), (4.6, -4.0), (-0.3, -3.7)]
    lines = [line.moved(off) for line, off in zip(edges(corners), offs, strict=True)]
    found = corners_of(lines)
    for i, line in enumerate(lines):
        assert line.distance(found[i]) == pytest.approx(0.0, abs=1e-9)
        assert line.distance(found[(i + 1) % 4]) == pytest.approx(0.0, abs=1e-9)
    assert Polygon(corners).buffer(1e-9).contains(Polygon(found))


def test_walls_of_one_line_keep_their_joint() -> None:
    """A wall shared along part of its length is split at 180°."""
    text = L_SHAPE.replace(
        "WA: {length: 12 ft}", "WA: {length: 5 ft, corner: 180°}\n      WA1: {length: 7 ft}"
    )
    room = facts_of(text).places.room("room_one")
    assert room.length("WA") == pytest.approx(5 * 0.3048)
    assert room.length("WA1") == pytest.approx(7 * 0.3048)


def test_tapes_that_make_no_room_are_said_and_not_guessed() -> None:
    text = SLOPED.replace(
        "height: {WA: 9' 0\", WC: 7' 2\"}", "height: 8 ft\n    diagonals: {WA-WC: 40 ft}"
    )
    with pytest.raises(Open) as waiting:
        facts_of(text).places.room("room_one")
    assert waiting.value.address == "room_one.diagonals.WA-WC"
    found = one(said_of(text), "envelope.cannot-be-set-out")
    assert "make no triangle" in found.message and "WA-WC 40 ft" in found.message
    spots = [spot.address for spot in found.spots]
    assert spots == ["room_one.diagonals.WA-WC", "WA.length", "WB.length"]


def test_a_point_at_the_gap_is_inside() -> None:
    room = facts_of(L_SHAPE).places.room("room_one")
    shape = Polygon(room.corners)
    foot = 0.3048
    assert shape.contains(At(1 * foot, -9 * foot)) and not shape.contains(At(11 * foot, -9 * foot))
    assert math.isclose(shape.area, room.area)


def test_the_bed_of_a_tile_lifts_the_floor_as_the_tile_does() -> None:
    more = {"thickness: 3/4 in}\nrooms": "thickness: 3/4 in, bed: 1/8 in}\nrooms"}
    assert size(rectangle("structure", more=more))[2] == pytest.approx(
        108 - 1.5 - (2 + 0.75 + 0.125)
    )


BACK_OF_A_WALL = """
assemblies:
  A1:
    from_room_outward:
      board: {material: gypsum_board, thickness: 5/8 in, role: board}
      studs: {material: mineral_wool, thickness: 5-1/2 in, role: [structure, insulation]}
      warm_board: {material: gypsum_board, thickness: 1/2 in, role: board}
rooms:
  room_one:
    taped: {to: structure}
    height: 8 ft
    walls_clockwise:
      WA: {length: 10 ft}
      WB: {length: 8 ft}
      WC: {length: 10 ft, assembly: A1}
      WD: {length: 8 ft}
  room_two:
    taped: {to: structure}
    height: 8 ft
    walls_clockwise:
      RA: {length: 10 ft, back_of: WC}
      RB: {length: 8 ft}
      RC: {length: 10 ft}
      RD: {length: 8 ft}
"""


def test_the_back_of_a_wall_has_its_layers_from_the_other_side() -> None:
    places = facts_of(BACK_OF_A_WALL).places
    assert places.room("room_one").length("WB") / INCH == pytest.approx(96 - 0.625)
    assert places.room("room_two").length("RB") / INCH == pytest.approx(96 - 0.5)


def test_two_walls_that_are_each_the_back_of_the_other_have_no_layers() -> None:
    text = BACK_OF_A_WALL.replace(
        "WC: {length: 10 ft, assembly: A1}", "WC: {length: 10 ft, back_of: RA}"
    )
    assert facts_of(text).places.room("room_two").length("RB") / INCH == pytest.approx(96)
