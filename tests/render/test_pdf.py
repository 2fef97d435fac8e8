"""The PDF: standards, fonts, tags, the same head on each page, and text that stays text."""

from __future__ import annotations

import re
from functools import cache
from io import BytesIO
from typing import Any

import pytest
from pypdf import PdfReader

from spec.compose.blocks import Block, Heading, Paragraph, Photo, Picture, Row, Table, say
from spec.draw.scene import Label, Scene
from spec.render.pdf import TypesettingError, pdf
from spec.render.plain import Data, plain
from spec.render.svg import Drawing, draw
from tests.render.sample import HOSTILE, document, pressed


def made(**changes: Any) -> bytes:
    return pressed("pdf", **changes)


def blocks_of(*blocks: Block) -> list[Data]:
    found: list[Data] = plain(document()._replace(blocks=blocks), drawn)["blocks"]
    return found


def drawn(block: Picture | Photo) -> Drawing:
    assert isinstance(block, Picture)
    return draw(block.scene)


@cache
def sample() -> bytes:
    return made()


def reader() -> PdfReader:
    return PdfReader(BytesIO(sample()), strict=True)


def flat(text: str) -> str:
    return re.sub(r"\s+", " ", text)


def test_it_says_that_it_is_pdf_a_2a_and_pdf_ua_1() -> None:
    xmp = reader().xmp_metadata
    assert xmp is not None
    packet = xmp.stream.get_data().decode()
    assert "<pdfaid:part>2</pdfaid:part>" in packet
    assert "<pdfaid:conformance>A</pdfaid:conformance>" in packet
    assert "<pdfuaid:part>1</pdfuaid:part>" in packet


def test_only_the_shipped_fonts_are_in_it_and_they_are_embedded() -> None:
    names = set()
    for page in reader().pages:
        for font in page["/Resources"]["/Font"].values():
            child = font.get_object()["/DescendantFonts"][0].get_object()
            names.add(str(child["/BaseFont"]).partition("+")[2])
            assert "/FontFile2" in child["/FontDescriptor"].get_object()
    assert names == {"ScantlingSans-Regular", "ScantlingSans-Bold", "ScantlingSans-Italic"}


def test_the_fonts_in_the_drawings_are_the_shipped_ones() -> None:
    names = set()

    def gather(resources: object) -> None:
        for font in resources.get("/Font", {}).values():  # type: ignore[attr-defined]
            names.add(str(font.get_object()["/BaseFont"]).partition("+")[2])
        for form in resources.get("/XObject", {}).values():  # type: ignore[attr-defined]
            if "/Resources" in form.get_object():
                gather(form.get_object()["/Resources"])

    for page in reader().pages:
        gather(page["/Resources"])
    assert names <= {"ScantlingSans-Regular", "ScantlingSans-Bold", "ScantlingSans-Italic"}


def test_a_glyph_that_got_past_is_an_error_and_no_fallback() -> None:
    unprinted = plain(document()._replace(blocks=(Paragraph(say("中")),)), drawn)
    made = None
    with pytest.raises(TypesettingError):
        made = pdf(unprinted)
    assert made is None


def test_head_and_foot_stand_on_every_page() -> None:
    pages = reader().pages
    assert len(pages) >= 3
    for number, page in enumerate(pages, 1):
        text = flat(page.extract_text())
        for words in (
            "26-031 Cellar at Alder Lane",
            "Revision C of 2026-05-04",
            "Held for material: 2 decisions open",
            "Held for build: 5 decisions open",
            "fingerprint 9f2c 11d0 7ab4 e83e",
            f"page {number} of {len(pages)}",
        ):
            assert words in text, (number, words)


def test_a_long_held_line_moves_the_text_down_and_not_over_it() -> None:
    long = tuple(f"Held for build: {'the leaf width of D1 is open, ' * 9}" for _ in range(3))
    head = document().head._replace(held=long)
    text = PdfReader(BytesIO(made(head=head))).pages[0].extract_text()
    assert text.index("Work order: electrical\n") > text.rindex("Held for build")


def test_table_heads_are_repeated() -> None:
    pages = [page.extract_text() for page in reader().pages]
    assert sum("Finished floor to middle" in text for text in pages) >= 2


def test_what_a_job_says_is_text() -> None:
    text = flat("".join(page.extract_text() for page in reader().pages))
    assert flat(HOSTILE).replace(" ", "") in text.replace(" ", "")


def test_it_has_language_title_outlines_and_words_for_pictures() -> None:
    root = reader().trailer["/Root"]
    assert root["/Lang"] == "en-US"
    assert root["/MarkInfo"]["/Marked"] is not None
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert reader().metadata.title == "Work order: electrical"  # type: ignore[union-attr]
    titles = [str(entry["/Title"]) for entry in reader().outline if not isinstance(entry, list)]
    assert "What this order holds" in titles
    alts = re.findall(r"Elevation of wall W1: door D1 at left", _structure(root["/StructTreeRoot"]))
    assert alts


def _structure(node: object, depth: int = 0) -> str:
    """All alternative texts in the structure tree."""
    words = ""
    node = node.get_object() if hasattr(node, "get_object") else node
    if isinstance(node, list):
        return "".join(_structure(child, depth + 1) for child in node)
    if isinstance(node, dict):
        words += str(node.get("/Alt", ""))
        if "/K" in node and depth < 60:
            words += _structure(node["/K"], depth + 1)
    return words


def test_headings_skip_no_level() -> None:
    jump = (
        Heading(2, "Second first"),
        Heading(3, "Third"),
        Heading(1, "First"),
        Heading(3, "Late"),
    )
    levels = [block["level"] for block in blocks_of(*jump)]
    assert levels == [1, 2, 1, 2]
    assert made(blocks=jump)


def test_the_time_stamp_is_the_jobs_day() -> None:
    assert reader().metadata.creation_date.date().isoformat() == "2026-05-04"  # type: ignore[union-attr]


def test_the_same_document_gives_the_same_bytes() -> None:
    assert made() == sample()


@pytest.mark.parametrize("paper, size", [("letter", (612, 792)), ("a4", (595, 842))])
def test_paper(paper: str, size: tuple[int, int]) -> None:
    page = PdfReader(BytesIO(made(paper=paper))).pages[0]
    assert (round(page.mediabox.width), round(page.mediabox.height)) == size


def test_odd_content_is_set_too() -> None:
    table = Table("", ("A", "B"), (Row(("only one",)), Row(("", "x" * 400))))
    blocks = (
        table,
        Table("Empty", ("A",), ()),
        Picture(Scene((Label((0, 0), "alone"),)), "", ""),
        Paragraph(say("")),
        Paragraph(say("two\nlines")),
    )
    assert PdfReader(BytesIO(made(blocks=blocks))).pages
    assert PdfReader(BytesIO(made(blocks=()))).pages


def test_a_row_longer_than_its_head_is_refused() -> None:
    with pytest.raises(ValueError, match="more cells than columns"):
        blocks_of(Table("T", ("A",), (Row(("1", "2")),)))


def test_a_job_without_revision_and_day_is_set_too() -> None:
    content = made(head=document().head._replace(revision="", day="no date"))
    read = PdfReader(BytesIO(content))
    assert "No mark, no date" in read.pages[0].extract_text()
    assert pressed("docx", head=document().head._replace(revision="", day="no date"))


def test_a_language_without_region() -> None:
    root = PdfReader(BytesIO(made(language="de"))).trailer["/Root"]
    assert root["/Lang"] == "de"


def test_long_words_stay_in_their_cells_and_measures_in_one_piece() -> None:
    address = "wine_room.racks.R1.bottom_to_top.tier_three.height"
    row = Row((address, "x" * 90, "set it 7' 6-1/2\" up, 12 mm off " * 12))
    content = made(blocks=(Table("T", ("Address", "Word", "Text"), (row,)),))
    page = PdfReader(BytesIO(content)).pages[0]
    lines = page.extract_text().splitlines()
    assert not any(address in line or "x" * 60 in line for line in lines)
    assert address in "".join(lines)
    assert not any(line.rstrip().endswith(("7'", "6-", "12")) for line in lines)
