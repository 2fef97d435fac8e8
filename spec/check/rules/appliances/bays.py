"""Appliances: the bay, the panel, the power and the air."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.check.worked import known
from spec.finding import Level
from spec.place.runs import Piece, stack_of, tiers
from spec.quantity import Quantity, show

APPLIANCES = ("refrigerator", "wine_refrigerator", "freezer", "ice_maker", "dishwasher")
_BAY = """
rooms:
  tasting_room:
    taped: {to: finish}
    height: 8 ft
    stacks:
      bar: {bottom_to_top: {toe: {is: plinth, under: lower, height: 4 in, set_back: 3 in},
          lower: {is: cabinets, height: 30-1/2 in, depth: 24 in}}}
    walls_clockwise:
      TA:
        length: 8 ft
        millwork: {lower: {left_to_right: {B1: {is: appliance_bay, width: WIDE, takes: [toe,
            lower], contains: RF1}, B2: {is: cabinet, width: rest}}}}
        appliances: {RF1: {is: refrigerator, cut_out: 24 in x 34-1/2 in x 24 in, toe: TOE,
            panel_most: 20 lb, panel_thickness: 3/4 in, panels: {count: 1, thickness: THICK,
            weight: HEAVY}, fed_from: RC1}}
        devices: {RC1: {is: receptacle, center: PLACE, aff: 16 in, fed_from: C1},
            RC2: {is: receptacle, center: 90 in, aff: 44 in, fed_from: C2}}
      TB: {length: 6 ft}
      TC: {length: 8 ft}
      TD: {length: 6 ft}
circuits: {C1: {breaker: 20 A}, C2: {breaker: 20 A}}
"""
_GOOD = (
    _BAY.replace("WIDE", "24 in")
    .replace("TOE", "4 in")
    .replace("THICK", "3/4 in")
    .replace("HEAVY", "14 lb")
    .replace("PLACE", "60 in")
)


def bay_of(facts: Facts, appliance: Node) -> tuple[Node, Piece] | None:
    """The bay that contains an appliance, and where it stands in its run."""
    bay = _bay(facts, appliance)
    piece = facts.places.piece(bay) if bay is not None else None
    return (bay, piece) if bay is not None and piece is not None else None


def _bay(facts: Facts, appliance: Node) -> Node | None:
    return next(
        (b for b in facts.job.things("appliance_bay") if appliance.key in b.words("contains", ())),
        None,
    )


@rule(
    "appliances.bay-does-not-fit",
    level=Level.ERROR,
    trades=("millwork", "appliances"),
    why="An appliance comes from a factory and does not give: the bay is as wide, high and deep as "
    "its maker says.",
    each=APPLIANCES,
    bad=_GOOD.replace("width: 24 in", "width: 22 in"),
    good=_GOOD,
)
def bay_does_not_fit(facts: Facts, appliance: Node) -> Iterator[Said]:
    """The bay differs from the maker's cut-out, in width or height, or is less deep."""
    bay = _bay(facts, appliance)
    cut_out = appliance.find("cut_out")
    if bay is None or cut_out is None:
        return
    error = facts.job.limit("cut_out.error")
    for side in ("width", "height", "depth"):
        left = known(facts, f"appliances.{side}_left", appliance)
        if left is None or (side == "depth" and left >= -error) or abs(left) <= error + 0.0002:
            continue
        by = show(abs(left), "length", facts.job.system)
        how = "wider" if side == "width" else "higher" if side == "height" else "deeper"
        yield said(
            bay,
            f"{bay.key} is {by} {'less' if left < 0 else 'more'} in {side} than "
            f"{appliance.key} asks for "
            f"({cut_out.written})",
            f"make the bay {how if left < 0 else 'smaller'}, or choose another appliance",
            cut_out,
        )


@rule(
    "appliances.no-bay",
    level=Level.ERROR,
    silence=True,
    trades=("millwork", "appliances"),
    why="An appliance without a bay stands in the garage until the joiner comes back.",
    each=APPLIANCES,
    bad=_GOOD.replace(", contains: RF1", ""),
    good=_GOOD,
)
def no_bay(facts: Facts, appliance: Node) -> Iterator[Said]:
    """No bay contains a built-in appliance, and nothing else says where it stands."""
    if _bay(facts, appliance) is not None:
        return
    if any(appliance.find(key) is not None for key in ("left", "center", "where", "state")):
        return
    bays = facts.job.things("appliance_bay")
    yield said(
        appliance,
        f"no bay contains {appliance.key}",
        f"write `contains: {appliance.key}` at its bay, or where it stands free",
        *(f"{bay.address}.contains" for bay in bays),
    )


@rule(
    "appliances.panel-too-heavy",
    level=Level.ERROR,
    trades=("millwork", "appliances"),
    why="The hinges of an appliance carry what its maker says; a heavier panel hangs crooked "
    "in a year.",
    each=APPLIANCES,
    bad=_GOOD.replace("14 lb", "34 lb"),
    good=_GOOD,
)
def panel_too_heavy(facts: Facts, appliance: Node) -> Iterator[Said]:
    """The door panel weighs more than the maker allows, with the house's margin."""
    weight, most = appliance.find("panels.weight"), appliance.find("panel_most")
    reserve = known(facts, "appliances.panel_reserve", appliance)
    if weight is None or most is None or reserve is None:
        return
    if reserve < facts.job.limit("panel.margin"):
        yield said(
            weight,
            f"the panel of {appliance.key} weighs {weight.written}, its maker allows "
            f"{most.written}",
            "make the panel lighter",
            most,
        )


@rule(
    "appliances.panel-thickness-differs",
    level=Level.ERROR,
    trades=("millwork", "appliances"),
    why="A panel of another thickness stands out of the line of the fronts.",
    each=APPLIANCES,
    bad=_GOOD.replace("{count: 1, thickness: 3/4 in", "{count: 1, thickness: 1 in"),
    good=_GOOD,
)
def panel_thickness_differs(facts: Facts, appliance: Node) -> Iterator[Said]:
    """The door panel is thicker or thinner than the appliance is made for."""
    own, asked = appliance.find("panels.thickness"), appliance.find("panel_thickness")
    if own is None or asked is None:
        return
    if not isinstance(own.value, Quantity) or not isinstance(asked.value, Quantity):
        return
    if abs(own.value.si - asked.value.si) > 0.0005:
        yield said(
            own,
            f"the panel of {appliance.key} is {own.written}, the maker asks for {asked.written}",
            "make the panel as thick as the maker asks",
            asked,
        )


@rule(
    "appliances.toe-differs",
    level=Level.ERROR,
    trades=("millwork", "appliances"),
    why="The toe space runs through under all fronts, or it is seen from the door.",
    each=APPLIANCES,
    bad=_GOOD.replace("toe: 4 in,", "toe: 3 in,"),
    good=_GOOD,
)
def toe_differs(facts: Facts, appliance: Node) -> Iterator[Said]:
    """The toe space of an appliance is not as high as the plinth beside it."""
    bay = _bay(facts, appliance)
    toe = appliance.find("toe")
    run = bay.parent.parent if bay is not None and bay.parent is not None else None
    stack = stack_of(facts.job, run) if run is not None else None
    if stack is None or toe is None or not isinstance(toe.value, Quantity):
        return
    for tier in tiers(stack, facts.places.room_of(appliance).height).values():
        if tier.node.kind == "plinth" and abs(tier.height - toe.value.si) > 0.001:
            yield said(
                toe,
                f"the toe space of {appliance.key} is {toe.written} high, "
                f"`{tier.node.key}` beside it "
                f"{tier.node.text('height')}",
                "set the appliance's feet, or change the plinth",
                f"{tier.node.address}.height",
            )


@rule(
    "appliances.no-air",
    level=Level.ERROR,
    trades=("millwork", "appliances"),
    why="A machine that breathes its own warm air runs all day and dies early.",
    each=APPLIANCES,
    bad=_GOOD.replace("toe: 4 in,", "toe: 4 in, vents: plinth, vent_area: 30 in2,"),
    good=_GOOD.replace("toe: 4 in,", "toe: 4 in, vents: plinth, vent_area: 30 in2,").replace(
        "set_back: 3 in}", "set_back: 3 in, vent: 40 in2}"
    ),
)
def no_air(facts: Facts, appliance: Node) -> Iterator[Said]:
    """The plinth before an appliance that breathes through it is less open than its maker asks."""
    asked = appliance.find("vent_area")
    bay = _bay(facts, appliance)
    run = bay.parent.parent if bay is not None and bay.parent is not None else None
    stack = stack_of(facts.job, run) if run is not None else None
    if stack is None or asked is None or appliance.word("vents", "") != "plinth":
        return
    for tier in stack.group("bottom_to_top"):
        if tier.kind != "plinth":
            continue
        vent = tier.find("vent")
        given = vent.value.si if vent is not None and isinstance(vent.value, Quantity) else 0.0
        if isinstance(asked.value, Quantity) and given < asked.value.si:
            yield said(
                f"{tier.address}.vent",
                f"{appliance.key} breathes through the plinth and asks for {asked.written}; "
                f"`{tier.key}` gives {vent.written if vent is not None else 'none'}",
                "put a grille into the plinth",
                asked,
            )
