"""What stands between the face that a tape touched and the face that a trade meets."""

from __future__ import annotations

from spec.job.finishes import thickness_of
from spec.job.job import Job
from spec.job.node import Node, Open

_NO_NEW_LAYERS = ("none", "existing")
"""Words in place of an assembly: the surface stays as it was found."""


def layers(job: Job, surface: Node) -> tuple[Node, ...]:
    """The layers of a surface's assembly, from the room outward; empty where none is named.

    A wall that is the back of another has that wall's, seen from its own room. Raises `Open`
    where the assembly is not decided.
    """
    front = job.thing(surface.word("back_of")) if surface.given("back_of") else None
    if front is not None and not front.given("back_of"):
        return tuple(reversed(layers(job, front)))
    if not surface.has("assembly"):
        leaf = surface.find("assembly")
        if leaf is not None and not leaf.not_applicable:
            raise Open(leaf.address)
        return ()
    named = surface.word("assembly")
    if named in _NO_NEW_LAYERS:
        return ()
    assembly = job.thing(named)
    if assembly is None:
        raise Open(surface.at("assembly").address)
    return assembly.group("from_room_outward")


def roles(layer: Node) -> tuple[str, ...]:
    """What a layer does: structure, insulation, retarder, board ..."""
    return layer.words("role", ())


def known_roles(layer: Node) -> tuple[str, ...]:
    """What a layer is known to do: nothing where that is open."""
    return roles(layer) if layer.has("role") else ()


def thickness(layer: Node) -> float:
    """Thickness of a layer [m]; a layer without one (ground, a film) adds nothing."""
    return layer.si("thickness", 0.0)


def covered(job: Job, surface: Node, part: str, taped_to: str) -> float:
    """How far the finished face stands in front of the taped one [m].

    `taped_to` is structure, board or finish; `part` is walls, ceiling or floor.
    """
    if taped_to == "finish":
        return 0.0
    total = thickness_of(job, surface, part)
    stack = layers(job, surface)
    stop = "structure"
    if taped_to == "board" and any("board" in roles(layer) for layer in stack):
        stop = "board"
    for layer in stack:
        if (
            stop in roles(layer)
            or "ground" in roles(layer)
            or layer.word("state", "") == "existing"
        ):
            break
        total += thickness(layer)
    return total


def total_thickness(job: Job, surface: Node) -> float:
    """Thickness of a wall's assembly from face to face, without applied finishes [m]."""
    return sum(thickness(layer) for layer in layers(job, surface))
