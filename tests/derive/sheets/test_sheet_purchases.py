"""What is ordered, back from its visit: measure, approval, order, delivery, by hand."""

from __future__ import annotations

from datetime import date

import pytest

from spec.derive.figure import Facts
from spec.derive.sheets import bought, network
from spec.derive.sheets.deciding import first_to_wait, undecided
from tests.derive.sheets.worked import facts_of, figure_of, value

# The counter ends the job on Mon 2027-03-15; it stands after the template of Mon 2027-02-15 by
# two weeks of the mason, so that the template may be taken on Mon 03-01 at the latest, and the
# racks, of nine working days, begin on Tue 02-16 instead of on Tue 02-02.
_JOB = """
job: {revision: {mark: A, date: 2026-10-12}}
calendar: {working_days: Monday to Friday, holidays: [2026-11-26 to 2026-11-27]}
people: {client: {name: Ada Quist}}
trades:
  doors: {visits: {hang: {starts: 2027-01-20, days: 2, stage: fit, needs: OR1}}}
  millwork:
    lead_time: {from_order: 10 weeks, from_final_measure: 5 weeks}
    visits:
      fit: {starts: 2027-02-02, days: 9, stage: fit, after: doors.hang, needs: AP1 WOOD}
  stone:
    lead_time: {from_template: 2 weeks}
    visits:
      template: {starts: 2027-02-15, days: 1, stage: fit, after: millwork.fit}
      counter: {starts: 2027-03-15, days: 1, stage: fit, after: stone.template}
purchases: {OR1: {for: D1, ordered: 2026-10-30, promised: 2027-01-13}}
approvals: {AP1: {of: racks, who: client, due: 2026-10-20, when: {open: client, due: 2026-10-20}}}
inspections: {I1: {is: final_measure, before: millwork.fit, who: lead, due: 2026-12-22}}
rooms:
  wine_room:
    use: wine_storage
    walls_clockwise: {WA: {openings: {D1: {is: door, lead_time: 10 weeks}}}}
"""


def _facts(change: str = "", into: str = "") -> Facts:
    text = _JOB.replace(" WOOD", "")
    assert change in text
    return facts_of(text.replace(change, into) if change else text)


@pytest.fixture(scope="module")
def facts() -> Facts:
    return _facts()


def _day(facts: Facts, address: str) -> date:
    return date.fromordinal(int(value(facts, f"order_of_work.{address}")))


def _dated(facts: Facts, thing: str) -> bought.LastDays:
    (item,) = [i for i in bought.bought(facts) if i.thing.address == thing]
    return bought.as_dated(facts, item)


def test_as_dated_each_step_is_counted_back_from_the_visit(facts: Facts) -> None:
    # Tue 2027-02-02 less five working days is Tue 01-26; less 70 days Tue 11-17, less 35 12-22
    assert _dated(facts, "millwork") == (date(2026, 12, 22), date(2026, 11, 17), date(2027, 1, 26))
    # Wed 2027-01-20 less five is Wed 13; less 70 days Wed 2026-11-04
    assert _dated(facts, "D1") == (None, date(2026, 11, 4), date(2027, 1, 13))
    # the mason brings what was cut to the template: Mon 2027-03-15 less 14 days is Mon 03-01
    assert _dated(facts, "stone") == (date(2027, 3, 1), None, date(2027, 3, 15))


def test_at_the_latest_each_step_is_counted_back_from_the_late_start(facts: Facts) -> None:
    # Tue 2027-02-16 less five working days is Tue 02-09; less 70 days Tue 12-01, less 35 01-05
    assert _day(facts, "on_site_by@millwork") == date(2027, 2, 9)
    assert _day(facts, "order_by@millwork") == date(2026, 12, 1)
    assert _day(facts, "measure_by@millwork") == date(2027, 1, 5)
    # hanging takes two days before the 16th: from Fri 12; less five Fri 5; less 70 days Fri 11-27,
    # a holiday like the day before it
    assert _day(facts, "on_site_by@D1") == date(2027, 2, 5)
    assert _day(facts, "order_by@D1") == date(2026, 11, 25)
    assert figure_of(facts, "order_of_work.order_by@D1").remark.startswith("2026-11-04")


def test_the_days_left_to_order_run_from_the_order_or_from_today(facts: Facts) -> None:
    # from Fri 2026-10-30 to Wed 11-25: that Friday, three weeks, Mon and Tue
    assert value(facts, "order_of_work.order_float@D1") == 18
    found = figure_of(facts, "order_of_work.order_float@millwork")
    # from Mon 2026-10-12 to Tue 12-01: seven weeks and a Monday, less two holidays
    assert found.value == 34 and found.remark == "not ordered yet"


def test_wood_waits_in_the_rooms_before_the_reserve() -> None:
    facts = facts_of(_JOB.replace(" WOOD", ", acclimatize: {days: 7}"))
    assert _dated(facts, "millwork").on_site == date(2027, 1, 19)
    assert _day(facts, "on_site_by@millwork") == date(2027, 2, 2)


def test_the_network_ties_order_delivery_and_visit(facts: Facts) -> None:
    early = network.early(facts)
    # approved Tue 2026-10-20, 70 days to Tue 12-29; measured Tue 12-22, 35 days to Tue 01-26
    assert early["order of millwork"].early_start == date(2026, 10, 20)
    assert early["delivery of millwork"].early_start == date(2027, 1, 26)
    assert early["millwork.fit"].early_start == date(2027, 1, 26)
    # promised for Wed 13
    assert early["delivery of OR1"].early_start == date(2027, 1, 13)


def _tight(facts: Facts) -> list[str]:
    return [part.label for part in figure_of(facts, "schedule.critical@calendar").parts]


def test_the_critical_path_names_what_is_bought_where_that_determines_the_end() -> None:
    end = ["stone.template", "delivery of stone", "stone.counter"]
    by_measure = ["I1", "delivery of millwork", "millwork.fit", *end]
    assert _tight(_facts()) == by_measure
    slow = _facts("from_order: 10 weeks", "from_order: 16 weeks")
    assert _tight(slow) == ["AP1", "order of millwork", *by_measure[1:]]
    door = _facts("promised: 2027-01-13", "promised: 2027-02-24")
    assert _tight(door) == ["delivery of OR1", "doors.hang", "millwork.fit", *end]


def test_a_decision_has_the_last_day_of_the_order_that_rests_on_it(facts: Facts) -> None:
    (node,) = [n for n in undecided(facts.job) if n.address == "AP1.when"]
    waiting = first_to_wait(facts, node)
    assert waiting is not None and waiting.trade == "millwork"
    assert (waiting.dated, waiting.latest) == (date(2026, 11, 17), date(2026, 12, 1))
    assert _day(facts, "decide_by@AP1.when") == date(2026, 12, 1)


def test_where_the_network_goes_round_the_days_as_dated_are_left() -> None:
    facts = _facts("hang: {starts: 2027-01-20,", "hang: {after: stone.counter, starts: 2027-01-20,")
    item = next(i for i in bought.bought(facts) if i.thing.address == "millwork")
    assert network.latest_known(facts, item) is None
    assert bought.as_dated(facts, item).order == date(2026, 11, 17)
    assert "waits for itself" in figure_of(facts, "order_of_work.order_by@millwork").refused


def test_a_template_is_ready_after_the_lead_time_of_the_mason(facts: Facts) -> None:
    # Mon 2027-02-15 and 14 days
    assert _day(facts, "template_ready@stone") == date(2027, 3, 1)
