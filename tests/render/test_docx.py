"""The DOCX: real styles, a head on every page, rows that hold together, text that stays text."""

from __future__ import annotations

import re
import shutil
import subprocess
import zipfile
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import Any

import docx as word
import pytest
from docx.oxml.ns import qn
from pypdf import PdfReader

from spec.compose.blocks import Bullets, PageBreak, Paragraph, Picture, say
from spec.files import templates
from spec.render import fonts
from spec.render.svg import draw
from tests.render.make_frame import KEY, veiled
from tests.render.sample import HOSTILE, document, elevation, pressed


def made(**changes: Any) -> bytes:
    return pressed("docx", **changes)


@cache
def sample() -> bytes:
    return made()


def opened(content: bytes | None = None):  # type: ignore[no-untyped-def]
    return word.Document(BytesIO(content or sample()))


def part(name: str, content: bytes | None = None) -> str:
    return zipfile.ZipFile(BytesIO(content or sample())).read(name).decode()


def head_and_foot(content: bytes | None = None) -> str:
    section = opened(content).sections[0]
    lines = [*section.header.paragraphs, *section.footer.paragraphs]
    return "\n".join(line.text for line in lines)


def test_headings_and_lists_have_real_styles() -> None:
    styles = {p.text: p.style.name for p in opened().paragraphs}
    assert styles["Work order: electrical"] == "Title"
    assert styles["What this order holds"] == "Heading 1"
    assert styles["In the order of work"] == "Heading 2"
    assert styles["sleeves foamed and taped"] == "List Box"
    assert styles["Rough in."] == "List Number"
    assert styles["no boxes in W3"] == "List Dash"


def test_head_and_foot_say_what_it_is() -> None:
    text = head_and_foot()
    for words in (
        "26-031 Cellar at Alder Lane",
        "Revision C of 2026-05-04",
        "Held for material: 2 decisions open",
        "Held for build: 5 decisions open",
        "fingerprint 9f2c 11d0 7ab4 e83e",
    ):
        assert words in text
    footer = part("word/footer1.xml")
    assert " PAGE " in footer
    assert " NUMPAGES " in footer
    assert "Held" not in head_and_foot(made(head=document().head._replace(held=())))


def test_table_heads_repeat_and_rows_hold_together() -> None:
    table = next(t for t in opened().tables if t.cell(0, 0).text == "Mark")
    rows = table._tbl.tr_lst
    assert len(rows) == 49
    assert rows[0].find(qn("w:trPr")).find(qn("w:tblHeader")) is not None
    assert all(row.find(qn("w:trPr")).find(qn("w:cantSplit")) is not None for row in rows)
    assert rows[1].find(qn("w:trPr")).find(qn("w:tblHeader")) is None


def test_pictures_have_words_and_their_size_on_paper() -> None:
    (shape,) = opened().inline_shapes
    assert shape._inline.docPr.get("descr").startswith("Elevation of wall W1")
    assert shape.width.mm == pytest.approx(draw(elevation()).width, abs=0.1)


def test_what_a_job_says_is_text() -> None:
    assert HOSTILE in [p.text for p in opened().paragraphs]
    hostile = document().head._replace(job=HOSTILE, title=HOSTILE, held=(HOSTILE, "{%p if x %}"))
    content = made(title=HOSTILE, head=hostile)
    once = re.sub(r"\s+", " ", HOSTILE)
    assert head_and_foot(content).count(once) == 4
    assert "{%p if x %}" in head_and_foot(content)
    assert opened(content).paragraphs[0].text == once


def test_lists_of_numbers_start_anew() -> None:
    numbers = [
        p._p.pPr.numPr.numId.val for p in opened().paragraphs if p.style.name == "List Number"
    ]
    assert len(set(numbers)) == 2
    starts = re.findall(r'<w:startOverride w:val="1"/>', part("word/numbering.xml"))
    assert len(starts) == 2


@pytest.mark.parametrize(
    "following",
    [
        Paragraph(say("after")),
        Bullets((say("after"),)),
        Picture(elevation(), "", "after"),
        document().blocks[12],
        document().blocks[13],
    ],
)
def test_a_page_break_goes_with_what_follows(following: object) -> None:
    content = made(blocks=(Paragraph(say("before")), PageBreak(), following))
    assert part("word/document.xml", content).count("w:pageBreakBefore") == 1


def test_properties_come_from_the_job() -> None:
    core = opened().core_properties
    assert core.title == "Work order: electrical"
    assert core.subject == "26-031 Cellar at Alder Lane"
    assert core.created.date().isoformat() == core.modified.date().isoformat() == "2026-05-04"
    assert core.version == "C"
    assert "python-docx" not in part("docProps/core.xml")
    assert 'w:val="en-US"' in part("word/styles.xml")


def test_the_fonts_travel_with_it() -> None:
    archive = zipfile.ZipFile(BytesIO(sample()))
    for face in ("regular", "bold", "italic"):
        carried = archive.read(f"word/fonts/{face}.odttf")
        assert veiled(carried) == fonts.file(face, "ttf").read_bytes()  # type: ignore[arg-type]
    assert KEY in archive.read("word/fontTable.xml").decode()
    named = set(re.findall(r'w:ascii="([^"]+)"', part("word/styles.xml")))
    assert named == {fonts.metrics().family}


def test_every_style_that_is_named_is_there() -> None:
    names = re.findall(r'w:pStyle w:val="(\w+)"', part("word/document.xml"))
    there = set(re.findall(r'w:styleId="(\w+)"', part("word/styles.xml")))
    assert set(names) <= there


def test_the_same_document_gives_the_same_bytes() -> None:
    assert made() == sample()
    for entry in zipfile.ZipFile(BytesIO(sample())).infolist():
        assert entry.date_time == (1980, 1, 1, 0, 0, 0)
        assert entry.compress_type == zipfile.ZIP_STORED


def test_a4() -> None:
    section = opened(made(paper="a4")).sections[0]
    assert (round(section.page_width.mm), round(section.page_height.mm)) == (210, 297)


def test_the_frame_holds_no_word_of_a_job() -> None:
    frame = zipfile.ZipFile(templates() / "docx" / "frame.docx")
    text = "".join(frame.read(name).decode() for name in frame.namelist() if name.endswith("xml"))
    assert set(re.findall(r"\{\{ ([\w.]+) \}\}", text)) == {
        "title", "head.job", "head.title", "head.issue", "head.fingerprint", "line",
    }  # fmt: skip


@pytest.mark.outside
def test_a_word_processor_opens_it(tmp_path: Path) -> None:
    if not shutil.which("soffice"):
        pytest.skip("LibreOffice is not installed")
    (tmp_path / "order.docx").write_bytes(sample())
    subprocess.run(
        ["soffice", "--headless", f"-env:UserInstallation=file://{tmp_path}/profile",
         "--convert-to", "pdf", "--outdir", str(tmp_path), str(tmp_path / "order.docx")],
        check=True, capture_output=True, timeout=120,
    )  # fmt: skip
    pages = [page.extract_text() for page in PdfReader(tmp_path / "order.pdf").pages]
    assert len(pages) >= 4
    for number, text in enumerate(pages, 1):
        assert "Held for build: 5 decisions open" in text
        assert f"page {number} of {len(pages)}" in text
        assert "fingerprint 9f2c 11d0 7ab4 e83e" in text
    assert sum("Finished floor to middle" in text for text in pages) >= 2
    names = {
        str(font["/BaseFont"]).partition("+")[2]
        for page in PdfReader(tmp_path / "order.pdf").pages
        for font in page["/Resources"]["/Font"].values()
    }
    assert names == {"ScantlingSans-Regular", "ScantlingSans-Bold", "ScantlingSans-Italic"}
