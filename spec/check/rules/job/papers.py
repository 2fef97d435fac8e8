"""Editions, dates and papers of the job itself."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from spec.check.rule import Facts, Node, Said, rule, said
from spec.finding import Level
from spec.job.trades import own_trades, thing_of

_DONE = ("when", "ordered", "received", "asked_on", "agreed")


@rule(
    "job.house-edition-differs",
    level=Level.WARNING,
    trades=(),
    why="A job was written with one edition of the house standards; with another, assemblies, "
    "products and limits may have changed under it.",
    bad="house: {file: house.yaml, edition: 2026-01}",
    good="house: {edition: 2026-01}",
)
def house_edition_differs(facts: Facts) -> Iterator[Said]:
    """The house standards that were read are of another edition than the job names, or missing."""
    named = facts.job.find("house.edition")
    if named is None or named.value is None or facts.job.find("house.file") is None:
        return
    house = facts.job.house
    own = house.find("edition") if house is not None else None
    if own is None or own.written != named.written:
        there = f"is edition {own.written}" if own is not None else "cannot be read"
        cure = "read the findings through once, then write the edition of the file"
        if house is None:
            cure = "find the file: without it the job is held against the program's own limits"
        yield said(
            named,
            f"the job was written with edition {named.written} of the house standards; "
            f"the file {there}",
            cure,
        )


@rule(
    "job.done-in-the-future",
    level=Level.ERROR,
    trades=(),
    why="What is done has a day that has come. A day to come is a due date: written as done, "
    "nobody waits for it.",
    bad="""
job: {revision: {date: 2026-05-04}}
permits: {PM1: {is: building_permit, when: 2026-06-01}}
""",
    good="""
job: {revision: {date: 2026-05-04}}
permits: {PM1: {is: building_permit, when: 2026-05-01}}
""",
)
def done_in_the_future(facts: Facts) -> Iterator[Said]:
    """Something is said to be done on a day after the day of the job."""
    today = facts.job.day
    if today is None:
        return
    for node in facts.job.tree.walk():
        if node.key in _DONE and isinstance(node.value, date) and node.value > today:
            yield said(
                node,
                f"{node.parent.key if node.parent else 'the job'} says `{node.key}: "
                f"{node.written}`, "
                f"which is after {today.isoformat()}, the day on which the job is looked at",
                "write `due` for a day to come, or date the revision anew",
                "job.revision.date",
            )


@rule(
    "job.reading-without-value",
    level=Level.ERROR,
    silence=True,
    trades=(),
    why="A reading without its number is a visit for nothing.",
    bad="readings: {RD1: {of: wine_room.floor, where: middle of the slab}}\nrooms: "
    "{wine_room: {floor: {level: 0}}}",
    good="readings: {RD1: {of: wine_room.floor, where: middle of the slab, slab_humidity: 71 %}}\n"
    "rooms: {wine_room: {floor: {level: 0}}}",
)
def reading_without_value(facts: Facts) -> Iterator[Said]:
    """A reading says where and when, and not what was read."""
    readings = facts.job.find("readings")
    for reading in readings.entries() if readings is not None else ():
        known = [key for key in reading.shape.names if key not in _ABOUT]
        if not any(reading.find(key) is not None for key in known):
            yield said(
                reading,
                f"{reading.key} does not say what was read: {', '.join(known)}",
                "write the number with its unit, or what was seen",
                *(f"{reading.address}.{key}" for key in known),
            )


_ABOUT = ("is", "of", "where", "who", "when", "with", "photo", "note", "tell", "title", "like")


@rule(
    "job.waiver-expired",
    level=Level.WARNING,
    trades=(),
    why="A waiver that has run out accepts nothing any more: the finding counts again.",
    each=("waiver",),
    bad="""
job: {revision: {date: 2026-05-04}}
waivers: {WV1: {finding: job.mark-skipped, at: client, until: 2026-05-01, why: it is so}}
people: {client: {name: Ada Quist}}
""",
    good="""
job: {revision: {date: 2026-05-04}}
waivers: {WV1: {finding: job.mark-skipped, at: client, until: 2026-06-01, why: it is so}}
people: {client: {name: Ada Quist}}
""",
)
def waiver_expired(facts: Facts, waiver: Node) -> Iterator[Said]:
    """The last day of a waiver has passed."""
    until = waiver.find("until")
    today = facts.job.day
    if until is None or today is None or not isinstance(until.value, date):
        return
    if until.value < today:
        yield said(
            until,
            f"{waiver.key} was accepted until {until.written}, today is {today.isoformat()}",
            "ask who accepted it again, or put right what it accepts",
        )


@rule(
    "job.change-not-told",
    level=Level.ERROR,
    trades=(),
    why="A change that the trade does not hear of is built as it was.",
    each=("change",),
    bad="""
trades: {millwork: {firm: Pike}, electrical: {firm: Lantry}}
changes: {CN1: {what: another width, of: R1, told: [electrical]}}
rooms:
  wine_room: {walls_clockwise: {WA: {millwork: {lower: {left_to_right: {R1: {width: 2 ft}}}}}}}
""",
    good="""
trades: {millwork: {firm: Pike}, electrical: {firm: Lantry}}
changes: {CN1: {what: another width, of: R1, told: [electrical, millwork]}}
rooms:
  wine_room: {walls_clockwise: {WA: {millwork: {lower: {left_to_right: {R1: {width: 2 ft}}}}}}}
""",
)
def change_not_told(facts: Facts, change: Node) -> Iterator[Said]:
    """A change was not told to the trade that does the thing that changes."""
    told = change.words("told", ())
    names = change.words("of", ())
    things = [thing_of(node) for name in names if (node := facts.job.find(name)) is not None]
    for thing in things:
        for trade in own_trades(facts.job, thing):
            if trade not in told:
                yield said(
                    f"{change.address}.told",
                    f"{change.key} changes {thing.key}, which {trade} does, but it was "
                    "told only to "
                    f"{', '.join(told) or 'nobody'}",
                    f"tell {trade}, and write it down",
                    thing,
                )
