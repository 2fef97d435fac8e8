"""What a decision is called in a schedule: the schema's titles along the way to it."""

from __future__ import annotations

from collections.abc import Iterable

from spec.compose.wording import kind_words, room_words
from spec.derive.figure import definitions
from spec.job.job import Job
from spec.job.node import Node
from spec.job.trades import thing_of


def label_of(thing: Node, leaf: Node) -> str:
    """`Leaf: width` - the titles along the way, each said once."""
    if leaf is thing:
        return thing.title
    words: list[str] = []
    for node in _steps(thing, leaf):
        title = _called(node)
        if words and title.lower().startswith(words[-1].lower()):
            words[-1] = title
        else:
            words.append(title)
    return ": ".join([words[0], *(_within(w) for w in words[1:])])


def called(job: Job, address: str) -> str:
    """What stands at an address, in words: `RF1 refrigerator, product`.

    A figure by its title and its thing; what is not written by its title in the schema.
    """
    name, _, of = address.rpartition("@")
    if name in definitions():
        return f"{_within(definitions()[name].title)} of {called(job, of)}"
    node = job.find(address)
    if node is None:
        return _not_written(job, address)
    thing = thing_of(node)
    if thing.kind == "room":
        return room_words(job, thing.key) if node is thing else _fact(job, thing, node)
    name = thing.key.replace("_", " ")
    kind = kind_words(thing)
    if thing.container == "bottom_to_top":
        name = thing.address.replace(".", " ").replace("_", " ")
    elif kind not in (name, ""):
        name = f"{name} {kind}"
    return name if node is thing else f"{name}, {_within(label_of(thing, node))}"


def _fact(job: Job, room: Node, node: Node) -> str:
    return f"{room_words(job, room.key)}, {_within(label_of(room, node))}"


def _not_written(job: Job, address: str) -> str:
    """A decision that nobody has made or left open: the thing, and what is asked of it."""
    upper, _, key = address.rpartition(".")
    node = job.find(upper) if upper else None
    below = node.shape.below(key) if node is not None else None
    if node is None or below is None:
        return address.replace(".", " ").replace("_", " ")
    return f"{called(job, upper)}, {_within(below.title or key.replace('_', ' '))}"


def waits_words(job: Job, addresses: Iterable[str]) -> str:
    """`waits for D1 door, leaf: width`."""
    return f"waits for {', '.join(called(job, address) for address in sorted(addresses))}"


def path_of(thing: Node, leaf: Node) -> str:
    """The keys from below the thing to the leaf, containers left out: `cable.length`."""
    return ".".join(node.key for node in _steps(thing, leaf))


def _steps(thing: Node, leaf: Node) -> tuple[Node, ...]:
    """The nodes from just below the thing to the leaf, containers left out."""
    steps: list[Node] = []
    node: Node | None = leaf
    while node is not None and node is not thing:
        if not node.shape.container or node is leaf:
            steps.append(node)
        node = node.parent
    return tuple(reversed(steps))


def _within(words: str) -> str:
    """A title within a label: small, unless it is a mark or an abbreviation."""
    return words if words[1:2].isupper() or words[1:2].isdigit() else words[:1].lower() + words[1:]


def _called(node: Node) -> str:
    """The schema's title; the key itself where keys are the job's own words."""
    upper = node.parent.shape if node.parent is not None else None
    own_word = upper is not None and upper.takes_entries and node.key not in upper.names
    return node.key.replace("_", " ") if own_word else node.title
