"""How large a drawing will come out: millimeters on paper in millimeters of the real thing.

Letters and the distance of dimension lines have a size on paper, walls have one in the world; a
scene is told in the latter, so whoever places a label has to know the scale beforehand.
"""

from __future__ import annotations

from dataclasses import dataclass

WIDEST, HIGHEST = 168.0, 190.0
"""Room for a drawing on paper [mm]."""
Box = tuple[float, float, float, float]
"""Left, bottom, right, top in millimeters of the real thing."""


@dataclass(frozen=True, slots=True)
class Margins:
    """White around the thing drawn, on paper [mm]."""

    left: float
    bottom: float
    right: float
    top: float


@dataclass(frozen=True, slots=True)
class Paper:
    """The scale: `per` millimeters of the real thing to one on paper."""

    per: float

    def real(self, on_paper: float) -> float:
        """Millimeters of the real thing for millimeters on paper."""
        return on_paper * self.per


def paper_for(across: float, up: float, margins: Margins) -> Paper:
    """The scale at which a thing this wide and high [mm] fits with its margins."""
    wide = WIDEST - margins.left - margins.right
    high = HIGHEST - margins.bottom - margins.top
    return Paper(max(across / wide, up / high, 1e-6))


def grown(box: Box, by: float) -> Box:
    """A box with so much more on every side."""
    return box[0] - by, box[1] - by, box[2] + by, box[3] + by


def meet(one: Box, other: Box) -> bool:
    """Whether two boxes share area."""
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]
