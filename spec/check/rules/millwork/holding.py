"""What holds and what is held: backing, drawers, slides, tops."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.derive.sheets import kinds
from spec.finding import Level
from spec.job.node import Open
from spec.place import Rect, Run
from spec.place.build_up import roles
from spec.place.runs import stack_of
from spec.quantity import Quantity, show

_HUNG = """
rooms:
  bar_room:
    taped: {to: finish}
    height: 96 in
    stacks:
      bar:
        stands_on: wall
        bottom_to_top:
          free: {is: gap, height: 54 in}
          upper: {is: cabinets, height: 42 in, depth: 12 in}
    walls_clockwise:
      TA:
        length: 8 ft
        millwork: {upper: {left_to_right: {U1: {is: cabinet, width: 96 in}}}}
        BACKING
      TB: {length: 6 ft}
      TC: {length: 8 ft}
      TD: {length: 6 ft}
"""
_TOP = """
rooms:
  bar_room:
    stacks:
      bar:
        bottom_to_top:
          lower: {is: cabinets, height: 34 in, depth: 24 in}
          counter: {is: top, over: lower, height: 2 in, depth: DEEP, material: slate}
"""
_BAR = """
bottles: {single: {diameter: 3 in, length: 12 in, full: 1.5 kg}}
products: {small_slide: {is: slide, carries: 30 lb}}
rooms:
  bar_room:
    taped: {to: finish}
    height: 8 ft
    stacks: {bar: {bottom_to_top: {lower: {is: cabinets, height: 30 in, depth: 24 in}}}}
    walls_clockwise:
      TA:
        length: 8 ft
        millwork: {lower: {left_to_right: {B1: {is: drawers, width: 96 in, drawers: {FACTS}}}}}
      TB: {length: 6 ft}
      TC: {length: 8 ft}
      TD: {length: 6 ft}
"""


def _drawers(facts: str) -> str:
    return _BAR.replace("FACTS", facts)


def _runs(facts: Facts, wall: Node) -> tuple[Run, ...]:
    try:
        return facts.places.runs(wall)
    except Open:
        return ()


@rule(
    "millwork.hangs-on-board",
    level=Level.ERROR,
    trades=("millwork", "framing"),
    why="A full rack that hangs on board comes down with it, on whoever stands below.",
    each=("wall",),
    bad=_HUNG.replace("BACKING", "none: [backing]"),
    good=_HUNG.replace(
        "BACKING", "backing: {BK1: {for: [U1], left: 0, right: 0, aff: 84 in, member: 2x8}}"
    ),
)
def hangs_on_board(facts: Facts, wall: Node) -> Iterator[Said]:
    """A piece of millwork that the wall holds has neither backing nor plywood behind it."""
    if _sheathed(facts, wall):
        return
    behind = [facts.places.rect(b).rect for b in wall.group("backing") if _placed(facts, b)]
    for run in _runs(facts, wall):
        stack = stack_of(facts.job, run.node)
        stands = stack.find("stands_on") if stack is not None else None
        if stack is None or stands is None or stands.value not in ("wall", "floor_and_wall"):
            continue
        if stands.value == "floor_and_wall" and run.tier.node is _lowest(stack):
            continue
        for piece in run.pieces:
            if piece.turned or piece.node.kind in ("filler", "gap", "panel"):
                continue
            rect = Rect(piece.left, run.tier.bottom, piece.width, run.tier.height)
            if not any(rect.meets(back, 0.001) for back in behind):
                yield said(
                    piece.node,
                    f"{piece.node.key} is held by {wall.key} ({stands.address}: "
                    f"{stands.written}), and "
                    "nothing is behind it to screw into",
                    f"add a backing on {wall.key} behind its top rail, with `for: "
                    f"[{piece.node.key}]`",
                    f"{wall.address}.backing",
                    stands,
                )


def _lowest(stack: Node) -> Node | None:
    """The tier of a stack that stands on the floor or on its plinth."""
    solid = (t for t in stack.group("bottom_to_top") if t.kind not in ("plinth", "gap"))
    return next(solid, None)


def _placed(facts: Facts, backing: Node) -> bool:
    try:
        facts.places.rect(backing)
    except Open:
        return False
    return True


def _sheathed(facts: Facts, wall: Node) -> bool:
    """The wall has a layer that takes screws everywhere, or nothing is known of its layers."""
    link = wall.find("assembly") or wall.find("partition")
    named = (
        facts.job.thing(str(link.value)) if link is not None and link.value is not None else None
    )
    if named is not None and named.kind == "partition":
        inner = named.find("assembly")
        named = facts.job.thing(str(inner.value)) if inner is not None else None
    layers = named.group("from_room_outward") if named is not None else ()
    if any("backing" in roles(layer) for layer in layers):
        return True
    solid = ("concrete", "brick", "stone")
    return any(any(s in layer.word("material", "") for s in solid) for layer in layers)


@rule(
    "millwork.drawers-too-high",
    level=Level.ERROR,
    trades=("millwork",),
    why="Drawer fronts that add up to more than the cabinet are planed down on site, with the "
    "stain "
    "gone.",
    each=("cabinet", "drawers"),
    bad=_drawers("heights: [8 in, 12 in, 14 in]"),
    good=_drawers("heights: [6 in, 10 in, 14 in]"),
)
def drawers_too_high(facts: Facts, piece: Node) -> Iterator[Said]:
    """The fronts of a piece's drawers are higher together than the piece."""
    heights, placed = piece.find("drawers.heights"), facts.places.piece(piece)
    if heights is None or heights.value is None or placed is None:
        return
    value = heights.value
    fronts = value if isinstance(value, tuple) else getattr(value, "values", (value,))
    total = sum(f.si for f in fronts if isinstance(f, Quantity))
    system = facts.job.system
    if total > placed.height + facts.job.limit("run.sum_error"):
        yield said(
            heights,
            f"the drawers of {piece.key} are {show(total, 'length', system)} high together, the "
            "piece "
            f"is {show(placed.height, 'length', system)}",
            "make the fronts lower, or leave one out",
            piece,
        )


@rule(
    "millwork.slide-too-weak",
    level=Level.ERROR,
    trades=("millwork",),
    why="Wine is heavy: a drawer of two dozen bottles weighs as much as a person.",
    each=("drawers", "cabinet", "case_shelf"),
    bad=_drawers("count: 3, each_holds: 12, slide: small_slide"),
    good=_drawers("count: 3, each_holds: 6, slide: small_slide"),
)
def slide_too_weak(facts: Facts, piece: Node) -> Iterator[Said]:
    """A slide carries less than the bottles on it weigh, with the house's reserve."""
    slide = piece.find("drawers.slide") or piece.find("slide")
    if slide is None or slide.value is None or not facts.job.find(f"{slide.value}.carries"):
        return
    found = facts.figures.get("millwork.slide_reserve", piece)
    margin = facts.job.limit("slide.margin")
    if found.value is None or found.value >= margin:
        return
    system = facts.job.system
    at = {name: show(v, "mass", system) for name, v, of in found.given if of == "mass"}
    yield said(
        slide,
        f"one slide of {piece.key} holds {at['load']} when it is full, "
        f"{slide.written} "
        f"carries {at['rating']}; the house keeps {show(margin, 'percent', system)} "
        "in "
        "reserve",
        "choose a stronger slide, or fewer bottles on it",
        f"{slide.value}.carries",
    )


@rule(
    "millwork.top-overhangs",
    level=Level.ERROR,
    trades=("stone", "millwork"),
    why="A counter that reaches out too far without a bracket breaks under the first person who "
    "sits "
    "on it.",
    each=("stack",),
    bad=_TOP.replace("DEEP", "38 in"),
    good=_TOP.replace("DEEP", "30 in"),
)
def top_overhangs(facts: Facts, stack: Node) -> Iterator[Said]:
    """A top reaches farther over its base than its material carries itself."""
    levels = {tier.key: tier for tier in kinds.tiers_of(stack)}
    for tier in levels.values():
        over = levels.get(tier.word("over", "")) if tier.kind == "top" else None
        if over is None or not isinstance(_value(tier, "depth"), Quantity):
            continue
        base = _value(over, "depth")
        if not isinstance(base, Quantity):
            continue
        out = tier.si("depth") - base.si
        name = "top.stone_overhang" if facts.job.done_by(tier) == "stone" else "top.wood_overhang"
        most, system = facts.job.limit(name), facts.job.system
        if out > most + 0.0005:
            yield said(
                tier.at("depth"),
                f"`{tier.key}` of {stack.key} reaches {show(out, 'length', system)} over "
                f"`{over.key}`; the house lets it reach {show(most, 'length', system)} unsupported",
                "make it less deep, or put brackets under it and write them under `support`",
                over.at("depth"),
                name,
            )


def _value(node: Node, key: str) -> object:
    leaf = node.find(key)
    return leaf.value if leaf is not None else None
