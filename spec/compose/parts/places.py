"""Where a thing is, in words and figures: from which corner, seen from where, how high.

Left is the left corner of the finished wall for someone inside the room that is named. Heights
count from the finished floor, and from the level line too for whoever works before there is one.
"""

from __future__ import annotations

from spec.compose.context import Reader
from spec.compose.wording import length_text, room_words, value_text, where_words
from spec.job.node import Node, Open
from spec.job.record import recording
from spec.job.schema import STAGES
from spec.job.stage import first_day, stage_of_visit
from spec.place.shapes import Rect
from spec.place.things import is_placed

SEEN = "left and right as seen from inside the room named"
_SMALL = 0.3
"""[m] What is narrower is set out by its middle."""


def located(reader: Reader, thing: Node) -> tuple[str, frozenset[str]] | None:
    """Where a thing is on its surface, with what that states; None where it has no place."""
    with recording() as read:
        try:
            if not (is_placed(thing) or thing.has("along") or _in_a_row(thing)):
                return None
            words = _location(reader, thing)
        except Open:
            return None
    return words, frozenset(read)


def how_many(reader: Reader, thing: Node) -> str:
    """`6 x ` for a thing that stands in six places; empty where it is one, or nobody knows yet."""
    try:
        many = reader.places.how_many(thing) if thing.surface else 1
    except Open:
        return ""
    return f"{many} x " if many > 1 else ""


def _in_a_row(thing: Node) -> bool:
    """A piece of a run, or a part of a glass front: its place follows from its neighbors."""
    upper = thing.parent
    return (
        upper is not None
        and upper.key == "left_to_right"
        and thing.heading in ("millwork", "openings")
    )


def whereabouts(reader: Reader, thing: Node) -> tuple[str, frozenset[str]]:
    """Surface, room and place in one: `wall WB, wine room: 20 in from the left corner ...`.

    Whoever sets up a run finds its pieces there, in a row: here only the wall is named.
    """
    surface = where_words(reader.job, thing) if thing.surface else ""
    in_run = thing.parent is not None and thing.parent.key == "left_to_right"
    if in_run and thing.heading == "millwork" and thing in reader.own_work:
        return surface, frozenset()
    found = located(reader, thing)
    if found is None:
        return surface, frozenset()
    return (f"{surface}: {found[0]}" if surface else found[0]), found[1]


def _location(reader: Reader, thing: Node) -> str:
    wall = reader.places.wall_of(thing)
    if wall is None:
        return _on_plan(reader, thing)
    words = _on_wall(reader, thing, reader.places.rect(thing).rect)
    for back in _backs(reader, thing, wall):
        rect = reader.places.mirrored(thing, back).rect
        room = room_words(reader.job, back.room)
        words += f"\nfrom the {room}, wall {back.key}: {_across(reader, rect)}"
    return words


def _backs(reader: Reader, thing: Node, wall: Node) -> list[Node]:
    """The other sides of a shared wall, for what goes through it."""
    if thing.heading != "openings" or thing.find("inside") is not None:
        return []
    return [w for w in reader.job.walls if (b := w.find("back_of")) and b.value == wall.key]


def _on_wall(reader: Reader, thing: Node, rect: Rect) -> str:
    words = [_across(reader, rect)]
    if thing.kind == "strip":
        up = thing.has("shines") and thing.word("shines") == "up"
        edge = ("lower", rect.bottom) if up else ("upper", rect.top)
        words.append(f"at the {edge[0]} edge of its tier, {height_words(reader, edge[1])}")
    elif rect.width < _SMALL:
        words.append(height_words(reader, rect.middle))
    elif rect.bottom <= 0:
        words.append(f"from the floor to {height_words(reader, rect.top)}")
    else:
        low = length_text(reader.job, rect.bottom)
        words.append(f"{low} to {height_words(reader, rect.top)}")
    return "; ".join(words)


def _across(reader: Reader, rect: Rect) -> str:
    def text(meters: float) -> str:
        return length_text(reader.job, meters)

    if rect.width < _SMALL:
        return f"middle {text(rect.center)} from the left corner"
    return f"{text(rect.left)} to {text(rect.right)} from the left corner"


def _on_plan(reader: Reader, thing: Node) -> str:
    plan = reader.places.plan(thing)
    words: list[str] = []
    for key in ("center", "centers", "edge"):
        below = thing.find(key)
        if below is None:
            continue
        if below.children:
            offs = [f"{value_text(reader.job, c)} off {c.key}" for c in below.children.values()]
            words.append(f"{key.replace('_', ' ')} " + ", ".join(offs))
        else:
            words.append(f"{key} of the {value_text(reader.job, below)}")
    if len(plan.outlines) > 1:
        words.append(f"{len(plan.outlines)} places")
    return "; ".join(words)


# ------------------------------------------------------------------ heights


def height_words(reader: Reader, meters: float) -> str:
    """A height above the finished floor, and off the level line while there is no floor."""
    words = f"{length_text(reader.job, meters)} above finished floor"
    line = level_line(reader)
    if line is None:
        return words
    off = meters - line
    if abs(off) < 0.0005:
        return f"{words} (on the level line)"
    side = "above" if off > 0 else "below"
    return f"{words} ({length_text(reader.job, abs(off))} {side} the level line)"


def level_line(reader: Reader) -> float | None:
    """The level line above zero [m], for a trade that comes before the floor; None for others."""
    line = reader.job.find("datum.line.above")
    if line is None or line.value is None or not before_the_floor(reader):
        return None
    return reader.job.tree.si("datum.line.above")


def before_the_floor(reader: Reader) -> bool:
    """Whether the trade's first visit comes before the floor is laid."""
    if reader.entry is None:
        return False
    own = reader.entry.group("visits")
    laid = [d for v in reader.job.things("visit") if _lays(v) and (d := first_day(v))]
    dated = [d for v in own if (d := first_day(v))]
    if laid and dated:
        return min(dated) < min(laid)
    finish = STAGES.index("finish")
    return any(STAGES.index(stage_of_visit(visit)) < finish for visit in own)


def _lays(visit: Node) -> bool:
    return visit.address.partition(".")[0] == "flooring"
