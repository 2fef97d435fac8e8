"""Rooms within a taped space: linings on its walls and partitions between them, as lines."""

from __future__ import annotations

from contextlib import suppress

from spec.job.job import Job
from spec.job.node import Node, Open
from spec.place.build_up import covered, layers, roles, thickness, total_thickness
from spec.place.rooms import taped_plan
from spec.place.shapes import Line, edges

_FIXING = ("on", "partition", "length", "assembly", "edge", "seen_from")
"""What fixes the line of a wall."""


class Division:
    """The finished lines of all walls of the rooms within one taped space.

    A wall `on` an as-found wall lies in front of it by its lining. A face of a partition follows
    from the partition's `edge`, from its other face and its thickness, or from the decided length
    of a wall that ends at it. What follows from nothing raises `Open` when it is asked for.
    """

    def __init__(self, job: Job, space: Node) -> None:
        self.job = job
        self.space = space
        self.taping = taped_plan(space)
        self._as_found = dict(
            zip(
                (wall.key for wall in space.group("walls_clockwise")),
                edges(self.taping.corners),
                strict=True,
            )
        )
        self._rooms = [r for r in job.rooms if r.word("within", "") == space.key]
        self._lines: dict[str, Line] = {}
        self._solve()

    def line(self, wall: Node) -> Line:
        """The finished line of a wall, its room on the right; raises `Open`."""
        found = self._lines.get(wall.address)
        if found is None:
            raise Open(self._awaited(wall))
        return found

    def _awaited(self, wall: Node) -> str:
        """What a line waits for: an open decision of its wall or its room, else a length."""
        partition = self._partition(wall)
        room = wall.parent.entries() if wall.parent is not None else ()
        for node in (wall, *((partition,) if partition is not None else ()), *room):
            for key in _FIXING:
                fact = node.find(key)
                for leaf in fact.leaves() if fact is not None else ():
                    if leaf.value is None and not leaf.not_applicable:
                        return str(leaf.address)
        return f"{wall.address}.length"

    def _solve(self) -> None:
        walls = [w for room in self._rooms for w in room.group("walls_clockwise")]
        for wall in walls:
            self._from_as_found(wall)
            self._from_edge(wall)
        known = -1
        while known != len(self._lines):
            known = len(self._lines)
            for wall in walls:
                if wall.address not in self._lines:
                    self._from_other_face(wall, walls)
            for room in self._rooms:
                self._from_lengths(room)

    def _from_as_found(self, wall: Node) -> None:
        base = self._as_found.get(wall.word("on")) if wall.has("on") else None
        if base is None:
            return
        taped_to = self.space.word("taped.to")
        with suppress(Open):  # a wall whose lining is open leaves the others where they are
            self._lines[wall.address] = base.moved(covered(self.job, wall, "walls", taped_to))

    def _partition(self, wall: Node) -> Node | None:
        return self.job.thing(wall.word("partition")) if wall.has("partition") else None

    def _from_edge(self, wall: Node) -> None:
        """The near face of a partition whose structure is so far off an as-found wall.

        Near is the face of the room that has a wall on that as-found wall.
        """
        partition = self._partition(wall)
        edge = partition.find("edge") if partition is not None else None
        if partition is None or edge is None or wall.parent is None:
            return
        beside = {w.word("on") for w in wall.parent.entries() if w.has("on")}
        for name in edge.children:
            base = self._as_found.get(name)
            if base is None or name not in beside:
                continue
            with suppress(Open):
                off = partition.si(f"edge.{name}") - self._before_structure(partition, wall)
                moved = base.moved(off)
                back = (-base.along[0], -base.along[1])
                self._lines[wall.address] = Line(moved.through, back)

    def _before_structure(self, partition: Node, wall: Node) -> float:
        """What lies on a partition's structure on the side of a wall [m]."""
        stack = layers(self.job, partition)
        inward = stack if self._near(partition, wall) else tuple(reversed(stack))
        total = 0.0
        for layer in inward:
            if "structure" in roles(layer):
                return total
            total += thickness(layer)
        return 0.0

    def _from_other_face(self, wall: Node, walls: list[Node]) -> None:
        partition = self._partition(wall)
        if partition is None:
            return
        for other in walls:
            line = self._lines.get(other.address)
            if other is wall or line is None or self._partition(other) is not partition:
                continue
            if self._near(partition, other) == self._near(partition, wall):
                self._lines[wall.address] = line
            else:
                turned = Line(line.through, (-line.along[0], -line.along[1]))
                self._lines[wall.address] = turned.moved(total_thickness(self.job, partition))
            return

    @staticmethod
    def _near(partition: Node, wall: Node) -> bool:
        """Whether a wall is the partition's near face: of the room from which it is described."""
        return wall.room == partition.word("seen_from", "")

    def _from_lengths(self, room: Node) -> None:
        """A decided length fixes the wall at its one end from the wall at its other."""
        walls = room.group("walls_clockwise")
        for i, wall in enumerate(walls):
            if not wall.has("length"):
                continue
            before, after = walls[i - 1], walls[(i + 1) % len(walls)]
            length = wall.si("length")
            self._across(before, after, length)
            self._across(after, before, length)

    def _across(self, known: Node, wanted: Node, length: float) -> None:
        line = self._lines.get(known.address)
        if line is None or wanted.address in self._lines:
            return
        moved = line.moved(length)
        self._lines[wanted.address] = Line(moved.through, (-line.along[0], -line.along[1]))
