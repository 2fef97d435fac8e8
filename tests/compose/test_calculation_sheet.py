"""The calculation sheet: every figure with its work, every input with its line."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

import pytest

from spec import files
from spec.compose.blocks import Document, Formula, Heading, Paragraph, Row, Table
from spec.compose.context import Reader
from spec.compose.documents.calculation_sheet import calculation_sheet
from spec.compose.parts.workings import Working, is_of_the_day, si_text
from spec.compose.wording import figure_text
from spec.derive.figure import Figure
from spec.pipeline import Checked, check_file
from tests.resolved import facts_of

STARTERS = ("garden_store", "city_flat", "supper_club")


@dataclass(frozen=True)
class Sheet:
    checked: Checked
    document: Document

    @property
    def figures(self) -> list[Figure]:
        return list(self.checked.facts.figures.all())

    def rows(self, first_column: str) -> list[Row]:
        return [
            row
            for block in self.document.blocks
            if isinstance(block, Table) and block.columns[0] == first_column
            for row in block.rows
        ]


@cache
def sheet(starter: str) -> Sheet:
    checked = check_file(files.templates() / "jobs" / starter / "job.yaml")
    return Sheet(checked, calculation_sheet(Reader(checked.facts, checked.findings)))


def of_figures(blocks: tuple[object, ...]) -> list[Row]:
    return [
        row
        for block in blocks
        if isinstance(block, Table) and block.caption.startswith("Figure ")
        for row in block.rows
    ]


def printed(blocks: tuple[object, ...], address: str) -> dict[str, str]:
    """The cells of a figure's row by the heads of their columns."""
    for block in blocks:
        if isinstance(block, Table) and block.caption.startswith(
            f"Figure {address.split('@', maxsplit=1)[0]}."
        ):
            for row in block.rows:
                if row.cells[0] == address.split("@")[1]:
                    return dict(zip(block.columns, row.cells, strict=True))
    raise AssertionError(f"{address} is not on the sheet")


@pytest.mark.parametrize("starter", STARTERS)
def test_every_figure_stands_on_the_sheet_once_with_its_result(starter: str) -> None:
    job = sheet(starter).checked.job
    rows = of_figures(sheet(starter).document.blocks)
    figures = sheet(starter).figures
    assert len(rows) == len(figures) > 400
    by_address = {address: row for row in rows for address in row.cites if "@" in address}
    for figure in figures:
        row = next(
            r for r in rows if figure.address in r.cites and r.cells[0] == figure.thing
            and figure.inputs <= r.cites and _result(r, figure, job)
        )  # fmt: skip
        assert row.tone == ("plain" if figure.value is not None else "held")
    assert {f.address for f in figures} <= set(by_address)


def _result(row: Row, figure: Figure, job: object) -> bool:
    said = {cell.partition("\n")[0] for cell in row.cells[1:]}
    if figure.value is None:
        return row.cells[2].startswith(("waits for", "not worked out"))
    if is_of_the_day(figure):
        return "to be counted from the day in the head" in said
    text = figure_text(job, figure.value, figure.definition.dimension)  # type: ignore[arg-type]
    return text in said


@pytest.mark.parametrize("starter", STARTERS)
def test_each_kind_has_its_formula_source_and_range(starter: str) -> None:
    blocks = sheet(starter).document.blocks
    titles = {b.text for b in blocks if isinstance(b, Heading) and b.level == 2}
    text = "\n".join(b.text for b in blocks if isinstance(b, Formula))
    abouts = [b.caption for b in blocks if isinstance(b, Table) and b.caption.startswith("Figure ")]
    for definition in {
        figure.definition.name: figure.definition for figure in sheet(starter).figures
    }.values():
        assert definition.title in titles
        assert all(case.strip() in text for case in definition.formula.split("|"))
        about = next(a for a in abouts if a.startswith(f"Figure {definition.name}. "))
        assert definition.source in about
        assert definition.holds in about


@pytest.mark.parametrize("starter", STARTERS)
def test_each_input_row_names_a_line_that_holds_its_value(starter: str) -> None:
    folder = files.templates() / "jobs" / starter
    lines = {
        path.name: path.read_text(encoding="utf-8").splitlines() for path in folder.glob("*.yaml")
    }
    rows = sheet(starter).rows("Address")
    listed = [(row, address) for row in rows for address in row.cites]
    assert len(listed) > 300
    for row, address in listed:
        node = sheet(starter).checked.job.find(address)
        assert node is not None
        said = row.cells[1].partition(f"{node.key} = {node.written}")
        assert said[1], (address, row.cells)
        name, number = re.search(r"\((\w+\.yaml):(\d+)\)", said[2]).groups()  # type: ignore[union-attr]
        line = lines[name][int(number) - 1]
        assert _bare(node.written.partition("\n")[0])[:40] in _bare(line), (address, line)


def _bare(text: str) -> str:
    """Letters and digits alone: quotes, brackets and escapes are the file's, not the value's."""
    return re.sub(r"\\(?=[\"'])|[\W_]+", "", text)


@pytest.mark.parametrize("starter", STARTERS)
def test_every_input_of_every_figure_is_on_the_sheet(starter: str) -> None:
    job = sheet(starter).checked.job
    rows = (*sheet(starter).rows("Address"), *sheet(starter).rows("Name"))
    listed = {address for row in rows for address in row.cites}
    for figure in sheet(starter).figures:
        for address in figure.inputs:
            node = job.find(address)
            if "@" in address or (node is not None and (node.children or not node.written)):
                continue
            assert address in listed, (figure.address, address)


def test_numbers_put_in_give_the_result_when_worked_by_hand() -> None:
    """The test's own arithmetic on what the sheet prints: 1 - load / rated power."""
    row = printed(sheet("garden_store").document.blocks, "lighting.headroom@PS1")
    load = re.search(r"lighting\.driver_load@PS1 = ([\d.]+) W", row["Numbers put in"])
    rated = re.search(r"PS1\.power = (\d+) W", row["Numbers put in"])
    assert load is not None
    assert rated is not None
    by_hand = 1 - float(load[1]) / float(rated[1])
    assert float(row["In SI"]) == pytest.approx(by_hand, rel=1e-3)


def test_numbers_of_the_same_names_stand_in_columns_and_give_the_result() -> None:
    """The test's own arithmetic on what the sheet prints: 2 r L I / U."""
    row = printed(sheet("garden_store").document.blocks, "electrical.drop@C4")
    r, long, current, volts = (_si(row[name]) for name in ("r, Ω/m", "L", "I", "U"))
    assert 2.0 * r * long * current / volts == pytest.approx(_si(row["Result"]), rel=1e-3)


def _si(cell: str) -> float:
    """The number in SI: in parentheses or on the last line."""
    number = re.search(r"\(([\d.]+)", cell) or re.search(r"([\d.]+)[^\n]*$", cell)
    assert number is not None
    return float(number[1])


def test_what_all_of_a_kind_have_read_is_said_once() -> None:
    blocks = sheet("garden_store").document.blocks
    texts = [b.sentence.text for b in blocks if isinstance(b, Paragraph)]
    shared = [text for text in texts if text.startswith("For each of them: ")]
    assert any("carry.each = 51 lb (default)" in text for text in shared)
    rows = [r for r in of_figures(blocks) if "access.carriers@CU1" in r.cites]
    assert rows
    assert not any("carry.each" in cell for row in rows for cell in row.cells)


def test_shares_that_add_up_have_their_sum() -> None:
    table = next(
        b
        for b in sheet("garden_store").document.blocks
        if isinstance(b, Table)
        and b.caption.startswith("Heat through walls, ceiling, floor and glass:")
    )
    *parts, total = table.rows
    assert total.tone == "total"
    shares = [_si(row.cells[-1]) for row in parts]
    assert sum(shares) == pytest.approx(_si(total.cells[-1]), rel=1e-3)
    heat = next(row for row in parts if row.cells[1] == "WC")
    u, area, beyond = (_si(cell) for cell in heat.cells[2:5])
    assert u * area * (beyond - 12.778) == pytest.approx(_si(heat.cells[-1]), rel=1e-3)


def test_defaults_of_the_house_are_named_and_told_from_what_a_file_gives() -> None:
    defaults = {row.cells[0]: row.cells[2] for row in sheet("garden_store").rows("Name")}
    given = {row.cells[0] for row in sheet("garden_store").rows("Address")}
    assert defaults["carry.each"] == "51 lb"
    assert not set(defaults) & given


def test_what_a_figure_waits_for_is_said() -> None:
    facts = facts_of(
        """
        job: {units: imperial}
        rooms:
          cellar:
            climate: {temperature: {open: {who: client}}, humidity: 60 %}
        """
    )
    document = calculation_sheet(Reader(facts, ()))
    held = [row for row in of_figures(document.blocks) if row.tone == "held"]
    assert held
    assert all("waits for" in row.cells[2] for row in held)


def test_it_says_who_decides() -> None:
    words = [
        b.sentence.text for b in sheet("city_flat").document.blocks if isinstance(b, Paragraph)
    ]
    assert any("Local codes and licensed practice decide." in text for text in words)


def test_it_does_not_depend_on_where_the_job_lies() -> None:
    for block in sheet("city_flat").document.blocks:
        assert str(files.templates()) not in repr(block)


def test_what_was_read_for_another_figure_is_listed_with_that_one() -> None:
    facts = sheet("garden_store").checked.facts
    figure = next(f for f in sheet("garden_store").figures if f.definition.name == "cooling.margin")
    working = Working(facts.job, facts.figures, figure)
    assert {a.partition("@")[0] for a in working.used} == {"cooling.given", "cooling.needed"}
    assert working.read == ()


@pytest.mark.parametrize(
    "value, dimension, text",
    [
        (410.8190318, "heat_flow", "410.82 W"),
        (3.4e-11, "permeance", "3.4 × 10⁻¹¹ kg/(m² s Pa)"),
        (-0.25, "offset", "-0.25 m"),
        (12.0, "count", "12"),
    ],
)
def test_si(value: float, dimension: str, text: str) -> None:
    assert si_text(value, dimension) == text


def test_a_figure_is_worked_out_again_over_the_range_of_a_standard() -> None:
    rows = [row for row in sheet("garden_store").rows("For") if row.cells[0] == "wine_room"]
    moved = [row.cells for row in rows if row.cells[1].startswith("wine.heat_capacity = ")]
    assert len(moved) == 2  # capacity needed, time to cool a delivery down
    assert all(
        "4100 J/kgK" in cells[1] and cells[2].startswith("3900 J/kgK to 4300 J/kgK")
        for cells in moved
    )
    small = [b for b in sheet("garden_store").document.blocks if isinstance(b, Paragraph)]
    assert any("makes no difference that shows to" in str(block) for block in small)
