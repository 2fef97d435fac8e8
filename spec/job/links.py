"""Links: a mark or word that is to name a thing must name one, and one of the right kind."""

from __future__ import annotations

from collections.abc import Iterator
from difflib import get_close_matches

from spec.finding import Finding, Level, Spot
from spec.job.job import Job
from spec.job.kinds import KIND_OF_CONTAINER
from spec.job.node import Node
from spec.job.raw import State
from spec.job.trades import thing_of, trades_for

_CHAIN = "fed_from"


def broken(job: Job) -> Iterator[Finding]:
    """References that name nothing or the wrong kind of thing, and feeds that run in a circle."""
    for tree in (job.tree, job.house):
        if tree is None:
            continue
        for node in tree.walk():
            if node.state is not None and node.state.waits_for and not node.model:
                yield from _awaited(job, node, node.state)
            if node.key == "like" and node.parent is not None and node.value is not None:
                yield from _likened(job, node, node.parent)
            elif _refers(node) and node.value is not None:
                yield from _checked(job, node)
    yield from _circles(job)


def _checked(job: Job, node: Node) -> Iterator[Finding]:
    names = node.value if isinstance(node.value, tuple) else (node.value,)
    for name in names:
        if _is_word_of_schema(node, str(name)):
            continue
        target = job.find(str(name)) or _tier(job, node, str(name))
        if target is None:
            wanted = " or ".join(word.replace("_", " ") for word in _refers(node))
            yield Finding(
                "job.names-nothing",
                Level.ERROR,
                f"`{node.address}: {name}` names nothing in the job or the house standards"
                f"{_hint(job, str(name))}",
                f"name a {wanted} that is there, or add it",
                (node.spot,),
                trades_for(job, node.decision, thing_of(node)),
            )
        elif not _fits(target, _refers(node)):
            wanted = " or ".join(word.replace("_", " ") for word in _refers(node))
            yield Finding(
                "job.link-to-wrong-kind",
                Level.ERROR,
                f"`{node.address}: {name}` names a {_called(target)}, but a {wanted} is due here",
                f"name a {wanted}",
                (node.spot, target.spot),
                trades_for(job, node.decision, thing_of(node)),
            )


def _likened(job: Job, link: Node, thing: Node) -> Iterator[Finding]:
    """A `like` that names nothing: it is the whole thing that then lacks its facts."""
    name = str(link.value)
    if job.find(name) is None:
        yield Finding(
            "job.names-nothing",
            Level.ERROR,
            f"`{link.address}: {name}` names nothing in the job or the house standards"
            f"{_hint(job, name)}",
            "name a thing that is there, or write out the facts in place of `like`",
            (Spot(thing.address, link.key_place),),
            trades_for(job, thing.decision, thing_of(thing)),
        )


def _awaited(job: Job, node: Node, state: State) -> Iterator[Finding]:
    """What an open decision waits for must be there."""
    for name in state.waits_for:
        if job.find(name) is None:
            yield Finding(
                "job.names-nothing",
                Level.ERROR,
                f"`{node.address}` waits for `{name}`, which names nothing in the job"
                f"{_hint(job, name)}",
                "name the approval or the decision that must come first",
                (Spot(node.address, state.place),),
            )


def _hint(job: Job, name: str) -> str:
    close = get_close_matches(name, list(job.names()), 1, 0.6)
    return f"; did you mean `{close[0]}`?" if close else ""


def _refers(node: Node) -> tuple[str, ...]:
    return node.shape.refers or node.shape.item.refers


def _tier(job: Job, node: Node, name: str) -> Node | None:
    """A tier of a stack in the same room: its name is no mark, so other stacks may use it too."""
    if "tier" not in _refers(node):
        return None
    stacks = (s for s in job.things("stack") if not node.room or s.room == node.room)
    return next((t for s in stacks for t in s.walk() if t.kind and t.key == name), None)


def _is_word_of_schema(node: Node, word: str) -> bool:
    schema = node.shape.schema
    return word in schema.get("enum", ()) or word in schema.get("also", ())


def _called(target: Node) -> str:
    return (target.kind or target.container or "thing").replace("_", " ")


def _fits(target: Node, refers: tuple[str, ...]) -> bool:
    if "thing" in refers or "address" in refers or target.standing == "unreadable":
        return True
    container = KIND_OF_CONTAINER.get(target.container, "")
    heading = target.heading
    names = {target.kind, target.container, heading, heading.removesuffix("s"), container}
    return bool(names & set(refers)) or (not target.kind and target.state is not None)


def _circles(job: Job) -> Iterator[Finding]:
    for start in job.everything:
        seen = [start]
        node: Node | None = start
        while node is not None:
            link = node.find(_CHAIN)
            node = job.find(str(link.value)) if link is not None and link.value else None
            if node is start:
                chain = " → ".join([n.key for n in seen] + [start.key])
                yield Finding(
                    "electrical.feeds-itself",
                    Level.ERROR,
                    f"{start.key} is fed from itself: {chain}",
                    "feed one of them from a circuit",
                    (start.spot, seen[-1].spot) if len(seen) > 1 else (start.spot,),
                    ("electrical",),
                )
                break
            if node is None or node in seen:
                break
            seen.append(node)
