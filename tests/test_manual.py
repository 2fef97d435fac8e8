"""The manual is whole: every rule, decision and figure has its entry, and every link leads."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from urllib.parse import unquote, urljoin, urlsplit
from xml.etree.ElementTree import Element

import html5lib
import pytest
from click.testing import CliRunner

from spec.check.rule import rules
from spec.cli import cli
from spec.compose.manual.decisions import by_pattern, decisions
from spec.compose.manual.links import links, patterns
from spec.derive.figure import definitions
from spec.job.schema import TRADES
from spec.pipeline import check_file
from spec.pipeline import run as compile_job
from spec.quantity.dimensions import DIMENSIONS
from tests.job.schema_walk import Property, properties


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The manual as the command writes it."""
    out = tmp_path_factory.mktemp("manual") / "out"
    result = CliRunner().invoke(cli, ["manual", "--out", str(out)], catch_exceptions=False)
    assert result.exit_code == 0 and f"manual: open {out / 'index.html'}" in result.output
    return out


@cache
def _tree(path: Path) -> Element:
    parser = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False)
    return parser.parse(path.read_text(encoding="utf-8"))  # type: ignore[no-any-return]


def pages(folder: Path) -> dict[str, Element]:
    """Every page, parsed strictly."""
    return {
        path.relative_to(folder).as_posix(): _tree(path) for path in sorted(folder.rglob("*.html"))
    }


def text_of(element: Element) -> str:
    return " ".join("".join(element.itertext()).split())


def section(page: Element, anchor: str) -> str:
    """The text of an entry: from its heading to the next one."""
    main = page.find("body/main")
    assert main is not None
    inside, found = False, []
    for element in main:
        if element.tag in ("h2", "h3", "h4"):
            inside = element.get("id") == anchor
        if inside:
            found.append(text_of(element))
    return " ".join(found)


def test_the_pages_need_no_script_and_nothing_from_outside(folder: Path) -> None:
    for name, page in pages(folder).items():
        tags = {element.tag for element in page.iter() if isinstance(element.tag, str)}
        assert not tags & {"script", "link", "img", "iframe", "object"}, name


def test_every_link_leads_to_an_anchor(folder: Path) -> None:
    found = pages(folder)
    anchors = {
        name: [e.get("id") for e in page.iter() if e.get("id")] for name, page in found.items()
    }
    for name, there in anchors.items():
        assert len(set(there)) == len(there), f"an anchor stands twice in {name}"
    count = 0
    for name, page in found.items():
        for link in page.iter("a"):
            target = urlsplit(urljoin(name, link.get("href", "")))
            assert target.path in found, f"{name} leads to {target.path}"
            assert not target.fragment or unquote(target.fragment) in anchors[target.path], (
                f"{name} leads to {target.path}#{target.fragment}"
            )
            count += 1
    assert count > 3000


def test_every_page_is_reached_from_the_first(folder: Path) -> None:
    found = pages(folder)
    linked = {urlsplit(a.get("href", "")).path for a in found["index.html"].iter("a")}
    assert set(found) - {"index.html"} <= linked


@pytest.mark.parametrize("name", rules())
def test_every_rule_has_its_entry(folder: Path, name: str) -> None:
    rule = rules()[name]
    page = _tree(folder / "rules" / f"{rule.subject}.html")
    text = section(page, name)
    what = " ".join((rule.speaks.__doc__ or "").split())
    for part in (what, str(rule.level), rule.why, rule.source):
        assert part and re.sub("`([^`]+)`", r"“\1”", part) in text, part
    for part in (rule.example.bad, rule.example.good):
        assert " ".join(part.split()) in text, part
    for trade in rule.trades:
        assert trade.replace("_", " ") in text
    typed = [pre for pre in page.iter("pre") if pre.text == rule.example.bad.strip("\n")]
    assert typed, "the example keeps its blanks"


@pytest.mark.parametrize("name", definitions())
def test_every_figure_has_its_entry(folder: Path, name: str) -> None:
    made = definitions()[name]
    page = _tree(folder / "figures" / f"{made.subject}.html")
    text = section(page, name)
    for part in (made.title, made.source, made.holds, " ".join((made.work.__doc__ or "").split())):
        assert re.sub("`([^`]+)`", r"“\1”", part) in text, part
    if made.dimension in DIMENSIONS:
        assert DIMENSIONS[made.dimension].title in text


def test_formulas_are_set_and_spoken(folder: Path) -> None:
    page = _tree(folder / "figures" / "cooling.html")
    spoken = {e.get("aria-label") for e in page.iter("div") if e.get("role") == "math"}
    assert any("t sub beyond minus t sub room" in str(words) for words in spoken)
    assert "t sub beyond minus t sub room" in section(page, "cooling.transmission")


def asked() -> Iterator[Property]:
    """Every property that the schemas annotate, by a walk that the manual does not share."""
    for found in properties():
        if found.own and not found.pattern:
            yield found


def test_every_annotated_property_has_its_entry() -> None:
    known: dict[tuple[str, str], set[str]] = {}
    for entry in decisions():
        key = (entry.name.rpartition(".")[2], entry.title)
        known.setdefault(key, set()).update(entry.words)
    count = 0
    for found in asked():
        title = found.merged.get("title") or found.name.replace("_", " ")
        there = known.get((found.name.rpartition(".")[2], title), set())
        for words in (found.own.get("ask"), found.merged.get("description")):
            if words:
                said = re.compile(re.escape(words).replace(r"\{mark\}", "the [a-z0-9 ]+"))
                assert any(map(said.fullmatch, there)), f"{found.path}: {words}"
                count += 1
    assert count > 2000


def test_an_entry_says_who_when_and_how_it_is_written(folder: Path) -> None:
    page = _tree(folder / "decisions" / "openings.html")
    width = section(page, "door.leaf.width")
    for part in (
        "How wide is the leaf of the door?", "lead decides", "framing", "Needed unless “follows”",
        "before the stage order material", "buy material", "an error", "7' 6-1/2\"",
    ):  # fmt: skip
        assert part in width, part
    assert "one of: left, right, both" in section(page, "door.hinges_on")


def test_every_decision_has_a_page_and_an_anchor(folder: Path) -> None:
    anchors = {
        str(element.get("id"))
        for name, page in pages(folder).items()
        if name.startswith("decisions/")
        for element in page.iter()
        if element.get("id")
    }
    assert {entry.name for entry in decisions()} <= anchors


def test_names_are_the_addresses_of_a_job_with_kinds_for_marks(starters: Path) -> None:
    """Every decision of a job is found in the manual under what it stands in."""
    job = check_file(starters / "garden_store" / "job.yaml", so_far=True).job
    missing = {
        leaf.address
        for leaf in job.tree.leaves()
        if leaf.parent is not None and not set(patterns(leaf)) & set(by_pattern())
    }
    assert not missing
    assert "door.leaf.width" in patterns(job.find("D1.leaf.width") or job.tree)
    assert "room.floor.stops.*.strip" in by_pattern()


def test_a_rule_leads_to_what_it_reads_and_back(folder: Path) -> None:
    rule = next(name for name, read in links().read_by_rule.items() if "door.leaf.width" in read)
    page = _tree(folder / "rules" / f"{rules()[rule].subject}.html")
    assert "door.leaf.width" in section(page, rule)
    assert rule in section(_tree(folder / "decisions" / "openings.html"), "door.leaf.width")


def test_figures_lead_to_what_they_are_made_from(folder: Path) -> None:
    text = section(_tree(folder / "figures" / "cooling.html"), "cooling.load")
    assert "room.climate.temperature" in text and "wall.assembly" in text
    text = section(_tree(folder / "decisions" / "envelope.html"), "room.climate.temperature")
    assert "cooling.load" in text


def test_the_same_manual_is_the_same_bytes(folder: Path) -> None:
    about = json.loads((folder / "packet.json").read_text(encoding="utf-8"))
    again = folder.parent / "again"
    CliRunner().invoke(cli, ["manual", "--out", str(again)], catch_exceptions=False)
    assert json.loads((again / "packet.json").read_text(encoding="utf-8")) == about
    assert str(folder.parent) not in (folder / "index.html").read_text(encoding="utf-8")


def test_it_never_takes_the_place_of_a_packet(tmp_path: Path, starters: Path) -> None:
    out = tmp_path / "packet"
    compile_job(starters / "garden_store_first_visit" / "job.yaml", out)
    before = {path: path.read_bytes() for path in out.rglob("*") if path.is_file()}
    result = CliRunner().invoke(cli, ["manual", "--out", str(out)], catch_exceptions=False)
    assert result.exit_code == 2 and "packet of a job" in result.output
    assert {path: path.read_bytes() for path in out.rglob("*") if path.is_file()} == before


def test_trades_are_named_in_words(folder: Path) -> None:
    text = section(_tree(folder / "decisions" / "job.html"), "job.revision.date")
    assert "every trade" in text and TRADES[0] not in text
