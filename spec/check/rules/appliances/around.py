"""What stands around an appliance: its panel in the bay, the corner beside its door."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.check.worked import known
from spec.derive.sheets import kinds
from spec.derive.sheets.standing import allowable_under
from spec.finding import Level
from spec.place.runs import Piece
from spec.quantity import Quantity, Size, show

APPLIANCES = (
    "refrigerator",
    "wine_refrigerator",
    "freezer",
    "ice_maker",
    "dishwasher",
    "wine_dispenser",
    "coffee_machine",
)
_BAR = """
rooms:
  tasting_room:
    taped: {to: finish}
    height: 8 ft
    stacks: {bar: {bottom_to_top: {lower: {is: cabinets, height: 34-1/2 in, depth: 24 in}}}}
    walls_clockwise:
      TA:
        length: 8 ft
        millwork:
          lower:
            left: 0
            width: 4 ft
            left_to_right:
              B1: {is: appliance_bay, width: 24 in, takes: lower, contains: RF1}
              B2: {is: cabinet, width: 24 in}
        appliances: {RF1: {is: refrigerator, cut_out: 24 in x 34-1/2 in x 24 in, FACTS}}
      TB: {length: 6 ft}
      TC: {length: 8 ft}
      TD: {length: 6 ft}
    floor: {allowable_load: 60 psf}
"""


def _bar(facts: str) -> str:
    return _BAR.replace("FACTS", facts)


def stands_in(facts: Facts, appliance: Node) -> tuple[Node, Piece] | None:
    """The piece of millwork that contains an appliance, and its place; None: it stands free."""
    for piece in kinds.pieces(facts.job):
        inside = piece.find("contains")
        if inside is not None and inside.value == appliance.key:
            placed = facts.places.piece(piece)
            return (piece, placed) if placed is not None else None
    return None


@rule(
    "appliances.panel-too-wide",
    level=Level.ERROR,
    trades=("millwork",),
    why="A panel as wide as its bay rubs on the fronts beside it.",
    each=APPLIANCES,
    bad=_bar("panels: {count: 1, size: 24-1/2 in x 30 in}"),
    good=_bar("panels: {count: 1, size: 23-3/4 in x 30 in}"),
)
def panel_too_wide(facts: Facts, appliance: Node) -> Iterator[Said]:
    """The panel of an appliance is as wide as its bay, or wider."""
    size, found = appliance.find("panels.size"), stands_in(facts, appliance)
    if size is None or not isinstance(size.value, Size) or found is None:
        return
    wide, system = size.value.sides[0].si, facts.job.system
    bay, placed = found
    if wide >= placed.width:
        yield said(
            size,
            f"the panel of {appliance.key} is {show(wide, 'length', system)} wide, its bay "
            f"{bay.key} "
            f"is {show(placed.width, 'length', system)}",
            "make the panel narrower by a gap on each side",
            bay,
        )


@rule(
    "appliances.door-meets-wall",
    level=Level.ERROR,
    trades=("millwork", "appliances"),
    why="A door that opens against a wall opens by half, and the shelves in it do not come out.",
    each=APPLIANCES,
    bad=_bar("opens: left"),
    good=_bar("opens: right"),
)
def door_meets_wall(facts: Facts, appliance: Node) -> Iterator[Said]:
    """The hinge side of an appliance stands nearer to a corner than the house keeps."""
    opens, found = appliance.find("opens"), stands_in(facts, appliance)
    wall = facts.places.wall_of(found[0]) if found is not None else None
    if opens is None or found is None or wall is None or opens.value not in ("left", "right"):
        return
    bay, placed = found
    right = facts.places.length(wall) - placed.left - placed.width
    beside = placed.left if opens.value == "left" else right
    least, system = facts.job.limit("appliance.beside_hinge"), facts.job.system
    if beside < least - 0.0005:
        yield said(
            opens,
            f"{appliance.key} opens on its {opens.value} side, where {bay.key} leaves "
            f"{show(beside, 'length', system)} to the corner of {wall.key}; the house keeps "
            f"{show(least, 'length', system)}",
            "hang the door on its other side, or put a filler into the corner",
            bay,
            "appliance.beside_hinge",
        )


@rule(
    "appliances.heavy-on-floor",
    level=Level.NOTE,
    trades=("appliances",),
    why="A full machine on a small footprint presses more than the floor's figure for people and "
    "furniture; the engineer who looks at the racks looks at it too.",
    each=APPLIANCES,
    bad=_bar("weight: 400 lb"),
    good=_bar("weight: 130 lb"),
)
def heavy_on_floor(facts: Facts, appliance: Node) -> Iterator[Said]:
    """An appliance presses more on the floor under it than the floor is allowed."""
    allowed = allowable_under(facts, appliance)
    pressure = known(facts, "appliances.floor_pressure", appliance)
    if allowed is None or pressure is None or not isinstance(allowed.value, Quantity):
        return
    if pressure > allowed.value.si:
        yield said(
            appliance,
            f"{appliance.key} presses on the floor with "
            f"{show(pressure, 'area_load', facts.job.system)}, full where that is stated; the "
            "floor is "
            f"allowed {allowed.written}",
            "name it to the engineer with the racks",
            allowed,
        )
