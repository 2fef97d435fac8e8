"""Marks and control totals: what is gone leaves a gap."""

from __future__ import annotations

import re
from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.finding import Level
from spec.place.later import stays

_NUMBERED = re.compile(r"^([A-Z]{1,3})([0-9]{1,3})$")


@rule(
    "job.mark-skipped",
    level=Level.ERROR,
    silence=True,
    trades=(),
    why="Marks are never skipped or used again: a number that is missing is a thing that was lost "
    "from the file. A thing that goes away stays as not applicable.",
    bad="""
permits:
  PM1: {is: building_permit}
  PM3: {is: electrical_permit}
""",
    good="""
permits:
  PM1: {is: building_permit}
  PM2: {not_applicable: no plumbing work}
  PM3: {is: electrical_permit}
""",
)
def mark_skipped(facts: Facts) -> Iterator[Said]:
    """A number in a series of marks that no thing has."""
    series: dict[str, dict[int, str]] = {}
    for name in facts.job.names():
        found = _NUMBERED.match(name)
        if found:
            series.setdefault(found[1], {})[int(found[2])] = name
    for letters, known in series.items():
        for number in range(min(1, *known), max(known)):
            if number not in known and number > 0:
                after = known[min(n for n in known if n > number)]
                gap = f"{letters}{number}"
                yield said(
                    after,
                    f"there is no {gap}, but a {letters}{max(known)}",
                    f"write {gap}, or `{gap}: {{not_applicable: why}}` where it went away",
                    *([known[max(n for n in known if n < number)]] if min(known) < number else []),
                )


@rule(
    "job.tally-differs",
    level=Level.ERROR,
    trades=(),
    why="A tally is a control total: a device that falls out of the file, or comes in twice, shows "
    "as a difference.",
    each=("room",),
    bad="""
rooms:
  tasting_room:
    tally: {receptacles: 2}
    walls_clockwise:
      TA: {devices: {RC1: {is: receptacle}}}
""",
    good="""
rooms:
  tasting_room:
    tally: {receptacles: 1}
    walls_clockwise:
      TA: {devices: {RC1: {is: receptacle}}}
""",
)
def tally_differs(facts: Facts, room: Node) -> Iterator[Said]:
    """The count of a kind of thing in a room is not what its tally says."""
    tally = room.find("tally")
    for entry in tally.entries() if tally is not None else ():
        kind = entry.key
        there = [
            thing
            for thing in facts.job.everything
            if thing.room == room.key
            and thing.heading
            and thing.kind in _kinds(kind)
            and (thing.heading != "existing" or stays(thing))
        ]
        count = sum(facts.places.how_many(thing) for thing in there)
        wanted = room.count(f"tally.{kind}")
        if count != wanted:
            marks = ", ".join(thing.key for thing in there) or "none"
            yield said(
                entry,
                f"the tally of {room.key} says {wanted} {kind.replace('_', ' ')}, the file has "
                f"{count} ({marks})",
                "put back what was lost, or correct the tally",
                *there,
            )


def _kinds(plural: str) -> tuple[str, ...]:
    """The kinds that a word of the tally counts: its singular."""
    endings = (("ies", "y"), ("ches", "ch"), ("shes", "sh"), ("xes", "x"), ("s", ""))
    return tuple(plural[: -len(e)] + b for e, b in endings if plural.endswith(e))


@rule(
    "job.waiver-unused",
    level=Level.WARNING,
    trades=(),
    why="A waiver that accepts nothing hides the next finding of its kind.",
    each=("waiver",),
    bad="""
waivers:
  WV1: {finding: job.no-such-rule, at: client, who: lead, when: 2026-05-04, why: nobody knows}
people: {client: {name: Ada Quist}}
""",
    good="""
people: {client: {name: Ada Quist}}
""",
)
def waiver_names_no_rule(facts: Facts, waiver: Node) -> Iterator[Said]:
    """A waiver names no rule, or accepts nothing while it lasts."""
    from spec.check.rule import rules  # noqa: PLC0415 - the catalogue holds this rule too

    name = waiver.word("finding")
    known = {*rules()} | {f"{s}.not-decided" for s in _subjects()}
    if name not in known and not name.startswith("reading."):
        yield said(waiver.at("finding"), f"no rule is called `{name}`", "name the rule as printed")


def _subjects() -> tuple[str, ...]:
    from spec.job.schema import SUBJECTS  # noqa: PLC0415

    return SUBJECTS
