"""Wire boxes: the least volume that their wires and devices need, and what is left."""

from __future__ import annotations

from spec.derive.figure import Facts, Part, Worked, figure
from spec.derive.formulas import boxes
from spec.derive.formulas.range import NotCovered
from spec.derive.sheets import kinds
from spec.derive.sheets.dividing import over
from spec.derive.sheets.wires import wire
from spec.job.job import Job
from spec.job.node import Node


def _boxed(job: Job) -> list[Node]:
    """Devices on American wire in a box that is known, and fed from a circuit."""
    return [
        device
        for device in job.things("receptacle", "plate", "dimmer", "switch")
        if kinds.says(device, "box") and device.heading == "devices" and job.system == "imperial"
    ]


@figure(
    "electrical.box_fill",
    title="Least volume of the box",
    dimension="volume",
    formula="allowance x (conductors + 2 x devices + clamps + grounds); clamps 1 for all, grounds "
    "1 up to four and 1/4 for each more; allowance by the table for each size of wire",
    source="NEC 2023 314.16(B): check the adopted edition",
    holds="one cable in; one out for each dimmer or switch, or from a receptacle to the next",
    per=_boxed,
    trades=("electrical",),
)
def box_fill(facts: Facts, device: Node) -> Worked:
    """Least volume of a box by the cables that usually enter it."""
    gangs = device.group("left_to_right") or (device,)
    circuit = _circuit_of(facts, gangs[0])
    gauge = wire(circuit, "conductor").gauge
    if gauge is None:
        raise NotCovered("box fill is reckoned in American sizes; this conductor is metric")
    out = sum(1 for gang in gangs if gang.kind != "blank")
    found = boxes.fill({gauge: 2 + 2 * out}, [gauge] * out, {gauge: 1 + out}, clamps=True)
    return Worked(
        found.needed,
        tuple(Part(name, volume) for name, volume in found.parts),
        (("cables out", float(out), "count"),),
    )


@figure(
    "electrical.box_left",
    title="Volume left in the box",
    dimension="percent",
    formula="1 - least volume / volume of the box",
    source="division; below 0 the box is too small",
    per=_boxed,
    trades=("electrical",),
)
def box_left(facts: Facts, device: Node) -> float:
    """Share of the box's volume that is left."""
    box = facts.job.thing(device.word("box"))
    if box is None:
        raise NotCovered("the box is no product of the job or the house")
    needed = facts.figures.value("electrical.box_fill", device)
    return 1.0 - over(needed, box.si("volume"), "volume of the box", "m³")


def _circuit_of(facts: Facts, thing: Node) -> Node:
    """The circuit at the head of what a thing is fed from."""
    seen: set[str] = set()
    node = thing
    while node.kind != "circuit":
        if node.key in seen:
            raise NotCovered(f"{thing.key} is fed in a circle")
        seen.add(node.key)
        upper = facts.job.thing(node.word("fed_from"))
        if upper is None:
            raise NotCovered(f"{node.key} is fed from nothing that is known")
        node = upper
    return node
