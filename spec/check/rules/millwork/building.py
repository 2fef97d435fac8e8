"""Weight, shelves, ladders, hardware and fillers."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.check.worked import known, worked
from spec.finding import Level
from spec.job.node import Open
from spec.place import plan
from spec.place.runs import stack_of, tiers
from spec.quantity import Quantity, show

_BAR = """
rooms:
  tasting_room:
    taped: {to: finish}
    height: 8 ft
    stacks:
      bar:
        doors: {style: flat, thickness: 3/4 in, overlay: full}
        hardware: {HARDWARE}
        bottom_to_top:
          lower: {is: cabinets, height: 34 in, depth: 24 in}
          splash: {is: gap, height: 18 in}
          upper: {is: cabinets, height: 44 in, depth: 13 in}
    walls_clockwise:
      TA:
        length: 8 ft
        millwork:
          lower: {left_to_right: {B1: {is: cabinet, width: 4 ft, doors: 2}, B2: {is: filler, width: FILLER}}}
          upper:
            left_to_right:
              U1: {is: open_shelf, width: 8 ft, shelves: {count: 2, thickness: 3/4 in}, stemware: {under: bottom, glass_height: GLASS, drop: 1 in}}
      TB: {length: 6 ft}
      TC: {length: 8 ft}
      TD: {length: 6 ft}
"""
_GOOD = (
    _BAR.replace("HARDWARE", "hinge: {per: {door: 2}, spare: 0}, pull: {per: {door: 1}, spare: 0}")
    .replace("FILLER", "2 in")
    .replace("GLASS", "10 in")
)
_LOADED = """
bottles: {single: {diameter: 3-1/8 in, length: 12 in, full: 1.5 kg}}
rooms:
  wine_room:
    taped: {to: finish}
    height: 96 in
    use: wine_storage
    stacks: {racks: {species: sapele, stands_on: floor, bottom_to_top: {lower: {is: racks, height: 96 in, depth: 14 in, rows: 23, deep: 1}}}}
    walls_clockwise:
      WA: {length: 8 ft, millwork: {lower: {left_to_right: {R1: {width: 48 in, columns: 12}, R2: {is: filler, width: 48 in}}}}}
      WB: {length: 6 ft}
      WC: {length: 8 ft}
      WD: {length: 6 ft}
    floor: {allowable_load: ALLOWED}
"""


@rule(
    "millwork.filler-out-of-range",
    level=Level.ERROR,
    trades=("millwork",),
    why="A filler too narrow breaks when it is scribed; one too wide looks like a mistake.",
    each=("filler",),
    bad=_GOOD.replace("width: 2 in", "width: 1/8 in"),
    good=_GOOD,
)
def filler_out_of_range(facts: Facts, filler: Node) -> Iterator[Said]:
    """A filler is narrower or wider than the house makes them; `rest` as it comes out."""
    piece = facts.places.piece(filler)
    if piece is None:
        return
    low, high = facts.job.limits("filler.width")
    if not low - 0.0005 <= piece.width <= high + 0.0005:
        said_width = filler.text("width", "")
        rest = " (rest)" if said_width == "rest" else ""
        yield said(
            f"{filler.address}.width",
            f"{filler.key} is {show(piece.width, 'length', facts.job.system)}{rest} wide; the house makes "
            f"fillers {facts.job.threshold('filler.width').written}",
            "change a width of the run",
            facts.places.wall_of(filler) or filler,
        )


@rule(
    "millwork.too-heavy-for-floor",
    level=Level.ERROR,
    trades=("millwork", "framing"),
    why="A full rack weighs as much as a car on two feet; above what the floor is allowed, only a "
    "licensed engineer says yes.",
    source="IRC R301.5 and ASCE 7 for comparison; the floor's own allowable load decides",
    bad=_LOADED.replace("ALLOWED", "40 psf"),
    good=_LOADED.replace("ALLOWED", "600 psf"),
)
def too_heavy_for_floor(facts: Facts) -> Iterator[Said]:
    """The load under the loaded racks is above what their floor is allowed."""
    told: set[str] = set()
    for run, used in worked(facts, "millwork.floor_used"):
        room = facts.job.thing(run.room)
        floor = room.find("floor") if room is not None else None
        if used <= 1 or floor is None or floor.address in told or _with_engineer(facts, run):
            continue
        pressure = known(facts, "millwork.floor_pressure", run) or 0.0
        told.add(floor.address)
        limit = floor.find("allowable_load") or _as_found_load(facts, floor)
        yield said(
            limit or floor,
            f"full, {run.address} presses on the floor with "
            f"{show(pressure, 'area_load', facts.job.system)}; it is allowed "
            f"{limit.written if limit is not None else 'less'}",
            "spread the load, lower the racks, or have a licensed engineer say what the floor takes",
            run,
        )


def _with_engineer(facts: Facts, run: Node) -> bool:
    """An approval of the stack, the run or the floor is asked of the engineer; it holds while open."""
    stack = stack_of(facts.job, run)
    names = {run.address, run.room, f"{run.room}.floor", stack.key if stack is not None else ""}
    return any(
        names & set(approval.words("of", ())) and approval.word("who", "") == "engineer"
        for approval in facts.job.things("approval")
    )


def _as_found_load(facts: Facts, floor: Node) -> Node | None:
    on = floor.find("on")
    space = facts.job.thing(str(on.value)) if on is not None else None
    return space.find("floor.allowable_load") if space is not None else None


@rule(
    "millwork.shelf-sags",
    level=Level.WARNING,
    trades=("millwork",),
    why="A shelf that hangs by a thirty-second of an inch in the foot is seen across the room.",
    source="elastic line with creep; E from the USDA Wood Handbook, FPL-GTR-282",
    bad=_GOOD.replace("doors: {style", "species: white_oak\n        doors: {style"),
    good=_GOOD.replace("doors: {style", "species: white_oak\n        doors: {style").replace(
        "shelves: {count: 2, thickness: 3/4 in}", "shelves: {count: 2, thickness: 3 in}"
    ),
)
def shelf_sags(facts: Facts) -> Iterator[Said]:
    """A shelf sags more under its load, with creep, than the house allows."""
    for piece, sag in worked(facts, "millwork.shelf_sag"):
        most = known(facts, "millwork.shelf_sag_most", piece)
        if most is not None and sag > most:
            system = facts.job.system
            yield said(
                f"{piece.address}.shelves",
                f"the shelves of {piece.key} sag {show(sag, 'length', system)} over "
                f"{piece.text('width', 'their span')}; the house allows {show(most, 'length', system)}",
                "take thicker shelves, or set a support in the middle",
                piece,
            )


@rule(
    "millwork.glass-has-no-room",
    level=Level.ERROR,
    trades=("millwork",),
    why="A glass that hangs down to the counter is broken by the first hand that reaches for it.",
    each=("open_shelf", "cabinet"),
    bad=_GOOD.replace("10 in", "17 in"),
    good=_GOOD,
)
def glass_has_no_room(facts: Facts, piece: Node) -> Iterator[Said]:
    """Glasses that hang under a piece reach what is below, with the house's clearance."""
    height = piece.find("stemware.glass_height")
    own = facts.places.piece(piece)
    if height is None or own is None or piece.word("stemware.under", "") != "bottom":
        return
    clear = facts.job.limit("stemware.clear")
    below = _top_below(facts, piece)
    needed = piece.si("stemware.glass_height") + piece.si("stemware.drop", 0.0) + clear
    if below is not None and own.bottom - below < needed - 0.0005:
        system = facts.job.system
        yield said(
            height,
            f"glasses of {height.written} under {piece.key} need {show(needed, 'length', system)} with "
            f"their rail and what is clear below; there are "
            f"{show(own.bottom - below, 'length', system)}",
            "hang the piece higher, or take lower glasses",
            piece,
        )


def _top_below(facts: Facts, piece: Node) -> float | None:
    """The top of the highest solid tier under a piece [m]."""
    run = piece.parent.parent if piece.parent is not None else None
    stack = stack_of(facts.job, run) if run is not None else None
    own = facts.places.piece(piece)
    if stack is None or own is None:
        return None
    levels = tiers(stack, facts.places.room_of(piece).height).values()
    solid = [t.top for t in levels if t.node.kind != "gap" and t.top <= own.bottom + 0.001]
    return max(solid, default=0.0)


@rule(
    "millwork.hardware-missing",
    level=Level.ERROR,
    trades=("millwork",),
    why="Doors without hinges and drawers without slides are found on the day of fitting, when the "
    "order takes three weeks.",
    each=("stack",),
    bad=_GOOD.replace("hinge: {per: {door: 2}, spare: 0}, ", ""),
    good=_GOOD,
)
def hardware_missing(facts: Facts, stack: Node) -> Iterator[Said]:
    """A stack has doors, drawers or panels and no hinges, slides or pulls for them."""
    pieces = [p for p in facts.job.everything if p.heading == "millwork" and _in(facts, stack, p)]
    hardware = stack.find("hardware")
    items = hardware.entries() if hardware is not None else ()
    for key, what, wanted in (
        ("doors", "door", ("hinge", "pull")),
        ("drawers", "drawer", ("slide", "pull")),
        ("contains", "panel", ("pull",)),
    ):
        if what == "panel":
            pieces = [p for p in pieces if _has_panel(facts, p)]
        having = [p for p in pieces if p.find(key) is not None and not _covered(p, key)]
        if not having:
            continue
        for word in wanted:
            if any(word in item.key and item.find(f"per.{what}") is not None for item in items):
                continue
            if all(p.find("drawers.slide") is not None for p in having) and word == "slide":
                continue
            yield said(
                f"{stack.address}.hardware",
                f"{', '.join(p.key for p in having)} have {key}, but the hardware of {stack.key} has no "
                f"{word} per {what}",
                f"add `{word}: {{product: ..., per: {{{what}: ...}}, spare: ...}}`",
                *(f"{p.address}.{key}" for p in having),
                *(f"{item.address}.per" for item in items if word in item.key),
                f"{stack.address}.{word}",
            )


def _has_panel(facts: Facts, bay: Node) -> bool:
    """The appliance in a bay takes a panel of the joiner's that has no pull of its own."""
    for name in bay.words("contains", ()) if bay.find("contains") is not None else ():
        appliance = facts.job.thing(name)
        panels = appliance.find("panels") if appliance is not None else None
        if panels is not None and panels.children and panels.find("pull") is None:
            return True
    return False


def _in(facts: Facts, stack: Node, piece: Node) -> bool:
    run = piece.parent.parent if piece.parent is not None else None
    if piece.container != "left_to_right" or run is None or piece.room != stack.room:
        return False
    return stack_of(facts.job, run) is stack


def _covered(piece: Node, key: str) -> bool:
    leaf = piece.find(key)
    return leaf is not None and leaf.value == 0


@rule(
    "millwork.corners-overlap",
    level=Level.ERROR,
    trades=("millwork",),
    why="Two runs that meet in a corner cannot both have it.",
    bad=_LOADED.replace("WB: {length: 6 ft}", "WB: {length: 6 ft, millwork: {lower: {left_to_right: {R3: {width: 48 in, columns: 12}, R4: {is: filler, width: 24 in}}}}}").replace("R2: {is: filler, width: 48 in}", "R2: {width: 48 in, columns: 12}").replace("ALLOWED", "600 psf"),
    good=_LOADED.replace("ALLOWED", "600 psf"),
)
def corners_overlap(facts: Facts) -> Iterator[Said]:
    """Pieces of runs on two walls take the same corner."""
    for room in facts.job.rooms:
        pieces = list(plan.millwork(facts.places, room))
        for i, one in enumerate(pieces):
            for other in pieces[i + 1 :]:
                if one.node.surface == other.node.surface:
                    continue
                if {"gap", "filler", "panel"} & {one.node.kind, other.node.kind}:
                    continue
                if one.node.find("turns") is not None or other.node.find("turns") is not None:
                    continue
                if one.meets(other, 0.01):
                    yield said(
                        one.node,
                        f"{one.node.key} on {one.node.surface} and {other.node.key} on "
                        f"{other.node.surface} take the same corner",
                        "turn the corner with one piece (`turns`), or start the second run beyond the "
                        "first one's depth",
                        other.node,
                    )


@rule(
    "millwork.deep-over-shallow",
    level=Level.WARNING,
    trades=("millwork",),
    why="An upper piece that stands out over a shallower base is met by foreheads.",
    each=("stack",),
    bad=_GOOD.replace("depth: 13 in", "depth: 30 in"),
    good=_GOOD,
)
def deep_over_shallow(facts: Facts, stack: Node) -> Iterator[Said]:
    """An upper tier is deeper than a tier under it."""
    levels = [t for t in tiers(stack).values() if t.depth is not None and t.node.kind != "top"]
    for i, lower in enumerate(levels):
        for upper in levels[i + 1 :]:
            if upper.bottom < lower.top - 0.001 or lower.depth is None or upper.depth is None:
                continue
            if upper.depth > lower.depth + 0.001:
                system = facts.job.system
                yield said(
                    f"{upper.node.address}.depth",
                    f"`{upper.node.key}` of {stack.key} is {show(upper.depth, 'length', system)} deep and "
                    f"stands over `{lower.node.key}` of {show(lower.depth, 'length', system)}",
                    "make the lower tier deeper, or the upper one shallower",
                    f"{lower.node.address}.depth",
                )


@rule(
    "millwork.top-shallower-than-base",
    level=Level.ERROR,
    trades=("millwork", "stone"),
    why="A top that does not cover its base shows the edge of every cabinet.",
    each=("stack",),
    bad=_GOOD.replace("splash: {is: gap, height: 18 in}", "top: {is: top, over: lower, height: 1 in, depth: 23 in}, splash: {is: gap, height: 17 in}".replace("}, splash", "}\n          splash")),
    good=_GOOD.replace("splash: {is: gap, height: 18 in}", "top: {is: top, over: lower, height: 1 in, depth: 25 in}\n          splash: {is: gap, height: 17 in}"),
)
def top_shallower_than_base(facts: Facts, stack: Node) -> Iterator[Said]:
    """A top is less deep than the tier that it lies on."""
    levels = tiers(stack)
    for tier in levels.values():
        over = levels.get(tier.node.word("over", "")) if tier.node.kind == "top" else None
        if over is None or tier.depth is None or over.depth is None:
            continue
        if tier.depth < over.depth - 0.001:
            yield said(
                f"{tier.node.address}.depth",
                f"the top `{tier.node.key}` is {tier.node.text('depth')} deep, `{over.node.key}` under it "
                f"{over.node.text('depth')}",
                "make the top at least as deep as its base",
                f"{over.node.address}.depth",
            )


@rule(
    "millwork.ladder-meets-base",
    level=Level.ERROR,
    trades=("millwork",),
    why="A ladder that leans on the edge of the deeper base cannot roll along it.",
    each=("ladder",),
    bad=_LOADED.replace("ALLOWED", "600 psf").replace(
        "millwork: {lower", "fixtures: {LD1: {is: ladder, along: [R1], rail_aff: 84 in, stand_off: 1 in, angle: 4 to 1, wheels_on: floor, length: 8 ft}}, millwork: {lower"
    ).replace("bottom_to_top: {lower: {is: racks, height: 96 in, depth: 14 in, rows: 23, deep: 1}}", "bottom_to_top: {lower: {is: racks, height: 60 in, depth: 40 in, rows: 14, deep: 1}, upper: {is: racks, height: 36 in, depth: 14 in, rows: 8, deep: 1}}").replace("R2: {is: filler, width: 48 in}}}", "R2: {is: filler, width: 48 in}}}, upper: {left_to_right: {R5: {width: 96 in, columns: 24}}}").replace("along: [R1]", "along: [R5]"),
    good=_LOADED.replace("ALLOWED", "600 psf").replace(
        "millwork: {lower", "fixtures: {LD1: {is: ladder, along: [R1], rail_aff: 84 in, stand_off: 6 in, angle: 4 to 1, wheels_on: floor, length: 8 ft}}, millwork: {lower"
    ),
)
def ladder_meets_base(facts: Facts, ladder: Node) -> Iterator[Said]:
    """A leaning ladder meets the front of a tier that stands out under its rail."""
    clear = known(facts, "millwork.ladder_clear", ladder)
    least = facts.job.limit("ladder.wall_clear")
    if clear is not None and clear < least:
        system = facts.job.system
        yield said(
            ladder.at("stand_off"),
            f"{ladder.key} stands off {ladder.text('stand_off')} and comes within "
            f"{show(clear, 'length', system)} of the base below; the house keeps "
            f"{show(least, 'length', system)}",
            "let the rail stand off farther, or the ladder lean more",
            ladder.at("along"),
        )


@rule(
    "millwork.ladder-too-short",
    level=Level.ERROR,
    trades=("millwork",),
    why="A ladder shorter than the way from its rail to the floor hangs in the air.",
    each=("ladder",),
    bad="""
rooms: {wine_room: {walls_clockwise: {WA: {fixtures: {LD1: {is: ladder, rail_aff: 90 in, angle: 4 to 1, length: 6 ft}}}}}}
""",
    good="""
rooms: {wine_room: {walls_clockwise: {WA: {fixtures: {LD1: {is: ladder, rail_aff: 84 in, angle: 4 to 1, length: 8 ft}}}}}}
""",
)
def ladder_too_short(facts: Facts, ladder: Node) -> Iterator[Said]:
    """A ladder is shorter than from its rail to where its wheels stand."""
    length = ladder.find("length")
    needed = known(facts, "millwork.ladder_length", ladder)
    if length is None or needed is None or not isinstance(length.value, Quantity):
        return
    if length.value.si < needed - 0.001:
        yield said(
            length,
            f"{ladder.key} is {length.written} long; from its rail at {ladder.text('rail_aff')} it takes "
            f"{show(needed, 'length', facts.job.system)}",
            "choose a longer ladder, or a lower rail",
            ladder.at("rail_aff"),
        )


@rule(
    "millwork.moisture-disagrees",
    level=Level.WARNING,
    trades=("millwork",),
    why="Wood that comes drier or damper than the room will keep it swells or shrinks when it is "
    "screwed down.",
    each=("stack",),
    bad=_LOADED.replace("ALLOWED", "600 psf").replace("stands_on: floor,", "stands_on: floor, moisture: 2 % to 4 %,"),
    good=_LOADED.replace("ALLOWED", "600 psf").replace("stands_on: floor,", "stands_on: floor, moisture: 7 % to 9 %,"),
)
def moisture_disagrees(facts: Facts, stack: Node) -> Iterator[Said]:
    """The moisture of a stack's wood on arrival lies outside all that the house takes."""
    moisture = stack.find("moisture")
    if moisture is None or moisture.value is None:
        return
    try:
        low, high = facts.job.limits("wood.moisture")
        own = stack.quantity("moisture")
    except Open:
        return
    if own.high.si < low - 1e-9 or own.low.si > high + 0.035:
        yield said(
            moisture,
            f"the wood of {stack.key} comes at {moisture.written}; the house takes "
            f"{facts.job.threshold('wood.moisture').written}",
            "have it dried for the room that it goes into",
        )
