"""Those who live there while the work is done, and those next door."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from spec.check.rule import Facts, Said, rule, said
from spec.finding import Level
from spec.job.stage import first_day

_FOAMED = """
access: {living_there: {who: both clients}}
assemblies: {A1: {from_room_outward: {foam: {material: closed_cell_foam, thickness: 3 in,
    role: insulation}}}}
rooms: {wine_room: {ceiling: {assembly: A1}}}
trades: {insulation: {visits: {foam: {starts: 2026-05-04 EMPTY}}}}
"""


@rule(
    "access.foam-with-people-in",
    level=Level.ERROR,
    trades=("insulation",),
    why="Isocyanates of sprayed foam stay in the air for about a day; people and animals stay out "
    "until the maker's time is over (EPA, guidance on spray polyurethane foam; cited from memory).",
    source="EPA guidance on spray polyurethane foam, from memory",
    bad=_FOAMED.replace(" EMPTY", ""),
    good=_FOAMED.replace(" EMPTY", ", flat_empty: 24 h"),
)
def foam_with_people_in(facts: Facts) -> Iterator[Said]:
    """Foam is sprayed, somebody lives there, and no visit says that the house is empty."""
    living = facts.job.find("access.living_there")
    if living is None or not living.children:
        return
    used = {
        name
        for surface in facts.job.tree.walk()
        if surface.key in ("ceiling", "floor") or surface.kind == "wall"
        for name in (surface.words("assembly", ()) if surface.find("assembly") else ())
    }
    foams = [
        layer
        for assembly in facts.job.things("assembly")
        for layer in assembly.group("from_room_outward")
        if (assembly.key in used and "spray" in layer.text("laid", ""))
        or (assembly.key in used and layer.text("material", "").endswith("cell_foam"))
    ]
    visits = facts.job.things("visit")
    if not foams or not visits or any(v.find("flat_empty") is not None for v in visits):
        return
    trades = ("insulation", "framing")
    sprayed = next(
        (
            v
            for trade in trades
            for v in visits
            if v.parent and v.parent.parent and v.parent.parent.key == trade
        ),
        visits[0],
    )
    yield said(
        sprayed,
        f"{foams[0].text('material').replace('_', ' ')} is sprayed, "
        f"{living.text('who', 'somebody')} "
        "live there, and no visit says how long the house is empty",
        "write `flat_empty: 24 h` at the visit that sprays, and tell those who live there",
        living,
        f"{sprayed.address}.flat_empty",
    )


@rule(
    "access.work-before-consent",
    level=Level.ERROR,
    trades=(),
    why="A wall that is shared is not touched before its other owner has agreed in writing.",
    bad="""
access: {neighbors: {flat_2: {shares: FN, consent: AP1}}}
approvals: {AP1: {of: FN, who: lead, due: 2026-06-01}}
people: {lead: {name: Ada Quist}}
rooms: {tasting_room: {walls_clockwise: {FN: {length: 5 m}}}}
trades: {demolition: {visits: {strip: {starts: 2026-05-04, needs: AP1}}}}
""",
    good="""
access: {neighbors: {flat_2: {shares: FN, consent: AP1}}}
approvals: {AP1: {of: FN, who: lead, when: 2026-05-01}}
people: {lead: {name: Ada Quist}}
rooms: {tasting_room: {walls_clockwise: {FN: {length: 5 m}}}}
trades: {demolition: {visits: {strip: {starts: 2026-05-04, needs: AP1}}}}
""",
)
def work_before_consent(facts: Facts) -> Iterator[Said]:
    """A neighbor's consent is due later than the first work that needs it."""
    neighbors = facts.job.find("access.neighbors")
    for neighbor in neighbors.entries() if neighbors is not None else ():
        consent = facts.job.thing(neighbor.word("consent", ""))
        if consent is None:
            continue
        agreed = consent.find("when")
        day = agreed.value if agreed is not None else None
        due = consent.find("due")
        promised = due.value if due is not None and day is None else day
        for visit in facts.job.things("visit"):
            starts = first_day(visit)
            needs = visit.words("needs", ()) if visit.find("needs") is not None else ()
            if consent.key not in needs or starts is None or not isinstance(promised, date):
                continue
            if promised > starts:
                yield said(
                    consent,
                    f"{neighbor.key} agrees by {promised.isoformat()} ({consent.key}), "
                    f"{visit.address} "
                    f"starts on {starts.isoformat()}",
                    "get the letter first, or move the work",
                    visit,
                )
