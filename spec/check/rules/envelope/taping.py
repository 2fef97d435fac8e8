"""Tapes that do not agree with each other."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.finding import Level
from spec.place.rooms import tape_of
from spec.quantity import show

_TAPED = """
rooms:
  tasting_room:
    taped: {to: finish}
    height: 8 ft
    diagonals: {TA-TC: 20 ft, TB-TD: DIAGONAL}
    walls_clockwise:
      TA: {length: 16 ft}
      TB: {length: 12 ft}
      TC: {length: 16 ft}
      TD: {length: 12 ft}
"""


@rule(
    "envelope.tapes-do-not-close",
    level=Level.ERROR,
    trades=("framing", "millwork"),
    why="Everything is set out from these tapes. While the lead is still there, taping once more "
    "costs a minute.",
    each=("room", "as_found"),
    bad=_TAPED.replace("DIAGONAL", "20 ft 2 in"),
    good=_TAPED.replace("DIAGONAL", "20 ft"),
)
def tapes_do_not_close(facts: Facts, space: Node) -> Iterator[Said]:
    """The walls and diagonals of a room do not make one room; the likeliest tape is named."""
    if space.find("taped") is None:
        return
    taping = facts.places.taping(space)
    if not taping.checked or taping.error <= facts.job.limit("taping.closing_error"):
        return
    system = facts.job.system
    off = show(taping.error, "length", system)
    wider, narrower = ("longer", "shorter")
    by = show(abs(taping.correction), "length", system)
    if taping.suspect.endswith(".corner"):
        wider, narrower = ("wider", "narrower")
        by = show(abs(taping.correction), "angle", system)
    more = wider if taping.correction > 0 else narrower
    yield said(
        space.at("diagonals") if space.find("diagonals") is not None else space,
        f"the tapes of {space.key} miss each other by {off}; {taping.suspect}, {by} {more}, would "
        "explain it best",
        "tape that one again, then the diagonals",
        tape_of(space, taping.suspect),
    )


@rule(
    "envelope.tapes-unchecked",
    level=Level.ERROR,
    silence=True,
    trades=("framing", "millwork"),
    why="Four walls and one diagonal fix a room, a second diagonal checks them. Without it a "
    "misread "
    "tape is found by the rack that does not fit.",
    each=("room", "as_found"),
    bad=_TAPED.replace(", TB-TD: DIAGONAL", ""),
    good=_TAPED.replace("DIAGONAL", "20 ft"),
)
def tapes_unchecked(facts: Facts, space: Node) -> Iterator[Said]:
    """Nothing checks the tapes of a room: fewer than two diagonals or angles of four walls."""
    if space.find("taped") is None or len(space.group("walls_clockwise")) != 4:
        return
    walls = [wall.key for wall in space.group("walls_clockwise")]
    corners = [wall for wall in space.group("walls_clockwise") if wall.find("corner") is not None]
    wanted = (f"{walls[0]}-{walls[2]}", f"{walls[1]}-{walls[3]}")
    given = space.find("diagonals")
    known = set(given.children) if given is not None else set()
    missing = [
        d for d in wanted if d not in known and "-".join(reversed(d.split("-"))) not in known
    ]
    if len(missing) > len(corners):
        yield said(
            f"{space.address}.diagonals",
            f"nothing checks the tapes of {space.key}: the diagonal "
            f"{' and '.join(missing)} is missing",
            "tape both diagonals",
            *(f"{space.address}.diagonals.{d}" for d in missing),
            space,
        )
