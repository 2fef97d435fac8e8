"""Finished rooms: walls with their length and height, area and volume. Meters throughout."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from typing import NamedTuple

from spec.job.job import Job
from spec.job.node import Contradicted, Node, Open
from spec.place.build_up import covered
from spec.place.ceilings import Ceiling, Slope
from spec.place.shapes import CLOSE, Line, Point, area_of, corners_of, distance, edges
from spec.place.taping import CannotClose, Plan, plan
from spec.quantity import Quantity


class Room(NamedTuple):
    """A finished room in plan: corners clockwise, corner i where wall i starts."""

    name: str
    walls: tuple[str, ...]
    corners: tuple[Point, ...]
    ceiling: Ceiling
    taping: Plan | None
    """How its own tapes close; None for a room within a taped space."""

    @property
    def area(self) -> float:
        """Finished floor area [m²]."""
        return area_of(self.corners)

    @property
    def height(self) -> float:
        """Greatest finished height [m]."""
        return self.ceiling.flat

    @property
    def volume(self) -> float:
        """Finished volume [m³]."""
        return self.ceiling.volume(self.corners)

    @property
    def around(self) -> float:
        """Length of all walls [m]."""
        return sum(self.length(wall) for wall in self.walls)

    def ends(self, wall: str) -> tuple[Point, Point]:
        """The left and the right corner of a wall, seen from inside."""
        i = self.walls.index(wall)
        return self.corners[i], self.corners[(i + 1) % len(self.corners)]

    def length(self, wall: str) -> float:
        """Finished length of a wall [m]."""
        return distance(*self.ends(wall))

    def profile(self, wall: str) -> tuple[tuple[float, float], ...]:
        """Finished height along a wall: (distance from the left corner, height) [m]."""
        return self.ceiling.profile(*self.ends(wall))

    def height_at(self, wall: str, along: float) -> float:
        """Finished height of a wall at a distance from its left corner [m]."""
        (x1, y1), (x2, y2) = self.ends(wall)
        share = min(max(along / self.length(wall), 0.0), 1.0)
        return self.ceiling.height((x1 + (x2 - x1) * share, y1 + (y2 - y1) * share))

    def wall_area(self, wall: str) -> float:
        """Gross area of a wall [m²]."""
        return sum((b - a) * (h + k) / 2 for (a, h), (b, k) in pairwise(self.profile(wall)))


LineOf = Callable[[Node], Line]
"""Gives the finished line of a wall of a room within a taped space."""


def taped_plan(space: Node) -> Plan:
    """The plan of a taped room or space.

    Raises `Open` where a tape is missing, `Contradicted` where the tapes make no room.
    """
    walls = space.group("walls_clockwise")
    if len(walls) < 3:
        raise Open(f"{space.address}.walls_clockwise")
    names = [wall.key for wall in walls]
    lengths = [wall.si("length") for wall in walls]
    taped = space.find("diagonals")
    diagonals = {}
    for node in taped.entries() if taped is not None else ():
        ends = node.key.split("-")
        if len(ends) == 2 and node.value is not None:
            diagonals[(ends[0], ends[1])] = space.si(f"diagonals.{node.key}")
    turns = [wall.si("corner", None) for wall in walls]
    try:
        return plan(names, lengths, diagonals, turns)
    except CannotClose as error:
        tapes = [tape_of(space, name) for name in error.tapes]
        written = ", ".join(
            f"{name} {tape.written}" for name, tape in zip(error.tapes, tapes, strict=True)
        )
        raise Contradicted(
            tapes[-1].address,
            f"the tapes of {space.key} make no room: {error} ({written})",
            "tape these again; a corner is named by the wall that starts in it",
            *(tape.address for tape in tapes[:-1]),
        ) from None


def thrice_taped(*spaces: Node | None) -> bool:
    """Whether a room or space has a length or height that was taped at three heights or places."""
    for space in spaces:
        if space is None:
            continue
        tapes = [space.find("height"), *(w.find("length") for w in space.group("walls_clockwise"))]
        tapes += [*tapes[0].children.values()] if tapes[0] is not None else []
        if any(tape is not None and isinstance(tape.value, tuple) for tape in tapes):
            return True
    return False


def tape_of(space: Node, name: str) -> Node:
    """The measurement that a plan calls `WA`, `WA-WC` or `WA.corner`."""
    if "-" in name:
        return space.at(f"diagonals.{name}")
    return space.at(name if "." in name else f"{name}.length")


def finished(job: Job, room: Node) -> Room:
    """The finished room from its own tapes; raises `Open` where something is not decided."""
    walls = room.group("walls_clockwise")
    taping = taped_plan(room)
    taped_to = room.word("taped.to")
    lines = [
        line.moved(covered(job, wall, "walls", taped_to))
        for line, wall in zip(edges(taping.corners), walls, strict=True)
    ]
    return _room(room, walls, lines, _height(job, room, room, lines, taped_to), taping)


def finished_within(job: Job, room: Node, space: Node, line_of: LineOf) -> Room:
    """The finished room within a taped space, from the lines of its walls; raises `Open`."""
    walls = room.group("walls_clockwise")
    lines = [line_of(wall) for wall in walls]
    ceiling = _height(job, room, space, lines, space.word("taped.to"))
    return _room(room, walls, lines, ceiling, None)


def _room(
    room: Node, walls: tuple[Node, ...], lines: list[Line], ceiling: Ceiling, taping: Plan | None
) -> Room:
    names = [wall.key for wall in walls]
    try:
        corners = tuple(corners_of(lines))
    except ValueError as error:
        raise _no_room(room, walls, f"{error}") from None
    for i, corner in enumerate(corners):
        before, after = corner, corners[(i + 1) % len(corners)]
        along = lines[i].along
        if (after[0] - before[0]) * along[0] + (after[1] - before[1]) * along[1] < CLOSE:
            raise _no_room(room, walls, f"nothing of {names[i]} is left between its neighbors")
    return Room(room.address, tuple(wall.key for wall in walls), corners, ceiling, taping)


def _no_room(room: Node, walls: tuple[Node, ...], why: str) -> Contradicted:
    return Contradicted(
        room.address,
        f"the finished walls of {room.key} make no room: {why}",
        "correct the lengths, the corners or what lies on these walls",
        *(wall.address for wall in walls),
    )


def _height(job: Job, room: Node, taped: Node, lines: list[Line], taped_to: str) -> Ceiling:
    """The ceiling of a room from the height taped in it, or in the space that it is within."""
    off = _raised(job, room, taped, taped_to)
    surface = room.find("ceiling")
    if surface is not None and surface.known:
        off += covered(job, surface, "ceiling", taped_to)
    walls = room.group("walls_clockwise")
    height = taped.find("height")
    ridge = surface.find("ridge") if surface is not None else None
    if ridge is not None and not ridge.not_applicable:
        return _ridged(taped, ridge, walls, lines, off)
    if height is not None and height.children:
        return _raked(height, walls, lines, off)
    flat = taped.si("height") - off
    return Ceiling(flat, _slopes(job, room, taped, lines, taped_to))


def _raised(job: Job, room: Node, taped: Node, taped_to: str) -> float:
    """How far the finished floor lies above the face that the tape stood on [m].

    Against the datum where both levels are written, else by what is laid.
    """
    floor = room.find("floor")
    if floor is None or not floor.known:
        return 0.0
    levels = (floor.find("level"), taped.find("floor.level"))
    if taped is not room and all(n is not None and isinstance(n.value, Quantity) for n in levels):
        return floor.si("level") - taped.si("floor.level")
    return covered(job, floor, "floor", taped_to)


def _ridged(
    taped: Node, ridge: Node, walls: tuple[Node, ...], lines: list[Line], off: float
) -> Ceiling:
    """Two slopes that rise from the walls beside a ridge and meet in it."""
    names = [wall.key for wall in walls]
    edge = ridge.find("edge")
    beside = next((name for name in names if edge is not None and name in edge.children), None)
    if beside is None or len(walls) != 4:
        raise Open(f"{ridge.address}.edge")
    near = names.index(beside)
    top = ridge.si("height") - off
    line = lines[near].moved(ridge.si(f"edge.{beside}"))
    found = []
    for i in (near, (near + 2) % 4):
        across = lines[i].distance(line.through)
        if across <= 0:
            raise Open(f"{ridge.address}.edge.{beside}")
        low = taped.si(f"height.{names[i]}" if taped.at("height").children else "height") - off
        found.append(Slope(lines[i], low, (top - low) / across))
    return Ceiling(top, tuple(found))


def _raked(heights: Node, walls: tuple[Node, ...], lines: list[Line], off: float) -> Ceiling:
    """One slope between the two walls whose heights are given: they are level, the others rake."""
    given = {name: heights.si(name) - off for name in heights.children}
    at = [i for i, wall in enumerate(walls) if wall.key in given]
    apart = len(at) == 2 and at[1] - at[0] not in (1, len(walls) - 1)
    low, high = min(given.values()), max(given.values())
    if not apart or len(given) != 2 or low == high:
        raise _no_ceiling(heights, heights.parent)
    low_line, high_line = (lines[i] for i in sorted(at, key=lambda i: given[walls[i].key]))
    across = low_line.distance(high_line.through)
    if across <= 0:
        raise _no_ceiling(heights, heights.parent)
    return Ceiling(high, (Slope(low_line, low, (high - low) / across),))


def _no_ceiling(heights: Node, space: Node | None) -> Contradicted:
    """Heights by wall are those of the two level walls of one slope: unlike, and not meeting."""
    written = ", ".join(f"{name} {node.written}" for name, node in heights.children.items())
    return Contradicted(
        heights.address,
        f"heights at {written} make no ceiling of {space.key if space is not None else 'a room'}: "
        "one slope lies between two walls of unlike height that do not meet",
        "write one height of a level ceiling, or the heights of the two level walls; what slopes "
        "otherwise goes under `slopes` or `ridge` of the ceiling",
    )


def _slopes(
    job: Job, room: Node, taped: Node, lines: list[Line], taped_to: str
) -> tuple[Slope, ...]:
    """Slopes of a ceiling that is partly flat, lined square to themselves.

    A lining of thickness t takes t / cos(angle) off the upright height under the slope.
    """
    walls = room.group("walls_clockwise")
    ceiling = room.find("ceiling")
    sloped = ceiling.find("slopes") if ceiling is not None else None
    found: list[Slope] = []
    for node in sloped.entries() if sloped is not None else ():
        line = next((lines[i] for i, wall in enumerate(walls) if _rises_from(wall, node)), None)
        source = _taped_slope(job, node)
        if line is None or source is None:
            continue
        run = source.si("run")
        low, high = source.si("low"), source.si("high") if source.given("high") else None
        full = high if high is not None else _full_height(job, source)
        rise = (full - low) / run
        lining = covered(job, node, "ceiling", taped_to)
        raised = _raised(job, room, taped, taped_to)
        wall = next(wall for wall in walls if _rises_from(wall, node))
        lined = covered(job, wall, "walls", taped_to) if wall.given("on") else 0.0
        upright = lining * (1 + rise**2) ** 0.5
        found.append(Slope(line, low + rise * lined - upright - raised, rise))
    return tuple(found)


def _rises_from(wall: Node, slope: Node) -> bool:
    on = wall.find("on")
    return slope.key == wall.key or (on is not None and on.value == slope.key)


def _taped_slope(job: Job, slope: Node) -> Node | None:
    """The slope with its tapes: itself, or the as-found one that it lines."""
    if slope.given("low"):
        return slope
    on = slope.find("on")
    name = str(on.value) if on is not None and on.value else slope.key
    for space in job.things("as_found"):
        found = space.find(f"ceiling.slopes.{name}")
        if found is not None:
            return found
    return None


def _full_height(job: Job, slope: Node) -> float:
    node: Node | None = slope
    while node is not None and node.find("height") is None:
        node = node.parent
    if node is None:
        raise Open(f"{slope.address}.high")
    return node.si("height")
