"""Labels find a place of their own whatever they are asked to name."""

from __future__ import annotations

from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st

from spec.draw.label import OWN, QUIET, Wish, extent, labels
from spec.draw.paper import Box, Paper
from spec.draw.scene import Label, Polyline
from spec.render import fonts
from spec.render.marks import Words, box, overlap

PAPER = Paper(20.0)
NONE: frozenset[str] = frozenset()

places = st.tuples(st.integers(0, 2600), st.integers(0, 2600))
sizes = st.tuples(st.integers(30, 900), st.integers(30, 900))
texts = st.sampled_from(["R1", "RC12", "P1\n48 in AFF", "curved corner", "BK2 2x8", "D1"])


@st.composite
def wishes(draw: st.DrawFn) -> list[Wish]:
    found = []
    for _ in range(draw(st.integers(1, 14))):
        (x, y), (w, h) = draw(places), draw(sizes)
        room: Box = (x, y, x + w, y + h)
        own = draw(st.booleans())
        found.append(Wish(draw(texts), room, NONE, own, tagged=own, inside=draw(st.booleans())))
    return found


def on_paper(label: Label) -> list[Words]:
    size = label.height / fonts.metrics().capital_height
    lines = label.text.split("\n")
    found = []
    for i, text in enumerate(lines):
        y = label.at[1] / PAPER.per - size * 1.25 * (i - (len(lines) - 1) / 2)
        found.append(
            Words((label.at[0] / PAPER.per, y), text, size, "middle", label.angle, label.strong)
        )
    return found


@settings(max_examples=60, deadline=None)
@given(wishes())
def test_no_label_over_another(asked: list[Wish]) -> None:
    placed = [s for s in labels(asked, PAPER) if isinstance(s, Label)]
    assert len(placed) == len(asked)
    for one, two in combinations(placed, 2):
        if one.angle or two.angle:
            continue
        for a in on_paper(one):
            for b in on_paper(two):
                assert not overlap(box(a), box(b))


def test_a_text_with_room_stands_in_what_it_names() -> None:
    (label,) = labels([Wish("R9", (0, 0, 800, 800), NONE, own=True)], PAPER)
    assert isinstance(label, Label)
    assert label.at == (400, 400)


def test_a_tag_without_room_is_led_to_what_it_names() -> None:
    shapes = list(labels([Wish("R18", (0, 0, 38, 800), NONE, own=True, tagged=True)], PAPER))
    leader = next(s for s in shapes if isinstance(s, Polyline))
    assert leader.points[0] == (19, 400)


def test_a_narrow_thing_gets_its_quiet_text_upright() -> None:
    shapes = list(labels([Wish("R18", (0, 0, 80, 800), NONE, own=False)], PAPER))
    assert [s.angle for s in shapes if isinstance(s, Label)] == [90.0]


def test_the_room_kept_for_a_text_is_never_too_small() -> None:
    for text in ("R9", "hinges left, from here", "MWM 4x8", "rough opening 66-1/4 in x 6' 10\""):
        for height, strong in ((OWN, True), (QUIET, False)):
            size = height / fonts.metrics().capital_height
            needed = fonts.width(text, size, "bold" if strong else "regular")
            assert extent(text, height, strong)[0] >= needed
