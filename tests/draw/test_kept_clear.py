"""No text across a strip, a rail, a top or the datum line; marks of walls clear of dimensions."""

from __future__ import annotations

from functools import cache

import pytest

from spec import files
from spec.compose import readers
from spec.draw.elevation import elevation
from spec.draw.paper import meet
from spec.draw.plan import floor_plan
from spec.draw.scene import Circle, Dimension, Label, Polyline
from spec.pipeline import Checked, check_file


@cache
def checked(job: str) -> Checked:
    return check_file(files.templates() / "jobs" / job / "job.yaml")


def own(job: str, trade: str) -> list[str]:
    reader = next(r for r in readers(checked(job)) if r.trade == trade)
    return [thing.address for thing in reader.own_work]


@pytest.mark.parametrize("mark", ["RC1", "RC2"])
def test_a_receptacle_s_words_stand_clear_of_the_datum_line_and_the_strip(mark: str) -> None:
    known = checked("garden_store")
    wall = known.job.thing("TC")
    assert wall is not None
    scene = elevation(known.facts, wall, own("garden_store", "electrical"))
    datum = next(
        s for s in scene.shapes if isinstance(s, Polyline) and "datum.line.above" in s.cites
    )
    level = datum.points[0][1]
    (label,) = [s for s in scene.shapes if isinstance(s, Label) and s.text.startswith(mark)]
    per = max(p[0] for p in datum.points) / 150.0
    half = label.height * 2 * per
    low, high = label.at[1] - half, label.at[1] + half
    assert not low < level < high
    strip = known.facts.places.rect(known.job.find("LS5")).rect.top * 1000  # type: ignore[arg-type]
    assert not low < strip < high


def test_the_mark_of_a_wall_in_a_notch_stands_clear_of_the_other_walls_dimensions() -> None:
    known = checked("city_flat")
    room = known.job.find("tasting_room")
    assert room is not None
    scene = floor_plan(known.facts, room, own("city_flat", "millwork"))
    circles = [s for s in scene.shapes if isinstance(s, Circle) and s.cites == {"TP"}]
    (mark,) = circles
    (x, y), r = mark.center, mark.radius
    for chain in (s for s in scene.shapes if isinstance(s, Dimension)):
        (ax, ay), (bx, by) = chain.start, chain.end
        long = max(abs(bx - ax), abs(by - ay))
        dx, dy = -(by - ay) / long * chain.offset, (bx - ax) / long * chain.offset
        xs, ys = sorted((ax + dx, bx + dx)), sorted((ay + dy, by + dy))
        line = (xs[0] - 1, ys[0] - 1, xs[1] + 1, ys[1] + 1)
        assert not meet((x - r, y - r, x + r, y + r), line), chain.text


def test_a_depth_is_a_line_without_a_figure_and_a_label_beside_it() -> None:
    known = checked("city_flat")
    room = known.job.find("tasting_room")
    assert room is not None
    scene = floor_plan(known.facts, room, own("city_flat", "millwork"))
    (depth,) = [s for s in scene.shapes if isinstance(s, Dimension) and not s.text]
    (label,) = [s for s in scene.shapes if isinstance(s, Label) and s.text == "580 mm"]
    assert label.cites == depth.cites
