"""Finishes: every surface has one, metals agree, nothing smells when the wine comes."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from spec.check.rule import Facts, Node, Said, rule, said
from spec.derive.sheets import build_up, kinds, visits
from spec.derive.sheets.calendars import in_days
from spec.finding import Level
from spec.job.finishes import finish_at

_COATS = ("paint", "clear_coat", "stain")
_LOW_ODOR = ("low_odor", "mineral", "lime", "none", "clay")
_TRADE_OF_PART = {"walls": "painting", "ceiling": "painting", "floor": "flooring"}
_TWO = """
job: {revision: {date: 2026-05-04}}
trades: {painting: {visits: {paint: {starts: 2026-04-01, days: 2}}}}
stocking: {earliest: WINE}
finishes:
  F1: {is: paint, material: MATERIAL, cure: 7 days}
  F2: {is: metal, color: bronze}
  F3: {is: metal, color: brass}
finishes_everywhere: {metal: F2}
rooms:
  wine_room:
    use: wine_storage
    taped: {to: finish}
    height: 8 ft
    finishes: {FINISHES}
    walls_clockwise:
      WA: {length: 8 ft, faces: hall, openings: {G1: {is: gate, left: 1 ft, finish: METAL},
          O1: {is: arch, center: 4 ft, width: 3 ft, spring_aff: 6 ft, rise: 1 ft}}}
      WB: {length: 6 ft}
      WC: {length: 8 ft}
      WD: {length: 6 ft}
    ceiling: {faces: hall}
    floor: {faces: hall, STOPS}
surroundings: {hall: {summer: {temperature: 24 °C}}}
"""
GOOD = (
    _TWO.replace("WINE", "2026-06-01")
    .replace("MATERIAL", "low_odor_acrylic")
    .replace("FINISHES", "walls: F1, ceiling: F1, floor: F1")
    .replace("METAL", "F2")
    .replace("STOPS", "stops: {O1: {line: face of the arch, meets: stone, strip: bronze}}")
)


@rule(
    "finishes.surface-without-finish",
    level=Level.ERROR,
    silence=True,
    trades=("painting", "flooring", "plaster"),
    why="A surface that nobody finishes is found on the last day, with the painter on another job.",
    bad=GOOD.replace("walls: F1, ceiling: F1, floor: F1", "ceiling: F1, floor: F1"),
    good=GOOD,
)
def surface_without_finish(facts: Facts) -> Iterator[Said]:
    """Neither a surface, nor its room, nor the job says how it is finished."""
    told: set[str] = set()
    for surface in kinds.surfaces(facts.job):
        part = build_up.part_of(surface)
        if surface.key not in ("ceiling", "floor") and surface.kind != "wall":
            continue
        if finish_at(facts.job, surface, part) is not None:
            continue
        address = f"{surface.room}.finishes.{part}"
        if address in told or facts.job.find(address) is not None:
            continue
        told.add(address)
        own = f"{surface.address}.finish"
        yield said(
            address,
            f"nothing says how the {part} of {surface.room} {'is' if part != 'walls' else 'are'} "
            f"finished ({surface.address})",
            f"write `{part}` under `finishes` of {surface.room}",
            own,
            f"{surface.room}.finishes",
            f"finishes_everywhere.{part}",
            surface,
        )


@rule(
    "finishes.part-without-finish",
    level=Level.ERROR,
    silence=True,
    trades=("millwork", "painting"),
    why="Racks, a base or a crown without a finish come raw, or in what the shop has left.",
    each=("room",),
    bad=GOOD.replace(
        "    floor: {faces",
        "    base: {profile: square, height: 6 in, thickness: 3/4 in}\n    floor: {faces",
    ),
    good=GOOD.replace(
        "    floor: {faces",
        "    base: {profile: square, height: 6 in, thickness: 3/4 in, finish: F1}\n    "
        "floor: {faces",
    ),
)
def part_without_finish(facts: Facts, room: Node) -> Iterator[Said]:
    """A room has millwork, a base or a crown, and nothing says how it is finished."""
    stacks = room.group("stacks")
    tiers = [tier for stack in stacks for tier in stack.group("bottom_to_top")]
    base, crown = room.find("base"), room.find("crown")
    parts = {
        "millwork": stacks[0] if stacks else None,
        "base": base
        if base is not None and base.children
        else next((t for t in tiers if t.kind == "plinth"), None),
        "crown": crown
        if crown is not None and crown.children
        else next((t for t in tiers if t.kind == "crown"), None),
    }
    for part, thing in parts.items():
        if thing is None or thing.find("finish") is not None:
            continue
        if finish_at(facts.job, thing, part) is None:
            yield said(
                f"{room.address}.finishes.{part}",
                f"nothing says how the {part} of {room.key} is finished ({thing.address})",
                f"write `{part}` under `finishes` of {room.key}",
                thing,
                f"finishes_everywhere.{part}",
            )


@rule(
    "finishes.never-used",
    level=Level.ERROR,
    silence=True,
    trades=(),
    why="A finish that nothing has was meant for something: the line that named it is gone.",
    bad=GOOD.replace("walls: F1, ceiling: F1, floor: F1", "walls: F2, ceiling: F2, floor: F2"),
    good=GOOD.replace("  F3: {is: metal, color: brass}\n", ""),
)
def never_used(facts: Facts) -> Iterator[Said]:
    """No surface and no thing has a finish."""
    if any(node.state is not None and node.state.choices for node in facts.job.tree.walk()):
        return  # the other choice may have it
    named = _names(facts)
    for finish in facts.job.things(*_finish_kinds(facts)):
        if finish.container == "finishes" and finish.key not in named:
            yield said(
                finish,
                f"nothing has the finish {finish.key}",
                "name it where it goes, or mark it not applicable",
            )


def _finish_kinds(facts: Facts) -> tuple[str, ...]:
    return tuple({t.kind for t in facts.job.everything if t.container == "finishes"}) or ("finish",)


def _names(facts: Facts) -> set[str]:
    found: set[str] = set()
    for node in facts.job.tree.leaves():
        if node.value is None or node.address.startswith(("approvals", "job.")):
            continue
        if node.parent is not None and node.parent.container in (
            "approvals",
            "accepted",
            "changes",
        ):
            continue
        values = node.value if isinstance(node.value, tuple) else (node.value,)
        for value in values:
            if isinstance(value, str):
                found |= set(value.split())
    return found


@rule(
    "finishes.metals-disagree",
    level=Level.WARNING,
    trades=("metalwork", "doors", "millwork", "electrical"),
    why="Hinges of one bronze and pulls of another are the first thing that a client sees.",
    bad=GOOD.replace("left: 1 ft, finish: F2", "left: 1 ft, finish: F3"),
    good=GOOD,
)
def metals_disagree(facts: Facts) -> Iterator[Said]:
    """A thing of metal has another metal than the job has everywhere."""
    usual = facts.job.find("finishes_everywhere.metal")
    if usual is None or usual.value is None:
        return
    for thing in facts.job.everything:
        for path in ("metal", "finish", "hinges.finish", "lockset.finish", "threshold.finish"):
            leaf = thing.find(path)
            finish = facts.job.thing(str(leaf.value)) if leaf is not None and leaf.value else None
            if leaf is None or finish is None or finish.container != "finishes":
                continue
            metal = finish.kind == "metal"
            wrong = metal and finish.key != usual.value
            wrong = wrong or (thing.kind == "gate" and path == "finish" and not metal)
            if wrong:
                yield said(
                    leaf,
                    f"{thing.key} has {finish.key} ({finish.text('color', finish.kind)}), "
                    "metal in this "
                    f"job is {usual.written}",
                    "choose one metal, or waive it with the client's name",
                    usual,
                )


@rule(
    "finishes.smells-in-cooled-room",
    level=Level.WARNING,
    trades=("painting",),
    why="What a paint gives off goes into the corks of a closed cool room for months.",
    bad=GOOD.replace("low_odor_acrylic", "trim_enamel"),
    good=GOOD,
)
def smells_in_cooled_room(facts: Facts) -> Iterator[Said]:
    """A paint of a cooled room is of no low-odor kind, and nothing is said of its odor."""
    told: set[str] = set()
    for room in kinds.cooled_rooms(facts.job):
        for surface in kinds.surfaces_of(room):
            leaf = finish_at(facts.job, surface, build_up.part_of(surface))
            finish = facts.job.thing(str(leaf.value)) if leaf is not None else None
            material = finish.find("material") if finish is not None else None
            if finish is None or material is None or finish.kind != "paint" or finish.key in told:
                continue
            if finish.find("odor") is None and not material.written.startswith(_LOW_ODOR):
                told.add(finish.key)
                yield said(
                    material,
                    f"{finish.key} in the cooled {room.key.replace('_', ' ')} is "
                    f"{material.written.replace('_', ' ')}, no low-odor kind",
                    "choose a low-odor paint, or write under `odor` how long it smells",
                    room,
                )


@rule(
    "finishes.wine-before-cure",
    level=Level.ERROR,
    trades=("painting", "flooring", "plaster", "millwork"),
    why="Wine that comes in before the coats have cured tastes of them.",
    bad=GOOD.replace("earliest: 2026-06-01", "earliest: 2026-04-05"),
    good=GOOD,
)
def wine_before_cure(facts: Facts) -> Iterator[Said]:
    """A coat on the surfaces of a cooled room has not cured on the first day of wine."""
    earliest = facts.job.find("stocking.earliest")
    if earliest is None or earliest.value is None:
        return
    first = earliest.value
    if not isinstance(first, date):
        return
    told: set[str] = set()
    for room in kinds.cooled_rooms(facts.job):
        for surface in kinds.surfaces_of(room):
            leaf = finish_at(facts.job, surface, build_up.part_of(surface))
            finish = facts.job.thing(str(leaf.value)) if leaf is not None else None
            cure = finish.find("cure") if finish is not None else None
            if finish is None or finish.key in told:
                continue
            if cure is None and finish.kind not in _COATS:
                continue
            applied = visits.visits_of(facts.job, _applies(facts, finish))
            last = visits.last_day(facts.job, applied[-1]) if applied else None
            if last is None:
                continue
            usual = facts.job.threshold("low_odor.cure")
            days, written = in_days(usual.si), usual.written
            if cure is not None:
                days, written = visits.days_of(cure), cure.written
            cured = last + timedelta(days=days)
            if cured > first:
                told.add(finish.key)
                yield said(
                    cure or finish,
                    f"{finish.key} in {room.key} is applied until {last.isoformat()} and cures "
                    f"{written}, until {cured.isoformat()}; wine comes from "
                    f"{earliest.written}",
                    "apply it earlier, choose a faster one, or let the wine wait",
                    earliest,
                    applied[-1],
                )


def _applies(facts: Facts, finish: Node) -> str:
    done = finish.find("done_by")
    if done is not None and isinstance(done.value, str):
        return done.value
    return {"plaster": "plaster", "tile": "flooring", "wood_floor": "flooring"}.get(
        finish.kind, "painting"
    )
