"""Things on a wall that stand in each other's way."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.finding import Level
from spec.quantity import show

_WALL = """
rooms:
  tasting_room:
    taped: {to: finish}
    height: 8 ft
    stacks:
      bar: {bottom_to_top: {lower: {is: cabinets, height: 36 in, depth: 24 in}}}
    walls_clockwise:
      TA:
        length: 8 ft
        millwork:
          lower:
            left: 0
            width: 4 ft
            left_to_right: {B1: {is: cabinet, width: 4 ft, back: closed}}
        devices: {RC1: {is: receptacle, center: PLACE, aff: 16 in}}
      TB: {length: 6 ft}
      TC: {length: 8 ft}
      TD: {length: 6 ft}
"""


@rule(
    "electrical.device-behind-millwork",
    level=Level.ERROR,
    trades=("electrical", "millwork"),
    why="A switch or receptacle behind a rack or a closed cabinet is found when the last screw is "
    "in.",
    each=("wall",),
    bad=_WALL.replace("PLACE", "2 ft"),
    good=_WALL.replace("PLACE", "6 ft"),
)
def device_behind_millwork(facts: Facts, wall: Node) -> Iterator[Said]:
    """A device that millwork covers and that nothing says how to reach."""
    things = list(facts.places.on(wall))
    pieces = [t for t in things if t.node.heading == "millwork"]
    for device in things:
        if device.node.heading != "devices" or _stays_out(device.node):
            continue
        through = _through(facts, device.node)
        if through is None:
            continue
        for piece in pieces:
            if piece.rect.meets(device.rect, 0.003) and not (
                piece.node.key in through or _open_at(piece.node, device.node)
            ):
                at = show(device.rect.center, "length", facts.job.system)
                yield said(
                    device.node,
                    f"{device.node.kind.replace('_', ' ')} {device.node.key}, middle {at} from the "
                    f"left corner of {wall.key}, lies behind {piece.node.key}",
                    f"move it, or say at {piece.node.key} `back: open at {device.node.key}`, or at "
                    f"{device.node.key} how it is `reached`",
                    piece.node,
                )


def _through(facts: Facts, device: Node) -> frozenset[str] | None:
    """The pieces in which a device sits or through which it is said to be reached.

    None where it is said to be reached in words that name no piece of millwork.
    """
    inside = device.find("inside")
    own = frozenset({inside.written} if inside is not None else ())
    said_so = [leaf for key in ("reached", "behind") if (leaf := device.find(key)) is not None]
    words = {word.strip(",.;:()") for leaf in said_so for word in leaf.written.split()}
    named = {w for w in words if (t := facts.job.thing(w)) and t.heading == "millwork"}
    return own | named if own or named or not said_so else None


def _stays_out(device: Node) -> bool:
    action = device.find("action")
    return action is not None and "remove" in str(action.value)


def _open_at(piece: Node, device: Node) -> bool:
    back = piece.find("back")
    if back is None:
        return False
    return device.key in back.written.split() or str(back.value) in ("open", "none")


@rule(
    "electrical.devices-overlap",
    level=Level.ERROR,
    trades=("electrical",),
    why="Two things in one place: the second trade to come finds out.",
    each=("wall",),
    bad=_WALL.replace("PLACE", "6 ft, aff: 16 in}, RC2: {is: receptacle, center: 6 ft 1 in"),
    good=_WALL.replace("PLACE", "6 ft, aff: 16 in}, RC2: {is: receptacle, center: 7 ft"),
)
def devices_overlap(facts: Facts, wall: Node) -> Iterator[Said]:
    """Two devices, or a device and an opening or a fixture, take the same place on a wall."""
    things = [
        t
        for t in facts.places.seen_from(wall)
        if t.node.heading in ("devices", "openings", "fixtures") and not _in_plate(t.node)
    ]
    for i, one in enumerate(things):
        for other in things[i + 1 :]:
            if {one.node.heading, other.node.heading}.isdisjoint({"devices"}):
                continue
            if one.rect.meets(other.rect, 0.001):
                yield said(
                    one.node,
                    f"{one.node.key} and {other.node.key} take the same place on {wall.key}",
                    "move one of them",
                    other.node,
                )


def _in_plate(node: Node) -> bool:
    upper = node.parent
    return upper is not None and upper.key == "left_to_right"
