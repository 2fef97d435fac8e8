"""Typed lines keep their blanks in all formats; links and anchors stand on screens."""

from __future__ import annotations

from io import BytesIO

import docx
import html5lib
from pypdf import PdfReader

from spec.compose.blocks import Code, Head, Heading, Paragraph, Run, Sentence
from tests.render.sample import document, pressed

TYPED = "rooms:\n  hall: {height: 8 ft}\n    <b> & # `x`"


def test_typed_lines_keep_their_blanks_on_a_web_page() -> None:
    page = html5lib.parse(pressed("html", blocks=(Code(TYPED),)), namespaceHTMLElements=False)
    assert page.find("body/main/pre").text == TYPED


def test_typed_lines_are_indented_on_paper_and_in_a_word_processor() -> None:
    word = docx.Document(BytesIO(pressed("docx", blocks=(Code(TYPED),))))
    (lines,) = (p.text.replace("\u00a0", " ") for p in word.paragraphs if "rooms" in p.text)
    assert lines == TYPED
    paper = PdfReader(BytesIO(pressed("pdf", blocks=(Code(TYPED),)))).pages[0]
    rows = paper.extract_text(extraction_mode="layout").splitlines()
    starts = [row.index(word) for word in ("rooms", "hall", "<b>") for row in rows if word in row]
    assert starts == sorted(set(starts)) and len(starts) == 3


def test_a_link_leads_to_a_named_heading() -> None:
    linked = Sentence((Run("see "), Run("the other <page>", strong=True, link="../a/b.html#x.y")))
    blocks = (Heading(1, "A heading", "x.y"), Paragraph(linked))
    page = html5lib.parse(pressed("html", blocks=blocks), namespaceHTMLElements=False)
    assert page.find("body/main/h2").get("id") == "x.y"
    link = page.find("body/main/p/a")
    assert link.get("href") == "../a/b.html#x.y"
    assert "".join(link.itertext()) == "the other <page>"


def test_what_has_no_day_says_which_issue_it_is() -> None:
    head: Head = document().head._replace(day="", revision="version 1.2")
    page = pressed("html", head=head).decode()
    assert "<strong>version 1.2</strong>" in page and "Revision" not in page.split("<main>")[0]
