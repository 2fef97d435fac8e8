"""Photographs: at their size on paper, in every format, and no packet is lost to a bad one."""

from __future__ import annotations

import struct
import zipfile
import zlib
from io import BytesIO
from pathlib import Path

import html5lib
import pytest
from pypdf import PdfReader

from spec.compose.blocks import Photo
from spec.render.packet import PacketInfo, write_packet
from spec.render.photo import HIGHEST, photograph
from tests.render.sample import document, pressed


def png(wide: int, high: int) -> bytes:
    """A PNG of one color, made here byte by byte (PNG, third edition, W3C)."""

    def chunk(kind: bytes, content: bytes) -> bytes:
        check = zlib.crc32(kind + content)
        return struct.pack(">I", len(content)) + kind + content + struct.pack(">I", check)

    lines = zlib.compress((b"\0" + b"\x80\x60\x40" * wide) * high)
    head = struct.pack(">IIBBBBB", wide, high, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", lines) + chunk(b"IEND", b"")


def test_it_takes_its_width_and_keeps_its_shape() -> None:
    shown = photograph(png(800, 600), 80)
    assert shown is not None
    assert shown.width == pytest.approx(80, abs=0.3)
    assert shown.height == pytest.approx(60, abs=0.3)


def test_a_tall_one_stays_on_the_page() -> None:
    shown = photograph(png(100, 900), 80)
    assert shown is not None
    assert shown.height == pytest.approx(HIGHEST, abs=0.3)
    assert shown.width == pytest.approx(HIGHEST / 9, abs=0.3)


def test_a_large_one_is_made_small() -> None:
    assert len(png(4000, 3000)) < 200_000
    shown = photograph(png(4000, 3000), 80)
    assert shown is not None
    assert shown.width == pytest.approx(80, abs=0.3)


@pytest.mark.parametrize("content", [b"", b"GIF89a", b"<svg/>", b"\x89PNG\r\n\x1a\nbroken"])
def test_what_is_no_photograph_is_none(content: bytes) -> None:
    assert photograph(content, 80) is None


def test_every_format_shows_it_with_its_words() -> None:
    blocks = (Photo(png(80, 60), "X3 as found", "A radiator under the window"),)
    assert (
        "X3 as found" in PdfReader(BytesIO(pressed("pdf", blocks=blocks))).pages[0].extract_text()
    )
    assert len(PdfReader(BytesIO(pressed("pdf", blocks=blocks))).pages[0].images) == 1
    word = zipfile.ZipFile(BytesIO(pressed("docx", blocks=blocks)))
    assert 'descr="A radiator under the window"' in word.read("word/document.xml").decode()
    assert word.read("word/media/image1.png").startswith(b"\x89PNG")
    page = pressed("html", blocks=blocks)
    html5lib.HTMLParser(strict=True).parse(page)
    assert b'aria-label="A radiator under the window"' in page
    assert page.count(b'href="data:image/png;base64,') == 1
    assert pressed("docx", blocks=blocks) == pressed("docx", blocks=blocks)


def test_a_bad_one_is_told_and_the_packet_stands(tmp_path: Path) -> None:
    order = document()
    bad = Photo(b"no picture", "X3 as found", "A radiator")
    order = type(order)("o", "f", "t", "en", order.head, (bad, bad))
    info = PacketInfo("Cellar", "1", "A", "2026-05-04")
    report = write_packet([order], {}, tmp_path / "p", info)
    assert report.notes == ("The photograph “X3 as found” cannot be shown: it is no JPEG or PNG.",)
    text = PdfReader(tmp_path / "p" / "f" / "o.pdf").pages[0].extract_text()
    assert "cannot be shown" in text
