"""Cabinets: hardware, glasses, tops, and tiers over each other."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.check.rules.millwork.building import GOOD
from spec.finding import Level
from spec.place.runs import stack_of, tiers
from spec.quantity import show


@rule(
    "millwork.filler-out-of-range",
    level=Level.ERROR,
    trades=("millwork",),
    why="A filler too narrow breaks when it is scribed; one too wide looks like a mistake.",
    each=("filler",),
    bad=GOOD.replace("width: 2 in", "width: 1/8 in"),
    good=GOOD,
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
            f"{filler.key} is {show(piece.width, 'length', facts.job.system)}{rest} wide; "
            "the house makes "
            f"fillers {facts.job.threshold('filler.width').written}",
            "change a width of the run",
            facts.places.wall_of(filler) or filler,
        )


@rule(
    "millwork.glass-has-no-room",
    level=Level.ERROR,
    trades=("millwork",),
    why="A glass that hangs down to the counter is broken by the first hand that reaches for it.",
    each=("open_shelf", "cabinet"),
    bad=GOOD.replace("10 in", "17 in"),
    good=GOOD,
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
            f"glasses of {height.written} under {piece.key} need "
            f"{show(needed, 'length', system)} with "
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
    silence=True,
    trades=("millwork",),
    why="Doors without hinges and drawers without slides are found on the day of fitting, when the "
    "order takes three weeks.",
    each=("stack",),
    bad=GOOD.replace("hinge: {per: {door: 2}, spare: 0}, ", ""),
    good=GOOD,
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
                f"{', '.join(p.key for p in having)} have {key}, but the hardware of "
                f"{stack.key} has no "
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
    "millwork.deep-over-shallow",
    level=Level.WARNING,
    trades=("millwork",),
    why="An upper piece that stands out over a shallower base is met by foreheads.",
    each=("stack",),
    bad=GOOD.replace("depth: 13 in", "depth: 30 in"),
    good=GOOD,
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
                    f"`{upper.node.key}` of {stack.key} is "
                    f"{show(upper.depth, 'length', system)} deep and "
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
    bad=GOOD.replace(
        "splash: {is: gap, height: 18 in}",
        "top: {is: top, over: lower, height: 1 in, depth: 23 in}, splash: {is: gap, "
        "height: 17 in}".replace("}, splash", "}\n          splash"),
    ),
    good=GOOD.replace(
        "splash: {is: gap, height: 18 in}",
        "top: {is: top, over: lower, height: 1 in, depth: 25 in}\n          splash: {is: "
        "gap, height: 17 in}",
    ),
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
                f"the top `{tier.node.key}` is {tier.node.text('depth')} deep, "
                f"`{over.node.key}` under it "
                f"{over.node.text('depth')}",
                "make the top at least as deep as its base",
                f"{over.node.address}.depth",
            )
