"""Lights where they are: in damp rooms, in insulation, over heads, side by side."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.check.rules.lighting.lights import GOOD
from spec.derive.sheets import kinds
from spec.finding import Level
from spec.job import feeds
from spec.job.node import Open
from spec.quantity import Quantity, show


@rule(
    "lighting.color-temperature-differs",
    level=Level.WARNING,
    trades=("electrical",),
    why="Two whites side by side make the one look yellow and the other blue.",
    each=("room",),
    bad=GOOD.replace("watts: 40 W, color: 2700 K", "watts: 40 W, color: 4000 K"),
    good=GOOD,
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
    bad="job: {asked_for: {look: {light_color: 3000 K}}}\n" + GOOD.strip(),
    good="job: {asked_for: {look: {light_color: 2700 K}}}\n" + GOOD.strip(),
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
    other = [
        c
        for c in colors
        if isinstance(c.value, Quantity) and abs(c.value.si - asked.value.si) > most
    ]
    if len(other) > len(colors) - len(other):
        yield said(
            asked,
            f"the client asked for light of {asked.written}; {len(other)} of "
            f"{len(colors)} lights have "
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
    bad=GOOD.replace("use: tasting", "use: wine_storage").replace(
        "rating: damp,\n", "rating: dry,\n"
    ),
    good=GOOD.replace("use: tasting", "use: wine_storage"),
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
    why="A recessed light that may not touch insulation burns a hole into it, or leaves one "
    "round it.",
    source="NEC 410.116; IECC R402.4.5; cited from memory, check the adopted edition",
    each=("downlight",),
    bad="""
rooms: {wine_room: {use: wine_storage, ceiling: {lights: {L1: {is: downlight, contact_rated: no,
    air_tight: yes}}}}}
""",
    good="""
rooms: {wine_room: {use: wine_storage, ceiling: {lights: {L1: {is: downlight, contact_rated: yes,
    air_tight: yes}}}}}
""",
)
def not_for_insulation(facts: Facts, light: Node) -> Iterator[Said]:
    """A recessed light of a cooled room is not rated for contact, or not air-tight."""
    room = facts.job.thing(light.room)
    if room is None or not kinds.is_cooled(room) or not light.surface.endswith("ceiling"):
        return
    for key, words in (
        ("contact_rated", "may not touch insulation"),
        ("air_tight", "lets air through"),
    ):
        leaf = light.find(key)
        if leaf is not None and leaf.value is False:
            yield said(
                leaf,
                f"{light.key} {words} and sits in the insulated ceiling of {room.key}",
                "choose one that is rated for contact and air-tight",
                f"{room.address}.ceiling.assembly",
            )


@rule(
    "lighting.recessed-in-nothing",
    level=Level.ERROR,
    silence=True,
    trades=("electrical", "millwork"),
    why="A downlight shines down out of something: a ceiling, a shelf, the top of an arch.",
    each=("downlight",),
    bad="rooms: {wine_room: {walls_clockwise: {WA: {lights: {L1: {is: downlight, center: 4 "
    "ft}}}}}}",
    good="""
rooms:
  wine_room:
    walls_clockwise:
      WA:
        millwork: {lower: {left_to_right: {R1: {width: 8 ft}}}}
        lights: {L1: {is: downlight, center: R1, inside: R1}}
""",
)
def recessed_in_nothing(facts: Facts, light: Node) -> Iterator[Said]:
    """A downlight is written on a wall and does not say what it is inside."""
    if facts.places.wall_of(light) is not None and light.find("inside") is None:
        yield said(
            f"{light.address}.inside",
            f"{light.key} is a downlight on the wall {light.surface} and says nothing of "
            "what it is in",
            "write `inside` with the piece that it shines out of",
            light,
        )


@rule(
    "lighting.hangs-too-low",
    level=Level.ERROR,
    trades=("electrical",),
    why="A light that hangs lower than a door is met by heads.",
    each=("pendant", "chandelier"),
    bad=GOOD.replace("84 in", "70 in"),
    good=GOOD,
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
    bad=GOOD.replace("12 lb", "85 lb"),
    good=GOOD,
)
def too_heavy_for_its_support(facts: Facts, light: Node) -> Iterator[Said]:
    """A hanging light is heavier than a box carries, and no backing is rated for it."""
    weight = light.find("weight")
    most = facts.job.threshold("box.supports")
    if weight is None or not isinstance(weight.value, Quantity) or weight.value.si <= most.si:
        return
    backing = next(
        (b for b in facts.job.things("backing") if light.key in b.words("for", ())), None
    )
    rated = backing.find("rated") if backing is not None else None
    if backing is None:
        yield said(
            weight,
            f"{light.key} weighs {weight.written}; a box carries {most.written} and no "
            "backing is for it",
            f"add a backing with `for: [{light.key}]` and what it is rated for",
        )
    elif rated is None:
        yield said(
            f"{backing.address}.rated",
            f"{light.key} weighs {weight.written} and nothing says what {backing.key} is rated for",
            f"write `rated` at {backing.key}",
            weight,
        )
    elif isinstance(rated.value, Quantity):
        needed = facts.figures.value("lighting.support_needed", light)
        if rated.value.si < needed - 1e-6:
            yield said(
                weight,
                f"{light.key} weighs {weight.written}, {backing.key} is rated for {rated.written}; "
                f"with its reserve the house asks for {show(needed, 'mass', facts.job.system)}",
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
    stacks: {racks: {bottom_to_top: {lower: {is: racks, height: 80 in, depth: 14 in},
        light_gap: {is: gap, height: 1 in}}}}
    walls_clockwise:
      WA: {millwork: {lower: {left_to_right: {R1: {width: 2 ft}}}}, lights: {LS1: {is: strip,
          along: [R1], tier: light_gap, shines: up}}}
""",
    good="""
rooms:
  wine_room:
    stacks: {racks: {bottom_to_top: {lower: {is: racks, height: 80 in, depth: 14 in},
        light_gap: {is: gap, height: 3 in}}}}
    walls_clockwise:
      WA: {millwork: {lower: {left_to_right: {R1: {width: 2 ft}}}}, lights: {LS1: {is: strip,
          along: [R1], tier: light_gap, shines: up}}}
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
        room = next(
            (t.room for name in pieces if (t := facts.job.thing(name)) is not None), strip.room
        )
        if tier is None or stack.room != room or tier.find("height") is None:
            continue
        try:
            height = tier.si("height")
        except Open:
            continue
        if height < least:
            yield said(
                strip.at("tier"),
                f"{strip.key} shines up from `{tier.key}`, which is {tier.text('height')} "
                "high; the "
                f"house asks for {show(least, 'length', facts.job.system)}",
                f"raise `{tier.key}` and lower another tier",
                tier.at("height"),
            )
