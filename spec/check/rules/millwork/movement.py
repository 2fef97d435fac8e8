"""Tops of wood: free to swell."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Said, rule, said
from spec.check.worked import worked
from spec.finding import Level
from spec.quantity import Quantity, show

_TOP = """
rooms:
  wine_room:
    use: wine_storage
    climate: {temperature: 12 °C, humidity: 65 %}
    stacks:
      racks:
        moisture: 6 % to 8 %
        bottom_to_top:
          lower: {is: racks, height: 34 in, depth: 26 in}
          top: {is: top, over: lower, height: 2 in, depth: 27 in, material: white_oak, gap: GAP}
"""


@rule(
    "millwork.top-has-no-room",
    level=Level.WARNING,
    trades=("millwork",),
    why="A wide top of solid wood that is tight at the wall swells, lifts the splash and opens "
    "its own corners.",
    source="Wood Handbook FPL-GTR-282 ch. 13",
    bad=_TOP.replace("GAP", "1/16 in"),
    good=_TOP.replace("GAP", "3/4 in"),
)
def top_has_no_room(facts: Facts) -> Iterator[Said]:
    """Less is left free behind a wooden top than it moves in its room."""
    for top, moves in worked(facts, "millwork.movement"):
        gap = top.find("gap")
        if gap is not None and isinstance(gap.value, Quantity) and gap.value.si < moves:
            yield said(
                gap,
                f"{top.address} moves {show(moves, 'length', facts.job.system)} across its grain; "
                f"{gap.written} are free behind it",
                "leave more free, under a splash or a scribed strip, or take quarter-sawn wood",
                top.at("depth"),
            )
