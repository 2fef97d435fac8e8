"""When trades come and papers are there, by what a job writes."""

from __future__ import annotations

from datetime import date

import pytest

from spec.derive.figure import Facts
from spec.derive.sheets import visits
from spec.job.node import Node
from tests.derive.sheets.worked import facts_of, value

_JOB = """
job: {revision: {date: 2026-10-12}}
calendar: {working_days: Monday to Friday, holidays: [2026-12-21 to 2027-01-01]}
people: {client: {name: Ada Quist}}
trades:
  plaster:
    visits: {coat: {starts: 2026-12-17, days: 4, dries: 36 h}}
  refrigeration:
    visits:
      rough: {starts: 2026-11-02, days: 2, stage: rough}
      start: {starts: 2027-01-11, days: 1, stage: commission}
  doors:
    visits:
      door: {starts: 2027-01-18, days: 1, stage: fit, needs: OR1}
  millwork:
    lead_time: {from_order: 6 weeks, from_final_measure: 3 weeks}
    visits: {racks: {starts: 2027-02-01, days: 2, stage: fit, acclimatize: {days: 7}}}
approvals:
  AP1: {of: D1, who: client, due: 2026-10-20, when: 2026-10-08}
  AP2: {of: D1, who: client, due: 2026-10-20, when: {open: client, due: 2026-11-03}}
purchases: {OR1: {for: D1, ordered: 2026-10-01, promised: 2027-01-13}}
inspections: {I1: {is: final_measure, after: plaster.coat, before: millwork.racks, due: 2027-01-06}}
rooms: {wine_room: {walls_clockwise: {WA: {openings: {D1: {is: door}}}}}}
"""


@pytest.fixture(scope="module")
def facts() -> Facts:
    return facts_of(_JOB)


def _node(facts: Facts, address: str) -> Node:
    node = facts.job.find(address)
    assert node is not None
    return node


def test_work_goes_on_after_the_holidays_and_dries_on_every_day(facts: Facts) -> None:
    coat = _node(facts, "plaster.coat")
    assert visits.last_day(facts.job, coat) == date(2027, 1, 5)
    assert visits.dry_on(facts.job, coat) == date(2027, 1, 8)


def test_a_visit_that_needs_the_purchase_fits_the_thing(facts: Facts) -> None:
    found = visits.fitting_visit(facts.job, _node(facts, "D1"))
    assert found is not None and found.address == "doors.door"


@pytest.mark.parametrize(
    ("paper", "leaf", "day"),
    [
        ("AP1", "AP1.when", date(2026, 10, 8)),
        ("AP2", "AP2.when", date(2026, 11, 3)),
        ("OR1", "OR1.promised", date(2027, 1, 13)),
        ("I1", "I1.due", date(2027, 1, 6)),
    ],
)
def test_a_paper_is_there_when_done_else_when_due(
    facts: Facts, paper: str, leaf: str, day: date
) -> None:
    found = visits.there_on(_node(facts, paper))
    assert found is not None
    assert (found[0].address, found[1]) == (leaf, day)


def test_the_climate_starts_with_commissioning(facts: Facts) -> None:
    found = visits.climate_visit(facts.job)
    assert found is not None and found.address == "refrigeration.start"


def test_each_clock_of_a_lead_time_has_its_days(facts: Facts) -> None:
    millwork = _node(facts, "millwork")
    order = visits.lead_days(millwork)
    measure = visits.lead_days(millwork, "from_final_measure")
    assert order is not None and measure is not None
    assert (order[1], measure[1]) == (42, 21)


def test_no_visit_waits_for_itself_here(facts: Facts) -> None:
    assert visits.circle(facts.job) == ()


def test_a_circle_is_named_from_its_first_visit_back_to_it() -> None:
    facts = facts_of("""
trades:
  framing: {visits: {framing: {starts: 2026-05-04, days: 2, after: board.board}}}
  board: {visits: {board: {starts: 2026-05-11, days: 2, after: framing.framing}}}
""")
    named = [node.address for node in visits.circle(facts.job)]
    assert named == ["framing.framing", "board.board", "framing.framing"]


def test_dry_house_air_is_damper_in_a_cool_room() -> None:
    """21 °C at 20 %: 497.5 Pa of vapor; saturation at 12 °C is 1403 Pa (ASHRAE, table 3)."""
    facts = facts_of("""
surroundings:
  hall: {summer: {temperature: 24 °C, humidity: 50 %}, winter: {temperature: 21 °C, humidity: 20 %}}
rooms:
  wine_room:
    use: wine_storage
    climate: {temperature: 12 °C, humidity: 60 %}
    walls_clockwise: {WA: {faces: hall, openings: {D1: {is: door}}}}
""")
    assert value(facts, "cooling.winter_humidity@wine_room") == pytest.approx(0.355, abs=0.002)


def test_a_full_drawer_against_its_slide() -> None:
    """12 bottles of 1.5 kg with 15 % for the wood are 20.7 kg on slides for 30 kg."""
    facts = facts_of("""
bottles: {single: {diameter: 80 mm, length: 300 mm, full: 1.5 kg}}
products: {slide_30: {is: slide, carries: 30 kg}}
rooms:
  bar_room:
    taped: {to: finish}
    height: 2.4 m
    stacks: {bar: {bottom_to_top: {lower: {is: cabinets, height: 800 mm, depth: 600 mm}}}}
    walls_clockwise:
      TA:
        length: 2 m
        millwork:
          lower:
            left_to_right:
              B1: {is: drawers, width: 2 m, drawers: {count: 3, each_holds: 12, slide: slide_30}}
      TB: {length: 2 m}
      TC: {length: 2 m}
      TD: {length: 2 m}
""")
    assert value(facts, "millwork.slide_reserve@B1") == pytest.approx(30 / 20.7 - 1, abs=1e-6)


def test_a_full_machine_on_its_footprint(flat: Facts) -> None:
    """98 kg on 595 x 560 mm: 98 x 9.80665 / 0.3332 = 2884 Pa."""
    assert value(flat, "appliances.floor_pressure@U1") == pytest.approx(2884, abs=1)
