"""A scene on paper: its size, its letters, its figures, and the same text every time."""

from __future__ import annotations

import re
from itertools import pairwise
from xml.etree import ElementTree

import pytest

from spec.draw.scene import Circle, Dimension, Label, Polygon, Scene
from spec.render.marks import Words, box, overlap
from spec.render.paper import lay_out
from spec.render.pdf import png
from spec.render.svg import draw
from tests.render.sample import elevation, rectangle

SVG = "{http://www.w3.org/2000/svg}"


def test_the_wish_for_width_is_kept_and_never_passed() -> None:
    drawing = draw(elevation())
    assert drawing.width == pytest.approx(170, abs=0.5)
    narrow = draw(Scene(elevation().shapes, width_on_paper=90))
    assert narrow.width <= 90
    assert draw(elevation(), widest=120).width <= 120


def test_a_tall_scene_stays_on_the_page() -> None:
    tower = Scene((Polygon(rectangle(0, 0, 400, 9000)), Dimension((0, 0), (0, 9000), "9 m", 300)))
    drawing = draw(tower)
    assert drawing.height <= 195
    assert drawing.width < 60


@pytest.mark.parametrize("height", [0.1, 0.5, 1.0, 2.5])
def test_no_letters_are_smaller_than_six_points(height: float) -> None:
    scene = Scene((*elevation().shapes, Label((0, 0), "tiny", height)), width_on_paper=60)
    root = ElementTree.fromstring(draw(scene).svg)
    sizes = [float(text.get("font-size", "0")) for text in root.iter(f"{SVG}text")]
    assert min(sizes) >= round(6 * 25.4 / 72, 2)


def test_everything_is_inside_the_picture() -> None:
    sheet = lay_out(elevation())
    corners = [corner for mark in sheet.marks if isinstance(mark, Words) for corner in box(mark)]
    assert all(sheet.low[0] <= x <= sheet.high[0] for x, _ in corners)
    assert all(sheet.low[1] <= y <= sheet.high[1] for _, y in corners)


def test_figures_of_a_crowded_chain_stay_clear_of_each_other() -> None:
    edges = [0, 40, 75, 130, 170, 900, 960, 990, 2400]
    chain = tuple(Dimension((a, 0), (b, 0), f"{b - a} ±1", 150) for a, b in pairwise(edges))
    sheet = lay_out(Scene((Polygon(rectangle(0, -800, 2400, 800)), *chain)))
    words = [mark for mark in sheet.marks if isinstance(mark, Words)]
    assert len(words) == len(chain)
    for index, one in enumerate(words):
        assert not any(overlap(box(one), box(other)) for other in words[index + 1 :])


def test_text_runs_readable_from_below_and_from_the_right() -> None:
    ways = [((0, 0), (0, 500)), ((0, 500), (0, 0)), ((900, 0), (0, 0)), ((500, 500), (0, 0))]
    ways += [((0, 0), (3, 500)), ((0, 500), (3, 0)), ((3, 500), (0, 0)), ((3, 0), (0, 500))]
    scene = Scene(tuple(Dimension(a, b, "x", 0) for a, b in ways))
    angles = [mark.angle for mark in lay_out(scene).marks if isinstance(mark, Words)]
    assert angles[2] == pytest.approx(0, abs=0.01)
    assert angles[3] == pytest.approx(45)
    assert [*angles[:2], *angles[4:]] == pytest.approx([90] * 6, abs=0.5)


def test_a_positive_offset_lies_to_the_left_of_the_way() -> None:
    flat = Scene((Polygon(rectangle(0, 0, 1000, 10)), Dimension((0, 10), (1000, 10), "x", 200)))
    sheet = lay_out(flat)
    (figure,) = [mark for mark in sheet.marks if isinstance(mark, Words)]
    assert figure.at[1] > 200 * sheet.scale


def test_text_is_text() -> None:
    root = ElementTree.fromstring(draw(Scene((Label((0, 0), '<script>&"{{ 7*7 }}'),))).svg)
    assert [text.text for text in root.iter(f"{SVG}text")] == ['<script>&"{{ 7*7 }}']
    assert not list(root.iter(f"{SVG}script"))


def test_the_same_scene_gives_the_same_text() -> None:
    first = draw(elevation()).svg
    assert first == draw(elevation()).svg
    assert not re.search(r"-0[\" ,]|nan|inf|e-\d", first)


@pytest.mark.parametrize(
    "scene",
    [
        Scene(()),
        Scene((Label((5, 5), ""),)),
        Scene((Circle((0, 0), 0),)),
        Scene((Dimension((0, 0), (0, 0), "0"),)),
    ],
)
def test_an_empty_scene_is_a_small_picture(scene: Scene) -> None:
    drawing = draw(scene)
    assert 0 < drawing.width < 170
    assert png(drawing).startswith(b"\x89PNG")
