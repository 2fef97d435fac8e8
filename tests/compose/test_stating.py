"""Every decision reaches who needs it; a fingerprint changes with what its document states only."""

from __future__ import annotations

import shutil
from functools import cache
from pathlib import Path

import pytest

from spec import files
from spec.compose import Composed, compose, left_unsaid
from spec.compose.blocks import Document, Facts, Paragraph, Row, Table, cites_of, say
from spec.compose.context import Reader
from spec.compose.coverage import unstated
from spec.compose.fingerprint import fingerprint
from spec.pipeline import check_file

STARTER = files.templates() / "jobs" / "garden_store"
NAME = "job.yaml"


def composed(folder: Path, *edits: tuple[str, str]) -> Composed:
    """The documents of the starter with some lines changed."""
    target = folder / "job"
    shutil.copytree(STARTER, target, dirs_exist_ok=True)
    text = (STARTER / NAME).read_text(encoding="utf-8")
    for old, new in edits:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    (target / NAME).write_text(text, encoding="utf-8")
    return compose(check_file(target / NAME, shown_as=NAME))


@cache
def whole() -> Composed:
    return compose(check_file(STARTER / NAME, shown_as=NAME))


def prints(found: Composed) -> dict[str, str]:
    return {d.folder: d.head.fingerprint for d in found.documents if d.folder != "lead"}


def test_a_leaf_that_no_document_states_is_reported() -> None:
    """With nothing said, everything that a reader needs is left unsaid, each at its line."""
    checked = whole().checked
    reader = Reader(checked.facts, checked.findings, "doors")
    nothing = {f.address for f in unstated(reader, frozenset())}
    assert {"D1.leaf.width", "D1.leaf.height"} <= nothing
    stated = cites_of(order("doors").blocks)
    assert not list(unstated(reader, stated))
    missing = list(unstated(reader, stated - {"D1.hinges_on"}))
    assert [f.address for f in missing] == ["D1.hinges_on"]
    assert missing[0].place.file == NAME and "doors" in missing[0].message


def order(folder: str) -> Document:
    return next(d for d in whole().documents if d.folder == folder)


def test_what_is_left_unsaid_is_found_without_drawing() -> None:
    """Leaving the drawings out loses no decision: dimensions are in the schedules too."""
    assert set(left_unsaid(whole().checked)) == set(whole().unstated)


def test_a_change_reaches_the_orders_that_state_it_and_no_other(tmp_path: Path) -> None:
    """The color of the trim paint is the painter's and the client's; no machine changes."""
    before = prints(whole())
    after = prints(composed(tmp_path, ("reference: WP 221", "reference: WP 999")))
    changed = {folder for folder in before if before[folder] != after[folder]}
    assert "painting" in changed
    assert not changed & {"refrigeration", "demolition", "flooring", "appliances"}


def test_a_change_in_a_comment_or_a_note_changes_no_order(tmp_path: Path) -> None:
    edit = ("# Marks (D1, WA, R7) name single things", "# Marks name single things")
    assert prints(composed(tmp_path, edit)) == prints(whole())


def test_revision_mark_and_day_do_not_change_a_fingerprint(tmp_path: Path) -> None:
    edits = (
        ("    mark: B\n", "    mark: C\n"),
        ("    date: 2026-10-12\n", "    date: 2026-11-20\n"),
        ("reason: Refrigerator moved out of the corner;", "reason: Something else;"),
    )
    after = composed(tmp_path, *edits)
    heads = {d.folder: d.head for d in after.documents}
    assert {head.revision for head in heads.values()} == {"C"}
    assert {head.day for head in heads.values()} == {"2026-11-20"}
    before = prints(whole())
    changed = [folder for folder, value in prints(after).items() if value != before[folder]]
    assert not changed


def test_a_fingerprint_is_four_groups_of_four_and_tells_blocks_apart() -> None:
    one = [Paragraph(say("Racks are oak."))]
    assert fingerprint(one) == fingerprint([Paragraph(say("Racks are oak."))])
    parts = fingerprint(one).split(" ")
    assert [len(part) for part in parts] == [4] * 4 and set("".join(parts)) <= set(
        "0123456789abcdef"
    )
    others = [
        [Paragraph(say("Racks are ash."))],
        [Paragraph(say("Racks are oak."), "caution")],
        [Paragraph(say("Racks are oak.", frozenset({"R1.species"})))],
        [Table("Racks are oak.", (), (Row(("",)),))],
        [],
    ]
    assert len({fingerprint(blocks) for blocks in (one, *others)}) == 6


def test_the_order_in_which_decisions_were_cited_makes_no_difference() -> None:
    names = [f"R{n}.width" for n in range(50)]
    one = [Paragraph(say("x", frozenset(names)))]
    assert fingerprint(one) == fingerprint([Paragraph(say("x", frozenset(reversed(names))))])


@pytest.mark.parametrize("trade", ["doors", "millwork", "electrical", "refrigeration", "painting"])
def test_every_address_that_an_order_cites_is_there(trade: str) -> None:
    """An order rests on decisions, absent ones that it waits for, and figures: nothing made up."""
    job = whole().checked.job
    cites = cites_of(order(trade).blocks)
    assert len(cites) > 20
    for address in cites:
        name, _, thing = address.partition("@")
        found = job.find(thing or name)
        upper = address
        while found is None and "." in upper:
            upper = upper.rpartition(".")[0]
            found = job.find(upper)
        known = found is not None or name.split(".")[0] in {"thresholds", *_thresholds()}
        assert known, address


@cache
def _thresholds() -> frozenset[str]:
    from spec.job.schema import root

    shape = root("house").below("thresholds")
    assert shape is not None
    return frozenset(name.split(".")[0] for name in shape.names)


def test_an_order_that_two_firms_share_says_which_does_what() -> None:
    checked = check_file(files.templates() / "jobs" / "supper_club" / NAME, shown_as=NAME)
    (order,) = (d for d in compose(checked).documents if d.folder == "plumbing")
    rows = [row for block in order.blocks if isinstance(block, Facts) for row in block.rows]
    firms = [str(row.cells[1]) for row in rows if row.cells[0] == "This order is for"]
    assert len(firms) == 2
    assert firms[0].startswith("Sorrel Plumbing") and firms[1].endswith("for SP1, SP2, SP3")
