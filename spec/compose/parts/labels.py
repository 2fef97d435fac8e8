"""What a decision is called in a schedule: the schema's titles along the way to it."""

from __future__ import annotations

from spec.compose.wording import kind_words
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
    """What stands at an address, in words: `RF1 refrigerator, product`."""
    node = job.find(address)
    if node is None:
        return address
    thing = thing_of(node)
    name = thing.key.replace("_", " ")
    kind = kind_words(thing)
    name = name if kind in (name, "") else f"{name} {kind}"
    return name if node is thing else f"{name}, {label_of(thing, node).lower()}"


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
