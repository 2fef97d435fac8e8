"""YAML's traps: each is named at its place, shown as written and as it should be."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from spec.finding import Finding, Level
from spec.read import Mapping, Node, Scalar, Sequence, Unreadable, read_text


def plain(node: Node) -> object:
    """A tree as dicts, lists and texts; `?` before what could not be read, None for nothing."""
    if isinstance(node, Mapping):
        return {entry.key: plain(entry.value) for entry in node.entries}
    if isinstance(node, Sequence):
        return [plain(item) for item in node.items]
    if isinstance(node, Unreadable):
        return f"?{node.written}"
    return None if node.absent else node.text


@dataclass(frozen=True)
class Case:
    text: str
    rule: str
    at: tuple[int, int]
    told: str
    cure: str
    tree: object


CASES = [
    Case(
        "door: {lockset: {function: passage, opens from inside, pull: H2}}",
        "comma-cut-a-sentence", (1, 37),
        "`function: passage` and `opens from inside`: put it in quotes or on its own line",
        'function: "passage, opens from inside", pull: H2',
        {"door": {"lockset": {"function": "?passage, opens from inside", "pull": "H2"}}},
    ),
    Case(
        "a: {keys: roof,\n    shut-offs, lift: yes}",
        "comma-cut-a-sentence", (2, 5), "`keys: roof` and `shut-offs`",
        '{keys: "roof, shut-offs", lift: yes}', {"a": {"keys": "?roof, shut-offs", "lift": "yes"}},
    ),
    Case(
        'a: {said: "no hum", never, at: night}',
        "comma-cut-a-sentence", (1, 21), "`never`", '{said: "no hum, never", at: night}',
        {"a": {"said": "?no hum, never", "at": "night"}},
    ),
    Case(
        "frame: {thermal break: 24, finish: F6}", "key-with-blanks", (1, 9),
        "`thermal break` is a key of several words", "{thermal_break: 24, finish: F6}",
        {"frame": {"thermal break": "?24", "finish": "F6"}},
    ),
    Case(
        "left to right:\n  R1: x", "key-with-blanks", (1, 1), "`left to right`",
        "left_to_right:", {"left to right": "?R1: x"},
    ),
    Case(
        "joists: 2x10 #2 SPF\nnext: 1", "hash-cut-a-value", (1, 14),
        "everything after # was not read; write No. 2", "joists: 2x10 No. 2 SPF",
        {"joists": "?2x10 #2 SPF", "next": "1"},
    ),
    Case(
        "a:\n  - {lumber: 2x10 #2 SPF, spacing: 16 in}\n  - {lumber: 2x8}", "hash-cut-a-value",
        (2, 14), "write No. 2", "{lumber: 2x10 No. 2 SPF, spacing: 16 in}",
        {"a": [{"lumber": "?2x10 #2 SPF", "spacing": "16 in"}, {"lumber": "2x8"}]},
    ),
    Case(
        "color: chalk #eee", "hash-cut-a-value", (1, 14), "put the text in quotes",
        'color: "chalk #eee"', {"color": "?chalk #eee"},
    ),
    Case(
        "unit: #4\nb: 1", "hash-cut-a-value", (1, 7), "write No. 4", "unit: No. 4",
        {"unit": "?#4", "b": "1"},
    ),
    Case(
        "takes: [low, top] #all", "hash-cut-a-value", (1, 19), "everything after # was not read",
        "[low, top] # all", {"takes": ["low", "top"]},
    ),
    Case(
        "a: 1\nb: 2\na: 3", "duplicate-key", (3, 1),
        "`a` stands twice in the same map, in line 1: a: 1; and in line 3: a: 3",
        "take one of the two out", {"a": "1", "b": "2"},
    ),
    Case(
        "a: {b: 1, c: 2, b: 3}", "duplicate-key", (1, 17), "in line 1: a: {b: 1, c: 2, b: 3}",
        "take one of the two out", {"a": {"b": "1", "c": "2"}},
    ),
    Case(
        "t: [-5, -5] °C\nb: 1", "list-with-unit", (1, 4),
        "a list cannot carry a unit, write `-5 -5 °C`", "t: -5 -5 °C",
        {"t": "?[-5, -5] °C", "b": "1"},
    ),
    Case(
        "a: {t: [1, 1/2] in, b: 1}", "list-with-unit", (1, 8), "write `1 1/2 in`",
        "a: {t: 1 1/2 in, b: 1}", {"a": {"t": "?[1, 1/2] in", "b": "1"}},
    ),
    Case(
        "a: {b: 1,\n    t: [1, 2] mm,\n    c: 3}", "list-with-unit", (2, 8), "write `1 2 mm`",
        "t: 1 2 mm,", {"a": {"b": "1", "t": "?[1, 2] mm", "c": "3"}},
    ),
    Case(
        'height: "7\' 6""\nb: "x"', "quote-in-quotes", (1, 9),
        "the inch sign inside the quotes closes them", "height: 7' 6\"",
        {"height": "?\"7' 6\"\"", "b": "x"},
    ),
    Case(
        'a: {h: "7\' 6"", w: "x"}', "quote-in-quotes", (1, 8), "the inch sign",
        "a: {h: 7' 6\", w: \"x\"}", {"a": {"h": "?\"7' 6\"\"", "w": "x"}},
    ),
    Case(
        "a: 'it's so'\nb: 1", "quote-in-quotes", (1, 4), "the apostrophe", "a: it's so",
        {"a": "?'it's so'", "b": "1"},
    ),
    Case(
        'a: "so "very", no"\nb: 1', "quote-in-quotes", (1, 4), "the quote inside the quotes",
        "a: 'so \"very\", no'", {"a": '?"so "very", no"', "b": "1"},
    ),
    Case(
        "note: mind: the step\nb: 1", "colon-in-text", (1, 7), "a second colon",
        'note: "mind: the step"', {"note": "?mind: the step", "b": "1"},
    ),
    Case(
        "a: {note: mind: the step, b: 1}", "colon-in-text", (1, 11), "a second colon",
        'a: {note: "mind: the step", b: 1}', {"a": {"note": "?mind: the step", "b": "1"}},
    ),
    Case(
        "a: {b: 1,\n    c: 2\n    d: 3}\ne: 4", "comma-missing", (2, 8), "a comma is missing",
        "c: 2, d: 3", {"a": {"b": "1", "c": "?2 d: 3"}, "e": "4"},
    ),
    Case(
        'a: "no closing\nb: 1\nc: "x"', "quote-not-closed", (1, 4), "not closed on its line",
        'a: "no closing"', {"a": '?"no closing', "b": "1", "c": "x"},
    ),
    Case(
        'a: "no closing\nb: 1\nc: 2', "quote-not-closed", (1, 4), "not closed on its line",
        'a: "no closing"', {"a": '?"no closing', "b": "1", "c": "2"},
    ),
    Case(
        'a: "text" more\nb: 1', "text-behind-quotes", (1, 4), "here stands `more`",
        'a: "text more"', {"a": '?"text" more', "b": "1"},
    ),
    Case(
        'a: "C:\\quotes"\nb: 1', "backslash", (1, 4), "a backslash between double quotes",
        "a: 'C:\\quotes'", {"a": '?"C:\\quotes"', "b": "1"},
    ),
    Case(
        "a: {b: 1\nc: 2", "bracket-not-closed", (1, 4), "a brace that opens here is not closed",
        "a: {b: 1}", {"a": "?{b: 1", "c": "2"},
    ),
    Case(
        "a: {b: [1, 2}\nc: 2", "bracket-not-closed", (1, 4), "a ] is missing before this }",
        "a: {b: [1, 2]}", {"a": "?{b: [1, 2}", "c": "2"},
    ),
    Case(
        "a: {b: 1}}\nc: 2", "bracket-too-many", (1, 4), "there is a } too many", "a: {b: 1}",
        {"a": "?{b: 1}}", "c": "2"},
    ),
    Case(
        "a: [1, , 2]\nc: 2", "nothing-between-commas", (1, 4), "nothing stands between two commas",
        "a: [1, 2]", {"a": "?[1, , 2]", "c": "2"},
    ),
    Case(
        "a: > 600\nc: 2", "sign-at-the-start", (1, 4), "a value cannot begin with >",
        'a: "> 600"', {"a": "?> 600", "c": "2"},
    ),
    Case(
        "a: {b: @600, c: 2}", "sign-at-the-start", (1, 8), "a value cannot begin with @",
        'a: {b: "@600", c: 2}', {"a": {"b": "?@600", "c": "2"}},
    ),
    Case(
        "a: 1\n  b: 2\n  c: 3\nd: 4", "indent", (2, 3), "deeper than `a: 1`",
        "begin it in column 1", {"a": "1", "d": "4"},
    ),
    Case(
        "a:\n    b: 1\n  c: 2\nd: 4", "indent", (3, 3), "in a column where no key above it begins",
        "begin it in column 1 or 5", {"a": {"b": "1"}, "d": "4"},
    ),
    Case(
        "a:\n\tb: 1\n\tc: 2\nd: 3", "tab", (2, 1), "a tab indents the lines 2 to 3",
        "indent with blanks", {"a": "?b: 1", "d": "3"},
    ),
    Case("a: b\tc", "tab", (1, 4), "a tab stands in this text", "a: b c", {"a": "?b\tc"}),
    Case(
        "a: 1\nwidth:30\nb: 2", "colon-without-blank", (2, 1), "a colon needs a blank behind it",
        "width: 30", {"a": "1", "b": "2"},
    ),
    Case(
        "a: {width:30, b: 2}", "colon-without-blank", (1, 5), "a colon needs a blank behind it",
        "{width: 30, b: 2}", {"a": {"width": "?30", "b": "2"}},
    ),
    Case(
        "a: 1\nas agreed\nb: 2", "line-without-key", (2, 1), "no key with a colon",
        'note: "as agreed"', {"a": "1", "b": "2"},
    ),
    Case(
        "a: 1\n- b\nc: 2", "dash-among-keys", (2, 1), "a list item stands where a key is due",
        "indent the list under its key", {"a": "1", "c": "2"},
    ),
    Case(
        "a:\n  - b\n  c: 1\nd: 2", "key-among-items", (3, 3), "a key stands where a list item",
        "put `- ` before it", {"a": ["b"], "d": "2"},
    ),
    Case(
        "a: 1\nwidth:\nb: 2", "key-without-value", (2, 1), "nothing stands behind `width`",
        "width: TBD", {"a": "1", "width": None, "b": "2"},
    ),
    Case(
        "a: {width: , b: 2}", "key-without-value", (1, 5), "nothing stands behind `width`",
        "a: {width: TBD, b: 2}", {"a": {"width": None, "b": "2"}},
    ),
    Case("a: null", "key-without-value", (1, 1), "`null` says nothing", "a: TBD", {"a": None}),
    Case(
        "a:\n  - b\n  -\n", "item-without-value", (3, 4), "nothing stands behind this dash",
        "write the item", {"a": ["b", None]},
    ),
    Case(
        "loops:\n  3: {now: 92 m}\n  L4: x", "key-is-no-word", (2, 3), "the key `3` is not a word",
        "no_3: {now: 92 m}", {"loops": {"3": "?{now: 92 m}", "L4": "x"}},
    ),
    Case("a: {[b]: 1}", "key-is-no-word", (1, 5), "the key `[b]`", "a_word: 1", {"a": {}}),
    Case(
        "a: {: b}", "value-without-key", (1, 5), "no key before it", "a: {a_word: b}",
        {"a": {}},
    ),
    Case(
        "a: &base 3", "anchor", (1, 4), "begins with & names this place", "take `&base` away",
        {"a": "?&base 3"},
    ),
    Case("a: *base", "alias", (1, 4), "begins with *", "`like:` with a mark", {"a": "?*base"}),
    Case("a: !width 3", "tag", (1, 4), "begins with !", "take `!width` away", {"a": "?!width 3"}),
    Case("<<: x", "key-is-no-word", (1, 1), "`<<`", "`like:`", {"<<": "?x"}),
    Case(
        "a: 1\n---\nb: 2", "several-documents", (2, 1), "nothing from here on was read",
        "a file of its own", {"a": "1"},
    ),
    Case(
        "a: b\x07c\nb: 2", "control-character", (1, 5), "cannot be printed (U+0007)", "delete it",
        {"a": "?b\x07c", "b": "2"},
    ),
    Case(
        'a: "b\\u0007c"', "control-character", (1, 4), "cannot be printed (U+0007)", "delete it",
        {"a": '?"b\\u0007c"'},
    ),
    Case(
        "a: 20\u200b mm", "control-character", (1, 6), "cannot be printed (U+200B)", "delete it",
        {"a": "?20\u200b mm"},
    ),
    Case(
        "%1 SLOPE\n---\na: 1", "sign-at-the-start", (1, 1), "begins with % is not read",
        "take it out", {"a": "1"},
    ),
    Case(
        "scantling: one", "format-version", (1, 12), "`one` is no version", "scantling: 1",
        {"scantling": "?one"},
    ),
]  # fmt: skip


@pytest.mark.parametrize("case", CASES, ids=lambda case: repr(case.text))
def test_a_trap_is_named_shown_and_read_past(case: Case) -> None:
    source = read_text(case.text, "job.yaml")
    assert [each.rule for each in source.findings] == [f"reading.{case.rule}"]
    (finding,) = source.findings
    assert (finding.place.line, finding.place.column) == case.at
    assert finding.place.file == "job.yaml"
    assert finding.level is Level.ERROR
    assert finding.address == ""
    assert case.told in finding.message
    assert case.cure in finding.cure
    assert plain(source.root) == case.tree


@pytest.mark.parametrize("case", CASES, ids=lambda case: repr(case.text))
def test_the_line_as_it_should_be_has_no_trap(case: Case) -> None:
    """Each cure of the form `write: LINE` is a line that reads clean."""
    (finding,) = read_text(case.text, "job.yaml").findings
    if not finding.cure.startswith("write: "):
        return
    line = finding.cure.removeprefix("write: ").split(" (a comment has")[0]
    lines = case.text.split("\n")
    first, last = finding.place.line, finding.place.line
    if case.rule == "comma-missing":
        last += 1
    if case.text.count("\n") and case.rule == "comma-cut-a-sentence":
        first, last = 1, 2
    indent = lines[first - 1][: len(lines[first - 1]) - len(lines[first - 1].lstrip())]
    better = "\n".join([*lines[: first - 1], indent + line, *lines[last:]])
    assert read_text(better, "job.yaml").findings == ()


def notes(text: str) -> list[Finding]:
    return list(read_text(text, "job.yaml").findings)


@pytest.mark.parametrize("word", ["max 210 high", "min 3", "not the top", "at 600", "if dry"])
def test_an_item_that_hangs_on_the_one_before_is_a_note(word: str) -> None:
    source = read_text(f"holds: [stoppers, glasses standing, {word}]", "job.yaml")
    (finding,) = source.findings
    assert (finding.rule, finding.level) == ("reading.comma-in-a-list", Level.NOTE)
    assert f'[stoppers, "glasses standing, {word}"]' in finding.cure
    assert plain(source.root) == {"holds": ["stoppers", "glasses standing", word]}


def test_a_duplicate_has_both_places_and_keeps_the_first() -> None:
    source = read_text("D1: {leaf: 30 in}\nD2: x\nD1: {leaf: 32 in}\n", "job.yaml")
    (finding,) = source.findings
    assert [spot.place.line for spot in finding.spots] == [3, 1]
    assert plain(source.root) == {"D1": {"leaf": "30 in"}, "D2": "x"}


def test_all_slips_of_a_file_are_named_in_one_run() -> None:
    text = (
        "a: [1, 2] °C\n"
        'b: {h: "7\' 6"", w: "6\' 8"", t: [1, 2] mm, plain sentence, cut: yes}\n'
        "c: mind: the step\n"
        "d: @x\n"
        "e: 2x10 #2\n"
        "a: again\n"
    )
    found = [(each.place.line, each.rule) for each in read_text(text, "job.yaml").findings]
    assert found == [
        (1, "reading.list-with-unit"),
        (2, "reading.quote-in-quotes"),
        (2, "reading.quote-in-quotes"),
        (2, "reading.list-with-unit"),
        (2, "reading.comma-cut-a-sentence"),
        (3, "reading.colon-in-text"),
        (4, "reading.sign-at-the-start"),
        (5, "reading.hash-cut-a-value"),
        (6, "reading.duplicate-key"),
    ]


def test_what_is_no_trap_is_not_called_one() -> None:
    text = (
        "# a comment\n"
        "\t# a comment behind a tab\n"
        "a: b # a comment\n"
        "b: foo ## ruled\n"
        "c: foo #------\n"
        "no: on\n"
        "time: 1:30\n"
        "code: 010\n"
        "day: 2026-11-06\n"
        "2026-11-06: {who: lead}\n"
        "NW-SE: 7214\n"
        "neighbor_6-01: x\n"
        "D1.leaf.width: y\n"
        "h: 7' 6-1/2\"\n"
        "hs: [7' 6\", 6' 8\"]\n"
        "m: {h: 7' 6\", note: it's dry, t: 5/8 in}\n"
        "x: a text, with a comma\n"
        "q: \"a text, with a comma: and a colon #1\"\n"
        "l: [at the door, attic, minimal]\n"
        "p: |\n"
        "  a paragraph: with #2 and \"quotes\n"
        "\n"
        "  - and a dash\n"
        "f: one that goes\n"
        "  on here\n"
        "g: \"and one\n"
        "  in quotes\"\n"
        "k: {a: 1,\n"
        "    b: 2,}\n"
        "n: none\n"
        "e: {}\n"
        "t: \"\"\n"
    )  # fmt: skip
    assert read_text(text, "job.yaml").findings == ()


def test_every_scalar_is_as_written() -> None:
    written = ["no", "on", "1:30", "010", "12:30", "2026-11-06", "1e3", "0x1F", "1_000", ".5", "="]
    source = read_text("a: [" + ", ".join(written) + "]", "job.yaml")
    assert plain(source.root) == {"a": written}


def test_places_and_quotes_of_scalars() -> None:
    source = read_text('a: {b: °C, c: "q"}\n\nd:\n  - x\n', "job.yaml")
    mapping = source.root.get("a")
    assert isinstance(mapping, Mapping)
    assert (mapping.place.line, mapping.place.column) == (1, 4)
    second = mapping.entries[1]
    assert (second.place.line, second.place.column) == (1, 12)
    assert isinstance(second.value, Scalar)
    assert (second.value.place.column, second.value.quoted) == (15, True)
    items = source.root.get("d")
    assert isinstance(items, Sequence)
    assert (items.items[0].place.line, items.items[0].place.column) == (4, 5)


def test_what_stands_behind_a_slip_keeps_its_place() -> None:
    text = 'a: {t: [1, 2] mm, h: "7\' 6"", c: 3}\nb: 4\n'
    source = read_text(text, "job.yaml")
    mapping = source.root.get("a")
    assert isinstance(mapping, Mapping)
    for entry in mapping.entries:
        assert text[entry.place.column - 1 :].startswith(f"{entry.key}: ")
    value = mapping.get("c")
    assert isinstance(value, Scalar)
    assert (value.text, value.place.column) == ("3", text.index("3}") + 1)
    unreadable = mapping.get("h")
    assert isinstance(unreadable, Unreadable)
    assert text[unreadable.place.column - 1 :].startswith(unreadable.written)


def test_a_line_that_fits_nowhere_is_told_once_and_left_out() -> None:
    source = read_text("a: 1\nb:\n    c: 2\n  as agreed\n    d: 3\ne: 4", "job.yaml")
    (finding,) = source.findings
    assert (finding.rule, finding.place.line) == ("reading.line-without-key", 4)
    assert plain(source.root) == {"a": "1", "b": {"c": "2", "d": "3"}, "e": "4"}
