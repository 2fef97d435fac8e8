"""The way of the power: from what draws it, by control and circuit, to the panelboard."""

from __future__ import annotations

from collections.abc import Iterator

from spec.job.job import Job
from spec.job.node import Node

CONTROLS = ("dimmer", "switch", "keypad", "sensor", "contact", "push", "decoder")
LUMINAIRES = (
    "downlight",
    "spot",
    "pendant",
    "chandelier",
    "strip",
    "wall_light",
    "picture_light",
    "step_light",
)
MACHINES = (
    "evaporator",
    "condensing_unit",
    "cooling_unit",
    "condensate_pump",
    "humidifier",
    "fan",
    "heater",
    "refrigerator",
    "wine_refrigerator",
    "freezer",
    "ice_maker",
)


def upstream(job: Job, thing: Node) -> tuple[Node, ...]:
    """What feeds a thing, one step after the other, as far as `fed_from` leads; a loop ends it."""
    found: list[Node] = []
    at: Node | None = thing
    while at is not None:
        if not at.has("fed_from"):
            break
        at = job.thing(at.word("fed_from"))
        if at is None or at in found or at is thing:
            break
        found.append(at)
    return tuple(found)


def circuit_of(job: Job, thing: Node) -> Node | None:
    """The circuit that a thing hangs on in the end."""
    return next((node for node in upstream(job, thing) if node.kind == "circuit"), None)


def controls_of(job: Job, thing: Node) -> tuple[Node, ...]:
    """What switches or dims a thing: on the way of its power, or named in `controlled_by`."""
    on_the_way = upstream(job, thing)
    named: list[Node] = []
    for node in (thing, *on_the_way):
        for name in node.words("controlled_by", ()) if node.find("controlled_by") else ():
            other = job.thing(name)
            if other is not None:
                named.append(other)
    return tuple(n for n in (*on_the_way, *named) if n.kind in CONTROLS)


def fed_from(job: Job, source: Node) -> Iterator[Node]:
    """The things that say that this one feeds them."""
    for thing in job.everything:
        link = thing.find("fed_from")
        if link is not None and link.value == source.key:
            yield thing


def on_circuit(job: Job, circuit: Node) -> Iterator[Node]:
    """Everything that hangs on a circuit in the end."""
    for thing in job.everything:
        if thing.find("fed_from") is not None and circuit_of(job, thing) is circuit:
            yield thing
