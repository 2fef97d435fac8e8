"""Every heading of a wall, ceiling or floor is accounted for: it is there, or in `none`."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.finding import Level

_WALL = (
    "openings",
    "holes",
    "existing",
    "devices",
    "lights",
    "equipment",
    "backing",
    "millwork",
    "fixtures",
)
_CEILING = ("holes", "existing", "devices", "lights", "equipment", "backing", "millwork")
_FLOOR = ("holes", "existing", "devices", "equipment", "millwork")
_COUNTS_FOR = {"lights": ("drivers",), "millwork": ("appliances",)}


def _surfaces(facts: Facts) -> Iterator[tuple[Node, tuple[str, ...]]]:
    for room in facts.job.rooms:
        for wall in room.group("walls_clockwise"):
            if wall.children:
                yield wall, _WALL
        for part, headings in (("ceiling", _CEILING), ("floor", _FLOOR)):
            surface = room.find(part)
            if surface is not None and surface.children:
                yield surface, headings


def _none(surface: Node) -> tuple[str, ...]:
    node = surface.find("none")
    if node is None or node.value is None:
        return ()
    return (
        tuple(str(v) for v in node.value) if isinstance(node.value, tuple) else (str(node.value),)
    )


@rule(
    "envelope.heading-not-accounted-for",
    level=Level.ERROR,
    silence=True,
    trades=("framing", "electrical", "millwork"),
    why="A wall about which nothing is said of devices has none, or they were forgotten: only the "
    "lead knows which.",
    bad="""
trades: {framing: {visits: {framing: {starts: 2026-05-04}}}}
job: {revision: {date: 2026-05-04}}
rooms:
  tasting_room:
    walls_clockwise:
      TA: {length: 12 ft, none: [openings, holes, existing, lights, equipment, backing, millwork,
          fixtures]}
""",
    good="""
trades: {framing: {visits: {framing: {starts: 2026-05-04}}}}
job: {revision: {date: 2026-05-04}}
rooms:
  tasting_room:
    walls_clockwise:
      TA:
        length: 12 ft
        none: [openings, holes, existing, devices, lights, equipment, backing, millwork, fixtures]
""",
)
def heading_not_accounted_for(facts: Facts) -> Iterator[Said]:
    """A heading of a wall, ceiling or floor is neither there nor in its `none`."""
    for surface, headings in _surfaces(facts):
        none = _none(surface)
        for heading in headings:
            there = (heading, *_COUNTS_FOR.get(heading, ()))
            if heading not in none and all(surface.find(h) is None for h in there):
                yield said(
                    f"{surface.address}.{heading}",
                    f"{surface.address} says nothing of {heading}",
                    f"write `{heading}`, or put it into `none` of {surface.address}",
                    f"{surface.address}.none",
                    surface,
                )


@rule(
    "envelope.heading-in-both",
    level=Level.ERROR,
    trades=("framing", "electrical", "millwork"),
    why="A heading that is there and in `none` as well says two things at once.",
    bad="""
rooms:
  tasting_room:
    walls_clockwise:
      TA: {none: [devices], devices: {RC1: {is: receptacle}}}
""",
    good="""
rooms:
  tasting_room:
    walls_clockwise:
      TA: {none: [lights], devices: {RC1: {is: receptacle}}}
""",
)
def heading_in_both(facts: Facts) -> Iterator[Said]:
    """A heading stands on a wall, ceiling or floor and in its `none` too."""
    for surface, _ in _surfaces(facts):
        for heading in _none(surface):
            there = surface.find(heading)
            if there is not None and there.children:
                yield said(
                    surface.at("none"),
                    f"`none` of {surface.address} names {heading}, but there are: "
                    f"{', '.join(there.children)}",
                    f"take {heading} out of `none`, or take them away",
                    there,
                )
