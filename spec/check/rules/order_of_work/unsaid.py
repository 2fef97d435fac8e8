"""What a visit or a trade has to say for the order of work to be one: drying, wood, lead times."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.derive.sheets import visits
from spec.finding import Level
from spec.job.stage import stage_of_visit
from spec.job.trades import name_of_trade, trade_of

_WET = ("plaster", "flooring")
_MADE = {
    "millwork": ("from_order", "from_final_measure"),
    "glazing": ("from_order", "from_final_measure"),
    "stone": ("from_template",),
}
"""The clocks by which a trade makes its pieces to measure. Common practice."""
_PIECES = ("left_to_right", "openings", "fixtures")
_LED = """
trades: {millwork: {LEAD visits: {racks: {starts: 2026-05-04, stage: fit WOOD}}}}
rooms:
  wine_room: {walls_clockwise: {WA: {millwork: {lower: {left_to_right: {R1: {width: 2 ft,
      columns: 6}}}}}}}
"""


@rule(
    "order_of_work.drying-unsaid",
    level=Level.ERROR,
    silence=True,
    trades=("plaster", "flooring", "painting"),
    why="Nobody waits for what nobody said: the next trade comes on the morning after.",
    each=("visit",),
    bad="trades: {plaster: {visits: {coat: {starts: 2026-05-04}}}}",
    good="trades: {plaster: {visits: {coat: {starts: 2026-05-04, dries: 14 days}}}}",
)
def drying_unsaid(facts: Facts, visit: Node) -> Iterator[Said]:
    """A visit of plaster or floors does not say how long its work dries."""
    if visits.trade_of_visit(visit) in _WET and visit.find("dries") is None:
        yield said(
            f"{visit.address}.dries",
            f"nothing says how long the work of {visit.address} dries before anything goes on it",
            "write `dries` with the maker's time",
            visit,
        )


@rule(
    "order_of_work.wood-wait-unsaid",
    level=Level.ERROR,
    silence=True,
    trades=("millwork",),
    why="Wood takes on the air of its room before it is screwed down, or after, with gaps.",
    bad=_LED.replace("LEAD", "").replace("WOOD", ""),
    good=_LED.replace("LEAD", "").replace(
        "WOOD", ", acclimatize: {days: 7, where: wine_room, humidity: 45 % to 60 %}"
    ),
)
def wood_wait_unsaid(facts: Facts) -> Iterator[Said]:
    """No visit of the millwork says how long its wood waits in the rooms."""
    if not facts.job.things("racks", "peg_rack", "cabinet", "drawers"):
        return
    fitting = [
        v for v in visits.visits_of(facts.job, "millwork") if stage_of_visit(v) in ("fit", "finish")
    ]
    if fitting and not any(v.find("acclimatize") is not None for v in fitting):
        yield said(
            f"{fitting[-1].address}.acclimatize",
            f"nothing says how long the wood waits in the rooms before {fitting[-1].address}",
            "write `acclimatize` with the days, the rooms and their humidity",
            fitting[-1],
            *(f"{v.address}.acclimatize" for v in fitting[:-1]),
        )


@rule(
    "order_of_work.lead-time-unsaid",
    level=Level.ERROR,
    silence=True,
    trades=("millwork", "glazing", "stone"),
    why="What is made to measure has two clocks: from the order, and from the measure. The day to "
    "order is counted back from them.",
    bad=_LED.replace("LEAD", "lead_time: {from_order: 10 weeks},").replace("WOOD", ""),
    good=_LED.replace(
        "LEAD", "lead_time: {from_order: 10 weeks, from_final_measure: 5 weeks},"
    ).replace("WOOD", ""),
)
def lead_time_unsaid(facts: Facts) -> Iterator[Said]:
    """A trade that makes its pieces to measure lacks one of its clocks."""
    making = {trade_of(facts.job, t) for t in facts.job.everything if t.container in _PIECES}
    making |= {trade_of(facts.job, t) for t in facts.job.things("top")}
    for entry in facts.job.things("trade"):
        trade = name_of_trade(entry)
        if trade not in _MADE or (trade not in making and trade != "stone"):
            continue
        if entry.find("firm") is not None and entry.find("firm.open") is not None:
            continue
        lead = entry.find("lead_time")
        if lead is not None and (lead.not_applicable or lead.value is not None):
            continue
        for clock in _MADE[trade]:
            if lead is not None and lead.find(clock) is not None:
                continue
            if trade == "stone" and _top_says(facts):
                continue
            yield said(
                f"{entry.address}.lead_time.{clock}",
                f"nothing says how long {entry.key} takes {clock.replace('_', ' ')} (`lead_time`)",
                f"write `lead_time: {{{clock}: ...}}` of {entry.key}",
                entry,
                f"{entry.address}.lead_time",
            )


def _top_says(facts: Facts) -> bool:
    """A top says its own lead time, or is still open with several choices."""
    tops = facts.job.things("top")
    if any(top.find("lead_time") is not None for top in tops):
        return True
    return any(n.state is not None and n.state.choices for n in facts.job.tree.walk())


@rule(
    "order_of_work.stage-without-visit",
    level=Level.ERROR,
    silence=True,
    trades=(),
    why="A final measure and a hand-over that nobody comes to do not take place.",
    bad="""
people: {lead: {name: Ada Quist, visits: {start: {starts: 2026-05-04, stage: rough}}}}
inspections: {I1: {is: final_measure, who: lead, due: 2026-05-11}}
trades: {millwork: {visits: {racks: {starts: 2026-06-04}}}}
""",
    good="""
people: {lead: {name: Ada Quist, visits: {final_measure: {starts: 2026-05-11,
    stage: final_measure}}}}
inspections: {I1: {is: final_measure, who: lead, due: 2026-05-11}}
trades: {millwork: {visits: {racks: {starts: 2026-06-04}}}}
""",
)
def stage_without_visit(facts: Facts) -> Iterator[Said]:
    """The job has a final measure, or wine comes, and no visit of that stage."""
    stages = {stage_of_visit(v) for v in facts.job.things("visit")}
    measure = next((i for i in visits.inspections(facts.job) if i.kind == "final_measure"), None)
    stocking = facts.job.find("stocking")
    lead = facts.job.find("people.lead") or facts.job.find("lead")
    if lead is None or not facts.job.things("visit"):
        return
    for name, asks in (("final_measure", measure), ("hand_over", stocking)):
        if asks is not None and name not in stages:
            yield said(
                f"{lead.address}.{name}",
                f"no visit is of the stage `{name}`",
                f"write under `visits` of the lead when the {name.replace('_', ' ')} is",
                asks,
                f"{lead.address}.visits",
                *(v for v in facts.job.things("visit") if stage_of_visit(v) == "fit"),
            )
