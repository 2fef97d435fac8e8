"""Lights: control, dimming, color, support, damp rooms, drivers."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.check.worked import known, worked
from spec.finding import Level
from spec.job import feeds
from spec.quantity import Quantity, show

_LAMP = """
circuits: {C1: {breaker: 15 A}}
rooms:
  tasting_room:
    use: USE
    climate: {temperature: 13 °C, humidity: 60 %}
    walls_clockwise:
      TA: {devices: {S1: {is: dimmer, dimming: phase, least: 3 W, most: MOST, fed_from: C1}}}
    ceiling:
      lights:
        L1: {is: downlight, watts: 8 W, color: 2700 K, dimming: DIMMING, rating: RATED,
            fed_from: SOURCE}
        L2: {is: pendant, watts: 40 W, color: COLOR, dimming: phase, rating: damp, fed_from: S1,
            bottom: HIGH, weight: HEAVY}
"""
GOOD = (
    _LAMP.replace("USE", "tasting")
    .replace("MOST", "150 W")
    .replace("DIMMING", "phase")
    .replace("RATED", "damp")
    .replace("SOURCE", "S1")
    .replace("COLOR", "2700 K")
    .replace("HIGH", "84 in")
    .replace("HEAVY", "12 lb")
)
_STRIP = """
circuits: {C1: {breaker: 15 A}}
rooms:
  tasting_room:
    walls_clockwise:
      TA:
        devices: {S1: {is: dimmer, dimming: phase, fed_from: C1}}
        lights: {LS1: {is: strip, pieces: [10 ft], watts: 4 W/ft, voltage: VOLT, fed_from: PS1}}
        drivers: {PS1: {power: POWER, voltage: 24 V, dimming: phase, fed_from: S1}}
"""


@rule(
    "lighting.no-control",
    level=Level.ERROR,
    silence=True,
    trades=("electrical",),
    why="A light without a switch burns until the breaker is thrown.",
    bad=GOOD.replace("            fed_from: S1}", "            fed_from: C1}"),
    good=GOOD,
)
def no_control(facts: Facts) -> Iterator[Said]:
    """Nothing on the way of a luminaire's power switches or dims it."""
    for light in facts.job.things(*feeds.LUMINAIRES):
        if light.find("fed_from") is None or light.word("state", "new") == "existing":
            continue
        way = feeds.upstream(facts.job, light)
        if not way or feeds.controls_of(facts.job, light):
            continue
        if way[-1].kind != "circuit" or any(node.kind == "receptacle" for node in way):
            continue
        yield said(
            light.at("fed_from"),
            f"{light.key} is fed by {' → '.join(n.key for n in way)}: nothing switches it",
            "feed it from a dimmer or a switch",
            *way,
        )


@rule(
    "lighting.dimming-differs",
    level=Level.ERROR,
    trades=("electrical",),
    why="A lamp, a driver and a dimmer that do not speak the same method flicker, hum or burn.",
    bad=GOOD.replace(
        "2700 K, dimming: phase, rating: damp,\n", "2700 K, dimming: dali, rating: damp,\n"
    ),
    good=GOOD,
)
def dimming_differs(facts: Facts) -> Iterator[Said]:
    """A luminaire or driver is dimmed by another method than what controls it."""
    for thing in facts.job.things(*feeds.LUMINAIRES, "driver"):
        own = thing.find("dimming")
        if own is None or own.value is None:
            continue
        for control in feeds.controls_of(facts.job, thing):
            other = control.find("dimming")
            if other is None or other.value is None or _agree(str(own.value), str(other.value)):
                continue
            yield said(
                own,
                f"{thing.key} is dimmed by {own.written.replace('_', ' ')}, {control.key} dims by "
                f"{other.written.replace('_', ' ')}",
                "choose a driver or a dimmer of the other's method",
                other,
            )


_PHASE = frozenset({"phase", "leading_edge", "trailing_edge"})


def _agree(one: str, other: str) -> bool:
    return one == other or ("phase" in (one, other) and {one, other} <= _PHASE)


@rule(
    "lighting.voltage-differs",
    level=Level.ERROR,
    trades=("electrical",),
    why="A strip on the wrong voltage stays dark or burns.",
    each=("strip",),
    bad=_STRIP.replace("VOLT", "12 V").replace("POWER", "60 W"),
    good=_STRIP.replace("VOLT", "24 V").replace("POWER", "60 W"),
)
def voltage_differs(facts: Facts, strip: Node) -> Iterator[Said]:
    """A strip has another voltage than its driver."""
    driver = facts.job.thing(strip.word("fed_from", ""))
    own, other = strip.find("voltage"), driver.find("voltage") if driver is not None else None
    if driver is None or own is None or other is None or driver.kind != "driver":
        return
    if not isinstance(own.value, Quantity) or not isinstance(other.value, Quantity):
        return
    if abs(own.value.si - other.value.si) > 0.5:
        yield said(
            own,
            f"{strip.key} runs on {own.written}, its driver {driver.key} gives {other.written}",
            "choose strip and driver of one voltage",
            other,
        )


@rule(
    "lighting.driver-too-small",
    level=Level.ERROR,
    trades=("electrical",),
    why="A driver at its rating gets hot in its cabinet and fails in two years.",
    bad=_STRIP.replace("VOLT", "24 V").replace("POWER", "45 W"),
    good=_STRIP.replace("VOLT", "24 V").replace("POWER", "60 W"),
)
def driver_too_small(facts: Facts) -> Iterator[Said]:
    """The strips of a driver leave less than the house's headroom."""
    least = facts.job.limit("driver.headroom")
    for driver, headroom in worked(facts, "lighting.headroom"):
        if headroom < least - 1e-9:
            system = facts.job.system
            strips = [t.key for t in feeds.fed_from(facts.job, driver)]
            load = known(facts, "lighting.driver_load", driver) or 0.0
            needed = known(facts, "lighting.supply_needed", driver) or 0.0
            yield said(
                driver.at("power"),
                f"{driver.key} gives {driver.text('power')}, {', '.join(strips)} take "
                f"{show(load, 'power', system)}; with the house's headroom it takes "
                f"{show(needed, 'power', system)}",
                "choose a larger driver, or split the strips",
                *strips,
            )


@rule(
    "lighting.dark-at-the-end",
    level=Level.WARNING,
    trades=("electrical",),
    why="A long thin cable to a strip makes its far end dim and warm in color.",
    bad=_STRIP.replace("VOLT", "24 V").replace(
        "POWER", "60 W, cable: {conductor: 18 AWG copper, length: 80 ft}"
    ),
    good=_STRIP.replace("VOLT", "24 V").replace(
        "POWER", "60 W, cable: {conductor: 12 AWG copper, length: 10 ft}"
    ),
)
def dark_at_the_end(facts: Facts) -> Iterator[Said]:
    """More voltage is lost between a driver and the far end of its strips than the house allows."""
    most = facts.job.limit("strip.voltage_drop")
    for driver, lost in worked(facts, "lighting.drop"):
        if lost > most:
            system = facts.job.system
            yield said(
                driver.at("cable"),
                f"{show(lost, 'percent', system)} of the voltage is lost on the way from "
                f"{driver.key} to "
                f"its strips; the house allows {show(most, 'percent', system)}",
                "take a thicker cable, or move the driver nearer",
                *feeds.fed_from(facts.job, driver),
            )
    for strip, lost in worked(facts, "lighting.far_end"):
        source = facts.job.thing(strip.word("fed_from"))
        if lost > most and source is not None and not _told(facts, source, most):
            yield said(
                strip,
                f"{show(lost, 'percent', facts.job.system)} of the voltage is lost from "
                f"{source.key} to the far end of {strip.key}; the house allows "
                f"{show(most, 'percent', facts.job.system)}",
                "feed it at both ends or in its middle, take a thicker cable, or move the driver "
                "nearer",
                strip.find("cable") or source.at("cable"),
                strip.at("end_drop"),
            )


def _told(facts: Facts, driver: Node, most: float) -> bool:
    """The cable alone loses too much, which is said at the driver."""
    lost = known(facts, "lighting.drop", driver)
    return lost is not None and lost > most


@rule(
    "lighting.dimmer-overloaded",
    level=Level.ERROR,
    trades=("electrical",),
    why="A dimmer above its greatest load overheats in its box; one below its least flickers.",
    each=("dimmer",),
    bad=GOOD.replace("150 W", "30 W"),
    good=GOOD,
)
def dimmer_overloaded(facts: Facts, dimmer: Node) -> Iterator[Said]:
    """More hangs on a dimmer than it takes, or less than it needs."""
    load = known(facts, "lighting.dimmer_load", dimmer)
    if not load:
        return
    for key, words in (("most", "takes at most"), ("least", "needs at least")):
        limit = dimmer.find(key)
        if limit is None or not isinstance(limit.value, Quantity):
            continue
        over = load - limit.value.si
        if over > 0 if key == "most" else over < 0:
            lights = list(feeds.fed_from(facts.job, dimmer))
            yield said(
                limit,
                f"{', '.join(t.key for t in lights)} on {dimmer.key} are "
                f"{show(load, 'power', facts.job.system)}; it {words} {limit.written}",
                "choose another dimmer, or spread the lights over two",
                *(f"{t.address}.{'power' if t.kind == 'driver' else 'watts'}" for t in lights),
            )
