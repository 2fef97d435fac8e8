"""Lights: control, dimming, color, support, damp rooms, drivers."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.check.worked import known, worked
from spec.derive.sheets import kinds
from spec.finding import Level
from spec.job import feeds
from spec.job.node import Open
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
        L1: {is: downlight, watts: 8 W, color: 2700 K, dimming: DIMMING, rating: damp, fed_from: SOURCE}
        L2: {is: pendant, watts: 40 W, color: COLOR, dimming: phase, rating: damp, fed_from: S1, bottom: HIGH, weight: HEAVY}
"""
_GOOD = (
    _LAMP.replace("USE", "tasting")
    .replace("MOST", "150 W")
    .replace("DIMMING", "phase")
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
    trades=("electrical",),
    why="A light without a switch burns until the breaker is thrown.",
    bad=_GOOD.replace("rating: damp, fed_from: S1}", "rating: damp, fed_from: C1}"),
    good=_GOOD,
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
    bad=_GOOD.replace("dimming: phase, rating: damp, fed_from: S1}", "dimming: dali, rating: damp, fed_from: S1}"),
    good=_GOOD,
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
    if isinstance(own.value, Quantity) and isinstance(other.value, Quantity):
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
    bad=_STRIP.replace("VOLT", "24 V").replace("POWER", "60 W, cable: {conductor: 18 AWG copper, length: 80 ft}"),
    good=_STRIP.replace("VOLT", "24 V").replace("POWER", "60 W, cable: {conductor: 12 AWG copper, length: 10 ft}"),
)
def dark_at_the_end(facts: Facts) -> Iterator[Said]:
    """More voltage is lost between a driver and its strips than the house allows."""
    most = facts.job.limit("strip.voltage_drop")
    for driver, lost in worked(facts, "lighting.drop"):
        if lost > most:
            system = facts.job.system
            yield said(
                driver.at("cable"),
                f"{show(lost, 'percent', system)} of the voltage is lost on the way from {driver.key} to "
                f"its strips; the house allows {show(most, 'percent', system)}",
                "take a thicker cable, or move the driver nearer",
                *feeds.fed_from(facts.job, driver),
            )


@rule(
    "lighting.dimmer-overloaded",
    level=Level.ERROR,
    trades=("electrical",),
    why="A dimmer above its greatest load overheats in its box; one below its least flickers.",
    each=("dimmer",),
    bad=_GOOD.replace("150 W", "30 W"),
    good=_GOOD,
)
def dimmer_overloaded(facts: Facts, dimmer: Node) -> Iterator[Said]:
    """More hangs on a dimmer than it takes, or less than it needs."""
    load = known(facts, "lighting.dimmer_load", dimmer)
    if not load:
        return
    for key, wrong, words in (
        ("most", lambda limit: load > limit, "takes at most"),
        ("least", lambda limit: load < limit, "needs at least"),
    ):
        limit = dimmer.find(key)
        if limit is not None and isinstance(limit.value, Quantity) and wrong(limit.value.si):
            lights = [t for t in feeds.fed_from(facts.job, dimmer)]
            yield said(
                limit,
                f"{', '.join(t.key for t in lights)} on {dimmer.key} are "
                f"{show(load, 'power', facts.job.system)}; it {words} {limit.written}",
                "choose another dimmer, or spread the lights over two",
                *(f"{t.address}.{'power' if t.kind == 'driver' else 'watts'}" for t in lights),
            )


@rule(
    "lighting.color-temperature-differs",
    level=Level.WARNING,
    trades=("electrical",),
    why="Two whites side by side make the one look yellow and the other blue.",
    each=("room",),
    bad=_GOOD.replace("watts: 40 W, color: 2700 K", "watts: 40 W, color: 4000 K"),
    good=_GOOD,
)
def color_temperature_differs(facts: Facts, room: Node) -> Iterator[Said]:
    """Lights of one room differ in color by more than the house allows."""
    most = facts.job.limit("color.difference")
    lights: list[tuple[Node, Node]] = []
    for light in facts.job.things(*feeds.LUMINAIRES):
        color = light.find("color")
        if light.room == room.key and color is not None and isinstance(color.value, Quantity):
            lights.append((light, color))
    by_color: dict[float, list[tuple[Node, Node]]] = {}
    for light, color in lights:
        by_color.setdefault(light.si("color"), []).append((light, color))
    if len(by_color) < 2:
        return
    usual = max(by_color, key=lambda kelvin: len(by_color[kelvin]))
    for kelvin, odd in by_color.items():
        if abs(kelvin - usual) <= most:
            continue
        others = by_color[usual]
        yield said(
            odd[0][1],
            f"{', '.join(light.key for light, _ in odd)} in {room.key} are {odd[0][1].written}, "
            f"{', '.join(light.key for light, _ in others)} {others[0][1].written}",
            "choose one color, or waive it with the client's name",
            *(color for _, color in odd[1:]),
            *(color for _, color in others),
            *(light for light, _ in (*odd, *others)),
        )


@rule(
    "lighting.not-as-asked",
    level=Level.WARNING,
    trades=("electrical",),
    why="The client said how the light should look; the lamps say something else.",
    bad="job: {asked_for: {look: {light_color: 3000 K}}}\n" + _GOOD.strip(),
    good="job: {asked_for: {look: {light_color: 2700 K}}}\n" + _GOOD.strip(),
)
def not_as_asked(facts: Facts) -> Iterator[Said]:
    """Most lights of the job have another color than the client asked for."""
    asked = facts.job.find("job.asked_for.look.light_color")
    if asked is None or not isinstance(asked.value, Quantity):
        return
    most = facts.job.limit("color.difference")
    colors = [
        color
        for light in facts.job.things(*feeds.LUMINAIRES)
        if (color := light.find("color")) is not None and isinstance(color.value, Quantity)
    ]
    other = [c for c in colors if isinstance(c.value, Quantity) and abs(c.value.si - asked.value.si) > most]
    if len(other) > len(colors) - len(other):
        yield said(
            asked,
            f"the client asked for light of {asked.written}; {len(other)} of {len(colors)} lights have "
            f"another color, {other[0].address.split('.')[0]} {other[0].written}",
            "choose lamps of the color asked for, or ask again",
            other[0],
        )


@rule(
    "lighting.not-damp-rated",
    level=Level.ERROR,
    trades=("electrical",),
    why="Where condensation is usual, a luminaire for dry rooms fails, or bites.",
    source="NEC 410.10(A); cited from memory, check the adopted edition",
    bad=_GOOD.replace("use: tasting", "use: wine_storage").replace("rating: damp, fed_from: S1}", "rating: dry, fed_from: S1}"),
    good=_GOOD.replace("use: tasting", "use: wine_storage"),
)
def not_damp_rated(facts: Facts) -> Iterator[Said]:
    """A luminaire in a cooled room is rated for dry rooms only."""
    for light in facts.job.things(*feeds.LUMINAIRES):
        rating = light.find("rating")
        room = facts.job.thing(light.room)
        if rating is None or rating.value != "dry" or room is None or not kinds.is_cooled(room):
            continue
        yield said(
            rating,
            f"{light.key} in the cooled {room.key.replace('_', ' ')} is rated for dry rooms",
            "choose one that is rated damp",
            f"{room.address}.climate.temperature",
        )


@rule(
    "lighting.not-for-insulation",
    level=Level.ERROR,
    trades=("electrical", "insulation"),
    why="A recessed light that may not touch insulation burns a hole into it, or leaves one round it.",
    source="NEC 410.116; IECC R402.4.5; cited from memory, check the adopted edition",
    each=("downlight",),
    bad="""
rooms: {wine_room: {use: wine_storage, ceiling: {lights: {L1: {is: downlight, contact_rated: no, air_tight: yes}}}}}
""",
    good="""
rooms: {wine_room: {use: wine_storage, ceiling: {lights: {L1: {is: downlight, contact_rated: yes, air_tight: yes}}}}}
""",
)
def not_for_insulation(facts: Facts, light: Node) -> Iterator[Said]:
    """A recessed light in the ceiling of a cooled room is not rated for contact, or not air-tight."""
    room = facts.job.thing(light.room)
    if room is None or not kinds.is_cooled(room) or not light.surface.endswith("ceiling"):
        return
    for key, words in (("contact_rated", "may not touch insulation"), ("air_tight", "lets air through")):
        leaf = light.find(key)
        if leaf is not None and leaf.value is False:
            yield said(
                leaf,
                f"{light.key} {words} and sits in the insulated ceiling of {room.key}",
                "choose one that is rated for contact and air-tight",
                f"{room.address}.ceiling.assembly",
            )


@rule(
    "lighting.hangs-too-low",
    level=Level.ERROR,
    trades=("electrical",),
    why="A light that hangs lower than a door is met by heads.",
    each=("pendant", "chandelier"),
    bad=_GOOD.replace("84 in", "70 in"),
    good=_GOOD,
)
def hangs_too_low(facts: Facts, light: Node) -> Iterator[Said]:
    """A hanging light is lower than the house's clear height, and hangs over no furniture."""
    bottom = light.find("bottom")
    least = facts.job.threshold("hanging.clear")
    if bottom is None or not isinstance(bottom.value, Quantity) or bottom.value.si >= least.si:
        return
    if not _over_furniture(facts, light):
        yield said(
            bottom,
            f"{light.key} hangs down to {bottom.written} above the floor; the house keeps "
            f"{least.written} clear",
            "hang it higher, or over a table that stands there for good",
        )


def _over_furniture(facts: Facts, light: Node) -> bool:
    """A table of the room stands, or comes back, under the light."""
    for thing in facts.job.things("table", "furniture", "bench"):
        to = thing.find("to.surface")
        there = str(to.value).partition(".")[0] if to is not None else thing.room
        if there == light.room:
            return True
    return False


@rule(
    "lighting.too-heavy-for-its-support",
    level=Level.ERROR,
    trades=("electrical", "framing"),
    why="A box carries what its label says; a chandelier beyond it hangs from the structure.",
    source="NEC 314.27(A)(2), boxes for 50 lb unless marked; cited from memory",
    each=("pendant", "chandelier", "spot", "wall_light"),
    bad=_GOOD.replace("12 lb", "85 lb"),
    good=_GOOD,
)
def too_heavy_for_its_support(facts: Facts, light: Node) -> Iterator[Said]:
    """A hanging light is heavier than a box carries, and no backing is rated for it."""
    weight = light.find("weight")
    most = facts.job.threshold("box.supports")
    if weight is None or not isinstance(weight.value, Quantity) or weight.value.si <= most.si:
        return
    backing = next((b for b in facts.job.things("backing") if light.key in b.words("for", ())), None)
    rated = backing.find("rated") if backing is not None else None
    if backing is None:
        yield said(
            weight,
            f"{light.key} weighs {weight.written}; a box carries {most.written} and no backing is for it",
            f"add a backing with `for: [{light.key}]` and what it is rated for",
        )
    elif rated is None:
        yield said(
            f"{backing.address}.rated",
            f"{light.key} weighs {weight.written} and nothing says what {backing.key} is rated for",
            f"write `rated` at {backing.key}",
            weight,
        )
    elif isinstance(rated.value, Quantity) and rated.value.si < weight.value.si:
        yield said(
            weight,
            f"{light.key} weighs {weight.written}, {backing.key} is rated for {rated.written}",
            "strengthen the backing",
            rated,
        )


@rule(
    "lighting.gap-too-low",
    level=Level.ERROR,
    trades=("millwork", "electrical"),
    why="A strip in a slot that is too low draws a bright line on the ceiling in place of a glow.",
    each=("strip",),
    bad="""
rooms:
  wine_room:
    stacks: {racks: {bottom_to_top: {lower: {is: racks, height: 80 in, depth: 14 in}, light_gap: {is: gap, height: 1 in}}}}
    walls_clockwise:
      WA: {millwork: {lower: {left_to_right: {R1: {width: 2 ft}}}}, lights: {LS1: {is: strip, along: [R1], tier: light_gap, shines: up}}}
""",
    good="""
rooms:
  wine_room:
    stacks: {racks: {bottom_to_top: {lower: {is: racks, height: 80 in, depth: 14 in}, light_gap: {is: gap, height: 3 in}}}}
    walls_clockwise:
      WA: {millwork: {lower: {left_to_right: {R1: {width: 2 ft}}}}, lights: {LS1: {is: strip, along: [R1], tier: light_gap, shines: up}}}
""",
)
def gap_too_low(facts: Facts, strip: Node) -> Iterator[Said]:
    """The gap in which a strip shines up is lower than the house's least."""
    if strip.word("shines", "") != "up" or strip.find("tier") is None:
        return
    least = facts.job.limit("light_gap.height")
    for stack in facts.job.things("stack"):
        tier = stack.find(strip.word("tier"))
        pieces = strip.words("along", ())
        room = next((t.room for name in pieces if (t := facts.job.thing(name)) is not None), strip.room)
        if tier is None or stack.room != room or tier.find("height") is None:
            continue
        try:
            height = tier.si("height")
        except Open:
            continue
        if height < least:
            yield said(
                strip.at("tier"),
                f"{strip.key} shines up from `{tier.key}`, which is {tier.text('height')} high; the "
                f"house asks for {show(least, 'length', facts.job.system)}",
                f"raise `{tier.key}` and lower another tier",
                tier.at("height"),
            )
