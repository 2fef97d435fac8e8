"""A lead's first evening: 545 lines with 57 slips of typing. One run names them all."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from spec.finding import Level
from spec.read import Mapping, Node, Source, Unreadable, read

FILE = Path(__file__).parent / "data" / "first_dictation.yaml"

COMMA = "reading.comma-cut-a-sentence"
PIECES_CUT_OFF = {
    28: 2, 56: 1, 58: 1, 107: 1, 110: 1, 170: 1, 179: 1, 277: 1, 319: 1, 340: 1, 392: 1,
    431: 2, 463: 1, 468: 1, 501: 2, 502: 3, 503: 2, 511: 3, 522: 1, 538: 1, 541: 2,
}  # fmt: skip
OTHERS = {
    66: "reading.list-with-unit",
    67: "reading.list-with-unit",
    302: "reading.key-with-blanks",
    310: "reading.key-with-blanks",
    339: "reading.key-with-blanks",
    357: "reading.comma-in-a-list",
    443: "reading.key-is-no-word",
    444: "reading.key-is-no-word",
}


@pytest.fixture(scope="module")
def source() -> Source:
    return read(FILE, "first_dictation.yaml")


def at(source: Source, *keys: str) -> Node | None:
    node: Node | None = source.root
    for key in keys:
        assert isinstance(node, Mapping)
        node = node.get(key)
    return node


def test_every_slip_is_named_at_its_line_and_nothing_else(source: Source) -> None:
    named = [(finding.place.line, finding.rule) for finding in source.findings]
    cuts = [line for line, rule in named if rule == COMMA]
    assert Counter(cuts) == Counter({line: 2 if line == 502 else 1 for line in PIECES_CUT_OFF})
    assert dict(pair for pair in named if pair[1] != COMMA) == OTHERS
    assert len(named) == len(PIECES_CUT_OFF) + 1 + len(OTHERS)


@pytest.mark.parametrize(("line", "pieces"), PIECES_CUT_OFF.items())
def test_every_piece_that_a_comma_cut_off_is_shown(source: Source, line: int, pieces: int) -> None:
    found = [each for each in source.findings if each.rule == COMMA and each.place.line == line]
    halves = [each.message.split(": put it in quotes")[0].count("`") // 2 for each in found]
    assert sum(halves) - len(found) == pieces
    for each in found:
        sentence = each.cure.split('"')
        assert len(sentence) >= 3, "the cure shows the sentence in quotes"


def test_only_the_hanging_item_of_a_list_is_a_note(source: Source) -> None:
    notes = [each.place.line for each in source.findings if each.level is not Level.ERROR]
    assert notes == [357]


def test_the_door_of_a_cold_room_keeps_its_sentence(source: Source) -> None:
    door = ("rooms", "tasting_room", "walls", "P2", "D1")
    lockset = at(source, *door, "lockset")
    assert isinstance(lockset, Mapping)
    assert [entry.key for entry in lockset.entries] == ["function", "pull"]
    function = lockset.get("function")
    assert isinstance(function, Unreadable)
    assert function.written == "passage, always opens from inside"
    finding = next(each for each in source.findings if each.place.line == 340)
    assert "`function: passage`" in finding.message
    assert "`always opens from inside`" in finding.message
    assert "put it in quotes or on its own line" in finding.message
    assert "lockset: {function: passage, always opens from inside, pull: H2}" in finding.message
    assert 'lockset: {function: "passage, always opens from inside", pull: H2}' in finding.cure


def test_a_list_with_a_unit_is_shown_as_a_series_and_reading_goes_on(source: Source) -> None:
    finding = next(each for each in source.findings if each.place.line == 66)
    assert "a list cannot carry a unit" in finding.message
    assert "monthly_temperature: -5 -5 -1 5 11 15 18 17 12 6 1 -3 °C" in finding.cure
    humidity = at(source, "climate", "monthly_humidity")
    assert isinstance(humidity, Unreadable)
    assert humidity.place.line == 67
    assert humidity.written.endswith("] %")
    assert at(source, "record", "2026-10-21") is not None


def test_the_text_is_kept_as_it_was_written(source: Source) -> None:
    assert source.text == FILE.read_text(encoding="utf-8")
    assert source.name == "first_dictation.yaml"
