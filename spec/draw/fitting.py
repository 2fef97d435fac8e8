"""One thing on a wall as it is drawn: its box, whose it is, its pens."""

from __future__ import annotations

from collections.abc import Iterator

from spec.draw.outline import MM, rectangle
from spec.draw.paper import Box, Paper
from spec.draw.scene import Fill, Pen, Polygon, Shape
from spec.job.node import Node, Open
from spec.quantity import Quantity


class Fitting:
    """One thing on a wall: its box [mm], whose it is, and whether it is seen from its own side."""

    def __init__(self, node: Node, box: Box, paper: Paper, *, own: bool, mirrored: bool = False):
        self.node = node
        self.box = box
        self.paper = paper
        self.own = own
        self.mirrored = mirrored
        self.cites = frozenset({node.address})

    @property
    def pen(self) -> Pen:
        """The pen of its outline."""
        return "outline" if self.own else "quiet"

    @property
    def fine(self) -> Pen:
        """The pen of what is within it."""
        return "thin" if self.own else "quiet"

    @property
    def hidden(self) -> Pen:
        """The pen of what lies behind or opens."""
        return "hidden" if self.own else "quiet_hidden"

    def length(self, path: str, default: float = 0.0) -> float:
        """A length of the thing [mm], a default where it says none or says it in words."""
        if not self.node.has(path) or not isinstance(self.node.quantity(path), Quantity):
            return default
        return self.node.si(path) * MM

    def outline(self, pen: Pen, fill: Fill = "none") -> Polygon:
        """Its box."""
        return Polygon(rectangle(self.box), pen, fill, self.cites)

    def side(self, written: str) -> str:
        """A side as seen on this drawing, of one written as seen from the thing's own wall."""
        if not self.mirrored or written not in ("left", "right"):
            return written
        return "right" if written == "left" else "left"


def safe(shapes: Iterator[Shape], instead: Shape) -> Iterator[Shape]:
    """The shapes of a thing; its bare outline where a fact of it is not decided."""
    try:
        yield from list(shapes)
    except Open:
        yield instead
