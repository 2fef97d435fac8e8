"""Formulas in all three formats: set, tagged, spoken, in the shipped fonts."""

from __future__ import annotations

import re
import zipfile
from io import BytesIO
from typing import Any

import html5lib
import pytest
from lxml import etree
from pypdf import PdfReader

from spec.compose.blocks import Formula, Heading, Paragraph, say
from spec.compose.formula import spoken
from spec.derive.figure import definitions
from spec.derive.notation import Words, cases, parse
from tests.render.sample import pressed

EVERY = tuple(
    Formula(case) for definition in definitions().values() for case in cases(definition.formula)
)
SET = tuple(f for f in EVERY if not isinstance(parse(f.text).term, Words))
MATHML = "{http://www.w3.org/1998/Math/MathML}"
OMML = "{http://schemas.openxmlformats.org/officeDocument/2006/math}"


def made(form: Any, *blocks: Any) -> bytes:
    return pressed(form, blocks=(Heading(1, "Formulas"), *blocks))


def page(*blocks: Any) -> Any:
    """Parsed strictly: the first mistake raises."""
    return html5lib.HTMLParser(strict=True).parse(made("html", *blocks))


def body(*blocks: Any) -> Any:
    content = zipfile.ZipFile(BytesIO(made("docx", *blocks))).read("word/document.xml")
    return etree.fromstring(content)


def alternatives(reader: PdfReader) -> list[str]:
    """What each formula of a PDF says in words, in order."""
    found: list[str] = []

    def walk(node: Any) -> None:
        node = node.get_object() if hasattr(node, "get_object") else node
        if isinstance(node, list):
            for child in node:
                walk(child)
        elif isinstance(node, dict):
            if node.get("/S") == "/Formula":
                found.append(str(node["/Alt"]))
            walk(node.get("/K"))

    walk(reader.trailer["/Root"]["/StructTreeRoot"])
    return found


def test_in_pdf_each_is_tagged_as_a_formula_and_says_itself_in_words() -> None:
    reader = PdfReader(BytesIO(made("pdf", *EVERY)))
    assert alternatives(reader) == [spoken(formula.text) for formula in SET]


def test_in_pdf_only_the_shipped_fonts_serve() -> None:
    names = {
        str(font.get_object()["/BaseFont"]).partition("+")[2]
        for page in PdfReader(BytesIO(made("pdf", *EVERY))).pages
        for font in page["/Resources"]["/Font"].values()
    }
    assert names <= {"ScantlingSans-Regular", "ScantlingSans-Bold", "ScantlingSans-Italic"}
    assert "ScantlingSans-Italic" in names


def test_in_html_each_is_mathml_with_its_words() -> None:
    tree = page(*EVERY)
    said = [e.get("aria-label") for e in tree.iter() if e.get("role") == "math"]
    assert said == [spoken(formula.text) for formula in SET]
    assert len(list(tree.iter(f"{MATHML}math"))) >= len(SET)


def test_in_docx_each_is_a_formula_of_the_word_processor() -> None:
    paragraphs = list(body(*EVERY).iter(f"{OMML}oMathPara"))
    assert len(paragraphs) >= len(SET)
    assert all(list(p.iter(f"{OMML}t")) for p in paragraphs)


def test_the_same_parts_stand_in_every_format() -> None:
    formula = Formula("R = sqrt(a_b) + c^2 / (8 h)")
    tags = [e.tag.removeprefix(MATHML) for e in page(formula).iter() if MATHML in str(e.tag)]
    assert [t for t in tags if t in ("msqrt", "msub", "mfrac", "msup")] == [
        "msqrt", "msub", "mfrac", "msup",
    ]  # fmt: skip
    word = [e.tag.removeprefix(OMML) for e in body(formula).iter() if OMML in str(e.tag)]
    assert [t for t in word if t in ("rad", "sSub", "f", "sSup")] == ["rad", "sSub", "f", "sSup"]
    text = PdfReader(BytesIO(made("pdf", formula))).pages[0].extract_text()
    for sign in ("R", "√", "c", "8", "h"):
        assert sign in text


def test_the_remark_is_ordinary_text() -> None:
    formula = Formula("a / b; with some spare < 5")
    assert "with some spare < 5" in PdfReader(BytesIO(made("pdf", formula))).pages[0].extract_text()
    assert "with some spare < 5" in "".join(page(formula).itertext())
    assert "with some spare < 5" in "".join(body(formula).itertext())


@pytest.mark.parametrize(
    "text", ["a / b c, <script>alert(1)</script> #x $y$", "by table", '"by table, or not"']
)
def test_what_is_no_formula_is_set_as_text(text: str) -> None:
    shown = re.sub(r"\s+", "", text.strip('"'))
    pdf = PdfReader(BytesIO(made("pdf", Formula(text))))
    assert shown in re.sub(r"\s+", "", pdf.pages[0].extract_text())
    assert alternatives(pdf) == []
    tree = page(Formula(text))
    assert shown in re.sub(r"\s+", "", "".join(tree.itertext()))
    assert not list(tree.iter(f"{MATHML}math"))
    assert shown in re.sub(r"\s+", "", "".join(body(Formula(text)).itertext()))


def test_the_slanted_face_is_carried_for_symbols() -> None:
    assert made("html", Formula("U A")).count(b"@font-face") == 3
    assert made("html", Paragraph(say("U A"))).count(b"@font-face") == 2


def test_the_same_formulas_give_the_same_bytes() -> None:
    for form in ("pdf", "docx", "html"):
        assert made(form, *EVERY[:20]) == made(form, *EVERY[:20])
