"""Inspections: after the work that they look at, before it is covered."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.derive.sheets import visits
from spec.finding import Level
from spec.job.stage import first_day

_SEEN = """
trades:
  insulation: {visits: {foam: {starts: 2026-05-04, days: 2}}}
  board: {visits: {board: {starts: 2026-05-11, days: 2}}}
inspections: {I1: {is: vapor_retarder, after: insulation.foam, before: board.board, due: DAY}}
"""


@rule(
    "order_of_work.covered-before-inspection",
    level=Level.ERROR,
    trades=("insulation", "board", "framing"),
    why="What is covered before it was looked at and photographed is opened again, or never seen.",
    bad=_SEEN.replace("DAY", "2026-05-13"),
    good=_SEEN.replace("DAY", "2026-05-07"),
)
def covered_before_inspection(facts: Facts) -> Iterator[Said]:
    """A visit that an inspection must precede starts before the day of the inspection."""
    for inspection in visits.inspections(facts.job):
        seen = visits.there_on(inspection)
        for visit in _covering(facts, inspection) if seen is not None else ():
            starts, day = visit.find("starts"), first_day(visit)
            if starts is None or day is None or seen is None:
                continue
            if day < seen[1]:
                yield said(
                    starts,
                    f"{visit.address} starts on {day.isoformat()}, but {inspection.key} "
                    f"({inspection.kind.replace('_', ' ')}) is on {seen[1].isoformat()}",
                    f"inspect earlier, or start {visit.address} after it",
                    inspection,
                    seen[0],
                )


def _covering(facts: Facts, inspection: Node) -> list[Node]:
    """The visits that an inspection names under `before`, and those that name it under `after`."""
    named = {v.address: v for v in visits.linked(facts.job, inspection.find("before"), "visit")}
    for visit in facts.job.things("visit"):
        if inspection.key in visits.links(visit.find("after")):
            named[visit.address] = visit
    return list(named.values())


@rule(
    "order_of_work.inspected-too-early",
    level=Level.ERROR,
    trades=(),
    why="An inspector who finds half the work goes home, and the next appointment is in two weeks.",
    bad=_SEEN.replace("DAY", "2026-05-04"),
    good=_SEEN.replace("DAY", "2026-05-07"),
)
def inspected_too_early(facts: Facts) -> Iterator[Said]:
    """An inspection is due before the work that it looks at is finished."""
    for inspection in visits.inspections(facts.job):
        seen = visits.there_on(inspection)
        for visit in visits.linked(facts.job, inspection.find("after"), "visit"):
            last = visits.last_day(facts.job, visit)
            if seen is not None and last is not None and seen[1] < last:
                yield said(
                    seen[0],
                    f"{inspection.key} is on {seen[1].isoformat()}, but {visit.address}, which it "
                    f"looks at, is over on {last.isoformat()}",
                    f"inspect on {last.isoformat()} or later, or move {visit.address}",
                    visit,
                )
