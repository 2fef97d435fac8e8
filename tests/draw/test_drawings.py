"""What every drawing of every order owes its reader."""

from __future__ import annotations

import os
import subprocess
import sys
from collections import defaultdict
from itertools import combinations

import pytest

from spec.compose.context import trades_with_work
from spec.draw.elevation import elevation
from spec.draw.plan import ceiling_plan, floor_plan
from spec.draw.scene import Circle, Dimension, Label, Polygon, Polyline, Scene
from spec.draw.seen import view
from spec.job.node import Node
from spec.render.marks import Words, box, overlap
from spec.render.paper import lay_out

from .conftest import JOBS, Drawn, checked, reader

MM = 1000.0


def words_of(scene: Scene) -> list[Words]:
    return [mark for mark in lay_out(scene).marks if isinstance(mark, Words)]


def test_no_two_labels_lie_over_each_other(pictures: tuple[Drawn, ...]) -> None:
    colliding = []
    for drawn in pictures:
        said = _lines(drawn.picture.scene)
        words = [w for w in words_of(drawn.picture.scene) if w.text in said]
        for one, two in combinations(words, 2):
            if overlap(box(one), box(two)):
                colliding.append(f"{drawn}: {one.text} over {two.text}")
    assert not colliding


def _lines(scene: Scene) -> set[str]:
    return {line for s in scene.shapes if isinstance(s, Label) for line in s.text.split("\n")}


def test_no_figure_lies_over_a_label(pictures: tuple[Drawn, ...]) -> None:
    colliding = []
    for drawn in pictures:
        scene = drawn.picture.scene
        figures = {s.text for s in scene.shapes if isinstance(s, Dimension)}
        words = words_of(scene)
        for one, two in combinations(words, 2):
            mixed = (one.text in figures) != (two.text in figures)
            if mixed and overlap(box(one), box(two)):
                colliding.append(f"{drawn}: {one.text} over {two.text}")
    assert not colliding


def test_everything_drawn_stays_on_the_sheet(pictures: tuple[Drawn, ...]) -> None:
    for drawn in pictures:
        sheet = lay_out(drawn.picture.scene)
        assert sheet.width <= 170.01, drawn
        assert sheet.height <= 195.01, drawn
        assert sheet.scale > 1 / 80, f"{drawn}: too small to read"


@pytest.mark.parametrize("job", JOBS)
def test_everything_of_a_reader_on_a_wall_is_dimensioned(job: str) -> None:
    bare = []
    for trade in trades_with_work(checked(job).job):
        own = reader(job, trade)
        wanted = frozenset(t.address for t in own.own_work)
        for wall in own.job.walls:
            things = view(own.facts, wall, wanted, finished=False).own
            if not things:
                continue
            scene = elevation(own.facts, wall, wanted)
            stated = _stated(scene)
            bare += [
                f"{trade}: {t.node.address} on {wall.key}"
                for t in things
                if t.node.address not in stated and t.node.find("along") is None and not t.turned
            ]
    assert not bare


def _stated(scene: Scene) -> frozenset[str]:
    """What dimensions state, and labels that give a height."""
    return frozenset().union(
        *(
            s.cites
            for s in scene.shapes
            if isinstance(s, Dimension) or (isinstance(s, Label) and s.text.endswith("AFF"))
        )
    )


@pytest.mark.parametrize("job", JOBS)
def test_chains_along_a_wall_add_up_to_it(job: str) -> None:
    checked_rows = 0
    for trade in trades_with_work(checked(job).job):
        own = reader(job, trade)
        wanted = [t.address for t in own.own_work]
        for wall in own.job.walls:
            scene = elevation(own.facts, wall, wanted)
            length = own.places.length(wall) * MM
            rows: dict[tuple[float, float], float] = defaultdict(float)
            for s in scene.shapes:
                if isinstance(s, Dimension) and s.start[1] == s.end[1]:
                    rows[(s.start[1], s.offset)] += s.end[0] - s.start[0]
            for total in rows.values():
                assert total == pytest.approx(length, abs=0.01), f"{trade}: {wall.key}"
            checked_rows += len(rows)
    assert checked_rows > 20


def test_every_citation_is_an_address_of_the_job(pictures: tuple[Drawn, ...]) -> None:
    unknown = set()
    for drawn in pictures:
        job = checked(drawn.job).job
        for address in drawn.picture.scene.cites:
            if job.find(address) is None:
                unknown.add((str(drawn), address))
    # An address that was looked up and is not there is cited where an omission waits for it.
    assert not {a for _, a in unknown if "." not in a}


def test_a_shape_that_shows_a_thing_cites_it(pictures: tuple[Drawn, ...]) -> None:
    for drawn in pictures:
        for s in drawn.picture.scene.shapes:
            if isinstance(s, Label | Dimension) and s.text != "N":
                assert s.cites, f"{drawn}: {s.text} cites nothing"


def test_two_runs_draw_the_same() -> None:
    code = (
        "from spec import files, pipeline\n"
        "from spec.compose.context import Reader\n"
        "from spec.compose.parts.drawings import drawings\n"
        "from spec.render.svg import draw\n"
        "import hashlib\n"
        "c = pipeline.check_file(files.templates() / 'jobs' / 'garden_store' / 'job.yaml')\n"
        "h = hashlib.sha256()\n"
        "for trade in ('millwork', 'electrical'):\n"
        "    for b in drawings(Reader(c.facts, c.findings, trade)):\n"
        "        if hasattr(b, 'scene'):\n"
        "            h.update(draw(b.scene).svg.encode())\n"
        "            h.update(repr(sorted(b.cites)).encode())\n"
        "print(h.hexdigest())\n"
    )
    digests = {
        subprocess.run(
            [sys.executable, "-c", code],
            env={**os.environ, "PYTHONHASHSEED": seed},
            check=True,
            capture_output=True,
            text=True,
        ).stdout
        for seed in ("1", "2")
    }
    assert len(digests) == 1


# ------------------------------------------------------------------ single drawings


def wall_of(job: str, name: str) -> Node:
    wall = checked(job).job.thing(name)
    assert wall is not None
    return wall


def texts(scene: Scene) -> set[str]:
    return {s.text for s in scene.shapes if isinstance(s, Label | Dimension)}


def test_a_device_says_its_height_above_the_finished_floor() -> None:
    scene = elevation(checked("garden_store").facts, wall_of("garden_store", "TB"), ["P2"])
    label = next(s for s in scene.shapes if isinstance(s, Label) and s.text.startswith("P2"))
    assert label.text == "P2\n48 in AFF"
    assert {"P2", "P2.aff"} <= label.cites


def test_a_rack_shows_one_bottle_for_every_cell() -> None:
    facts = checked("garden_store").facts
    scene = elevation(facts, wall_of("garden_store", "WC"), ["R4"])
    bottles = [s for s in scene.shapes if isinstance(s, Circle) and s.cites == {"R4"}]
    assert len(bottles) == 12 * 8
    diameter = facts.job.find("single.diameter")
    assert diameter is not None
    assert bottles[0].radius * 2 == pytest.approx(3.125 * 25.4)


def test_what_is_not_the_readers_is_drawn_without_bottles() -> None:
    scene = elevation(checked("garden_store").facts, wall_of("garden_store", "WC"), ["LS1"])
    assert not [s for s in scene.shapes if isinstance(s, Circle) and "R4" in s.cites]


def test_a_leaf_hangs_on_the_other_side_seen_from_the_other_room() -> None:
    facts = checked("garden_store").facts
    here = elevation(facts, wall_of("garden_store", "WB"), ["D1"])
    there = elevation(facts, wall_of("garden_store", "TD"), ["D1"])
    assert any("hinges left" in t for t in texts(here))
    assert any("hinges right" in t for t in texts(there))


def test_who_takes_out_sees_the_wall_as_it_is_found() -> None:
    facts = checked("garden_store").facts
    scene = elevation(facts, wall_of("garden_store", "WC"), ["X4"])
    assert "X4" in scene.cites
    assert not {"R4", "BK2"} & scene.cites


def test_the_finished_wall_hides_what_is_behind_it() -> None:
    facts = checked("garden_store").facts
    scene = elevation(facts, wall_of("garden_store", "WA"), [], finished=True)
    assert {"R9", "LD1"} <= scene.cites
    assert not {"BK1", "X3"} & scene.cites


def test_a_grid_of_luminaires_is_set_out_from_both_walls() -> None:
    facts = checked("garden_store").facts
    room = facts.job.thing("wine_room")
    assert room is not None
    scene = ceiling_plan(facts, room, ["L1"])
    figures = [s for s in scene.shapes if isinstance(s, Dimension) and "L1" in s.cites]
    assert sorted(s.text for s in figures).count("40 in") == 3
    assert "north" in " ".join(scene.cites)


def room_of(name: str) -> Node:
    room = checked("garden_store").job.thing(name)
    assert room is not None
    return room


def test_a_leaf_swings_into_the_room_that_it_opens_into() -> None:
    facts = checked("garden_store").facts
    for name, inside in (("wine_room", False), ("tasting_room", True)):
        scene = floor_plan(facts, room_of(name), ["D1"])
        arc = next(
            s
            for s in scene.shapes
            if isinstance(s, Polyline) and s.cites == {"D1"} and len(s.points) > 5
        )
        xs = [x * MM for x, _ in facts.places.room(name).corners]
        ended_inside = min(xs) < arc.points[-1][0] < max(xs)
        assert ended_inside is inside


def test_north_is_up_where_the_first_wall_looks_north() -> None:
    facts = checked("garden_store").facts
    for name in ("wine_room", "tasting_room"):
        scene = floor_plan(facts, room_of(name), [])
        arrow = [s for s in scene.shapes if isinstance(s, Polyline) and "job.site.north" in s.cites]
        (tail, tip) = arrow[0].points
        assert tip[1] - tail[1] > 10 * abs(tip[0] - tail[0])


def test_a_curved_corner_leaves_the_middle_of_the_room_free() -> None:
    facts = checked("garden_store").facts
    scene = floor_plan(facts, room_of("wine_room"), ["R6"])
    corner = next(s for s in scene.shapes if isinstance(s, Polygon) and s.cites == {"R6"})
    area = 0.0
    for (x1, y1), (x2, y2) in zip(
        corner.points, (*corner.points[1:], corner.points[0]), strict=True
    ):
        area += (x1 * y2 - x2 * y1) / 2
    turns, depth = 33 * 25.4, 26 * 25.4
    cut = (turns - depth) ** 2
    quarter = cut * 3.14159 / 4
    assert abs(area) == pytest.approx(turns**2 - quarter, rel=0.01)


def test_the_datum_line_is_drawn_where_it_is_marked() -> None:
    facts = checked("garden_store").facts
    marked = elevation(facts, wall_of("garden_store", "WA"), ["BK1"])
    unmarked = elevation(facts, wall_of("garden_store", "WB"), ["D1"])
    assert "datum 48 in" in texts(marked)
    assert "datum 48 in" not in texts(unmarked)


def test_an_oblong_hole_is_drawn_as_it_is_cut() -> None:
    """H2 takes a machine through the wall: 26 in x 16 in, no circle."""
    facts = checked("supper_club").facts
    wall = facts.job.thing("WA")
    assert wall is not None
    shapes = [s for s in elevation(facts, wall, ()).shapes if "H2" in getattr(s, "cites", ())]
    assert shapes and not any(isinstance(s, Circle) for s in shapes)
    (outline,) = (s for s in shapes if isinstance(s, Polygon))
    xs, ys = zip(*outline.points, strict=True)
    assert (max(xs) - min(xs)) / 25.4 == pytest.approx(26)
    assert (max(ys) - min(ys)) / 25.4 == pytest.approx(16)
