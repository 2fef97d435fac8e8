"""The scope of an order is complete: everything that the trade makes is named in it, once."""

from __future__ import annotations

from functools import cache

import pytest

from spec import files
from spec.compose import readers
from spec.compose.blocks import Bullets, Table
from spec.compose.context import Reader
from spec.compose.parts.scope import scope
from spec.compose.parts.scope_tiers import MADE_AS_ONE
from spec.compose.parts.work import neighbors_in_time
from spec.job.trades import own_trades
from spec.pipeline import Checked, check_file
from tests.resolved import facts_of

STARTERS = ("garden_store", "city_flat")


@cache
def checked(job: str) -> Checked:
    return check_file(files.templates() / "jobs" / job / "job.yaml")


def reader(job: str, trade: str) -> Reader:
    return next(r for r in readers(checked(job)) if r.trade == trade)


def tasks(of: Reader) -> list[str]:
    return [item.text for b in scope(of) if isinstance(b, Bullets) for item in b.items]


def words_of(of: Reader) -> str:
    return " ".join(tasks(of)).replace(",", " ").replace(".", " ").replace(";", " ")


@pytest.mark.parametrize("job", STARTERS)
def test_everything_that_a_trade_makes_is_named_in_its_scope(job: str) -> None:
    """Own things but those that are there and stay; holes for who cuts and for who closes."""
    missing = []
    for of in readers(checked(job)):
        said = f" {words_of(of)} "
        for thing in of.job.everything:
            mine = of.trade in own_trades(of.job, thing) and thing.known
            stands = thing.surface or thing.container in ("elsewhere", "circuits", "existing")
            state, action = thing.find("state"), thing.find("action")
            stays = state is not None and state.value == "existing" and action is None
            if mine and stands and not stays and f" {thing.key} " not in said:
                missing.append((of.trade, thing.address))
    assert not missing


@pytest.mark.parametrize("job", STARTERS)
def test_every_tier_made_in_lengths_is_in_the_scope_of_who_makes_it(job: str) -> None:
    tiers = [t for t in checked(job).job.everything if t.kind in MADE_AS_ONE]
    assert tiers
    for tier in tiers:
        (trade,) = own_trades(checked(job).job, tier)
        assert tier.key in words_of(reader(job, trade)), tier.address


def test_a_room_s_base_is_the_joiner_s_and_a_stone_top_is_four_steps() -> None:
    assert any("base of the tasting room" in t for t in tasks(reader("garden_store", "millwork")))
    (counter,) = tasks(reader("garden_store", "stone"))
    for step in ("Template", "supply", "cut out", "fit", "counter", "F8", "TC", "cut-outs: none"):
        assert step in counter


def test_a_framer_makes_the_opening_of_a_door_that_another_trade_hangs() -> None:
    (opening,) = [t for t in tasks(reader("garden_store", "framing")) if " D1," in t]
    assert opening.startswith("Frame the opening") and "header 2 of 2x10" in opening
    assert "66-1/4 in wide" in opening and "6' 10\" high" in opening


def test_one_structure_is_one_task_whatever_fills_it() -> None:
    structures = [t for t in tasks(reader("garden_store", "framing")) if t.startswith("Structure")]
    assert [t.split()[1] for t in structures] == ["A1", "A2", "A3", "A4"]
    assert "fiber and foam" in structures[0]


@pytest.mark.parametrize(
    ("state", "verb"),
    [(", state: existing", "Work in the existing"), ("", "Work in"), (", state: new", "Supply")],
)
def test_a_panelboard_is_bought_only_where_the_job_says_that_it_is_new(
    state: str, verb: str
) -> None:
    facts = facts_of(f"""
trades: {{electrical: {{firm: Volt}}}}
elsewhere: {{PN1: {{is: panelboard, where: hall, installed_by: electrical{state}}}}}
""")
    (task,) = tasks(Reader(facts, (), "electrical"))
    assert task.startswith(verb) and "PN1" in task


@pytest.mark.parametrize("job", STARTERS)
def test_the_boards_of_the_starters_are_there_already(job: str) -> None:
    assert not [t for t in tasks(reader(job, "electrical")) if "Supply and fit: panelboard" in t]


def test_lamps_of_one_mark_are_counted_and_the_cables_of_others_are_laid() -> None:
    said = tasks(reader("garden_store", "electrical"))
    assert any("6 x downlight L4" in t for t in said)
    assert any(t.startswith("Lay the cables of") and "SN1" in t and "CT1" in t for t in said)
    assert any("circuits C1, C2, C3, C4, C5 from PN1" in t for t in said)


def test_an_inspection_stands_beside_the_visit_that_it_follows() -> None:
    blocks = neighbors_in_time(reader("garden_store", "electrical"))
    when = next(b for b in blocks if isinstance(b, Table))
    row = next(r for r in when.rows if "I1" in r.cells[2])
    assert row.cells[0] == "Tue\xa02026-11-24" and row.cells[3] == "after electrical: rough"
