"""One place in a resolved job, with typed access that records what was read."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from datetime import date
from typing import Any, TypeVar

from spec.finding import Place, Spot
from spec.job import record
from spec.job.raw import State
from spec.job.schema import Decision, Shape
from spec.quantity import Quantity, Range, Series, Size

Value = Quantity | Range | Size | Series | int | float | bool | date | str | tuple[Any, ...]
T = TypeVar("T")


class Open(Exception):
    """A decision that has no value to work with; `address` says which."""

    def __init__(self, address: str) -> None:
        super().__init__(address)
        self.address = address


class Contradicted(Open):
    """What is decided and cannot be so: why, what would put it right, and what else it fights with.

    Like any `Open` it has no value to work with; a rule says it (`envelope.cannot-be-set-out`).
    """

    def __init__(self, address: str, message: str, cure: str, *also: str) -> None:
        super().__init__(address)
        self.args = (address, message, cure, *also)
        self.message = message
        self.cure = cure
        self.also = also


_largest: ContextVar[bool] = ContextVar("largest", default=False)


@contextmanager
def largest() -> Iterator[None]:
    """Read the largest of three heights inside the block, for what covers; else the smallest is
    read, for what goes between two walls.
    """
    token = _largest.set(True)
    try:
        yield
    finally:
        _largest.reset(token)


class _NoDefault:
    pass


REQUIRED: Any = _NoDefault()


class Node:
    """A leaf (with `value`) or a map (with `children`) at one address.

    Reading methods take a path of keys joined by dots, relative to the node, containers
    left out. Each read is recorded. A path that leads to no value raises `Open` with the
    address that is waited for, unless a default is given and the key is absent or not
    applicable.
    """

    __slots__ = (
        "address",
        "children",
        "container",
        "containers",
        "heading",
        "key",
        "key_place",
        "kind",
        "mapped",
        "model",
        "origin",
        "parent",
        "place",
        "prefix",
        "room",
        "shape",
        "state",
        "surface",
        "through",
        "value",
        "written",
    )

    def __init__(self, key: str, address: str, prefix: str, shape: Shape, parent: Node | None):
        self.key = key
        self.address = address
        self.prefix = prefix
        self.shape = shape
        self.parent = parent
        self.children: dict[str, Node] = {}
        self.containers: list[Node] = []
        self.value: Value | None = None
        self.written = ""
        self.mapped = False
        self.state: State | None = None
        self.place: Place = parent.place if parent else Place("", 1, 1)
        self.key_place: Place = self.place
        self.origin = ""
        self.through = ""
        self.model = ""
        self.kind = ""
        self.container = ""
        self.room = ""
        self.surface = ""
        self.heading = ""

    def __repr__(self) -> str:
        return f"<{self.address or 'job'}{' ' + self.kind if self.kind else ''}>"

    @property
    def mark(self) -> str:
        """The name under which it is pointed at."""
        return self.key

    @property
    def spot(self) -> Spot:
        """Its address and where it stands in the file."""
        return Spot(self.address, self.key_place)

    @property
    def cites(self) -> tuple[str, ...]:
        """What is stated when it is: itself, and for an inherited fact its model and the link."""
        return tuple(a for a in (self.address, self.model, self.through) if a)

    @property
    def decision(self) -> Decision:
        """What the schema asks here."""
        return self.shape.decision

    @property
    def title(self) -> str:
        """The schema's words for it."""
        return self.shape.title or self.key.replace("_", " ")

    @property
    def standing(self) -> str:
        """decided, assumed, open, not_applicable, unreadable; an outer state counts for all."""
        node: Node | None = self
        while node is not None:
            if node.state is not None:
                return node.state.kind
            node = node.parent
        return "decided"

    @property
    def not_applicable(self) -> bool:
        """Decided: there is none."""
        return self.standing in ("not_applicable", "dropped")

    @property
    def known(self) -> bool:
        """There is a value to work with, or a map."""
        return self.value is not None or bool(self.children)

    def walk(self) -> Iterator[Node]:
        """The node and everything below it, in the order of the file."""
        ahead = [self]
        while ahead:
            node = ahead.pop()
            yield node
            ahead.extend(reversed(node.children.values()))

    def leaves(self) -> Iterator[Node]:
        """Every node below it that has no children: values and states."""
        for node in self.walk():
            if not node.children:
                yield node

    def entries(self) -> tuple[Node, ...]:
        """The entries of a container or ordering key, those that do not apply left out."""
        return tuple(c for c in self.children.values() if not c.not_applicable)

    def find(self, path: str) -> Node | None:
        """The node at a path, or None; containers may be left out or named; nothing is recorded."""
        node: Node | None = self
        for step in path.split("."):
            if node is None:
                return None
            below = node.children.get(step)
            if below is None:
                for container in node.containers:
                    below = container.children.get(step)
                    if below is not None:
                        break
            node = below
        return node

    def has(self, path: str) -> bool:
        """There is a value or map to work with at this path; recorded when there is."""
        node = self.find(path)
        if node is None or not node.known or node.not_applicable:
            return False
        node._recorded()
        return True

    def given(self, path: str) -> bool:
        """Like `has`; but what is there and still open is waited for (`Open`), not passed over."""
        node = self.find(path)
        if node is None or node.not_applicable:
            return False
        if not node.known:
            record.note(node.address)
            raise Open(node.address)
        node._recorded()
        return True

    def at(self, path: str) -> Node:
        """The node at a path; `Open` where there is none to work with."""
        node = self.find(path)
        if node is None or not node.known:
            raise Open(node.address if node else self.prefix + path)
        node._recorded()
        return node

    def group(self, path: str) -> tuple[Node, ...]:
        """The entries under a container, empty where it is absent."""
        node = self.find(path)
        return node.entries() if node is not None else ()

    def _recorded(self) -> None:
        record.note(*self.cites)

    def _read(self, path: str, default: Any) -> Any:
        node = self.find(path)
        if node is None or node.value is None:
            address = node.address if node is not None else self.prefix + path
            if default is not REQUIRED and (node is None or node.not_applicable):
                return default
            record.note(address)
            raise Open(address)
        node._recorded()
        return node.value

    def si(self, path: str, default: Any = REQUIRED) -> float:
        """A quantity in the SI unit of its dimension (temperatures in °C)."""
        value = self._read(path, default)
        if isinstance(value, Quantity):
            return value.si
        if isinstance(value, tuple) and value and all(isinstance(v, Quantity) for v in value):
            governs = max if _largest.get() else min
            return float(governs(v.si for v in value))
        if isinstance(value, Range):
            return (value.low.si + value.high.si) / 2
        if isinstance(value, int | float):
            return float(value)
        if value is default:
            return default  # type: ignore[no-any-return]
        raise Open(self.prefix + path)

    def quantity(self, path: str, default: Any = REQUIRED) -> Any:
        """The quantity, range, size or series as parsed."""
        return self._read(path, default)

    def word(self, path: str, default: Any = REQUIRED) -> str:
        """A word, mark or text."""
        value = self._read(path, default)
        return value if value is default else str(value)

    def words(self, path: str, default: Any = REQUIRED) -> tuple[str, ...]:
        """One or several words as a tuple."""
        value = self._read(path, default)
        if value is default:
            return default  # type: ignore[no-any-return]
        return tuple(str(v) for v in value) if isinstance(value, tuple) else (str(value),)

    def count(self, path: str, default: Any = REQUIRED) -> int:
        """A whole number."""
        value = self._read(path, default)
        return value if value is default else int(value)

    def number(self, path: str, default: Any = REQUIRED) -> float:
        """A bare number."""
        value = self._read(path, default)
        return value if value is default else float(value)

    def yes(self, path: str, default: Any = REQUIRED) -> bool:
        """yes or no."""
        value = self._read(path, default)
        return value if value is default else bool(value)

    def date(self, path: str, default: Any = REQUIRED) -> date:
        """A day."""
        value = self._read(path, default)
        if value is default:
            return default  # type: ignore[no-any-return]
        if isinstance(value, date):
            return value
        raise Open(self.prefix + path)

    def text(self, path: str, default: Any = REQUIRED) -> str:
        """A leaf as it was written."""
        value = self._read(path, default)
        if value is default:
            return default  # type: ignore[no-any-return]
        node = self.find(path)
        return node.written if node is not None else str(value)
