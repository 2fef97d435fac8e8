"""Lights: lengths of strip, power by luminaire, driver, dimmer and room, voltage lost."""

from __future__ import annotations

import math

from spec.derive.figure import COMMON_PRACTICE, Facts, Part, Worked, figure
from spec.derive.formulas import low_voltage
from spec.derive.formulas.range import NotCovered
from spec.derive.sheets import kinds
from spec.derive.sheets.dividing import over
from spec.derive.sheets.wires import resistance
from spec.job.job import Job
from spec.job.node import Node, Open

LUMINAIRES = (
    "downlight",
    "spot",
    "pendant",
    "chandelier",
    "wall_light",
    "picture_light",
    "step_light",
    "table_lamp",
    "emergency_light",
)
"""Kinds of light that state their power in watts; strips state it by length."""


def fed_by(job: Job, *sources: str) -> dict[str, list[Node]]:
    """What hangs directly on each thing, by the mark of the thing; only what names its feed.

    With `sources`, the kinds of things that are asked for.
    """
    found: dict[str, list[Node]] = {}
    for thing in job.everything:
        leaf = thing.find("fed_from")
        if leaf is None or leaf.value is None or (sources and thing.kind not in sources):
            continue
        found.setdefault(str(leaf.value), []).append(thing)
    return found


def strips_on(job: Job, driver: Node) -> list[Node]:
    """The strips that a driver feeds."""
    return fed_by(job, "strip").get(driver.key, [])


@figure(
    "lighting.length",
    title="Length of the strip",
    dimension="length",
    formula="sum of the pieces along which it runs; round a corner piece along its front curve, "
    "π/2 (turns - depth)",
    source="geometry",
    per=kinds.of_kind("strip"),
    trades=("electrical",),
)
def length(facts: Facts, strip: Node) -> Worked:
    """Length of all pieces of a strip together."""
    if kinds.says(strip, "pieces"):
        value = strip.quantity("pieces")
        pieces = value if isinstance(value, tuple) else getattr(value, "values", (value,))
        parts = tuple(Part(f"piece {i}", p.si) for i, p in enumerate(pieces, 1))
    else:
        parts = tuple(_along(facts, strip, name) for name in strip.words("along"))
    return Worked(sum(part.value for part in parts), parts)


def _along(facts: Facts, strip: Node, name: str) -> Part:
    thing = facts.job.thing(name)
    if thing is None:
        raise Open(strip.at("along").address)
    piece = facts.places.piece(thing)
    if piece is None:
        return Part(name, facts.places.rect(thing).rect.width, thing.address)
    if thing.kind != "curved_corner":
        return Part(name, piece.width, thing.address)
    if piece.depth is None:
        raise Open(f"{thing.address}.depth")
    turns = thing.si("turns")
    radius = min(piece.width, turns) - piece.depth
    straight = piece.width + turns - 2.0 * min(piece.width, turns)
    return Part(name, straight + math.pi / 2.0 * radius, thing.address)


@figure(
    "lighting.load",
    title="Power of the strip",
    dimension="power",
    formula="length x power by length",
    source="definition",
    per=kinds.of_kind("strip"),
    trades=("electrical",),
)
def strip_load(facts: Facts, strip: Node) -> float:
    """Power of a strip at full brightness."""
    return low_voltage.strip_load(facts.figures.value("lighting.length", strip), strip.si("watts"))


@figure(
    "lighting.longest_feed",
    title="Strip over its longest run",
    dimension="percent",
    formula="length of the longest piece fed from one end / the maker's longest run",
    source="the maker's limit",
    holds="fed at one end; above 1 it is fed at both, or in two",
    per=kinds.of_kind("strip", having="longest_run"),
    trades=("electrical",),
)
def longest_feed(facts: Facts, strip: Node) -> float:
    """How much of the maker's longest run one feed uses."""
    whole = facts.figures.value("lighting.length", strip)
    if kinds.says(strip, "pieces"):
        whole = max(part.value for part in facts.figures.get("lighting.length", strip).parts)
    return over(whole, strip.si("longest_run"), "longest run of the strip", "m")


@figure(
    "lighting.power",
    title="Power of the luminaires under this mark",
    dimension="power",
    formula="power of each x how many",
    source="sum",
    per=kinds.of_kind(*LUMINAIRES, having="watts"),
    trades=("electrical",),
)
def power(facts: Facts, light: Node) -> Worked:
    """Power of all luminaires that a mark stands for."""
    many = facts.places.how_many(light)
    if light.kind == "downlight":
        many *= light.count("lamps", 1)
    return Worked(light.si("watts") * many, given=(("how many", float(many), "count"),))


def power_of(facts: Facts, light: Node) -> float:
    """Power of a light of any kind [W]."""
    if light.kind == "strip":
        return facts.figures.value("lighting.load", light)
    return facts.figures.value("lighting.power", light)


@figure(
    "lighting.connected",
    title="Lights in the room",
    dimension="power",
    formula="sum of the luminaires and strips in the room",
    source="sum",
    per=kinds.rooms,
    trades=("electrical",),
)
def connected(facts: Facts, room: Node) -> Worked:
    """Power of all lights in a room; drivers' losses are counted where the drivers sit."""
    parts = [
        Part(light.key, power_of(facts, light), light.address)
        for light in kinds.under(room)
        if light.kind == "strip" or (light.kind in LUMINAIRES and kinds.says(light, "watts"))
    ]
    return Worked(sum(p.value for p in parts), tuple(parts))


@figure(
    "lighting.support_needed",
    title="What carries the light is rated for",
    dimension="mass",
    formula="weight x (1 + reserve)",
    source=f"{COMMON_PRACTICE}; reserve of the house standards",
    holds="where it hangs from more than a box",
    per=lambda job: [
        light
        for light in job.things("pendant", "chandelier", "spot", "wall_light")
        if kinds.says(light, "weight") and light.si("weight", 0.0) > job.limit("box.supports")
    ],
    trades=("electrical", "framing"),
)
def support_needed(facts: Facts, light: Node) -> float:
    """Rated strength of what a heavy light hangs from."""
    return light.si("weight") * (1.0 + facts.job.limit("fixing.reserve"))


# ------------------------------------------------------------------ drivers


@figure(
    "lighting.driver_load",
    title="Load of the driver",
    dimension="power",
    formula="sum of the strips that it feeds",
    source="sum",
    per=kinds.of_kind("driver"),
    trades=("electrical",),
)
def driver_load(facts: Facts, driver: Node) -> Worked:
    """Power of all strips on a driver."""
    parts = []
    for strip in strips_on(facts.job, driver):
        strip.word("fed_from")
        parts.append(Part(strip.key, facts.figures.value("lighting.load", strip), strip.address))
    if not parts:
        raise NotCovered("no strip names this driver as its feed")
    return Worked(sum(p.value for p in parts), tuple(parts))


@figure(
    "lighting.supply_needed",
    title="Smallest driver",
    dimension="power",
    formula="load / (1 - headroom)",
    source=f"{COMMON_PRACTICE}; headroom of the house standards",
    per=kinds.of_kind("driver"),
    trades=("electrical",),
)
def supply_needed(facts: Facts, driver: Node) -> float:
    """Rated power at which the headroom is kept."""
    return low_voltage.smallest_supply(
        facts.figures.value("lighting.driver_load", driver), facts.job.limit("driver.headroom")
    )


@figure(
    "lighting.headroom",
    title="Headroom of the driver",
    dimension="percent",
    formula="1 - load / rated power",
    source="division; below 0 it is overloaded",
    per=kinds.of_kind("driver", having="power"),
    trades=("electrical",),
)
def headroom(facts: Facts, driver: Node) -> float:
    """Share of the driver's rating that is left unused."""
    load = facts.figures.value("lighting.driver_load", driver)
    return 1.0 - over(load, driver.si("power"), "rated power of the driver", "W")


@figure(
    "lighting.drop",
    title="Voltage lost between driver and strip",
    dimension="percent",
    formula="2 r L I / U; r in Ω/m, with the current of all strips",
    source="Ohm's law; copper at 75 °C (American sizes), 70 °C by IEC 60364-5-52 annex G",
    holds="the loss along the strip is within the maker's longest run",
    per=kinds.of_kind("driver", having="cable.length"),
    trades=("electrical",),
)
def drop(facts: Facts, driver: Node) -> Worked:
    """Share of the supply's voltage lost in the driver's cable."""
    volts = driver.si("voltage")
    load = facts.figures.value("lighting.driver_load", driver)
    current = over(load, volts, "voltage of the driver", "V")
    ohms = resistance(facts.job, driver.at("cable"), "conductor")
    length = driver.si("cable.length")
    lost = 2.0 * ohms * length * current
    if lost >= volts:
        raise NotCovered("nothing arrives at the end of this cable")
    return Worked(
        lost / volts,
        given=(
            ("r", ohms, "Ω/m"),
            ("L", length, "length"),
            ("I", current, "current"),
            ("U", volts, "voltage"),
            ("lost", lost, "voltage"),
        ),
    )


@figure(
    "lighting.driver_input",
    title="Power that the driver draws",
    dimension="power",
    formula="load / efficiency",
    source="definition; the difference is heat where the driver sits",
    per=kinds.of_kind("driver", having="efficiency"),
    trades=("electrical",),
)
def driver_input(facts: Facts, driver: Node) -> Worked:
    """Power at the driver's input with all strips at full brightness."""
    out = facts.figures.value("lighting.driver_load", driver)
    drawn = low_voltage.supply_input(out, driver.si("efficiency"))
    return Worked(drawn, given=(("heat", drawn - out, "power"),))


# ------------------------------------------------------------------ dimmers


@figure(
    "lighting.dimmer_load",
    title="Load on the dimmer",
    dimension="power",
    formula="sum of the luminaires and of the drivers' inputs that it feeds",
    source="sum",
    per=lambda job: [
        d for d in job.things("dimmer") if fed_by(job, "driver", *LUMINAIRES).get(d.key)
    ],
    trades=("electrical",),
)
def dimmer_load(facts: Facts, dimmer: Node) -> Worked:
    """Power that a dimmer controls."""
    parts = []
    for thing in fed_by(facts.job, "driver", *LUMINAIRES).get(dimmer.key, []):
        thing.word("fed_from")
        parts.append(Part(thing.key, input_of(facts, thing), thing.address))
    return Worked(sum(p.value for p in parts), tuple(parts))


def input_of(facts: Facts, thing: Node) -> float:
    """What a luminaire or a driver draws from its circuit [W]."""
    if thing.kind != "driver":
        return power_of(facts, thing)
    if kinds.says(thing, "efficiency"):
        return facts.figures.value("lighting.driver_input", thing)
    return facts.figures.value("lighting.driver_load", thing)
