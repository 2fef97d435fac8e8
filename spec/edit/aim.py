"""Where in a job file an answer belongs: at an entry that is there, or as a new one in a map."""

from __future__ import annotations

from dataclasses import dataclass
from difflib import get_close_matches

from spec.edit.refused import Refused
from spec.edit.spans import Item, Spans, Value
from spec.job.job import Job
from spec.job.node import Node
from spec.job.overrides import standard_of
from spec.job.schema import Shape


@dataclass(frozen=True, slots=True)
class Aim:
    """Where an answer is put.

    With `item`, in place of its value, below `keys` where there are any; without, as a new entry
    below `keys` in the map `upper`, whose shape is `shape`. `node` is what was at the address.
    """

    node: Node | None
    shape: Shape
    keys: list[str]
    item: Item | None = None
    upper: Value | None = None


def aim(job: Job, spans: Spans, address: str) -> Aim:
    """Where the answer to an address is put. Raises `Refused` where it cannot be put."""
    node = job.find(address)
    if node is job.tree or not address:
        raise Refused("the whole job is no decision", "name one, as `check` prints it in brackets")
    upper, keys = (node, list[str]()) if node is not None else _nearest(job, address)
    if not _is_in(upper, job.tree):
        raise _in_the_house(upper.address, str(upper.key_place))
    below = upper
    while below.parent is not None and (item := _own(spans, below)) is None:
        keys.insert(0, below.key)
        below = below.parent
    if below.parent is None:
        return Aim(node, below.shape, keys, upper=spans.top)
    item = _own(spans, below)
    assert item is not None
    if not keys:
        return Aim(node, below.shape, [], item=item)
    return _inside(node, below, keys, item)


def _inside(node: Node | None, upper: Node, keys: list[str], item: Item) -> Aim:
    """An answer to a part of something that is written."""
    name, value = f"`{upper.address}`", item.value
    if upper.state is not None:
        bare = upper.state.kind == "open" and not upper.known and not upper.state.choices
        if bare:
            return Aim(node, upper.shape, keys, item=item)
        if upper.state.kind == "unreadable":
            raise Refused(f"{name} cannot be read as it stands ({upper.place})", "mend it first")
        how = upper.state.kind.replace("_", " ")
        raise Refused(f"{name} is {how} as a whole", f"answer {name} first")
    if value.form == "nothing":
        return Aim(node, upper.shape, keys, item=item)
    if value.form != "map":
        what = f"{upper.written}" if upper.written else "a list"
        raise Refused(f"{name} is `{what}` and has no `{keys[0]}`", f"answer {name} as a whole")
    return Aim(node, upper.shape, keys, upper=value)


def _own(spans: Spans, node: Node) -> Item | None:
    """The entry of the file in which a node is written; None for what came from elsewhere."""
    if node.model or node.origin not in ("", "override"):
        return None
    item = spans.item_at(node.key_place)
    return item if item is not None and item.key == node.key else None


def _is_in(node: Node, top: Node) -> bool:
    while node.parent is not None:
        node = node.parent
    return node is top


def _nearest(job: Job, address: str) -> tuple[Node, list[str]]:
    """The nearest thing above an address of which nothing is written, and the keys below it."""
    upper, _, last = address.rpartition(".")
    keys = [last]
    while upper:
        node = job.find(upper)
        if node is not None and node.address:
            return node, keys
        upper, _, last = upper.rpartition(".")
        keys.insert(0, last)
    if keys[0] in job.tree.shape.names:
        return job.tree, keys
    if standard_of(address) is not None:
        raise _in_the_house(address, "")
    raise Refused(f"nothing has the address `{address}`{_close(job, address)}")


def _close(job: Job, address: str) -> str:
    """The address below the name that is most like the one it begins with."""
    head, dot, rest = address.partition(".")
    close = get_close_matches(head, [*job.names(), *job.tree.shape.names], 1, 0.5)
    return f"; did you mean `{close[0]}{dot}{rest}`?" if close else ""


def _in_the_house(address: str, place: str) -> Refused:
    at = f" at {place}" if place else ", at its default"
    return Refused(
        f"`{address}` is a standard of the house{at}, not of this job",
        "change it there for all jobs; a departure for this one is written under `overrides`: "
        f"{{{address}: {{value: ..., why: ..., who: ..., when: ...}}}}",
    )
