"""The whole packet: which documents, what is in them, and the same bytes from the same input."""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import docx
import html5lib
import pytest
from pypdf import PdfReader

from spec.pipeline import run

HOSTILE = '{{ 7*7 }} {% raw %} <script>alert(1)</script> #import "x.typ" $x$ \\ & *b* _c_ 雪'


@pytest.fixture(scope="module")
def packet(tmp_path_factory: pytest.TempPathFactory, starters: Path) -> Path:
    """The first starter compiled, with hostile text where a lead writes words."""
    folder = tmp_path_factory.mktemp("packet")
    shutil.copytree(starters / "garden_store", folder / "job")
    path = folder / "job" / "job.yaml"
    text = path.read_text(encoding="utf-8")
    before = "title: Wine room and tasting room in the old garden store"
    assert before in text
    quoted = HOSTILE.replace("'", "''")
    path.write_text(text.replace(before, f"title: '{quoted}'"), encoding="utf-8")
    _, report = run(path, folder / "out")
    assert any("U+96EA" in note for note in report.notes)
    return folder / "out"


def digests(folder: Path) -> dict[str, str]:
    return {
        str(path.relative_to(folder)): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def test_every_trade_has_its_order_and_the_client_and_lead_theirs(packet: Path) -> None:
    about = json.loads((packet / "packet.json").read_text(encoding="utf-8"))
    folders = {document["folder"] for document in about["documents"]}
    assert {"client", "lead"} <= folders
    assert len(folders - {"client", "lead"}) >= 12
    for document in about["documents"]:
        for path in document["files"].values():
            assert (packet / path).stat().st_size > 1000
    assert about["day"] == "2026-10-12"
    assert about["revision"] == "B"


def test_released_and_held_gates_both_appear(packet: Path) -> None:
    about = json.loads((packet / "packet.json").read_text(encoding="utf-8"))
    held = {d["folder"]: d["held"] for d in about["documents"]}
    assert any(held.values()) and not all(held.values())


def test_the_packet_of_a_public_room_has_every_order_in_every_format(
    tmp_path: Path, starters: Path
) -> None:
    """Two rooms at two temperatures, two firms in one trade, a sink and sprinklers."""
    run(starters / "supper_club" / "job.yaml", tmp_path / "out")
    about = json.loads((tmp_path / "out" / "packet.json").read_text(encoding="utf-8"))
    orders = [d for d in about["documents"] if d["title"].startswith("Work order")]
    assert len({d["folder"] for d in orders}) >= 12
    assert any(d["held"] for d in orders) and not all(d["held"] for d in orders)
    for document in about["documents"]:
        assert set(document["files"]) == {"docx", "html", "pdf"}
        for path in document["files"].values():
            assert (tmp_path / "out" / path).stat().st_size > 1000


def shown(text: str) -> str:
    return " ".join(text.split())


def test_hostile_text_comes_out_as_text_in_all_three_formats(packet: Path) -> None:
    wanted = HOSTILE.replace("雪", "□U+96EA")
    stem = packet / "electrical" / "work-order"
    page = html5lib.parse(stem.with_suffix(".html").read_text(encoding="utf-8"))
    assert wanted in shown("".join(page.itertext()))
    assert "<script" not in stem.with_suffix(".html").read_text(encoding="utf-8").lower()
    document = docx.Document(str(stem.with_suffix(".docx")))
    words = [p.text for p in document.paragraphs]
    words += [c.text for t in document.tables for row in t.rows for c in row.cells]
    words += [p.text for s in document.sections for p in s.header.paragraphs]
    words += [c.text for s in document.sections for t in s.header.tables for c in t._cells]
    assert wanted in shown(" ".join(words))
    first = PdfReader(str(stem.with_suffix(".pdf"))).pages[0].extract_text()
    assert "{{ 7*7 }}" in shown(first) and "<script>" in first and "□U+96EA" in first


def test_the_html_is_strict_html5(packet: Path) -> None:
    parser = html5lib.HTMLParser(strict=True)
    for path in sorted(packet.rglob("*.html")):
        parser.parse(path.read_text(encoding="utf-8"))


def test_every_page_of_a_held_order_says_so(packet: Path) -> None:
    about = json.loads((packet / "packet.json").read_text(encoding="utf-8"))
    held = next(d for d in about["documents"] if d["held"])
    for page in PdfReader(str(packet / held["files"]["pdf"])).pages:
        assert "HELD" in page.extract_text()


def test_the_pdf_says_that_it_is_archivable_and_accessible(packet: Path) -> None:
    for path in sorted(packet.rglob("*.pdf")):
        metadata = PdfReader(str(path)).xmp_metadata
        assert metadata is not None
        raw = metadata.stream.get_data().decode("utf-8")
        assert "<pdfaid:part>2</pdfaid:part>" in raw
        assert "<pdfaid:conformance>A</pdfaid:conformance>" in raw
        assert "<pdfuaid:part>1</pdfuaid:part>" in raw


COMPILE = (
    "import sys; from pathlib import Path; from spec.pipeline import run; "
    "run(Path(sys.argv[1]), Path(sys.argv[2]))"
)


def test_same_input_same_bytes_elsewhere(tmp_path: Path, starters: Path) -> None:
    """Two folders, two time zones, two locales, two hash seeds."""
    made = []
    for folder, zone, locale, seed in (
        ("here", "UTC", "C.UTF-8", "1"),
        ("there/deeper", "Asia/Tokyo", "de_DE.UTF-8", "77"),
    ):
        job = tmp_path / folder / "garden_store_first_visit"
        shutil.copytree(starters / job.name, job)
        out = tmp_path / folder / "out"
        environment = {**os.environ, "TZ": zone, "LC_ALL": locale, "PYTHONHASHSEED": seed}
        subprocess.run(
            [sys.executable, "-c", COMPILE, "job.yaml", str(out)],
            cwd=job,
            env=environment,
            check=True,
        )
        made.append(digests(out))
    assert made[0] == made[1]
