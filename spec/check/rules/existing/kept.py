"""What is there already: kept, taken out, put back, and the holes that it leaves."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.derive.sheets import kinds
from spec.finding import Level
from spec.job.node import Open
from spec.job.stage import first_day
from spec.place import plan
from spec.quantity import show

_AIR = ("supply_register", "return_grille", "fresh_air_valve", "exhaust_grille", "register", "grille")
_STAYS = ("keep", "protect")
_UNKNOWN = ("not tested", "unknown", "not_tested", "suspected")
_COLD = """
rooms:
  wine_room:
    use: wine_storage
    cooling: {kind: split_wall}
    taped: {to: finish}
    height: 8 ft
    walls_clockwise:
      WA: {length: 8 ft, existing: {X1: {is: window, left: 2 ft, width: 3 ft, bottom: 3 ft, height: 3 ft, FACTS}}, HOLES}
      WB: {length: 6 ft}
      WC: {length: 8 ft}
      WD: {length: 6 ft}
"""
_OLD = """
job: {site: {built: YEAR}}
surveys: {lead_paint: {result: PAINT}, asbestos: {result: FIBER, when: 2026-04-01}}
trades: {demolition: {visits: {strip: {starts: 2026-05-04}}}}
"""


def _action(thing: Node) -> tuple[str, ...]:
    return thing.words("action", ()) if thing.find("action") is not None else ()


@rule(
    "existing.house-air-in-cooled-room",
    level=Level.ERROR,
    trades=("refrigeration", "insulation"),
    why="House air blown into a cooled room is a hole of its full section, with a fan behind it.",
    bad=_COLD.replace("is: window, left", "is: supply_register, left").replace("FACTS", "action: keep").replace("HOLES", "none: [holes]"),
    good=_COLD.replace("is: window, left", "is: supply_register, left").replace("FACTS", "action: remove").replace("HOLES", "none: [holes]"),
)
def house_air_in_cooled_room(facts: Facts) -> Iterator[Said]:
    """A register or grille of the house's air stays open in a cooled room."""
    for thing in facts.job.things(*_AIR):
        room = facts.job.thing(thing.room)
        stays = set(_action(thing)) & set(_STAYS)
        if thing.heading == "existing" and stays and room is not None and kinds.is_cooled(room):
            yield said(
                thing.at("action"),
                f"{thing.key}, a {thing.kind.replace('_', ' ')} of the house, stays in the cooled "
                f"{room.key.replace('_', ' ')}",
                "take it out, cap the duct and seal it at the retarder",
                f"{room.address}.cooling",
            )


@rule(
    "existing.window-kept-in-cooled-room",
    level=Level.ERROR,
    trades=("framing", "insulation"),
    why="An old window in a cooled room sweats, lets the sun in, and is the weakest part of the wall.",
    each=("window",),
    bad=_COLD.replace("FACTS", "action: keep").replace("HOLES", "none: [holes]"),
    good=_COLD.replace("FACTS", "action: [block, insulate], sealed: {retarder: foamed}, insulated: 3 in").replace("HOLES", "none: [holes]"),
)
def window_kept_in_cooled_room(facts: Facts, window: Node) -> Iterator[Said]:
    """An existing window of a cooled room is neither blocked nor replaced."""
    room = facts.job.thing(window.room)
    if window.heading != "existing" or room is None or not kinds.is_cooled(room):
        return
    action = _action(window)
    if action and set(action) <= {*_STAYS, "refinish"}:
        yield said(
            window.at("action"),
            f"{window.key} in the cooled {room.key.replace('_', ' ')} is kept as it is",
            "block and insulate it, or replace it with glass that stays dry",
            f"{room.address}.cooling",
        )


@rule(
    "existing.blocked-but-open",
    level=Level.ERROR,
    trades=("framing", "insulation"),
    why="A window that is only boarded over is a hole in the retarder and in the insulation.",
    each=("window",),
    bad=_COLD.replace("FACTS", "action: [block, insulate]").replace("HOLES", "none: [holes]"),
    good=_COLD.replace("FACTS", "action: [block, insulate], sealed: {retarder: foamed}, insulated: 3 in").replace("HOLES", "none: [holes]"),
)
def blocked_but_open(facts: Facts, window: Node) -> Iterator[Said]:
    """An existing window of a cooled room is blocked, and nothing says how it is sealed."""
    room = facts.job.thing(window.room)
    if window.heading != "existing" or room is None or not kinds.is_cooled(room):
        return
    if "block" in _action(window) and window.find("sealed.retarder") is None:
        yield said(
            f"{window.address}.sealed.retarder",
            f"{window.key} is blocked, and nothing says how it is sealed at the retarder",
            f"write at {window.key} `sealed: {{retarder: how}}`",
            f"{window.address}.sealed",
            window,
        )


@rule(
    "existing.hole-elsewhere",
    level=Level.ERROR,
    trades=("insulation", "framing"),
    why="A hole is closed where the paper says it is; the real one stays open behind the board.",
    bad=_COLD.replace("is: window, left", "is: receptacle, left").replace("left: 2 ft, width: 3 ft, bottom: 3 ft, height: 3 ft, FACTS", "center: 3 ft, aff: 16 in, action: remove, hole: H1").replace("HOLES", "holes: {H1: {center: 5 ft, aff: 16 in, size: 4 in}}"),
    good=_COLD.replace("is: window, left", "is: receptacle, left").replace("left: 2 ft, width: 3 ft, bottom: 3 ft, height: 3 ft, FACTS", "center: 3 ft, aff: 16 in, action: remove, hole: H1").replace("HOLES", "holes: {H1: {center: 3 ft, aff: 16 in, size: 4 in}}"),
)
def hole_elsewhere(facts: Facts) -> Iterator[Said]:
    """The hole that an existing thing leaves is written at another place than the thing."""
    least = facts.job.limit("backing.margin")
    for thing in facts.job.everything:
        link = thing.find("hole")
        hole = facts.job.thing(str(link.value)) if link is not None and link.value else None
        if link is None or hole is None:
            continue
        apart = _apart(facts, thing, hole)
        if apart is not None and apart > least:
            yield said(
                link,
                f"{thing.key} leaves the hole {hole.key}, but {hole.key} is written "
                f"{show(apart, 'length', facts.job.system)} away from it",
                "correct the place of one of them",
                hole,
            )


def _apart(facts: Facts, thing: Node, hole: Node) -> float | None:
    """Between two things of one surface, over the nearer of the two directions' differences [m]."""
    if thing.surface != hole.surface:
        return None
    try:
        if facts.places.wall_of(thing) is None:
            one, other = facts.places.plan(thing), facts.places.plan(hole)
            return plan.apart(one.outlines[0], other.outlines[0])
    except Open:
        return None
    gaps = []
    for key in ("center", "aff"):
        a, b = thing.find(key), hole.find(key)
        if a is None or b is None:
            continue
        if thing.shape.below(key) is None:
            continue
        try:
            gaps.append(abs(thing.si(key) - hole.si(key)))
        except Open:
            continue
    return max(gaps, default=None)


@rule(
    "existing.kept-behind-millwork",
    level=Level.ERROR,
    trades=("millwork", "demolition"),
    why="What is to stay reachable, and then stands behind a rack, is neither.",
    each=("wall",),
    bad="""
rooms:
  tasting_room:
    taped: {to: finish}
    height: 8 ft
    stacks: {bar: {bottom_to_top: {lower: {is: cabinets, height: 80 in, depth: 24 in}}}}
    walls_clockwise:
      TA:
        length: 8 ft
        millwork: {lower: {left_to_right: {B1: {is: cabinet, width: 8 ft, back: closed}}}}
        existing: {X1: {is: receptacle, center: 3 ft, aff: 16 in, action: keep}}
      TB: {length: 6 ft}
      TC: {length: 8 ft}
      TD: {length: 6 ft}
""",
    good="""
rooms:
  tasting_room:
    taped: {to: finish}
    height: 8 ft
    stacks: {bar: {bottom_to_top: {lower: {is: cabinets, height: 80 in, depth: 24 in}}}}
    walls_clockwise:
      TA:
        length: 8 ft
        millwork: {lower: {left_to_right: {B1: {is: cabinet, width: 8 ft, back: closed}}}}
        existing: {X1: {is: receptacle, center: 3 ft, aff: 16 in, action: remove}}
      TB: {length: 6 ft}
      TC: {length: 8 ft}
      TD: {length: 6 ft}
""",
)
def kept_behind_millwork(facts: Facts, wall: Node) -> Iterator[Said]:
    """An existing thing that is kept lies behind a piece of millwork that is not open there."""
    things = list(facts.places.on(wall))
    for old in things:
        if old.node.heading != "existing" or not set(_action(old.node)) & set(_STAYS):
            continue
        if old.node.kind in ("reinforcement", "cable", "drain_stack", "pipe", "column"):
            continue
        for piece in things:
            if piece.node.heading != "millwork" or not piece.rect.meets(old.rect, 0.003):
                continue
            if old.node.key in piece.node.text("back", "").split():
                continue
            yield said(
                old.node,
                f"{old.node.key} on {wall.key} is kept, and {piece.node.key} stands before it",
                f"move or remove it, or write at {piece.node.key} `back: open at {old.node.key}`",
                piece.node,
            )


@rule(
    "existing.action-on-new-thing",
    level=Level.ERROR,
    trades=("demolition", "electrical"),
    why="What is removed, stored or put back is there already; a thing that does not say so is bought "
    "anew.",
    bad="rooms: {tasting_room: {ceiling: {devices: {SD1: {is: smoke_alarm, action: [remove, reinstall]}}}}}",
    good="rooms: {tasting_room: {ceiling: {devices: {SD1: {is: smoke_alarm, state: existing, action: [remove, reinstall]}}}}}",
)
def action_on_new_thing(facts: Facts) -> Iterator[Said]:
    """A thing has an `action` and does not say that it exists."""
    for thing in facts.job.everything:
        if thing.find("action") is None or thing.heading == "existing" or not thing.surface:
            continue
        state = thing.find("state")
        if state is None or state.value == "new":
            yield said(
                f"{thing.address}.state",
                f"{thing.key} is to {' and '.join(_action(thing))}, but nothing says that it is there "
                "already",
                f"write `state: existing` at {thing.key}, or take its action away",
                thing,
            )


@rule(
    "existing.lead-paint-unknown",
    level=Level.ERROR,
    trades=("demolition", "painting"),
    why="Paint of before 1978 may hold lead: who sands it without knowing poisons the house.",
    source="40 CFR 745, renovation of housing built before 1978; cited from memory",
    bad=_OLD.replace("YEAR", "1938").replace("PAINT", "not tested").replace("FIBER", "none found"),
    good=_OLD.replace("YEAR", "1938").replace("PAINT", "none found").replace("FIBER", "none found"),
)
def lead_paint_unknown(facts: Facts) -> Iterator[Said]:
    """A house built before 1978 has no result of a survey for lead paint."""
    yield from _survey(facts, "lead_paint", 1978)


@rule(
    "existing.asbestos-unknown",
    level=Level.ERROR,
    trades=("demolition",),
    why="What was built before about 1980 may hold asbestos; demolition sets it free.",
    source="common practice; 40 CFR 61 subpart M for its scope, cited from memory",
    bad=_OLD.replace("YEAR", "1938").replace("PAINT", "none found").replace("FIBER", "not tested"),
    good=_OLD.replace("YEAR", "1938").replace("PAINT", "none found").replace("FIBER", "none found"),
)
def asbestos_unknown(facts: Facts) -> Iterator[Said]:
    """A house built before 1980 has no result of a survey for asbestos, or has it after demolition."""
    yield from _survey(facts, "asbestos", 1980)


def _survey(facts: Facts, name: str, before: int) -> Iterator[Said]:
    built = facts.job.find("job.site.built")
    if built is None or not isinstance(built.value, int) or built.value >= before:
        return
    first = next((v for v in facts.job.things("visit") if _of_demolition(v)), None)
    survey = facts.job.find(f"surveys.{name}")
    if first is None:
        return
    result = survey.find("result") if survey is not None else None
    words = name.replace("_", " ")
    if survey is None or result is None or result.written.lower() in _UNKNOWN:
        yield said(
            f"surveys.{name}.result",
            f"the house was built in {built.written}, and nothing is known of {words}",
            f"have it looked for before {first.address}",
            built,
            first,
            f"surveys.{name}",
        )
        return
    when, starts = survey.find("when"), first_day(first)
    day = survey.date("when") if when is not None and when.value is not None else None
    if day is not None and starts is not None and day > starts:
        yield said(
            when or survey,
            f"{words} was looked for on {day.isoformat()}, demolition starts on {starts.isoformat()}",
            "look first",
            first,
        )


def _of_demolition(visit: Node) -> bool:
    holder = visit.parent.parent if visit.parent is not None else None
    return holder is not None and holder.key == "demolition"


@rule(
    "existing.alarm-out",
    level=Level.ERROR,
    trades=("electrical",),
    why="A house in which people sleep has one working smoke alarm in the room of the work, every night.",
    each=("smoke_alarm",),
    bad="rooms: {tasting_room: {ceiling: {devices: {SD1: {is: smoke_alarm, state: existing, action: [remove, reinstall]}}}}}",
    good="""
rooms: {tasting_room: {ceiling: {devices: {SD1: {is: smoke_alarm, state: existing, action: [remove, reinstall], kept_live: battery alarm in the hall}}}}}
""",
)
def alarm_out(facts: Facts, alarm: Node) -> Iterator[Said]:
    """A smoke alarm is taken down or moved, and nothing says what stands in for it."""
    out = set(_action(alarm)) & {"remove", "move", "store"}
    if out and alarm.find("kept_live") is None and alarm.find("never_out") is None:
        key = "never_out" if alarm.heading == "existing" else "kept_live"
        yield said(
            f"{alarm.address}.{key}",
            f"{alarm.key} is taken down, and nothing says which alarm works meanwhile",
            f"write `{key}` at {alarm.key}",
            alarm,
        )
