"""Leaves that meet something, gates and arches that do not agree with each other."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.check.worked import known
from spec.finding import Level
from spec.job.node import Open
from spec.place import moving, plan
from spec.quantity import Quantity, show

_SLACK = 0.0008
"""[m] Rounding of a typed sixteenth."""
_BARS = """
rooms: {hall: {walls_clockwise: {WA: {openings: {G1: {is: gate, leaf: {spaces: SPACES}}}}}}}
"""
_GATE = """
rooms:
  tasting_room:
    walls_clockwise:
      TB:
        openings:
          O1: {is: arch, width: 48 in, spring_aff: 72 in, rise: RISE}
          G1:
            is: gate
            inside: O1
            leaf: {count: 2, width: LEAF}
            gaps: {sides: 3/8 in, meeting: 1/4 in, bottom: 1/2 in, top: 1/2 in}
"""
_BAR = """
rooms:
  tasting_room:
    taped: {to: finish}
    height: 8 ft
    stacks: {bar: {bottom_to_top: {lower: {is: cabinets, height: 36 in, depth: 24 in}}}}
    walls_clockwise:
      TA: {length: 12 ft, openings: {D1: {is: door, left: PLACE, opens_into: tasting_room,
          hinges_on: left, leaf: {width: 32 in, height: 80 in}}}}
      TB: {length: 8 ft, millwork: {lower: {left_to_right: {B1: {is: cabinet, width: 8 ft,
          back: closed}}}}}
      TC: {length: 12 ft}
      TD: {length: 8 ft}
"""


@rule(
    "openings.leaf-hits",
    level=Level.ERROR,
    trades=("doors", "metalwork", "millwork"),
    why="A leaf that meets a rack, a counter or another leaf opens half way, for good.",
    bad=_BAR.replace("PLACE", "106 in"),
    good=_BAR.replace("PLACE", "48 in"),
)
def leaf_hits(facts: Facts) -> Iterator[Said]:
    """The sweep of a leaf meets what stands or hangs in the room, or the sweep of another leaf."""
    swept: list[plan.Footprint] = []
    for opening in facts.job.things("door", "gate"):
        try:
            sweeps = list(plan.sweeps(facts.places, opening))
        except Open:
            continue
        room = facts.job.thing(opening.word("opens_into", ""))
        standing = facts.places.standing(room) if room is not None else ()
        for sweep in sweeps:
            met = [*moving.met_by_leaf(sweep, standing)]
            met += [
                other.node for other in swept if other.node is not opening and other.meets(sweep)
            ]
            for thing in dict.fromkeys(met):
                yield said(
                    opening.at("opens_into"),
                    f"the leaf of {opening.key}, hinged on {_hinged(opening)}, "
                    f"meets {thing.key} when it opens into {opening.text('opens_into')}",
                    "hang it on the other side, open it the other way, or keep its sweep free",
                    thing,
                )
        swept += sweeps


def _hinged(opening: Node) -> str:
    side = opening.text("hinges_on", "left")
    return "both sides" if side == "both" else f"the {side}"


@rule(
    "openings.stands-before",
    level=Level.ERROR,
    trades=("millwork", "doors", "framing"),
    why="A rack that stands before a door or a window leaves a door that nobody passes.",
    bad=_BAR.replace("PLACE", "108 in").replace("opens_into: tasting_room, ", ""),
    good=_BAR.replace("PLACE", "48 in").replace("opens_into: tasting_room, ", ""),
)
def stands_before(facts: Facts) -> Iterator[Said]:
    """Millwork of the next wall stands in front of an opening, or its own wall's covers it."""
    for room in facts.job.rooms:
        pieces = list(plan.millwork(facts.places, room))
        for wall in room.group("walls_clockwise"):
            for opening in facts.places.openings(wall):
                if opening.kind not in ("door", "arch", "cased_opening"):
                    continue
                try:
                    free = plan.before(facts.places, opening, wall, 0.3)
                except Open:
                    continue
                for piece in pieces:
                    if piece.meets(free):
                        yield said(
                            opening,
                            f"{piece.node.key} stands before {opening.key} on {wall.key}",
                            "move the opening or end the run before it",
                            piece.node,
                        )


@rule(
    "openings.gate-does-not-fit",
    level=Level.ERROR,
    trades=("metalwork",),
    why="A gate is forged to its opening: leaves and gaps add up to it, or the gate is scrap.",
    each=("gate",),
    bad=_GATE.replace("LEAF", "26 in").replace("RISE", "12 in"),
    good=_GATE.replace("LEAF", "23-1/2 in").replace("RISE", "12 in"),
)
def gate_does_not_fit(facts: Facts, gate: Node) -> Iterator[Said]:
    """The leaves of a gate with their gaps are wider or narrower than the opening."""
    outer = facts.job.thing(gate.word("inside", ""))
    width = gate.find("leaf.width")
    if outer is None or width is None or not isinstance(width.value, Quantity):
        return
    fits = facts.figures.value("openings.gate_leaf", gate)
    if abs(width.value.si - fits) > _SLACK:
        yield said(
            width,
            f"each leaf of {gate.key} is {width.written}; with its gaps, {outer.key} "
            f"({outer.text('width')}) takes leaves of {show(fits, 'length', facts.job.system)}",
            "correct the leaf, the gaps or the opening",
            outer.at("width"),
        )


@rule(
    "openings.gate-lets-heads-through",
    level=Level.ERROR,
    trades=("metalwork",),
    why="A child goes through feet first, and the head stays between the bars.",
    source="IRC R312.1.3, IBC 1015.4: no ball of 4 in passes; cited from memory",
    each=("gate",),
    bad=_BARS.replace("SPACES", "5 in"),
    good=_BARS.replace("SPACES", "3-7/8 in"),
)
def gate_lets_heads_through(facts: Facts, gate: Node) -> Iterator[Said]:
    """The spaces between the bars of a gate are as wide as a child's head, or wider."""
    spaces, most = gate.find("leaf.spaces"), facts.job.threshold("gate.most_space")
    if spaces is not None and isinstance(spaces.value, Quantity) and spaces.value.si >= most.si:
        yield said(
            spaces,
            f"{spaces.written} are free between the bars of {gate.key}; a ball of {most.written} "
            "may not pass",
            "set the bars closer",
        )


@rule(
    "openings.arch-too-high",
    level=Level.ERROR,
    trades=("framing", "plaster", "metalwork"),
    why="One round arch has no more rise than half its span; a higher one is another curve, and "
    "nobody has drawn it.",
    each=("arch",),
    bad=_GATE.replace("LEAF", "23-1/2 in").replace("RISE", "30 in"),
    good=_GATE.replace("LEAF", "23-1/2 in").replace("RISE", "12 in"),
)
def arch_too_high(facts: Facts, arch: Node) -> Iterator[Said]:
    """The rise of an arch is more than half its span: no circle has it."""
    rise, width = arch.at("rise"), arch.at("width")
    if arch.si("rise") + arch.si("rise") > arch.si("width") + _SLACK:
        yield said(
            rise,
            f"{arch.key} rises {rise.written} over a span of {width.written}: a round "
            "arch rises half "
            "its span at most",
            "lower the rise, or widen the opening",
            width,
        )


@rule(
    "openings.threshold-too-high",
    level=Level.WARNING,
    trades=("doors", "flooring"),
    why="What is higher than a thumb is stumbled over, with a case of wine in the arms.",
    each=("door",),
    bad="""
rooms: {wine_room: {walls_clockwise: {WB: {openings: {D1: {is: door, threshold: {material: oak,
    height: 1 in, width: 4 in}}}}}}}
""",
    good="""
rooms: {wine_room: {walls_clockwise: {WB: {openings: {D1: {is: door, threshold: {material: oak,
    height: 3/8 in, width: 4 in}}}}}}}
""",
)
def threshold_too_high(facts: Facts, door: Node) -> Iterator[Said]:
    """A threshold stands higher above the floor than the house keeps."""
    high = door.find("threshold.height")
    most = facts.job.threshold("threshold.most")
    if high is not None and isinstance(high.value, Quantity) and high.value.si > most.si:
        yield said(
            high,
            f"the threshold of {door.key} is {high.written} high; the house keeps "
            f"{most.written} at most",
            "let it into the floor, or slope it on both sides",
        )


@rule(
    "openings.too-narrow",
    level=Level.ERROR,
    trades=("doors", "framing"),
    why="Through the door go people with boxes, and in a public room wheelchairs: 32 in clear.",
    source="2010 ADA Standards 404.2.3, 32 in with the leaf square to its wall; cited from memory",
    each=("door",),
    bad="""
rooms: {wine_room: {walls_clockwise: {WB: {openings: {D1: {is: door, opens_to: 90°,
    leaf: {width: 30 in, height: 80 in, thickness: 2 in}}}}}}}
""",
    good="""
rooms: {wine_room: {walls_clockwise: {WB: {openings: {D1: {is: door, opens_to: 90°,
    leaf: {width: 34 in, height: 80 in, thickness: 2 in}}}}}}}
""",
)
def too_narrow(facts: Facts, door: Node) -> Iterator[Said]:
    """A new door is clear for less than the house keeps when it stands open."""
    clear = known(facts, "openings.clear_width", door)
    least, system = facts.job.limit("door.clear_width"), facts.job.system
    if clear is not None and door.find("leaf.width") is not None and clear < least - 0.0005:
        yield said(
            door.at("leaf.width"),
            f"{door.key} is clear for {show(clear, 'length', system)} when it stands open; the "
            f"house keeps {show(least, 'length', system)}",
            "choose a wider leaf, or let it open past square",
            "door.clear_width",
        )
