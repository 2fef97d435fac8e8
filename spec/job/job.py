"""The resolved job: things by name, decisions by address, thresholds of the house."""

from __future__ import annotations

from copy import copy
from datetime import date
from functools import cached_property
from typing import Any

from spec.finding import Finding, Place, Spot
from spec.job import record
from spec.job.node import Node, Open
from spec.job.schema import root
from spec.quantity import Quantity, Range, parse


class Job:
    """One job with its house standards; every value knows where it stands and came from."""

    def __init__(
        self,
        name: str,
        tree: Node,
        house: Node | None,
        index: dict[str, Node],
        names: dict[str, Node],
        findings: tuple[Finding, ...],
        day: date | None,
    ) -> None:
        self.name = name
        self.tree = tree
        self.house = house
        self.findings = findings
        self._index = index
        self._names = names
        self._day = day
        self._instead: dict[str, Quantity] = {}
        self.own_trades: dict[str, tuple[str, ...]] = {}
        """What `spec.job.trades.own_trades` has worked out, by address."""
        self.leaves_for: dict[str, tuple[Node, ...]] = {}
        """What `spec.job.trades.leaves_for` has worked out, by trade."""

    # ------------------------------------------------------------------ addresses

    def find(self, address: str) -> Node | None:
        """The node at an address, or None; nothing is recorded."""
        node = self._index.get(address)
        if node is None:
            head, _, rest = address.partition(".")
            top = self._names.get(head)
            if top is not None:
                node = top.find(rest) if rest else top
        return node

    def names(self) -> tuple[str, ...]:
        """Every mark and small word of the job and its house standards."""
        return tuple(self._names)

    def spot(self, address: str) -> Spot:
        """The address with its place; an absent one stands at its nearest existing ancestor.

        A standard that the house leaves at its default stands where the job names its house.
        """
        node = self.find(address)
        if node is not None:
            return Spot(address, node.key_place)
        upper = address
        while "." in upper:
            upper = upper.rpartition(".")[0]
            node = self.find(upper)
            if node is not None:
                return Spot(address, node.key_place)
        thresholds = root("house").below("thresholds")
        house = self.find("house")
        if house is not None and thresholds is not None and address in thresholds.names:
            return Spot(address, house.key_place)
        return Spot(address, Place(self.name, 1, 1))

    def state(self, address: str) -> str:
        """decided, assumed, open, not_applicable, unreadable or missing."""
        node = self.find(address)
        return node.standing if node is not None else "missing"

    # ------------------------------------------------------------------ things

    @cached_property
    def _things(self) -> dict[str, tuple[Node, ...]]:
        by_kind: dict[str, list[Node]] = {}
        for node in self.everything:
            by_kind.setdefault(node.kind, []).append(node)
        return {kind: tuple(nodes) for kind, nodes in by_kind.items()}

    def things(self, *kinds: str) -> tuple[Node, ...]:
        """The things of these kinds in the order of the file; all of any kind when none is named.

        What is not applicable is left out; what is open is there without its facts.
        """
        if len(kinds) == 1:
            return self._things.get(kinds[0], ())
        return tuple(n for n in self.everything if not kinds or n.kind in kinds)

    @cached_property
    def everything(self) -> tuple[Node, ...]:
        """Every thing that has a kind, in the order of the file."""
        return tuple(node for node in self.tree.walk() if _is_thing(node))

    def thing(self, name: str) -> Node | None:
        """The thing of this mark or small word, or None."""
        return self._names.get(name)

    @property
    def rooms(self) -> tuple[Node, ...]:
        """The rooms in the order of the file."""
        return self.things("room")

    @property
    def walls(self) -> tuple[Node, ...]:
        """The walls of all rooms in the order of the file."""
        return self.things("wall")

    @cached_property
    def naming(self) -> dict[str, tuple[Node, ...]]:
        """The leaves by the word or mark that they say, in the order of the file."""
        found: dict[str, list[Node]] = {}
        for leaf in self.tree.leaves():
            if isinstance(leaf.value, str):
                found.setdefault(leaf.value, []).append(leaf)
        return {word: tuple(leaves) for word, leaves in found.items()}

    # ------------------------------------------------------------------ day, units, thresholds

    @property
    def day(self) -> date | None:
        """The day for which the job is looked at: `--on`, else the revision's date."""
        if self._day is not None:
            return self._day
        node = self.find("job.revision.date")
        return node.value if node is not None and isinstance(node.value, date) else None

    @property
    def system(self) -> str:
        """`imperial` or `metric`: the units of the output."""
        node = self.find("job.units")
        return "metric" if node is not None and node.value == "metric" else "imperial"

    def threshold(self, name: str) -> Any:
        """A value of the house standards, or the default in schemas/house.json; recorded.

        Raises `Open` where the house or an override has it and it is open or cannot be read, and
        KeyError where no threshold has that name.
        """
        record.note(name)
        if name in self._instead:
            return self._instead[name]
        node = self._index.get(name)
        if node is not None and not node.not_applicable:
            if node.value is None:
                raise Open(name)
            record.note(*node.cites)
            return node.value
        shape = root("house").below("thresholds")
        below = shape.below(name) if shape is not None else None
        if below is None or "default" not in below.schema:
            raise KeyError(name)
        dimension, form = below.quantity
        text = str(below.schema["default"])
        if dimension:
            return parse(text, dimension, form)
        return int(text) if below.scalar == "count" else text

    def range_of(self, name: str) -> Range | None:
        """The least and the most that a threshold may be, where schemas/house.json says it."""
        shape = root("house").below("thresholds")
        below = shape.below(name) if shape is not None else None
        if below is None or "range" not in below.schema:
            return None
        value = parse(str(below.schema["range"]), below.quantity[0], "range")
        return value if isinstance(value, Range) else None

    def instead(self, name: str, value: Quantity) -> Job:
        """The same job with another value of one threshold, to see what follows from it."""
        other = copy(self)
        other._instead = {**self._instead, name: value}
        return other

    def limit(self, name: str) -> float:
        """A threshold that is one quantity or count, in SI."""
        value = self.threshold(name)
        if isinstance(value, Quantity):
            return value.si
        return float(value)

    def limits(self, name: str) -> tuple[float, float]:
        """A threshold that is a range, in SI."""
        value = self.threshold(name)
        if isinstance(value, Range):
            return value.low.si, value.high.si
        raise TypeError(f"{name} is no range")

    def done_by(self, node: Node) -> str:
        """The trade that does a thing: its own word, the house's, the default; or empty."""
        own = node.find("done_by")
        if own is not None and isinstance(own.value, str):
            return own.value
        found = self._index.get(f"done_by.{node.kind}")
        if found is not None and found.children:
            found = found.children.get(_sort_of_material(node))
        if found is not None and isinstance(found.value, str):
            return found.value
        shape = root("house").below("done_by")
        below = shape.below(node.kind) if shape is not None else None
        default = below.schema.get("default", "") if below is not None else ""
        if isinstance(default, dict):
            default = default.get(_sort_of_material(node), "")
        return str(default)


def _is_thing(node: Node) -> bool:
    """An entry with a kind and a name of its own; products are models of things, not things."""
    return bool(
        node.kind and node.container and node.container != "products" and not node.not_applicable
    )


_SORTS = {
    "stone": ("stone", "marble", "granite", "slate", "quartz", "limestone", "travertine"),
    "metal": ("metal", "steel", "copper", "zinc", "brass", "bronze", "aluminum"),
}


def _sort_of_material(node: Node) -> str:
    """wood, stone or metal: who works a top depends on what it is made of."""
    material = node.find("material")
    words = str(material.value) if material is not None and material.value else ""
    for sort, names in _SORTS.items():
        if any(name in words for name in names):
            return sort
    return "wood"
