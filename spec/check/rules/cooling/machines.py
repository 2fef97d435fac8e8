"""Machines: large enough, within their range, served, and closed behind a cover that fits."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.derive.sheets import kinds
from spec.finding import Level
from spec.job import feeds
from spec.job.node import Open
from spec.place import plan
from spec.quantity import Quantity, Range, show

_UNIT = """
climate: {design: {summer: {temperature: SUMMER, humidity: 50 %}, winter: {temperature: 0 °C, humidity: 80 %}}}
elsewhere:
  CU1: {is: condensing_unit, where: yard, serves: EV1, ambient: -10 °C to 43 °C, line_limit: {length: 20 m, rise: 8 m}}
rooms:
  wine_room:
    use: wine_storage
    climate: {temperature: 12 °C, humidity: 60 %, band: {temperature: BAND, humidity: 5 %}}
    ceiling: {equipment: {EV1: {is: evaporator}}}
    cooling: {kind: ceiling_recessed, lines: {from: EV1, to: CU1, length: LONG, rise: 2 m}}
"""
_FINE = _UNIT.replace("SUMMER", "30 °C").replace("LONG", "12 m").replace("BAND", "1 K")
_LOADED = """
climate: {design: {summer: {temperature: 32 °C, humidity: 50 %}, winter: {temperature: 0 °C, humidity: 80 %}}}
surroundings: {hall: {summer: {temperature: 26 °C, humidity: 55 %}, winter: {temperature: 20 °C, humidity: 40 %}}}
assemblies:
  A1: {from_room_outward: {foam: {material: closed_cell_foam, thickness: 100 mm, role: [insulation, retarder]}}}
job: {site: {elevation: 0 m}}
rooms:
  wine_room:
    use: wine_storage
    climate: {temperature: 12 °C, humidity: 60 %}
    use_pattern: {people: 1, hours: 1 h/day, door_openings: 0 per day, lights: 0 h/day}
    taped: {to: finish}
    height: 2.4 m
    walls_clockwise:
      WA: {length: 3 m, faces: hall, assembly: A1}
      WB: {length: 2 m, faces: hall, assembly: A1}
      WC: {length: 3 m, faces: hall, assembly: A1}
      WD: {length: 2 m, faces: hall, assembly: A1}
    ceiling: {faces: hall, assembly: A1, equipment: {EV1: {is: evaporator, capacity: {value: POWER, at: {room: 12 °C}}}}}
    floor: {faces: hall, assembly: A1}
    cooling: {kind: ceiling_recessed}
"""


@rule(
    "cooling.capacity-too-small",
    level=Level.ERROR,
    trades=("refrigeration",),
    why="A machine that is too small runs without a stop on the hottest days and does not hold the "
    "temperature that was promised.",
    source="ASHRAE Handbook Refrigeration, refrigerated-facility loads; margin of the house",
    bad=_LOADED.replace("POWER", "100 W"),
    good=_LOADED.replace("POWER", "420 W"),
)
def capacity_too_small(facts: Facts) -> Iterator[Said]:
    """The machines give less than the load with the least spare and the hours that they may run."""
    for room in kinds.cooled_rooms(facts.job):
        yield from _against_load(facts, room, too_large=False)


@rule(
    "cooling.capacity-too-large",
    level=Level.WARNING,
    trades=("refrigeration",),
    why="A machine far too large cools in short bursts: it does not dry the air, and its humidity "
    "swings.",
    bad=_LOADED.replace("POWER", "4000 W"),
    good=_LOADED.replace("POWER", "420 W"),
)
def capacity_too_large(facts: Facts) -> Iterator[Said]:
    """The machines give more over the capacity needed than the most spare of the house."""
    for room in kinds.cooled_rooms(facts.job):
        yield from _against_load(facts, room, too_large=True)


def _against_load(facts: Facts, room: Node, *, too_large: bool) -> Iterator[Said]:
    if not any(facts.job.things("evaporator", "cooling_unit")):
        return
    try:
        given = facts.figures.value("cooling.given", room)
        needed = facts.figures.value("cooling.needed", room)
        margin = facts.figures.value("cooling.margin", room)
    except Open:
        return
    system = facts.job.system
    _, most = facts.job.limits("cooling.spare")
    machines = [
        f"{m.key}.capacity.value"
        for m in kinds.under(room)
        if m.kind in ("evaporator", "cooling_unit")
    ]
    numbers = f"{show(given, 'heat_flow', system)} given, {show(needed, 'heat_flow', system)} needed"
    if margin < 0 and not too_large:
        yield said(
            f"{room.address}.cooling",
            f"the machines of {room.key} are too small: {numbers}",
            "choose larger ones, or lower the load: insulation, glass, deliveries",
            *machines,
        )
    if margin > most and too_large:
        yield said(
            f"{room.address}.cooling",
            f"the machines of {room.key} are far too large: {numbers}",
            "choose smaller ones, or a machine whose capacity follows the load",
            *machines,
        )


@rule(
    "cooling.outside-its-range",
    level=Level.ERROR,
    trades=("refrigeration",),
    why="Beyond its range a condenser stops on its pressure switch, on the hottest or coldest day.",
    each=("condensing_unit", "cooling_unit"),
    bad=_FINE.replace("temperature: 30 °C", "temperature: 44 °C"),
    good=_FINE,
)
def outside_its_range(facts: Facts, unit: Node) -> Iterator[Said]:
    """The design day is outside the air for which a machine is made."""
    yield from _range(facts, unit, 0.0)


@rule(
    "cooling.close-to-its-range",
    level=Level.NOTE,
    trades=("refrigeration",),
    why="A balcony at noon and a corner full of snow are worse than the design day.",
    each=("condensing_unit", "cooling_unit"),
    bad=_FINE.replace("temperature: 30 °C", "temperature: 41 °C"),
    good=_FINE,
)
def close_to_its_range(facts: Facts, unit: Node) -> Iterator[Said]:
    """The design day is within the house's margin of the end of a machine's range."""
    if not any(True for _ in _range(facts, unit, 0.0)):
        yield from _range(facts, unit, facts.job.limit("cooling.ambient_margin"))


def _range(facts: Facts, unit: Node, margin: float) -> Iterator[Said]:
    ambient = unit.find("ambient")
    if ambient is None or not isinstance(ambient.value, Range):
        return
    low, high = ambient.value.low.si, ambient.value.high.si
    for season, past in (("summer", "above"), ("winter", "below")):
        leaf = facts.job.find(f"climate.design.{season}.temperature")
        if leaf is None or not isinstance(leaf.value, Quantity):
            continue
        design = leaf.value.si
        wrong = design + margin > high if season == "summer" else design - margin < low
        if wrong:
            near = (
                f"; the house keeps {show(margin, 'temperature_difference', facts.job.system)} from it"
                if margin
                else ""
            )
            yield said(
                ambient,
                f"{unit.key} works at {ambient.written}, the {season} design is {leaf.written}: "
                f"{past + ' its range' if not near else 'close to its end'}{near}",
                "choose a machine with a wider range, or a kit for it; or put it elsewhere",
                leaf,
            )


@rule(
    "cooling.lines-too-long",
    level=Level.ERROR,
    trades=("refrigeration",),
    why="Beyond the maker's length or rise the oil does not come back, and the warranty ends.",
    bad=_FINE.replace("length: 12 m", "length: 28 m"),
    good=_FINE,
)
def lines_too_long(facts: Facts) -> Iterator[Said]:
    """The lines are longer, or rise more, than the maker of the machine allows."""
    for room in facts.job.rooms:
        to = room.find("cooling.lines.to")
        unit = facts.job.thing(str(to.value)) if to is not None else None
        for key in ("length", "rise"):
            own = room.find(f"cooling.lines.{key}")
            most = unit.find(f"line_limit.{key}") if unit is not None else None
            if own is None or most is None or unit is None:
                continue
            if not isinstance(own.value, Quantity) or not isinstance(most.value, Quantity):
                continue
            if abs(own.value.si) > most.value.si:
                yield said(
                    own,
                    f"the lines of {room.key} have {own.written} of {key}; the maker of {unit.key} "
                    f"allows {most.written}",
                    "find a shorter way, or put the machine nearer",
                    most,
                )


@rule(
    "cooling.band-too-wide",
    level=Level.WARNING,
    trades=("refrigeration",),
    why="A band is what the client initials; wider than the house's, it promises less than is usual.",
    bad=_FINE.replace("temperature: 1 K", "temperature: 4 K"),
    good=_FINE,
)
def band_too_wide(facts: Facts) -> Iterator[Said]:
    """The temperature of a cooled room may swing more than the house promises."""
    most = facts.job.threshold("wine.temperature_band")
    for room in kinds.cooled_rooms(facts.job):
        band = room.find("climate.band.temperature")
        if band is not None and isinstance(band.value, Quantity) and band.value.si > most.si:
            yield said(
                band,
                f"the temperature of {room.key} may be {band.written} off; the house promises "
                f"{most.written}",
                "narrow the band, or waive it with the client's name",
            )


@rule(
    "cooling.breaker-against-plate",
    level=Level.ERROR,
    trades=("electrical", "refrigeration"),
    why="A breaker below the plate's minimum trips; one above its maximum lets the machine burn.",
    source="NEC 440.4, 440.22; cited from memory",
    each=("condensing_unit", "evaporator", "cooling_unit"),
    bad="""
circuits: {C1: {breaker: 30 A}}
elsewhere: {CU1: {is: condensing_unit, minimum_circuit: 13 A, maximum_overcurrent: 20 A, fed_from: C1}}
""",
    good="""
circuits: {C1: {breaker: 20 A}}
elsewhere: {CU1: {is: condensing_unit, minimum_circuit: 13 A, maximum_overcurrent: 20 A, fed_from: C1}}
""",
)
def breaker_against_plate(facts: Facts, machine: Node) -> Iterator[Said]:
    """The breaker of a machine's circuit is smaller or larger than its plate allows."""
    circuit = feeds.circuit_of(facts.job, machine)
    breaker = circuit.find("breaker") if circuit is not None else None
    if circuit is None or breaker is None or not isinstance(breaker.value, Quantity):
        return
    for key, words, wrong in (
        ("minimum_circuit", "at least", lambda plate: breaker.value.si < plate),
        ("maximum_overcurrent", "at most", lambda plate: breaker.value.si > plate),
    ):
        plate = machine.find(key)
        if plate is not None and isinstance(plate.value, Quantity) and wrong(plate.value.si):
            yield said(
                breaker,
                f"{circuit.key} has a breaker of {breaker.written}; the plate of {machine.key} asks for "
                f"{words} {plate.written}",
                "change the breaker and its conductor",
                plate,
            )


@rule(
    "cooling.machine-alone",
    level=Level.ERROR,
    trades=("refrigeration", "electrical"),
    why="A machine that no controller switches, or no condenser serves, is a box in the ceiling.",
    each=("evaporator",),
    bad="rooms: {wine_room: {ceiling: {equipment: {EV1: {is: evaporator}}}}}",
    good="""
elsewhere: {CU1: {is: condensing_unit, serves: EV1}}
rooms:
  wine_room:
    walls_clockwise: {WA: {devices: {CT1: {is: controller, serves: EV1}}}}
    ceiling: {equipment: {EV1: {is: evaporator}}}
""",
)
def machine_alone(facts: Facts, evaporator: Node) -> Iterator[Said]:
    """No condensing unit or no controller says that it serves an evaporator."""
    for kind in ("condensing_unit", "controller"):
        serving = [
            t
            for t in facts.job.things(kind)
            if t.find("serves") is not None and evaporator.key in t.words("serves", ())
        ]
        if not serving:
            others = facts.job.things(kind)
            yield said(
                evaporator,
                f"no {kind.replace('_', ' ')} serves {evaporator.key}",
                f"write `serves: {evaporator.key}` at the {kind.replace('_', ' ')}",
                *(f"{t.address}.serves" for t in others),
            )


@rule(
    "cooling.controller-without-sensor",
    level=Level.ERROR,
    trades=("refrigeration", "electrical"),
    why="A controller that feels its own wall keeps the temperature of that wall.",
    each=("controller",),
    bad="""
rooms: {wine_room: {walls_clockwise: {WA: {devices: {CT1: {is: controller, serves: EV1}}}}, ceiling: {equipment: {EV1: {is: evaporator}}}}}
""",
    good="""
rooms:
  wine_room:
    walls_clockwise: {WA: {devices: {CT1: {is: controller, serves: EV1}, SN1: {is: sensor, serves: CT1}}}}
    ceiling: {equipment: {EV1: {is: evaporator}}}
""",
)
def controller_without_sensor(facts: Facts, controller: Node) -> Iterator[Said]:
    """No sensor serves the controller of a machine, in a room that the machine cools."""
    served = [facts.job.thing(name) for name in controller.words("serves", ())]
    machines = [m for m in served if m is not None and m.kind in ("evaporator", "cooling_unit")]
    sensors = [s for s in facts.job.things("sensor") if s.word("senses", "") != "leak"]
    for machine in machines:
        here = [
            s
            for s in sensors
            if controller.key in s.words("serves", ()) and s.room == machine.room
        ]
        if not here and machine.room:
            yield said(
                controller,
                f"{controller.key} serves {machine.key} in {machine.room}, but no sensor of that room "
                f"serves {controller.key}",
                f"add a sensor with `serves: {controller.key}`",
                *(f"{s.address}.serves" for s in sensors),
            )


@rule(
    "cooling.cover-too-small",
    level=Level.ERROR,
    trades=("millwork", "refrigeration"),
    why="A machine is serviced through its cover: one that is smaller than the machine has to be cut "
    "out of the ceiling.",
    each=("cover",),
    bad="""
rooms:
  wine_room:
    taped: {to: finish}
    height: 8 ft
    walls_clockwise: {WA: {length: 9 ft}, WB: {length: 11 ft}, WC: {length: 9 ft}, WD: {length: 11 ft}}
    ceiling:
      equipment:
        EV1: {is: evaporator, center: {WA: 60 in, WD: 50 in}, extent: {WA: 22 in, WD: 26 in}}
        CV1: {is: cover, over: EV1, center: {WA: 60 in, WD: 50 in}, extent: {WA: 20 in, WD: 30 in}}
""",
    good="""
rooms:
  wine_room:
    taped: {to: finish}
    height: 8 ft
    walls_clockwise: {WA: {length: 9 ft}, WB: {length: 11 ft}, WC: {length: 9 ft}, WD: {length: 11 ft}}
    ceiling:
      equipment:
        EV1: {is: evaporator, center: {WA: 60 in, WD: 50 in}, extent: {WA: 22 in, WD: 26 in}}
        CV1: {is: cover, over: EV1, center: {WA: 60 in, WD: 50 in}, extent: {WA: 26 in, WD: 30 in}}
""",
)
def cover_too_small(facts: Facts, cover: Node) -> Iterator[Said]:
    """A cover in a ceiling does not reach past every machine that it is over."""
    if facts.places.wall_of(cover) is not None or not cover.surface:
        return
    least = facts.job.limit("cover.margin")
    for name in cover.words("over"):
        machine = facts.job.thing(name)
        if machine is None or machine.surface != cover.surface:
            continue
        outer = facts.places.plan(cover).outlines[0]
        for outline in facts.places.plan(machine).outlines:
            margin = plan.inside(outer, outline)
            if margin < least - 0.001:
                system = facts.job.system
                short = (
                    f"reaches {show(margin, 'length', system)} past"
                    if margin >= 0
                    else f"ends {show(-margin, 'length', system)} short of the edge of"
                )
                yield said(
                    cover,
                    f"{cover.key} {short} {name}; the house keeps {show(least, 'length', system)} all round",
                    f"make {cover.key} larger, or move it over {name}",
                    machine,
                )


@rule(
    "cooling.cover-too-closed",
    level=Level.ERROR,
    trades=("millwork", "refrigeration"),
    why="A cover that lets too little air through makes the machine cool itself.",
    each=("cover", "grille"),
    bad="rooms: {wine_room: {ceiling: {equipment: {CV1: {is: cover, free_area: 20 %}}}}}",
    good="rooms: {wine_room: {ceiling: {equipment: {CV1: {is: cover, free_area: 45 %}}}}}",
)
def cover_too_closed(facts: Facts, cover: Node) -> Iterator[Said]:
    """The free area of a cover is below the house's least."""
    area = cover.find("free_area")
    least = facts.job.threshold("cover.free_area")
    if area is not None and isinstance(area.value, Quantity) and area.value.dimension == "percent":
        if area.value.si < least.si:
            yield said(
                area,
                f"{cover.key} is {area.written} open; the house asks for {least.written}",
                "open it more: narrower slats, wider slots",
            )
