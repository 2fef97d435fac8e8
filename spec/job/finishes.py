"""Which finish a surface or a part has: the nearest that is written wins."""

from __future__ import annotations

from spec.job.job import Job
from spec.job.node import Node, Open
from spec.job.record import note


def finish_at(job: Job, at: Node, part: str) -> Node | None:
    """The leaf that names the finish of a part (`walls`, `ceiling`, `floor`, `base`, `metal` ...).

    Looked for at the thing or wall itself, then in its room, then everywhere; None where nobody
    says, or where the nearest says that there is none. An open one is given without its value;
    one that stops at a level line is the map that says what is below and above it. What is found
    is recorded.
    """
    own = "finish" if part in ("walls", "ceiling", "floor") else part
    places = [(at, own), (at, f"finishes.{part}"), (at, part) if part == "metal" else (at, own)]
    room = job.thing(at.room) if at.room else None
    if room is not None:
        places.append((room, f"finishes.{part}"))
    everywhere = job.find("finishes_everywhere")
    if everywhere is not None:
        places.append((everywhere, part))
    for node, path in places:
        leaf = node.find(path)
        if leaf is None or (leaf.children and not bands(leaf)):
            continue
        note(*leaf.cites)
        return None if leaf.not_applicable else leaf
    return None


def bands(finish: Node) -> tuple[Node, ...]:
    """The leaves below and above the line where a finish stops at one; empty where it does not."""
    both = (finish.find("below"), finish.find("above"))
    return tuple(leaf for leaf in both if leaf is not None)


def thickness_of(job: Job, at: Node, part: str) -> float:
    """What the finish and its bed add to a surface [m]; nothing where there is neither.

    Of two finishes the thicker one. Raises `Open` where a finish is not decided.
    """
    found = finish_at(job, at, part)
    if found is None:
        return 0.0
    return max(_thickness(job, leaf) for leaf in bands(found) or (found,))


def _thickness(job: Job, leaf: Node) -> float:
    note(*leaf.cites)
    if leaf.value is None:
        raise Open(leaf.address)
    finish = job.thing(str(leaf.value))
    return finish.si("thickness", 0.0) + finish.si("bed", 0.0) if finish is not None else 0.0
