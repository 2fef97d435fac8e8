"""Which finish a surface or a part has: the nearest that is written wins."""

from __future__ import annotations

from spec.job.job import Job
from spec.job.node import Node


def finish_at(job: Job, at: Node, part: str) -> Node | None:
    """The leaf that names the finish of a part (`walls`, `ceiling`, `floor`, `base`, `metal` ...).

    Looked for at the thing or wall itself, then in its room, then everywhere; None where nobody
    says. The leaf found is recorded.
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
        if leaf is not None and isinstance(leaf.value, str):
            node.has(path)
            return leaf
    return None


def thickness_of(job: Job, at: Node, part: str) -> float:
    """What the finish adds to a surface [m]; nothing where it has no thickness or there is none."""
    leaf = finish_at(job, at, part)
    finish = job.thing(str(leaf.value)) if leaf is not None else None
    return finish.si("thickness", 0.0) if finish is not None else 0.0
