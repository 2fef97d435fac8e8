"""What is cut to a measure or a template: taken at all, and of what it is to fit."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from spec.check.rule import Facts, Node, Said, rule, said
from spec.derive.sheets import visits
from spec.finding import Level
from spec.job.stage import first_day, stage_of_visit
from spec.job.trades import name_of_trade

_CUT = """
trades:
  millwork:
    lead_time: {from_final_measure: 4 weeks}
    visits: {racks: {starts: 2026-05-11, days: 5, stage: fit}}
inspections: {I1: {is: KIND, before: millwork.racks, who: lead, due: DAY}}
people: {lead: {name: Ada Quist}}
"""
_TOP = """
rooms:
  bar_room:
    stacks:
      bar:
        bottom_to_top: {counter: {is: top, material: slate, lead_time: {from_template: 5 weeks}}}
trades:
  stone: {visits: {template: {starts: 2026-05-04, days: 1}, counter: {starts: DAY, days: 1}}}
"""


def _measures(facts: Facts, visit: Node) -> list[Node]:
    return [
        node
        for node in visits.inspections(facts.job)
        if node.kind == "final_measure" and visit.address in visits.links(node.find("before"))
    ]


def _cut_to_measure(facts: Facts, trade: Node) -> tuple[Node, int, Node] | None:
    """The clock of a trade from final measure, its days, and the first visit that fits."""
    lead = visits.lead_days(trade, "from_final_measure")
    fits = [v for v in trade.group("visits") if stage_of_visit(v) == "fit" and first_day(v)]
    return (*lead, fits[0]) if lead is not None and fits else None


@rule(
    "order_of_work.no-final-measure",
    level=Level.ERROR,
    silence=True,
    trades=("millwork", "glazing", "stone"),
    why="What is cut to the drawing fits the drawing; what is cut to the final measure fits the "
    "room.",
    each=("trade",),
    bad=_CUT.replace("KIND", "framing").replace("DAY", "2026-04-06"),
    good=_CUT.replace("KIND", "final_measure").replace("DAY", "2026-04-06"),
)
def no_final_measure(facts: Facts, trade: Node) -> Iterator[Said]:
    """A trade that cuts to a final measure has none before its visit."""
    cut = _cut_to_measure(facts, trade)
    if cut is not None and not _measures(facts, cut[2]):
        yield said(
            cut[0],
            f"{trade.key} takes {cut[0].written} from the final measure, but no final measure "
            "under "
            f"`inspections` comes before {cut[2].address}",
            f"add an inspection `is: final_measure` with `before: {cut[2].address}`",
            cut[2],
        )


@rule(
    "order_of_work.template-too-late",
    level=Level.ERROR,
    trades=("stone", "millwork"),
    why="A mason's weeks run from the template, and the counter cannot be cut before it.",
    each=("top",),
    bad=_TOP.replace("DAY", "2026-05-18"),
    good=_TOP.replace("DAY", "2026-06-08"),
)
def template_too_late(facts: Facts, top: Node) -> Iterator[Said]:
    """A top is fitted before its maker's time from the template has passed."""
    lead = visits.lead_days(top, "from_template")
    template = facts.job.find("stone.template")
    last = visits.last_day(facts.job, template) if template is not None else None
    if lead is None or template is None or last is None:
        return
    for visit in visits.visits_of(facts.job, "stone"):
        first = first_day(visit)
        if visit is template or first is None or first <= last:
            continue
        ready = last + timedelta(days=lead[1])
        if first < ready:
            yield said(
                visit.at("starts"),
                f"{visit.address} starts on {first.isoformat()}, but {top.address} takes "
                f"{lead[0].written} from its template on {last.isoformat()}, to "
                f"{ready.isoformat()}",
                f"start on {visits.calendar(facts.job).on_or_after(ready).isoformat()} or later",
                top,
                template,
            )
        return


@rule(
    "order_of_work.template-before-base",
    level=Level.ERROR,
    trades=("stone", "millwork"),
    why="A counter is cut to the cabinets as they stand; a template of cabinets that are not there "
    "is a guess in stone.",
    each=("visit",),
    bad="""
trades:
  millwork: {visits: {base: {starts: 2026-05-11, days: 3, stage: fit}}}
  stone: {visits: {template: {starts: 2026-05-12, days: 1}}}
""",
    good="""
trades:
  millwork: {visits: {base: {starts: 2026-05-11, days: 3, stage: fit}}}
  stone: {visits: {template: {starts: 2026-05-14, days: 1}}}
""",
)
def template_before_base(facts: Facts, visit: Node) -> Iterator[Said]:
    """A template is taken before the first fitting visit of the millwork is over."""
    starts, day = visit.find("starts"), first_day(visit)
    entry = visits.entry_of(visit)
    if visit.key != "template" or starts is None or day is None or entry is None:
        return
    if name_of_trade(entry) == "millwork" or visit.find("after") is not None:
        return
    base = next(iter(visits.visits_of(facts.job, "millwork")), None)
    last = visits.last_day(facts.job, base) if base is not None else None
    if base is not None and last is not None and day <= last:
        yield said(
            starts,
            f"{visit.address} is on {day.isoformat()}, but {base.address} fits the base until "
            f"{last.isoformat()}",
            f"template after {last.isoformat()}, and write `after: {base.address}`",
            base,
        )
