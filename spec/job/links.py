"""Links: a mark or word that is to name a thing must name one, and one of the right kind."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from spec.finding import Finding, Level, Spot
from spec.job.job import Job
from spec.job.kinds import KIND_OF_CONTAINER
from spec.job.node import Node
from spec.job.raw import State
from spec.job.schema import TRADES
from spec.job.trades import own_trades, thing_of, trades_for
from spec.meant import did_you_mean

_ROUND = (
    (
        "electrical.feeds-itself",
        ("fed_from",),
        "{} is fed from itself",
        "feed one of them from a circuit",
    ),
    (
        "job.placed-by-itself",
        ("inside", "center"),
        "the place of {} follows from itself",
        "measure one of them from a corner",
    ),
    (
        "job.follows-from-itself",
        ("same_as", "climate.same_as"),
        "the air of {} follows from itself",
        "say of one of them which air it has",
    ),
    (
        "job.follows-from-itself",
        ("floor.level.same_as",),
        "the floor level of {} follows from itself",
        "measure one of them from the datum",
    ),
    (
        "job.follows-from-itself",
        ("back_of",),
        "{} is the back of itself",
        "write the wall under one of its two sides; the other says `back_of`",
    ),
)
"""Links that must not come back to where they began: rule, keys, what is wrong, what cures it."""
_CORNERS = ("wall",)
"""A diagonal, `WA-WC`, names two corners by the walls that start in them."""
_MORE = {"bottle": ("bottles",), "surrounding": ("room",)}
"""Kinds that do as well as the one that the schema names."""


def broken(job: Job) -> Iterator[Finding]:
    """References that name nothing or the wrong kind of thing, or that run in a circle."""
    for tree in (job.tree, job.house):
        if tree is None:
            continue
        for node in tree.walk():
            if node.state is not None and node.state.waits_for and not node.model:
                yield from _awaited(job, node, node.state)
                yield from _waiting(job, node)
            yield from _keyed(job, node)
            if node.key == "tell":
                yield from _told(job, node)
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
                f"{_hint(job, str(name), _refers(node))}",
                f"name {_with_article(wanted)} that is there, or add it",
                (node.spot,),
                trades_for(job, node.decision, thing_of(node)),
            )
        elif not _fits(target, _refers(node)):
            wanted = " or ".join(word.replace("_", " ") for word in _refers(node))
            yield Finding(
                "job.link-to-wrong-kind",
                Level.ERROR,
                f"`{node.address}: {name}` names {_with_article(_called(target))}, "
                f"but {_with_article(wanted)} is due here",
                f"name {_with_article(wanted)}",
                (node.spot, target.spot),
                trades_for(job, node.decision, thing_of(node)),
            )


def _keyed(job: Job, node: Node) -> Iterator[Finding]:
    """The keys of a map that are names: `center: {WA: 66 in}`, `diagonals: {WA-WC: ...}`."""
    wanted = node.shape.schema.get("keyed_by", _CORNERS if node.key == "diagonals" else ())
    if not wanted or "standard" in wanted or _not_yet(job, node, wanted):
        return
    for child in node.children.values():
        if child.key in node.shape.names:
            continue
        for name in child.key.split("-"):
            target = job.find(name) or (_tier_of(job, node, name) if "tier" in wanted else None)
            due = " or ".join(word.replace("_", " ") for word in wanted)
            if target is None:
                message = f"`{child.address}`: `{name}` names nothing in the job or the house"
                yield Finding(
                    "job.names-nothing",
                    Level.ERROR,
                    f"{message} standards{_hint(job, name, wanted)}",
                    f"name {_with_article(due)} that is there, or add it",
                    (child.spot,),
                    trades_for(job, node.decision, thing_of(node)),
                )
            elif not _fits(target, (*wanted, *_MORE.get(wanted[0], ()))):
                yield Finding(
                    "job.link-to-wrong-kind",
                    Level.ERROR,
                    f"`{child.address}`: `{name}` names {_with_article(_called(target))}, "
                    f"but {_with_article(due)} is due here",
                    f"name {_with_article(due)}",
                    (child.spot, target.spot),
                    trades_for(job, node.decision, thing_of(node)),
                )


def _told(job: Job, node: Node) -> Iterator[Finding]:
    """A `tell` speaks to trades: those of the schema, and entries of the job's own."""
    known = (*TRADES, *(entry.key for entry in job.things("trade")))
    for child in node.children.values() if not node.model else ():
        if child.key not in known:
            hint = did_you_mean(child.key, known)
            yield Finding(
                "job.names-nothing",
                Level.ERROR,
                f"`{child.address}`: `{child.key}` is no trade, so nobody is told{hint}",
                "name a trade, or an entry under `trades`",
                (child.spot,),
            )


def _not_yet(job: Job, node: Node, wanted: Collection[str]) -> bool:
    """Half a file: there is nothing yet that the names could be held against."""
    if "bottle" in wanted:
        return job.house is None
    return "tier" in wanted and not any(s.room == node.room for s in job.things("stack"))


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


def _hint(job: Job, name: str, wanted: Collection[str] = ("thing",)) -> str:
    """`; did you mean ...?` with a name of the right kind, where one is much like this."""
    known = ((other, job.thing(other)) for other in job.names())
    fitting = [other for other, node in known if node is not None and _fits(node, wanted)]
    return did_you_mean(name, fitting)


def _refers(node: Node) -> tuple[str, ...]:
    return node.shape.refers or node.shape.item.refers


def _tier(job: Job, node: Node, name: str) -> Node | None:
    """A tier of a stack in the same room: its name is no mark, so other stacks may use it too."""
    return _tier_of(job, node, name) if "tier" in _refers(node) else None


def _tier_of(job: Job, node: Node, name: str) -> Node | None:
    stacks = (s for s in job.things("stack") if not node.room or s.room == node.room)
    return next((t for s in stacks for t in s.walk() if t.kind and t.key == name), None)


def _is_word_of_schema(node: Node, word: str) -> bool:
    schema = node.shape.schema
    return word in schema.get("enum", ()) or word in schema.get("also", ())


def _with_article(noun: str) -> str:
    """`a door`, `an assembly`."""
    return f"{'an' if noun[:1] in 'aeiou' else 'a'} {noun}"


def _called(target: Node) -> str:
    return (target.kind or target.container or "thing").replace("_", " ")


def _fits(target: Node, refers: Collection[str]) -> bool:
    if "thing" in refers or "address" in refers or target.standing == "unreadable":
        return True
    container = KIND_OF_CONTAINER.get(target.container, "")
    heading = target.heading
    names = {target.kind, target.container, heading, heading.removesuffix("s"), container}
    return bool(names & set(refers)) or (not target.kind and target.state is not None)


def _circles(job: Job) -> Iterator[Finding]:
    """Links that come back to where they began: of every kind, so that nothing rests on itself."""
    for start in job.everything:
        for rule, keys, words, cure in _ROUND:
            circle = _circle(job, start, keys)
            if circle:
                yield Finding(
                    rule,
                    Level.ERROR,
                    f"{words.format(start.key)}: {_chain([node.key for node in circle])}",
                    cure,
                    tuple(node.spot for node in dict.fromkeys((start, circle[-1]))),
                    ("electrical",) if "fed_from" in keys else own_trades(job, start),
                )


def _waiting(job: Job, start: Node) -> Iterator[Finding]:
    """An open decision that waits for itself through those that it waits for."""
    trail = [start]

    def back_at_the_start(node: Node) -> bool:
        for name in node.state.waits_for if node.state is not None else ():
            awaited = _decided(job, name)
            if awaited is start:
                return True
            if awaited is not None and awaited not in trail:
                trail.append(awaited)
                if back_at_the_start(awaited):
                    return True
                trail.pop()
        return False

    if back_at_the_start(start):
        yield Finding(
            "job.follows-from-itself",
            Level.ERROR,
            f"`{start.address}` waits for itself: {_chain([node.address for node in trail])}",
            "let one of them wait for nothing: it is decided first",
            tuple(node.spot for node in dict.fromkeys((start, trail[-1]))),
            trades_for(job, start.decision, thing_of(start)),
        )


def _decided(job: Job, name: str) -> Node | None:
    """What is awaited under this name: a decision, or the day on which a paper is there."""
    found = job.find(name)
    if found is None or found.state is not None:
        return found
    return found.find("when")


def _circle(job: Job, start: Node, keys: Collection[str]) -> list[Node]:
    """The things from one back to itself by these links; empty where they lead elsewhere."""
    seen = [start]
    while True:
        values = [link.value for key in keys if (link := seen[-1].find(key)) is not None]
        named = [job.find(value) for value in values if isinstance(value, str)]
        if not named or named[0] is None:
            return []
        if named[0] is start:
            return seen
        if named[0] in seen:
            return []
        seen.append(named[0])


def _chain(circle: list[str]) -> str:
    return " → ".join((*circle, circle[0]))
