"""Circuits of cooling machines: by the plate where it speaks, by the table where it is silent."""

from __future__ import annotations

import pytest

from tests.check.test_rules import said_of

TABLE, PLATE = "electrical.conductor-too-thin", "electrical.conductor-too-thin-for-machine"
_CIRCUIT = """
circuits: {C1: {voltage: 240 V, breaker: BREAKER, conductor: WIRE copper}}
elsewhere:
  DS1: {is: disconnect, in_sight_of: CU1, fed_from: C1}
  CU1: {is: condensing_unit, voltage: 240 V, PLATE, fed_from: DS1}
"""


def circuit(breaker: str, wire: str, plate: str, more: str = "") -> str:
    text = _CIRCUIT.replace("BREAKER", breaker).replace("WIRE", wire).replace("PLATE", plate)
    return text + more


def test_a_plate_that_names_its_largest_breaker_goes_before_the_table() -> None:
    # NEC 240.4(G): 14 AWG may stand behind 20 A where the plate takes 13.4 A and allows 20 A
    text = circuit("20 A", "14 AWG", "minimum_circuit: 13.4 A, maximum_overcurrent: 20 A")
    assert not said_of(text, TABLE)
    assert not said_of(text, PLATE)


@pytest.mark.parametrize("breaker", ["20 A", "30 A", "60 A"])
def test_a_plate_without_its_largest_breaker_lets_no_larger_one_pass(breaker: str) -> None:
    found = said_of(circuit(breaker, "14 AWG", "minimum_circuit: 13.4 A"), TABLE)
    assert found and found[0].address == "C1.conductor"


def test_a_breaker_above_the_plates_largest_is_said_by_the_plate() -> None:
    text = circuit("30 A", "14 AWG", "minimum_circuit: 13.4 A, maximum_overcurrent: 20 A")
    assert said_of(text, "cooling.breaker-against-plate")


def test_the_table_holds_for_what_hangs_beside_the_machine() -> None:
    socket = "  RC1: {is: receptacle, where: beside it, fed_from: C1}\n"
    plate = "minimum_circuit: 13.4 A, maximum_overcurrent: 20 A"
    assert said_of(circuit("20 A", "14 AWG", plate, socket), TABLE)


@pytest.mark.parametrize(("needed", "thin"), [("55 A", False), ("55.5 A", True), ("60 A", True)])
def test_a_machine_asks_for_what_the_wire_carries_not_for_the_next_breaker(
    needed: str, thin: bool
) -> None:
    # NEC table 310.16, 60 °C: 6 AWG copper carries 55 A; the next standard breaker is 60 A
    plate = f"minimum_circuit: {needed}, maximum_overcurrent: 80 A"
    assert bool(said_of(circuit("60 A", "6 AWG", plate), PLATE)) is thin


def test_two_plates_on_one_wire_ask_for_their_sum() -> None:
    plate = "minimum_circuit: 12 A, maximum_overcurrent: 20 A"
    other = f"  CU2: {{is: condensing_unit, voltage: 240 V, {plate}, fed_from: C1}}\n"
    assert not said_of(circuit("20 A", "12 AWG", plate), PLATE)
    assert said_of(circuit("20 A", "12 AWG", plate, other), PLATE)
