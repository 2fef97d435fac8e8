"""Whatever the text, reading gives a tree or one refusal; findings and places stay inside it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as some

from spec.finding import Place
from spec.read import Mapping, Node, Scalar, Sequence, Source, Unreadable, Unusable, read_text

DICTATION = (Path(__file__).parent / "data" / "first_dictation.yaml").read_text(encoding="utf-8")
LINES = DICTATION.split("\n")
PIECES = some.sampled_from(
    [
        *"a{}[]:\"'&*!|>%@?\\é😀~\t\n\x00\u2028",
        *("b: ", "- ", "  ", ", ", ": ", " #2", " # x", "---\n", "...\n", "\n  "),
    ]
)


def nodes(root: Node) -> Iterator[Node]:
    waiting = [root]
    while waiting:
        node = waiting.pop()
        yield node
        if isinstance(node, Mapping):
            waiting += [entry.value for entry in node.entries]
        elif isinstance(node, Sequence):
            waiting += node.items


def read_or_refused(text: str) -> Source | None:
    try:
        source = read_text(text, "job.yaml")
    except Unusable as refusal:
        assert_inside(refusal.finding.place, text)
        assert refusal.finding.cure
        return None
    lines = source.text.split("\n")
    for finding in source.findings:
        assert finding.message
        assert finding.cure
        for spot in finding.spots:
            assert_inside(spot.place, source.text)
    for node in nodes(source.root):
        assert_inside(node.place, source.text)
        line = lines[node.place.line - 1][node.place.column - 1 :]
        if isinstance(node, Scalar) and node.text and not node.quoted and not node.absent:
            assert line.startswith(node.text.split()[0][:1])
        if isinstance(node, Unreadable):
            assert node.written
    return source


def assert_inside(place: Place, text: str) -> None:
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    assert 1 <= place.line <= len(lines)
    assert 1 <= place.column <= len(lines[place.line - 1]) + 1


@settings(max_examples=200, deadline=None)
@given(some.lists(PIECES, max_size=40).map("".join))
def test_any_mixture_of_yaml_signs(text: str) -> None:
    read_or_refused(text)


@settings(max_examples=100, deadline=None)
@given(some.text(max_size=60))
def test_any_text(text: str) -> None:
    read_or_refused(text)


@settings(max_examples=25, deadline=None)
@given(some.integers(0, len(LINES) - 1), some.data())
def test_a_sign_more_or_less_in_one_line_leaves_the_rest(
    number: int, data: some.DataObject
) -> None:
    line = LINES[number]
    column = data.draw(some.integers(0, len(line)))
    piece = data.draw(some.one_of(some.just(""), PIECES))
    text = "\n".join(
        [*LINES[:number], line[:column] + piece + line[column + 1 :], *LINES[number + 1 :]]
    )
    source = read_or_refused(text)
    if source is not None and number < 400 and "\n" not in piece:
        named = {finding.place.line for finding in source.findings}
        assert {443, 444, 468} <= named, "the slips far below are named all the same"
