"""What is there already: kept, taken out, put back, and the holes that it leaves."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.derive.sheets import kinds
from spec.finding import Level
from spec.job.node import Open
from spec.place import plan
from spec.quantity import show

_AIR = (
    "supply_register",
    "return_register",
    "fresh_air_valve",
    "exhaust_grille",
    "register",
    "grille",
)
_STAYS = ("keep", "protect")
_COLD = """
rooms:
  wine_room:
    use: wine_storage
    cooling: {kind: split_wall}
    taped: {to: finish}
    height: 8 ft
    walls_clockwise:
      WA: {length: 8 ft, existing: {X1: {is: window, PLACE, FACTS}},
          HOLES}
      WB: {length: 6 ft}
      WC: {length: 8 ft}
      WD: {length: 6 ft}
"""
_PLACE = "left: 2 ft, width: 3 ft, bottom: 3 ft, height: 3 ft"
_OPENING = _COLD.replace("PLACE", _PLACE)
_BOX = _COLD.replace(
    "is: window, PLACE, FACTS", "is: receptacle, center: 3 ft, aff: 16 in, action: remove, hole: H1"
)


def action_of(thing: Node) -> tuple[str, ...]:
    """What becomes of an existing thing: keep, remove, store ...; empty where nothing is said."""
    return thing.words("action", ()) if thing.find("action") is not None else ()


@rule(
    "existing.house-air-in-cooled-room",
    level=Level.ERROR,
    silence=True,
    trades=("refrigeration", "insulation"),
    why="House air blown into a cooled room is a hole of its full section, with a fan behind it.",
    bad=_OPENING.replace("is: window, left", "is: supply_register, left")
    .replace("FACTS", "action: keep")
    .replace("HOLES", "none: [holes]"),
    good=_OPENING.replace("is: window, left", "is: supply_register, left")
    .replace("FACTS", "action: remove")
    .replace("HOLES", "none: [holes]"),
)
def house_air_in_cooled_room(facts: Facts) -> Iterator[Said]:
    """A register or grille of the house's air stays open in a cooled room."""
    for thing in facts.job.things(*_AIR):
        room = facts.job.thing(thing.room)
        stays = set(action_of(thing)) & set(_STAYS)
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
    why="An old window in a cooled room sweats, lets the sun in, and is the weakest part of "
    "the wall.",
    each=("window",),
    bad=_OPENING.replace("FACTS", "action: keep").replace("HOLES", "none: [holes]"),
    good=_OPENING.replace(
        "FACTS", "action: [block, insulate], sealed: {retarder: foamed}, insulated: 3 in"
    ).replace("HOLES", "none: [holes]"),
)
def window_kept_in_cooled_room(facts: Facts, window: Node) -> Iterator[Said]:
    """An existing window of a cooled room is neither blocked nor replaced."""
    room = facts.job.thing(window.room)
    if window.heading != "existing" or room is None or not kinds.is_cooled(room):
        return
    action = action_of(window)
    if action and set(action) <= {*_STAYS, "refinish"}:
        yield said(
            window.at("action"),
            f"{window.key} in the cooled {room.key.replace('_', ' ')} is kept as it is",
            "block and insulate it, or replace it with glass that stays dry",
            f"{room.address}.cooling",
        )


@rule(
    "existing.glass-kept-or-not",
    level=Level.ERROR,
    silence=True,
    trades=("millwork", "doors", "painting"),
    why="The glass of an existing window stays or is changed: who is not told does neither.",
    each=("window",),
    bad="rooms: {tasting_room: {walls_clockwise: {TA: {openings: {N1: {is: window, state: "
    "existing, glazing: {panes: 1}}}}}}}",
    good="rooms: {tasting_room: {walls_clockwise: {TA: {openings: {N1: {is: window, state: "
    "existing, glazing: {panes: 1, kept: yes}}}}}}}",
)
def glass_kept_or_not(facts: Facts, window: Node) -> Iterator[Said]:
    """An existing window says not whether its glass is kept, or a new one says that it is."""
    glazing, state = window.find("glazing"), window.find("state")
    if window.heading != "openings" or glazing is None or not glazing.children:
        return
    exists = state is not None and state.value == "existing"
    kept = glazing.find("kept")
    if exists and kept is None:
        yield said(
            f"{glazing.address}.kept",
            f"{window.key} exists, and nothing says whether its glass is kept",
            "write `kept: yes` or `kept: no`",
            window,
        )
    if not exists and kept is not None and kept.value is True:
        yield said(
            f"{window.address}.state",
            f"the glass of {window.key} is kept, and nothing says that {window.key} exists",
            f"write `state: existing` at {window.key}",
            kept,
            window,
        )


@rule(
    "existing.blocked-but-open",
    level=Level.ERROR,
    silence=True,
    trades=("framing", "insulation"),
    why="A window that is only boarded over is a hole in the retarder and in the insulation.",
    each=("window",),
    bad=_OPENING.replace("FACTS", "action: [block, insulate]").replace("HOLES", "none: [holes]"),
    good=_OPENING.replace(
        "FACTS", "action: [block, insulate], sealed: {retarder: foamed}, insulated: 3 in"
    ).replace("HOLES", "none: [holes]"),
)
def blocked_but_open(facts: Facts, window: Node) -> Iterator[Said]:
    """An existing window of a cooled room is blocked, and nothing says how it is sealed."""
    room = facts.job.thing(window.room)
    if window.heading != "existing" or room is None or not kinds.is_cooled(room):
        return
    if "block" in action_of(window) and window.find("sealed.retarder") is None:
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
    bad=_BOX.replace("HOLES", "holes: {H1: {center: 5 ft, aff: 16 in, size: 4 in}}"),
    good=_BOX.replace("HOLES", "holes: {H1: {center: 3 ft, aff: 16 in, size: 4 in}}"),
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
        if old.node.heading != "existing" or not set(action_of(old.node)) & set(_STAYS):
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
