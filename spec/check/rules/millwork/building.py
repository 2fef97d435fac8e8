"""Weight, shelves, ladders, hardware and fillers."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.check.worked import known, worked
from spec.finding import Level
from spec.job.node import Open
from spec.place import plan
from spec.place.runs import stack_of
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
          lower: {left_to_right: {B1: {is: cabinet, width: 4 ft, doors: 2}, B2: {is: filler,
              width: FILLER}}}
          upper:
            left_to_right:
              U1: {is: open_shelf, width: 8 ft, shelves: {count: 2, thickness: 3/4 in},
                  stemware: {under: bottom, glass_height: GLASS, drop: 1 in}}
      TB: {length: 6 ft}
      TC: {length: 8 ft}
      TD: {length: 6 ft}
"""
GOOD = (
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
    stacks:
      racks:
        species: sapele
        stands_on: floor
        bottom_to_top: {lower: {is: racks, height: 96 in, depth: 14 in, rows: 23, deep: 1}}
    walls_clockwise:
      WA:
        length: 8 ft
        millwork:
          lower: {left_to_right: {R1: {width: 48 in, columns: 12}, R2: {is: filler, width: 48 in}}}
      WB: {length: 6 ft}
      WC: {length: 8 ft}
      WD: {length: 6 ft}
    floor: {allowable_load: ALLOWED}
"""
_LADDER = """
rooms:
  wine_room:
    taped: {to: finish}
    height: 96 in
    use: wine_storage
    stacks:
      racks:
        species: sapele
        bottom_to_top:
          lower: {is: racks, height: 60 in, depth: 40 in, rows: 14, deep: 1}
          upper: {is: racks, height: 36 in, depth: 14 in, rows: 8, deep: 1}
    walls_clockwise:
      WA:
        length: 8 ft
        millwork:
          lower: {left_to_right: {R1: {width: 96 in, columns: 24}}}
          upper: {left_to_right: {R2: {width: 96 in, columns: 24}}}
        fixtures:
          LD1: {is: ladder, along: [R2], rail_aff: 84 in, stand_off: STANDS, angle: 4 to 1,
              wheels_on: floor, length: 8 ft}
      WB: {length: 6 ft}
      WC: {length: 8 ft}
      WD: {length: 6 ft}
"""


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
            "spread the load, lower the racks, or have a licensed engineer say what the "
            "floor takes",
            run,
        )


def _with_engineer(facts: Facts, run: Node) -> bool:
    """The engineer is asked to approve stack, run or floor; an open approval holds."""
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
    bad=GOOD.replace("doors: {style", "species: white_oak\n        doors: {style"),
    good=GOOD.replace("doors: {style", "species: white_oak\n        doors: {style").replace(
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
                f"{piece.text('width', 'their span')}; the house allows "
                f"{show(most, 'length', system)}",
                "take thicker shelves, or set a support in the middle",
                piece,
            )


@rule(
    "millwork.corners-overlap",
    level=Level.ERROR,
    trades=("millwork",),
    why="Two runs that meet in a corner cannot both have it.",
    bad=_LOADED.replace(
        "WB: {length: 6 ft}",
        "WB: {length: 6 ft, millwork: {lower: {left_to_right: {R3: {width: 48 in, "
        "columns: 12}, R4: {is: filler, width: 24 in}}}}}",
    )
    .replace("R2: {is: filler, width: 48 in}", "R2: {width: 48 in, columns: 12}")
    .replace("ALLOWED", "600 psf"),
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
                        "turn the corner with one piece (`turns`), or start the second "
                        "run beyond the "
                        "first one's depth",
                        other.node,
                    )


@rule(
    "millwork.ladder-meets-base",
    level=Level.ERROR,
    trades=("millwork",),
    why="A ladder that leans on the edge of the deeper base cannot roll along it.",
    each=("ladder",),
    bad=_LADDER.replace("STANDS", "1 in"),
    good=_LADDER.replace("STANDS", "30 in"),
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
rooms: {wine_room: {walls_clockwise: {WA: {fixtures: {LD1: {is: ladder, rail_aff: 90 in,
    angle: 4 to 1, length: 6 ft}}}}}}
""",
    good="""
rooms: {wine_room: {walls_clockwise: {WA: {fixtures: {LD1: {is: ladder, rail_aff: 84 in,
    angle: 4 to 1, length: 8 ft}}}}}}
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
            f"{ladder.key} is {length.written} long; from its rail at "
            f"{ladder.text('rail_aff')} it takes "
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
    bad=_LOADED.replace("ALLOWED", "600 psf").replace(
        "stands_on: floor\n", "stands_on: floor\n        moisture: 2 % to 4 %\n"
    ),
    good=_LOADED.replace("ALLOWED", "600 psf").replace(
        "stands_on: floor\n", "stands_on: floor\n        moisture: 7 % to 9 %\n"
    ),
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
