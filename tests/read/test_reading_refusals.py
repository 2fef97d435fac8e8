"""Files of which nothing can be used: one clear message each, with a place."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from spec.read import Unusable, read, read_text

BOM = b"\xef\xbb\xbf"


def refusal(path: Path, version_key: str = "scantling") -> tuple[str, int, int, str]:
    with pytest.raises(Unusable) as caught:
        read(path, "job.yaml", version_key)
    finding = caught.value.finding
    assert finding.cure
    assert finding.place.file == "job.yaml"
    return finding.rule, finding.place.line, finding.place.column, finding.message


def file(folder: Path, content: bytes) -> Path:
    path = folder / "job.yaml"
    path.write_bytes(content)
    return path


@pytest.mark.parametrize(
    ("content", "rule", "line", "column", "told"),
    [
        (b"", "empty", 1, 1, "nothing in this file"),
        (b"\n\n  \n", "empty", 1, 1, "nothing in this file"),
        (b"# only a comment\n", "empty", 1, 1, "nothing in this file"),
        (BOM, "empty", 1, 1, "nothing in this file"),
        (b"- a\n- b\n", "no-map", 1, 1, "the file is a list"),
        (b"just a text\n", "no-map", 1, 1, "the file is a text"),
        (b"scantling: 2\njob: x\n", "later-version", 1, 12, "version 2 of the grammar"),
        (b"a: ok\nb: caf\xe9 au lait\n", "not-utf-8", 2, 7, "0xE9"),
        (BOM + b"a: \xc3\xa9\xff\n", "not-utf-8", 1, 5, "0xFF"),
        (b"a: 1\r\n\r\nb: \xff", "not-utf-8", 3, 4, "0xFF"),
        ("a: 1".encode("utf-16"), "not-utf-8", 1, 1, "UTF-16"),
        (b"\ta: 1\n\tb: 2\n", "tab", 1, 1, "a tab indents"),
        (b"a: " + b"[" * 10_000, "too-deep", 1, 1003, "more than 60 deep"),
        (b"a: " + b"[" * 61 + b"]" * 61, "too-deep", 1, 63, "more than 60 deep"),
        (b"a: " + b"{a: " * 10_000, "too-deep", 1, 240, "more than 60 deep"),
        (b"- " * 10_000, "too-deep", 1, 121, "more than 60 deep"),
        (b"? " * 10_000, "too-deep", 1, 121, "more than 60 deep"),
        (b"\0" * 1000, "control-character", 1, 1, "U+0000"),
        (b"a: 1\n" * 3000, "too-many-slips", 1002, 1, "1000 slips"),
    ],
    ids=lambda value: repr(value[:24]) if isinstance(value, bytes) else "",
)
def test_a_content_that_is_no_job(
    tmp_path: Path, content: bytes, rule: str, line: int, column: int, told: str
) -> None:
    named, at_line, at_column, message = refusal(file(tmp_path, content))
    assert named == f"reading.{rule}"
    assert told in message
    assert (at_line, at_column) == (line, column)


@pytest.mark.parametrize("size", [5_000_001, 50_000_000])
def test_a_file_that_is_too_large_is_refused_by_its_size(tmp_path: Path, size: int) -> None:
    path = tmp_path / "job.yaml"
    with path.open("wb") as stream:
        stream.truncate(size)
    assert refusal(path)[0] == "reading.too-large"


def test_a_file_of_five_megabytes_is_read(tmp_path: Path) -> None:
    line = b"# " + b"-" * 97 + b"\n"
    path = file(tmp_path, b"a: 1\n" + line * 49_990)
    assert path.stat().st_size < 5_000_000
    assert read(path).root.entries[0].key == "a"


def test_files_that_cannot_be_opened(tmp_path: Path) -> None:
    assert refusal(tmp_path / "absent.yaml")[0] == "reading.no-such-file"
    assert refusal(file(tmp_path, b"a: 1") / "below.yaml")[0] == "reading.no-such-file"
    assert refusal(tmp_path)[0] == "reading.is-a-folder"
    assert refusal(tmp_path / ("x" * 3000))[0] == "reading.cannot-be-opened"
    assert refusal(tmp_path / "null\0byte")[0] == "reading.cannot-be-opened"


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="named pipes are a thing of Unix")
def test_a_pipe_is_refused_and_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    assert refusal(tmp_path / "pipe")[0] == "reading.no-ordinary-file"


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may read all")
def test_a_file_that_may_not_be_read(tmp_path: Path) -> None:
    path = file(tmp_path, b"a: 1")
    path.chmod(0)
    assert refusal(path)[0] == "reading.not-allowed"


def test_the_house_file_has_a_version_key_of_its_own(tmp_path: Path) -> None:
    path = file(tmp_path, b"scantling_house: 2\n")
    assert refusal(path, "scantling_house")[0] == "reading.later-version"
    assert refusal(path)[0] == "reading.other-kind-of-file"
    assert read(file(tmp_path, b"scantling_house: 1\n"), None, "scantling_house").findings == ()


def test_a_byte_order_mark_and_foreign_line_ends_move_no_place(tmp_path: Path) -> None:
    source = read(file(tmp_path, BOM + b"scantling: 1\r\na: x\r\rb: y\n"))
    assert source.findings == ()
    assert [(entry.key, entry.place.line, entry.place.column) for entry in source.root.entries] == [
        ("scantling", 1, 1),
        ("a", 2, 1),
        ("b", 4, 1),
    ]


def test_a_refusal_keeps_the_slips_before_it() -> None:
    with pytest.raises(Unusable) as caught:
        read_text("a: [1, 2] mm\nb: " + "[" * 100, "job.yaml")
    assert caught.value.finding.rule == "reading.too-deep"
    assert [each.rule for each in caught.value.others] == ["reading.list-with-unit"]
