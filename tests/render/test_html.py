"""The HTML: one file that needs nothing else, valid, and text that stays text."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path
from typing import Any
from xml.etree.ElementTree import Element

import html5lib
import pytest
from pypdf import PdfReader

from spec.compose.blocks import Paragraph, say
from tests.render.sample import HOSTILE, document, pressed


def made(**changes: Any) -> bytes:
    return pressed("html", **changes)


def tree(content: bytes) -> Element:
    """Parsed strictly: the first mistake raises."""
    parser = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False)
    return parser.parse(content)  # type: ignore[no-any-return]


def words(element: Element) -> str:
    return re.sub(r"\s+", " ", "".join(element.itertext())).strip()


def test_it_is_valid_and_complete() -> None:
    page = tree(made())
    assert page.get("lang") == "en-US"
    body = page.find("body")
    assert body is not None
    text = words(body)
    for expected in (
        "26-031 Cellar at Alder Lane", "Held for material: 2 decisions open", "Revision C of",
        "fingerprint 9f2c 11d0 7ab4 e83e", "47 boxes", "Wall W1 seen from inside", "Client: name",
        "Initials for Selections", "End of the order.",
    ):  # fmt: skip
        assert expected in text, expected


def test_it_needs_nothing_from_outside_and_no_script() -> None:
    content = made().decode()
    page = tree(content.encode())
    tags = {element.tag for element in page.iter() if isinstance(element.tag, str)}
    assert not tags & {
        "script",
        "link",
        "img",
        "iframe",
        "object",
        "{http://www.w3.org/2000/svg}image",
    }
    assert not re.search(r"\s(src|on\w+)=", re.sub(r"base64,[^)]+", "", content.split("<body>")[0]))
    inlined = re.findall(r"url\((.{0,16})", content)
    assert inlined == ['"data:font/woff2'] * 3
    links = [element.get("href", "") for element in page.iter("a")]
    assert all(link.startswith("#part-") for link in links)


def test_what_a_job_says_is_text() -> None:
    hostile = "</style></title><script>alert(1)</script>" + HOSTILE
    head = document().head._replace(job=hostile, title=hostile, held=(hostile,), revision=hostile)
    content = made(title=hostile, head=head, blocks=(Paragraph(say(hostile)),))
    page = tree(content)
    assert not list(page.iter("script"))
    assert words(page.find("body/main/p")) == re.sub(r"\s+", " ", hostile)  # type: ignore[arg-type]


def test_lists_tables_and_headings_are_what_they_are() -> None:
    page = tree(made())
    assert [e.get("class") for e in page.iter("ul")] == ["gates", "dash", "box"]
    assert len(list(page.iter("ol"))) == 2
    heads = [words(cell) for cell in page.iter("th") if cell.get("scope") == "col"]
    assert heads == ["Mark", "What", "From left", "Finished floor to middle", "Done"]
    assert [words(e) for e in page.iter("h2")] == ["What this order holds", "To sign"]
    picture = next(e for e in page.iter("div") if e.get("role") == "img")
    assert picture.get("aria-label", "").startswith("Elevation of wall W1")


def test_a_long_document_has_contents_that_lead_somewhere() -> None:
    blocks = document().blocks * 2
    page = tree(made(blocks=blocks))
    anchors = [e.get("id") for level in ("h2", "h3", "h4") for e in page.iter(level)]
    assert len(set(anchors)) == len(anchors)
    nav = page.find("body/main/nav")
    assert nav is not None
    links = [e.get("href", "")[1:] for e in nav.iter("a")]
    assert links
    assert set(links) <= set(anchors)
    assert tree(made()).find("body/main/nav") is None


def test_the_same_document_gives_the_same_bytes() -> None:
    assert made() == made()


def test_only_faces_in_use_are_carried() -> None:
    assert made().count(b"@font-face") == 3
    assert made(blocks=(Paragraph(say("plain")),)).count(b"@font-face") == 2


def test_measures_hold_together_and_long_words_may_break() -> None:
    text = "wine_room.racks.R1.height at 7' 6-1/2\" <b>"
    page = tree(made(blocks=(Paragraph(say(text)),)))
    paragraph = page.find("body/main/p")
    assert paragraph is not None
    assert words(paragraph) == text
    assert [words(span) for span in paragraph.iter("span")] == ["7' 6-1/2\""]
    assert len(list(paragraph.iter("wbr"))) == 4


@pytest.mark.outside
def test_a_browser_shows_and_prints_it(tmp_path: Path) -> None:
    browser = shutil.which("chromium") or shutil.which("google-chrome")
    if not browser:
        pytest.skip("Chromium is not installed")
    probe = (
        "<script>document.title = [document.documentElement.scrollWidth, innerWidth].join(' ')"
        "</script></body>"
    )
    (tmp_path / "order.html").write_bytes(made())
    (tmp_path / "probe.html").write_bytes(made().replace(b"</body>", probe.encode()))
    common = [
        browser,
        "--headless",
        "--no-sandbox",
        "--disable-gpu",
        f"--user-data-dir={tmp_path}/p",
    ]
    shown = subprocess.run(
        [*common, "--window-size=500,900", "--dump-dom", (tmp_path / "probe.html").as_uri()],
        check=True, capture_output=True, text=True, timeout=120,
    )  # fmt: skip
    found = re.search(r"<title>(\d+) (\d+)</title>", shown.stdout)
    assert found
    assert int(found[1]) <= int(found[2]), "the page as a whole does not scroll sideways"
    subprocess.run(
        [*common, f"--print-to-pdf={tmp_path}/order.pdf", (tmp_path / "order.html").as_uri()],
        check=True, capture_output=True, timeout=120,
    )  # fmt: skip
    pages = [page.extract_text() for page in PdfReader(tmp_path / "order.pdf").pages]
    assert len(pages) >= 3
    assert sum("Finished floor to middle" in text for text in pages) >= 2
    names = {
        str(font["/BaseFont"]).partition("+")[2]
        for page in PdfReader(tmp_path / "order.pdf").pages
        for font in (reference.get_object() for reference in page["/Resources"]["/Font"].values())
        if "/BaseFont" in font  # the browser draws some signs as shapes, without a name
    }
    assert {"ScantlingSans-Regular", "ScantlingSans-Bold"} <= names
    assert all(name.startswith("ScantlingSans-") for name in names)
