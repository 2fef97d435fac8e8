"""Circuits, boxes, strips, drivers, against published and hand numbers."""

from __future__ import annotations

import math

import pytest

from spec.derive.figure import Facts
from tests.derive.sheets.worked import FOOT, INCH, facts_of, figure_of, parts, value

_AMERICAN = """
job: {units: imperial}
products: {small: {is: box, gangs: 1, volume: 20 in3}}
elsewhere:
  PN1: {is: panelboard, where: hall, voltage: 120/240 V, spaces_free: 6}
  HT1: {is: heater, where: hall, watts: 1920 W, fed_from: C1}
  CU1: {is: condensing_unit, where: yard, minimum_circuit: 13.4 A, fed_from: DS1}
  DS1: {is: disconnect, where: yard, fed_from: C2}
circuits:
  C1: {panelboard: PN1, voltage: 120 V, breaker: 20 A, conductor: 12 AWG copper, length: 100 ft}
  C2: {panelboard: PN1, voltage: 240 V, breaker: 20 A, conductor: 12 AWG copper, length: 60 ft}
  C3: {panelboard: PN1, voltage: 120 V, breaker: 15 A, conductor: 14 AWG copper, length: 50 ft}
rooms:
  tasting_room:
    walls_clockwise:
      TA:
        devices:
          RC1: {is: receptacle, box: small, center: 2 ft, aff: 16 in, fed_from: C1}
          P1:
            is: plate
            box: small
            center: 4 ft
            aff: 48 in
            left_to_right: {S1: {is: dimmer, fed_from: C3}, S2: {is: dimmer, fed_from: C3}}
"""


@pytest.fixture(scope="module")
def american() -> Facts:
    return facts_of(_AMERICAN)


def test_sixteen_amperes_all_day_just_pass_on_twenty(american: Facts) -> None:
    assert value(american, "electrical.connected@C1") == pytest.approx(1920)
    assert value(american, "electrical.current@C1") == pytest.approx(16)
    assert value(american, "electrical.weighted@C1") == pytest.approx(20)
    assert value(american, "electrical.used@C1") == pytest.approx(1)


def test_a_plates_minimum_circuit_has_its_quarter_in_it(american: Facts) -> None:
    # fed through its disconnect
    assert value(american, "electrical.weighted@C2") == pytest.approx(13.4)


def test_voltage_drop_is_that_of_the_rule_of_thumb(american: Facts) -> None:
    # 2 K I L / cmil with K 12.9 and 6530 cmil: 6.32 V of 120 V; K is rounded up
    thumb = 2 * 12.9 * 16 * 100 / 6530 / 120
    assert value(american, "electrical.drop@C1") == pytest.approx(thumb, rel=0.03)


def test_breakers_by_the_conductor(american: Facts) -> None:
    assert value(american, "electrical.breaker_most@C1") == 20
    assert value(american, "electrical.breaker_most@C3") == 15


def test_both_poles_of_a_split_supply_take_two_ways(american: Facts) -> None:
    assert value(american, "electrical.ways_left@PN1") == 6 - (1 + 2 + 1)
    assert value(american, "electrical.board_load@PN1") == pytest.approx(1920 + 13.4 * 240)


def test_box_fill_is_that_of_the_published_example(american: Facts) -> None:
    # two 12/2 cables, one set of clamps, one device: 18.0 in³ (NEC 314.16(B))
    assert value(american, "electrical.box_fill@RC1") == pytest.approx(18.0 * INCH**3)
    assert value(american, "electrical.box_left@RC1") == pytest.approx(0.1)
    # 14 AWG: 6 wires, 2 x 2 for dimmers, clamps, 3 grounds as one: 12 x 2.00
    assert value(american, "electrical.box_fill@P1") == pytest.approx(24.0 * INCH**3)


def test_a_metric_circuit_by_iec() -> None:
    facts = facts_of("""
job: {units: metric}
elsewhere: {HT1: {is: heater, where: hall, watts: 3680 W, fed_from: C1}}
circuits: {C1: {voltage: 230 V, breaker: 16 A, conductor: 2.5 mm² copper, length: 25 m}}
""")
    assert value(facts, "electrical.current@C1") == pytest.approx(16)
    # no 1.25 by IEC; 230 V, 16 A, 2.5 mm², 25 m, .0225: 7.20 V, 3.13 %
    assert value(facts, "electrical.weighted@C1") == pytest.approx(16)
    assert value(facts, "electrical.drop@C1") == pytest.approx(7.20 / 230, rel=1e-3)
    assert value(facts, "electrical.breaker_most@C1") == 16


def test_lights_are_continuous_unless_the_room_says_less_than_three_hours() -> None:
    text = """
circuits: {{C1: {{voltage: 120 V, breaker: 15 A, conductor: 14 AWG copper}}}}
rooms:
  wine_room:
    {use}
    ceiling: {{lights: {{L1: {{is: pendant, watts: 120 W, center: room, fed_from: C1}}}}}}
"""
    short = facts_of(text.format(use="use_pattern: {lights: 2 h/day}"))
    unsaid = facts_of(text.format(use="use: tasting"))
    assert value(short, "electrical.weighted@C1") == pytest.approx(1.0)
    assert value(unsaid, "electrical.weighted@C1") == pytest.approx(1.25)


# ------------------------------------------------------------------ light


def test_a_strip_follows_its_pieces_and_goes_round_the_front_of_a_corner(garden: Facts) -> None:
    # R13 turns 33 in, 14 in deep: a quarter of a circle of 19 in
    corner = math.pi / 2 * 19
    found = parts(garden, "lighting.length@LS1")
    assert found == pytest.approx({"R11": 49.5 * INCH, "R12": 24 * INCH, "R13": corner * INCH})
    watts = (49.5 + 24 + corner) / 12 * 3
    assert value(garden, "lighting.load@LS1") == pytest.approx(watts)


def test_a_driver_carries_its_strips_with_headroom(garden: Facts) -> None:
    corner = math.pi / 2 * 19
    inches = (49.5 + 24) + (49.5 + 24 + corner) + (16.5 + 16.5 + corner)
    load = inches / 12 * 3
    assert value(garden, "lighting.driver_load@PS1") == pytest.approx(load)
    assert value(garden, "lighting.supply_needed@PS1") == pytest.approx(load / 0.8)
    assert value(garden, "lighting.headroom@PS1") == pytest.approx(1 - load / 96)
    # 34 ft of 12 AWG, 1.93 ohm/kft at 75 °C (NEC ch. 9 table 8)
    lost = 2 * 1.93 * 0.034 * load / 24
    assert value(garden, "lighting.drop@PS1") == pytest.approx(lost / 24, rel=0.01)
    # at its input, with the light in the arch, on the dimmer
    dimmer = load / 0.86 + 4
    assert value(garden, "lighting.dimmer_load@S2") == pytest.approx(dimmer)


def test_a_grid_of_downlights_counts_every_place(garden: Facts) -> None:
    assert value(garden, "lighting.power@L1") == pytest.approx(4 * 8)
    assert value(garden, "lighting.power@L4") == pytest.approx(6 * 8)
    # the chandelier's 40 W are those of all its lamps
    assert value(garden, "lighting.power@L5") == pytest.approx(40)


def test_written_pieces_of_a_strip_are_added(flat: Facts) -> None:
    assert value(flat, "lighting.length@LS2") == pytest.approx(1.6 + 1.3)
    assert value(flat, "lighting.load@LS2") == pytest.approx(2.9 * 7.2)
    # each piece is fed by itself: the longest against 7 m
    assert value(flat, "lighting.longest_feed@LS2") == pytest.approx(1.6 / 7)


def test_cable_is_bought_with_waste(american: Facts) -> None:
    assert value(american, "electrical.cable@C1") == pytest.approx(115 * FOOT)
    assert "cable.waste" in figure_of(american, "electrical.cable@C1").inputs
