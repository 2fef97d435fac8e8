"""Which decisions were read: the one source of inputs and citations."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Generic, TypeVar, cast

V = TypeVar("V")

_open: ContextVar[tuple[set[str], ...]] = ContextVar("open_records", default=())


@contextmanager
def recording() -> Iterator[set[str]]:
    """Collect the addresses of all that is read inside the block.

    Records nest: what an inner block reads, the outer one has read too.

    >>> with recording() as outer:
    ...     note("D1.leaf.width")
    ...     with recording() as inner:
    ...         note("D1.leaf.height")
    >>> sorted(outer), sorted(inner)
    (['D1.leaf.height', 'D1.leaf.width'], ['D1.leaf.height'])
    """
    mine: set[str] = set()
    token = _open.set((*_open.get(), mine))
    try:
        yield mine
    finally:
        _open.reset(token)


def note(*addresses: str) -> None:
    """Say that these addresses were read."""
    for record in _open.get():
        record.update(addresses)


class Kept(Generic[V]):
    """Results worked out once, with what was read for them read again by whoever asks."""

    def __init__(self) -> None:
        self._known: dict[str, tuple[V | None, Exception | None, frozenset[str]]] = {}

    def get(
        self,
        key: str,
        work: Callable[[], V],
        expected: type[Exception] | tuple[type[Exception], ...],
    ) -> V:
        """The result under this key; an `expected` exception is kept and raised again."""
        if key not in self._known:
            value: V | None = None
            failed: Exception | None = None
            with recording() as read:
                try:
                    value = work()
                except expected as error:
                    failed = error
            self._known[key] = (value, failed, frozenset(read))
        value, failed, inputs = self._known[key]
        note(*inputs)
        if failed is not None:
            raise type(failed)(*failed.args)  # afresh: a kept one would gather tracebacks
        return cast(V, value)
