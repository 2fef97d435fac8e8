"""Heated floors: none goes on under a room that is cooled."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Said, rule, said
from spec.derive.sheets import kinds
from spec.finding import Level

_LOOP = """
floor_heating: {kind: water, loops: {loop_1: {under: [WHERE], action: keep}}}
rooms: {cellar: {use: wine_storage}, lounge: {use: tasting}}
"""


@rule(
    "envelope.heating-under-cooled-floor",
    level=Level.ERROR,
    trades=("heating", "refrigeration", "framing"),
    why="The heating and the cooling work against each other day and night, and the machine was "
    "sized for a floor that is not heated.",
    bad=_LOOP.replace("WHERE", "lounge, cellar"),
    good=_LOOP.replace("WHERE", "lounge"),
)
def heating_under_cooled_floor(facts: Facts) -> Iterator[Said]:
    """A loop that is kept lies under a room that stores wine."""
    loops = facts.job.find("floor_heating.loops")
    for loop in loops.children.values() if loops is not None else ():
        action = loop.find("action")
        under = loop.find("under")
        if action is None or action.value != "keep" or under is None or not under.known:
            continue
        for room in kinds.cooled_rooms(facts.job):
            if room.key in loop.words("under"):
                title = room.key.replace("_", " ")
                yield said(
                    action,
                    f"{loop.key} of the floor heating is kept and lies under {title}, "
                    "which is cooled",
                    f"cut it back, or take {title} out of `under` if no pipe lies there",
                    room,
                    under,
                )
