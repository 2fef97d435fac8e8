"""For which things a figure is made: the lists that several sheets share. Declares no figure."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from spec.job.job import Job
from spec.job.node import Node

Per = Callable[[Job], Iterable[Node]]


def of_kind(*kinds: str, having: str = "") -> Per:
    """All things of these kinds; with `having`, those that say something under that path."""
    return lambda job: [t for t in job.things(*kinds) if not having or says(t, having)]


def says(node: Node, path: str) -> bool:
    """Something stands under a path, be it still open, that is not marked as not applicable."""
    found = node.find(path)
    return found is not None and not found.not_applicable and found.value != "none"


def rooms(job: Job) -> tuple[Node, ...]:
    """Every room."""
    return job.rooms


def cooled_rooms(job: Job) -> list[Node]:
    """The rooms that store wine: those that are cooled."""
    return [room for room in job.rooms if is_cooled(room)]


def is_cooled(room: Node) -> bool:
    """The room stores wine."""
    use = room.find("use")
    return use is not None and use.value == "wine_storage"


def under(room: Node) -> Iterator[Node]:
    """Everything of a kind that stands in a room or on one of its surfaces."""
    for node in room.walk():
        if node is not room and node.kind and node.container and not node.not_applicable:
            yield node


def surfaces_of(room: Node) -> Iterator[Node]:
    """The walls of a room, its ceiling with the slopes of it, and its floor."""
    yield from (wall for wall in room.group("walls_clockwise") if wall.known)
    ceiling = room.find("ceiling")
    if ceiling is not None and ceiling.known:
        yield ceiling
        yield from ceiling.group("slopes")
    floor = room.find("floor")
    if floor is not None and floor.known:
        yield floor


def surfaces(job: Job) -> list[Node]:
    """Every surface of every room."""
    return [surface for room in job.rooms for surface in surfaces_of(room)]


def cooled_surfaces(job: Job) -> list[Node]:
    """Every surface of the rooms that store wine."""
    return [surface for room in cooled_rooms(job) for surface in surfaces_of(room)]


def pieces(job: Job) -> list[Node]:
    """Every piece of every run."""
    return [
        piece
        for wall in job.walls
        for run in wall.group("millwork")
        for piece in run.group("left_to_right")
    ]


def runs(job: Job) -> list[Node]:
    """Every run that has pieces."""
    return [
        run for wall in job.walls for run in wall.group("millwork") if run.group("left_to_right")
    ]


def tiers_of(stack: Node) -> Iterator[Node]:
    """Every tier of a stack, the courses within tiers too."""
    for tier in stack.group("bottom_to_top"):
        yield tier
        yield from tiers_of(tier)


def whole(path: str) -> Per:
    """The one node at an address, where the job has it."""

    def find(job: Job) -> list[Node]:
        node = job.find(path)
        return [node] if node is not None and node.known else []

    return find


def stack_of_piece(job: Job, piece: Node) -> Node | None:
    """The stack that a piece stands in: that of its run, else its room's only one with the tier."""
    run = piece.parent.parent if piece.parent is not None else None
    if run is None:
        return None
    named = run.find("stack")
    if named is not None and named.value is not None:
        return job.thing(str(named.value))
    fitting = [
        stack
        for stack in job.things("stack")
        if stack.room == piece.room and stack.find(run.key) is not None
    ]
    return fitting[0] if len(fitting) == 1 else None


def stack_of_tier(tier: Node) -> Node | None:
    """The stack that a tier or a course belongs to."""
    node: Node | None = tier
    while node is not None and node.kind != "stack":
        node = node.parent
    return node
