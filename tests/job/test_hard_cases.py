"""Cases that are hard to write down: each reads whole, resolves, is placed where it should be."""

from __future__ import annotations

from pathlib import Path

import pytest
from shapely.geometry import Polygon

from spec.compose.blocks import Table
from spec.compose.context import Reader
from spec.compose.parts.finishes import finish_schedule
from spec.derive.figure import Facts
from spec.job.node import Node
from spec.job.raw import State
from spec.pipeline import check_file

FILES = sorted(Path(__file__).with_name("hard_cases").glob("*.yaml"))
INCH = 0.0254


def facts(name: str) -> Facts:
    path = next(path for path in FILES if path.stem.endswith(name))
    return check_file(path, so_far=True, shown_as=path.name).facts


def thing(known: Facts, mark: str) -> Node:
    found = known.job.thing(mark)
    assert found is not None
    return found


def inches(known: Facts, mark: str) -> list[float]:
    """Left, bottom, right and top of a thing on its wall."""
    rect = known.places.rect(thing(known, mark)).rect
    return [round(x / INCH, 4) for x in (rect.left, rect.bottom, rect.right, rect.top)]


def test_there_is_a_file_for_each_case() -> None:
    assert [path.stem[:2] for path in FILES] == [f"{n:02}" for n in range(1, 15)]


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_it_reads_and_resolves_with_nothing_to_say(path: Path) -> None:
    checked = check_file(path, so_far=True, shown_as=path.name)
    said = [f"{f.place}: {f.message} [{f.rule}]" for f in checked.job.findings]
    assert not said
    failed = [f for f in checked.findings if f.rule.startswith(("check.", "envelope.not-placed"))]
    assert not failed, failed[0].message


def test_a_slope_from_wall_to_wall_and_a_ridge() -> None:
    known = facts("sloped_ceiling")
    sloped, ridged = known.places.room("sloped_room"), known.places.room("ridged_room")
    assert sloped.height_at("WB", 60 * INCH) / INCH == pytest.approx(97)
    assert sloped.volume / INCH**3 == pytest.approx(144 * 120 * 97)
    assert ridged.height_at("YB", 54 * INCH) / INCH == pytest.approx(132)
    assert ridged.height_at("YA", 72 * INCH) / INCH == pytest.approx(84)
    assert ridged.height_at("YD", 27 * INCH) / INCH == pytest.approx((84 + 132) / 2)
    assert ridged.wall_area("YB") / INCH**2 == pytest.approx(108 * (84 + 132) / 2)
    assert ridged.volume / INCH**3 == pytest.approx(144 * 108 * (84 + 132) / 2)
    assert known.job.state("open_room.height") == "open"


def test_an_l_shape_closes_and_its_niche_has_a_place() -> None:
    known = facts("l_shape_and_niche")
    room = known.places.room("room_one")
    assert room.area / INCH**2 == pytest.approx(144 * 72 + 96 * 48, rel=1e-3)
    assert room.taping is not None and room.taping.error < 0.001
    assert inches(known, "NI1") == pytest.approx([36, 36, 60, 76])


def test_a_room_out_of_square_closes_and_things_stay_square_off_its_walls() -> None:
    known = facts("out_of_square")
    room = known.places.room("room_one")
    assert room.taping is not None and room.taping.checked and room.taping.error < 0.001
    assert room.corners[1][0] / INCH == pytest.approx(120)
    assert abs(room.corners[3][0]) / INCH > 0.1  # the left corner is not square
    (outline,) = known.places.plan(thing(known, "L1")).outlines
    middle = (sum(x for x, _ in outline) / 4, sum(y for _, y in outline) / 4)
    assert -middle[1] / INCH == pytest.approx(30)


def test_a_wall_shared_along_part_of_its_length() -> None:
    known = facts("shared_wall")
    back = thing(known, "TD")
    (door,) = known.places.seen_from(back)
    assert door.node.key == "D1" and door.rect.center / INCH == pytest.approx(38)
    assert known.places.room("room_one").length("WB1") / INCH == pytest.approx(48)
    assert inches(known, "R1")[2] == pytest.approx(48)
    assert thing(known, "VA").si("lines_up.left") / INCH == pytest.approx(74)


def test_doors_of_several_parts_have_their_rough_opening() -> None:
    known = facts("doors_of_parts")
    assert inches(known, "D1") == pytest.approx([20, 0, 20 + 36 + 14, 80 + 14])
    assert inches(known, "D2") == pytest.approx([20, 0, 20 + 30 + 14 + 0.25, 80])
    assert thing(known, "D2a").si("width") / INCH == pytest.approx(30)


def test_an_island_stands_on_the_floor_and_its_sides_have_their_pieces() -> None:
    known = facts("island")
    assert known.places.stack_left_over(thing(known, "racks")) is None
    (outline,) = known.places.plan(thing(known, "IS1")).outlines
    xs, ys = [x / INCH for x, _ in outline], [y / INCH for _, y in outline]
    assert (min(xs), max(xs)) == pytest.approx((40, 100))
    assert (min(ys), max(ys)) == pytest.approx((-70, -42))
    sides = thing(known, "IS1").at("sides")
    assert list(sides.children) == ["WA", "WC"] and thing(known, "R2").kind == "racks"


def test_pieces_round_corners_take_their_part_of_both_walls() -> None:
    known = facts("round_the_corner")
    assert inches(known, "R2")[::2] == pytest.approx([94, 120])
    assert inches(known, "R3")[::2] == pytest.approx([26, 90])
    assert inches(known, "R4")[::2] == pytest.approx([90, 120])
    assert inches(known, "R5")[::2] == pytest.approx([14, 120])


def test_one_driver_in_two_rooms_and_one_dimmer_with_two_drivers() -> None:
    known = facts("strips_and_drivers")
    fed = {t.key: t.word("fed_from") for t in known.job.things("strip", "decoder", "driver")}
    assert fed == {"LS1": "DC1", "LS2": "PS2", "LS3": "DC1", "DC1": "PS1", "PS1": "S1", "PS2": "S1"}
    assert thing(known, "LS1").room != thing(known, "LS3").room


def test_a_wainscot_is_two_finishes_with_a_line_between() -> None:
    known = facts("bands_and_patches")
    (table,) = finish_schedule(Reader(known, ()))
    assert isinstance(table, Table)
    wall = [row for row in table.rows if row.cells[0].startswith("wall WA")]
    assert [row.cells[1] for row in wall] == ["F11 Oil", "F1 Lime"]
    assert all("42 in" in row.cells[0] for row in wall)
    assert inches(known, "O1") == pytest.approx([48, 0, 96, 84])


def test_a_piece_through_two_tiers_keeps_its_place_in_both() -> None:
    known = facts("piece_through_tiers")
    assert inches(known, "R15") == pytest.approx([40, 0, 70, 108])
    lower, upper = known.places.runs(thing(known, "WA"))
    left = {run.node.key: [p.left / INCH for p in run.pieces] for run in (lower, upper)}
    assert left["lower"] == pytest.approx([0, 40, 70])
    assert left["upper"] == pytest.approx([0, 40, 70])
    passed = known.job.find("WA.upper.R15")
    assert passed is not None and passed.value == "continues"
    assert known.job.find("R15.width") is not None


def test_columns_and_beams_have_an_outline() -> None:
    known = facts("things_in_the_way")
    for mark, area in (("X1", 144), ("X2", 168 * 8)):
        (outline,) = known.places.plan(thing(known, mark)).outlines
        assert Polygon(outline).area / INCH**2 == pytest.approx(area)
    assert thing(known, "SF1").kind == "soffit"
    assert known.places.stack_left_over(thing(known, "racks")) == pytest.approx(0, abs=1e-9)


def test_each_alternative_has_its_own_facts() -> None:
    known = facts("alternatives")
    state = known.job.find("bar.counter")
    assert state is not None and isinstance(state.state, State)
    assert (state.state.choices, state.state.chosen) == (("stone", "oak"), "oak")
    assert thing(known, "bar").word("counter.material") == "white_oak"


def test_an_override_of_a_course_is_seen_at_its_piece() -> None:
    known = facts("defaults")
    rows = known.job.find("R12.rows")
    assert rows is not None and rows.written == "7"
    assert thing(known, "racks").count("lower.rows") == 8
    assert thing(known, "room_one").count("tally.receptacles") == 2


def test_what_is_behind_a_piece_is_not_copied() -> None:
    known = facts("like_and_places")
    assert thing(known, "B4").word("back") == "closed"
    assert known.job.find("B5.back") is None and thing(known, "B5").count("doors") == 2
    assert inches(known, "B5")[::2] == pytest.approx([90, 120])
