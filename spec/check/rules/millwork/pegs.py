"""Pegs: their rows take the bottle that lies on them."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Said, rule, said
from spec.check.worked import worked
from spec.finding import Level
from spec.quantity import show

_PEGS = """
bottles: {magnum: {diameter: 4 in, length: 14 in, full: 2.7 kg}}
rooms:
  wine_room:
    taped: {to: finish}
    height: 96 in
    use: wine_storage
    stacks: {racks: {bottom_to_top: {pegs: {is: peg_rack, height: 60 in, depth: 12 in}}}}
    walls_clockwise:
      WA:
        length: 8 ft
        millwork:
          pegs:
            left_to_right:
              R1: {is: peg_rack, width: 96 in, columns: 3, rows: 10, deep: 1, bottle: magnum,
                pitch: PITCH, first_row: FIRST}
      WB: {length: 6 ft}
      WC: {length: 8 ft}
      WD: {length: 6 ft}
"""


@rule(
    "millwork.pegs-too-close",
    level=Level.ERROR,
    trades=("millwork",),
    why="Pegs are drilled once; a bottle that does not go in between two rows never will.",
    bad=_PEGS.replace("PITCH", "3-1/2 in").replace("FIRST", "8 in"),
    good=_PEGS.replace("PITCH", "5 in").replace("FIRST", "8 in"),
)
def pegs_too_close(facts: Facts) -> Iterator[Said]:
    """The rows of a peg rack are closer than its bottle is thick, with the house's play."""
    least = facts.job.limit("cell.play")
    for piece, play in worked(facts, "storage.peg_play"):
        if play < least - 0.0005:
            system = facts.job.system
            yield said(
                piece.at("pitch"),
                f"the rows of {piece.key} are {piece.text('pitch')} apart, which leaves its "
                f"bottle {show(play, 'length', system)} of play; the house keeps "
                f"{show(least, 'length', system)}",
                "space the rows wider, or say which `bottle` lies there",
                f"{piece.address}.bottle",
                piece,
            )


@rule(
    "millwork.pegs-over-the-top",
    level=Level.ERROR,
    trades=("millwork",),
    why="The highest row is where the drawing was not looked at: its bottles meet what is above.",
    bad=_PEGS.replace("PITCH", "6 in").replace("FIRST", "8 in"),
    good=_PEGS.replace("PITCH", "5 in").replace("FIRST", "8 in"),
)
def pegs_over_the_top(facts: Facts) -> Iterator[Said]:
    """The highest row of a peg rack has no room for its bottle under the top of the piece."""
    for piece, room in worked(facts, "storage.peg_room"):
        if room < -0.0005:
            system = facts.job.system
            yield said(
                piece.at("pitch"),
                f"the highest row of {piece.key} lies {show(-room, 'length', system)} over the top "
                f"of its tier: the first at {piece.text('first_row')}, {piece.text('pitch')} apart",
                "take fewer rows, closer ones, or a higher tier",
                piece.at("first_row"),
                f"{piece.address}.rows",
            )
