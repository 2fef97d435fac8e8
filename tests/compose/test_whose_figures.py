"""Figures of the way in are told to those whose piece they are about, and hold nobody else."""

from __future__ import annotations

from functools import cache

import pytest

from spec import files
from spec.compose import orders
from spec.compose.blocks import cites_of
from spec.compose.context import figure_trades
from spec.job.trades import own_trades
from spec.pipeline import Checked, check_file


@cache
def checked(job: str) -> Checked:
    return check_file(files.templates() / "jobs" / job / "job.yaml")


@cache
def cited(job: str) -> dict[str, frozenset[str]]:
    return {reader.trade: cites_of(order.blocks) for reader, order in orders(checked(job))}


@pytest.mark.parametrize("job", ["garden_store", "city_flat"])
def test_an_order_cites_figures_of_the_way_in_of_its_own_pieces_only(job: str) -> None:
    facts = checked(job).facts
    seen = 0
    for trade, cites in cited(job).items():
        for address in cites:
            figure = facts.figures.at(address) if address.startswith("access.") else None
            if figure is None or figure.definition.trades != ("own",):
                continue
            about = figure.parts[0].address if figure.parts else figure.thing
            piece = facts.job.find(about)
            assert piece is not None and trade in own_trades(facts.job, piece), (trade, address)
            seen += 1
    assert seen > 3


def test_the_client_s_refrigerator_holds_neither_the_door_nor_the_cooling() -> None:
    facts = checked("garden_store").facts
    for trade in ("doors", "refrigeration"):
        cites = cited("garden_store")[trade]
        rests = {a for c in cites if (f := facts.figures.at(c)) for a in f.inputs | f.waits_for}
        assert not [a for a in (*cites, *rests) if a.startswith("RF1")], trade


def test_an_open_counter_holds_no_glass() -> None:
    facts = checked("city_flat").facts
    cites = cited("city_flat")["glazing"]
    rests = {a for c in cites if (f := facts.figures.at(c)) for a in f.inputs | f.waits_for}
    assert "access.lift_play@access.lift" in cites
    assert not [a for a in (*cites, *rests) if a.startswith("bar.counter")]


def test_the_rack_fitter_s_largest_pieces_stay_in_the_rack_fitter_s_order() -> None:
    facts = checked("garden_store").facts
    plays = [f for f in facts.figures.all() if f.definition.name == "access.door_play"]
    assert plays and all(figure_trades(facts.job, f) == ("millwork",) for f in plays)
    assert {f.address for f in plays} <= cited("garden_store")["millwork"]
