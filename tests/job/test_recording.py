"""What was read is what is cited: reads are recorded, nested, repeated from what is kept."""

from __future__ import annotations

import pytest

from spec.job.node import Node, Open
from spec.job.record import Kept, note, recording
from tests.resolved import facts_of, job_of

JOB = """
products: {strip_a: {is: strip, watts: 2 W/ft, voltage: 24 V, longest_run: 20 ft}}
rooms:
  room_one:
    walls_clockwise:
      WA:
        length: 9 ft
        lights:
          LS1: {product: strip_a, shines: up, tell: {electrical: Mind the pipe}}
        openings:
          D1: {is: door, left: TBD, leaf: {width: {open: client, meanwhile: 30 in}, height: 80 in}}
"""


def node(address: str) -> Node:
    found = job_of(JOB).find(address)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("method", "path", "read"),
    [
        ("si", "leaf.height", {"D1.leaf.height"}),
        ("quantity", "leaf.height", {"D1.leaf.height"}),
        ("text", "leaf.height", {"D1.leaf.height"}),
        ("word", "is", {"D1.is"}),
        ("has", "leaf.height", {"D1.leaf.height"}),
        ("given", "leaf.height", {"D1.leaf.height"}),
        ("at", "leaf", {"D1.leaf"}),
        ("has", "seals", set()),
        ("find", "leaf.height", set()),
        ("si", "leaf.width", {"D1.leaf.width"}),
    ],
)
def test_each_way_of_reading_records_exactly_what_it_read(
    method: str, path: str, read: set[str]
) -> None:
    door = node("D1")
    with recording() as found:
        getattr(door, method)(path)
    assert found == read


def test_an_absent_fact_with_a_default_reads_nothing() -> None:
    with recording() as found:
        assert node("D1").si("leaf.thickness", 0.0) == 0.0
    assert found == set()


@pytest.mark.parametrize(
    ("path", "address"), [("left", "D1.left"), ("leaf.weight", "D1.leaf.weight")]
)
def test_what_is_waited_for_is_recorded_by_its_address(path: str, address: str) -> None:
    with recording() as found, pytest.raises(Open):
        node("D1").si(path)
    assert found == {address}


def test_a_products_fact_is_read_through_its_link() -> None:
    with recording() as found:
        node("LS1").si("watts")
    assert found == {"LS1.watts", "strip_a.watts", "LS1.product"}
    with recording() as own:
        node("LS1").word("shines")
    assert own == {"LS1.shines"}


def test_an_outer_record_has_what_an_inner_one_read_and_not_the_other_way() -> None:
    with recording() as outer:
        note("a")
        with recording() as inner:
            note("b")
        note("c")
    assert outer == {"a", "b", "c"} and inner == {"b"}
    note("d")
    assert outer == {"a", "b", "c"}


def test_a_kept_result_is_worked_out_once_and_read_by_everybody() -> None:
    kept: Kept[int] = Kept()
    times: list[int] = []

    def work() -> int:
        times.append(1)
        note("x")
        return 7

    reads = []
    for _ in range(3):
        with recording() as read:
            assert kept.get("k", work, Open) == 7
        reads.append(read)
    assert times == [1] and reads == [{"x"}] * 3


def test_a_kept_failure_fails_again_with_the_same_reads_and_others_are_not_kept() -> None:
    kept: Kept[int] = Kept()

    def waits() -> int:
        note("x")
        raise Open("D1.left")

    for _ in range(2):
        with recording() as read, pytest.raises(Open) as waiting:
            kept.get("k", waits, Open)
        assert waiting.value.address == "D1.left" and read == {"x"}

    def broken() -> int:
        raise ZeroDivisionError

    for _ in range(2):
        with pytest.raises(ZeroDivisionError):
            kept.get("other", broken, Open)


def test_every_figure_rests_on_addresses_that_are_there_or_waited_for() -> None:
    facts = facts_of(JOB)
    worked = [figure for figure in facts.figures.all() if figure.value is not None]
    assert worked
    for figure in worked:
        assert not figure.waits_for
        for address in figure.inputs:
            is_figure = "@" in address
            assert is_figure or facts.job.find(address) is not None or _standard(address), address


def _standard(address: str) -> bool:
    from spec.job.schema import root

    shape = root("house").below("thresholds")
    return shape is not None and address in shape.names
