"""Tapes that do not agree with each other."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.finding import Level
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
    more = "longer" if taping.correction > 0 else "shorter"
    by = show(abs(taping.correction), "length", system)
    at = f"{space.address}.diagonals"
    suspect = at + f".{taping.suspect}" if "-" in taping.suspect else f"{taping.suspect}.length"
    yield said(
        space.at("diagonals") if space.find("diagonals") is not None else space,
        f"the tapes of {space.key} miss each other by {off}; {taping.suspect}, {by} {more}, would "
        "explain it best",
        "tape that one again, then the diagonals",
        suspect,
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
    """Nothing checks the tapes of a room: fewer than two diagonals of four walls."""
    if space.find("taped") is None or len(space.group("walls_clockwise")) != 4:
        return
    walls = [wall.key for wall in space.group("walls_clockwise")]
    corners = any(wall.find("corner") is not None for wall in space.group("walls_clockwise"))
    wanted = (f"{walls[0]}-{walls[2]}", f"{walls[1]}-{walls[3]}")
    given = space.find("diagonals")
    known = set(given.children) if given is not None else set()
    missing = [
        d for d in wanted if d not in known and "-".join(reversed(d.split("-"))) not in known
    ]
    if missing and not corners:
        yield said(
            f"{space.address}.diagonals",
            f"nothing checks the tapes of {space.key}: the diagonal "
            f"{' and '.join(missing)} is missing",
            "tape both diagonals",
            *(f"{space.address}.diagonals.{d}" for d in missing),
            space,
        )
