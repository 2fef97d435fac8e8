"""Condensate and its sleeves, and who hears a leak."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.derive.sheets import visits
from spec.finding import Level
from spec.job.stage import first_day
from spec.job.trades import trade_of
from spec.quantity import Quantity

_ROOM = """
rooms:
  wine_room:
    use: wine_storage
    ceiling:
      equipment: {EV1: {is: evaporator}}
      holes: {H1: {size: 2 in, passes: {PASSES}}}
    cooling: {kind: ceiling_recessed, condensate: {from: EV1, sleeve: H1, FACTS}}
"""
_FALLS = "fall: 1/4 in per ft, pump: {not_applicable: it falls}"


@rule(
    "cooling.condensate-too-flat",
    level=Level.ERROR,
    trades=("refrigeration", "plumbing"),
    why="Water that hardly falls stands, grows slime, and comes back through the ceiling.",
    bad=_ROOM.replace("FACTS", "fall: 1/32 in per ft").replace("PASSES", "drain: 1"),
    good=_ROOM.replace("FACTS", _FALLS).replace("PASSES", "drain: 1"),
)
def condensate_too_flat(facts: Facts) -> Iterator[Said]:
    """The condensate falls less than the house asks for."""
    least = facts.job.threshold("condensate.fall")
    for room in facts.job.rooms:
        fall = room.find("cooling.condensate.fall")
        if fall is not None and isinstance(fall.value, Quantity) and fall.value.si < least.si:
            yield said(
                fall,
                f"the condensate of {room.key} falls {fall.written}; the house asks for "
                f"{least.written}",
                "lead it lower, or pump it",
            )


@rule(
    "cooling.condensate-goes-nowhere",
    level=Level.ERROR,
    trades=("refrigeration", "plumbing"),
    why="A liter a day goes somewhere, whether somebody led it there or not.",
    bad=_ROOM.replace(
        "FACTS", "fall: {not_applicable: level}, pump: {not_applicable: none}"
    ).replace("PASSES", "drain: 1"),
    good=_ROOM.replace("FACTS", _FALLS).replace("PASSES", "drain: 1"),
)
def condensate_goes_nowhere(facts: Facts) -> Iterator[Said]:
    """The condensate neither falls nor is pumped."""
    for room in facts.job.rooms:
        condensate = room.find("cooling.condensate")
        if condensate is None or not condensate.children:
            continue
        fall, pump = condensate.find("fall"), condensate.find("pump")
        if fall is None or pump is None:
            continue
        if fall.not_applicable and (pump.not_applicable or pump.value == "none"):
            yield said(
                condensate,
                f"the condensate of {room.key} has neither a fall nor a pump",
                "write its `fall`, or the mark of a condensate pump under `pump`",
                fall,
                pump,
            )


@rule(
    "cooling.drain-comes-later",
    level=Level.ERROR,
    trades=("refrigeration", "plumbing"),
    why="Condensate runs from the first hour of cooling: where it ends has to be there by then.",
    bad="""
trades:
  refrigeration: {visits: {start: {starts: 2026-05-04, stage: commission}}}
  plumbing: {visits: {sink: {starts: 2026-06-01, does: fit the sink}}}
rooms:
  wine_room:
    use: wine_storage
    cooling: {kind: split_wall, condensate: {into: SK1}}
    walls_clockwise: {WA: {fixtures: {SK1: {is: sink, installed_by: plumbing}}}}
""",
    good="""
trades:
  refrigeration: {visits: {start: {starts: 2026-06-04, stage: commission}}}
  plumbing: {visits: {sink: {starts: 2026-06-01, does: fit the sink}}}
rooms:
  wine_room:
    use: wine_storage
    cooling: {kind: split_wall, condensate: {into: SK1}}
    walls_clockwise: {WA: {fixtures: {SK1: {is: sink, installed_by: plumbing}}}}
""",
)
def drain_comes_later(facts: Facts) -> Iterator[Said]:
    """The thing that the condensate ends in is fitted after cooling starts."""
    starts = visits.climate_visit(facts.job)
    first = first_day(starts) if starts is not None else None
    for room in facts.job.rooms:
        into = room.find("cooling.condensate.into")
        thing = facts.job.thing(str(into.value)) if into is not None and into.value else None
        if into is None or thing is None or starts is None or first is None:
            continue
        fitted = _fits(facts, thing)
        day = first_day(fitted) if fitted is not None else None
        if fitted is not None and day is not None and day > first:
            yield said(
                into,
                f"the condensate of {room.key} ends in {thing.key}, which is there from "
                f"{day.isoformat()} ({fitted.address}); cooling starts on {first.isoformat()}",
                "end it in a trap that is set before, or start cooling later",
                starts,
                fitted,
            )


def _fits(facts: Facts, thing: Node) -> Node | None:
    """The visit that names a thing or its kind in what it does, else the one that fits it."""
    ours = visits.visits_of(facts.job, trade_of(facts.job, thing))
    named = next((visit for visit in ours if visit.key == thing.kind), None)
    if named is not None:
        return named
    for visit in ours:
        if thing.key in visit.text("does", "").split():
            return visit
    return visits.fitting_visit(facts.job, thing)


@rule(
    "cooling.sleeve-passes-something-else",
    level=Level.ERROR,
    trades=("refrigeration", "insulation"),
    why="A hole is cut and closed for what it passes; what it does not list has no way through.",
    bad=_ROOM.replace("FACTS", _FALLS).replace("PASSES", "cable: 2"),
    good=_ROOM.replace("FACTS", _FALLS).replace("PASSES", "drain: 1"),
)
def sleeve_passes_something_else(facts: Facts) -> Iterator[Said]:
    """The hole that lines or condensate are led through does not pass them."""
    for room in facts.job.rooms:
        for path, wanted in (("lines", ("line",)), ("condensate", ("drain", "hose", "pipe"))):
            sleeve = room.find(f"cooling.{path}.sleeve")
            if sleeve is None or sleeve.value is None:
                continue
            for name in room.words(f"cooling.{path}.sleeve"):
                hole = facts.job.thing(name)
                passes = hole.find("passes") if hole is not None else None
                if hole is None or passes is None or not passes.children:
                    continue
                if path == "condensate" and hole.find("passes.line") is not None:
                    continue
                if not any(passes.find(word) is not None for word in wanted):
                    yield said(
                        passes,
                        f"the {path} of {room.key} go through {name}, which passes "
                        f"{', '.join(passes.children)} and no {wanted[0]}",
                        f"add `{wanted[0]}` to what {name} passes, or name another hole",
                        sleeve,
                    )


@rule(
    "cooling.leaks-unheard",
    level=Level.WARNING,
    trades=("electrical", "refrigeration"),
    why="A pump that stops, or a float that lifts, has to stop the machine or be heard by "
    "somebody.",
    each=("controller",),
    bad="rooms: {tasting_room: {walls_clockwise: {TA: {devices: {CT1: {is: controller, "
    "alarm: {buzzer: 65 dB}}}}}}}",
    good="""
people: {client: {name: Ada Quist}}
rooms: {tasting_room: {walls_clockwise: {TA: {devices: {CT1: {is: controller,
    alarm: {buzzer: 65 dB, heard_by: client}}}}}}}
""",
)
def leaks_unheard(facts: Facts, controller: Node) -> Iterator[Said]:
    """The alarm of a controller is heard by nobody."""
    alarm = controller.find("alarm")
    if alarm is not None and alarm.children and alarm.find("heard_by") is None:
        yield said(
            f"{alarm.address}.heard_by",
            f"nobody hears the alarm of {controller.key}",
            "write `heard_by` with the person who will come",
        )
