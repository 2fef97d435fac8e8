"""One piece of a run seen from the front, and what it and its tiers say of bottles."""

from __future__ import annotations

from spec.draw.outline import MM
from spec.draw.paper import Box
from spec.job.job import Job
from spec.job.node import Node
from spec.place import Tier


class Front:
    """The front of one piece: what it is, its box, and the tiers that it is made of."""

    def __init__(
        self,
        job: Job,
        node: Node,
        box: Box,
        tiers: dict[str, Tier],
        depth: float | None,
        *,
        turned: bool = False,
    ) -> None:
        self.job = job
        self.node = node
        self.box = box
        self.tiers = tiers
        self.depth = (depth or 0.0) * MM
        self.turned = turned
        """It started on the wall before and comes round the left corner."""

    @property
    def parts(self) -> list[tuple[Node, float, float]]:
        """The innermost tiers within its box: (tier's node, bottom, top) [mm]."""
        found = []
        for tier in self.tiers.values():
            low, high = tier.bottom * MM, tier.top * MM
            within = low > self.box[1] - 1 and high < self.box[3] + 1
            if within and not tier.node.group("bottom_to_top") and holds(tier.node):
                found.append((tier.node, low, high))
        return found or [(self.node, self.box[1], self.box[3])]

    def said(self, key: str, *nodes: Node) -> Node | None:
        """The nearest node of the piece, its tier and the tiers around it that says something."""
        for node in (self.node, *nodes):
            at: Node | None = node
            while at is not None and at.kind != "stack":
                if at.has(key):
                    return at
                at = at.parent
        return None

    def count(self, key: str, *nodes: Node) -> int:
        """A count said by the piece or its tiers; 0 where nobody says one."""
        at = self.said(key, *nodes)
        return at.count(key) if at is not None else 0

    def length(self, key: str, *nodes: Node) -> float:
        """A length [mm]; 0 where nobody says one."""
        at = self.said(key, *nodes)
        return at.si(key) * MM if at is not None else 0.0

    def bottle(self, *nodes: Node) -> tuple[float, float]:
        """Diameter and length of the bottle that it is made for [mm]; 0 where not known."""
        at = self.said("bottle", *nodes)
        kind = self.job.thing(at.word("bottle") if at is not None else "single")
        if kind is None or not kind.has("diameter"):
            return 0.0, 0.0
        return kind.si("diameter") * MM, (kind.si("length") * MM if kind.has("length") else 0.0)


def holds(tier: Node) -> bool:
    """Whether a tier is made of pieces: no plinth, top, crown or gap."""
    return tier.kind not in ("plinth", "top", "crown", "gap")
