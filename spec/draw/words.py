"""What is written beside a thing on a wall for the reader whose it is, and for everybody else."""

from __future__ import annotations

from textwrap import wrap

from spec.draw.chain import length
from spec.draw.openings import hinge_side
from spec.draw.outline import MM
from spec.draw.seen import Seen
from spec.job.node import Node

AFF = "AFF"
"""Above finished floor, to the middle of the thing."""

_LINE = 20
"""Letters in one line of a label before it is broken."""


def words(thing: Seen, system: str, room: str) -> tuple[str, str]:
    """The label of a thing seen from a room, and a shorter one for where there is no space.

    What is read is recorded.
    """
    node, mark = thing.node, thing.node.key
    if thing.turned:
        return f"{mark} from {node.surface}", mark
    if not thing.own:
        return mark, mark
    if thing.is_point:
        name = " ".join([mark, *_at_a_point(node)])
        return f"{name}\n{length(thing.middle[1], system)} {AFF}", mark
    lines = _lines(thing, system, room)
    if not lines:
        return mark, mark
    return "\n".join([f"{mark} {lines[0]}".strip(), *filter(None, lines[1:])]), mark


def _at_a_point(node: Node) -> list[str]:
    """How large a hole is, and what becomes of an old thing."""
    if node.heading == "holes" and node.has("size"):
        return [node.text("size")]
    if node.heading == "existing" and node.has("action"):
        return [_action(node)]
    return []


def _action(node: Node) -> str:
    return ", ".join(w.replace("_", " ") for w in node.words("action"))


def _lines(thing: Seen, system: str, room: str) -> list[str]:
    node = thing.node
    kind = node.kind.replace("_", " ")
    if node.heading == "existing" and node.has("action"):
        return [_action(node)]
    if node.heading == "backing" and node.has("member"):
        return wrap(node.text("member"), _LINE)
    if node.heading == "openings" and node.has("leaf.width") and node.has("leaf.height"):
        return [kind, *_door(thing, system), hinge_words(node, room)]
    if node.has("spring_aff") and node.has("rise"):
        return [kind, *_curve(node, system)]
    if node.kind in ("racks", "peg_rack", "filler", "panel"):
        return []
    return ["", kind]


def _door(thing: Seen, system: str) -> list[str]:
    """The leaf's size and the opening's."""
    node = thing.node
    leaf = [length(node.si(f"leaf.{side}") * MM, system) for side in ("width", "height")]
    x1, y1, x2, y2 = thing.box
    rough = [length(x2 - x1, system), length(y2 - y1, system)]
    return [f"leaf {leaf[0]} x {leaf[1]}", "rough opening", f"{rough[0]} x {rough[1]}"]


def hinge_words(node: Node, room: str) -> str:
    """On which side a leaf hangs, seen from this room; empty where nobody says."""
    side = hinge_side(node, room)
    return f"hinges {side}, from here" if side in ("left", "right") else ""


def _curve(node: Node, system: str) -> list[str]:
    """Span, springing and rise of an arch."""
    facts = (("span", "span"), ("spring_aff", "springs at"), ("rise", "rise"))
    return [f"{said} {length(node.si(key) * MM, system)}" for key, said in facts if node.has(key)]
