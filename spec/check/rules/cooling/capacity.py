"""Capacity against load, range against weather, lines against their limits."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.check.worked import known
from spec.derive.sheets import kinds
from spec.derive.sheets.machines import air_at, condensers_of, rooms_of
from spec.finding import Level
from spec.job.node import Open
from spec.quantity import Quantity, Range, show

_UNIT = """
climate: {design: {summer: {temperature: SUMMER, humidity: 50 %}, winter: {temperature: 0 °C,
    humidity: 80 %}}}
elsewhere:
  CU1: {is: condensing_unit, where: yard, serves: EV1, ambient: -10 °C to 43 °C,
      line_limit: {length: 20 m, rise: 8 m}}
rooms:
  wine_room:
    use: wine_storage
    climate: {temperature: 12 °C, humidity: 60 %, band: {temperature: BAND, humidity: 5 %}}
    ceiling: {equipment: {EV1: {is: evaporator}}}
    cooling: {kind: ceiling_recessed, lines: {from: EV1, to: CU1, length: LONG, rise: 2 m}}
"""


_FINE = _UNIT.replace("SUMMER", "30 °C").replace("LONG", "12 m").replace("BAND", "1 K")


_LOADED = """
climate: {design: {summer: {temperature: 32 °C, humidity: 50 %}, winter: {temperature: 0 °C,
    humidity: 80 %}}}
surroundings: {hall: {summer: {temperature: 26 °C, humidity: 55 %}, winter: {temperature: 20 °C,
    humidity: 40 %}}}
assemblies:
  A1: {from_room_outward: {foam: {material: closed_cell_foam, thickness: 100 mm,
      role: [insulation, retarder]}}}
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
    ceiling: {faces: hall, assembly: A1, equipment: {EV1: {is: evaporator,
        capacity: {value: POWER, at: {room: 12 °C}}}}}
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
    """The machines give more over the capacity needed than the most spare of the house.

    One of several that run each by itself is not counted: it stands by.
    """
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
    others = known(facts, "cooling.margin_of_the_others", room)
    at_work = margin if others is None else others
    system = facts.job.system
    _, most = facts.job.limits("cooling.spare")
    machines = [
        f"{m.key}.capacity.value"
        for m in kinds.under(room)
        if m.kind in ("evaporator", "cooling_unit")
    ]
    numbers = (
        f"{show(given, 'heat_flow', system)} given, {show(needed, 'heat_flow', system)} needed"
    )
    if margin < 0 and not too_large:
        yield said(
            f"{room.address}.cooling",
            f"the machines of {room.key} are too small: {numbers}",
            "choose larger ones, or lower the load: insulation, glass, deliveries",
            *machines,
        )
    if too_large and at_work > most:
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
    system = facts.job.system
    for season, past in (("summer", "above"), ("winter", "below")):
        try:
            design, place = air_at(facts, unit, season)
        except Open:
            continue
        wrong = design + margin > high if season == "summer" else design - margin < low
        if wrong:
            near = (
                f"; the house keeps {show(margin, 'temperature_difference', system)} from it"
                if margin
                else ""
            )
            at = f" in {place.key.replace('_', ' ')}" if place.kind else ""
            worth = place.written or show(design, "temperature", system)
            yield said(
                ambient,
                f"{unit.key} works at {ambient.written}, the {season} design{at} is {worth}: "
                f"{past + ' its range' if not near else 'close to its end'}{near}",
                "choose a machine with a wider range, or a kit for it; or put it elsewhere",
                place,
            )


@rule(
    "cooling.rated-at-cooler-air",
    level=Level.WARNING,
    trades=("refrigeration",),
    why="A machine gives less the hotter the air at its condenser is, and less the colder the "
    "room: the plate's number does not hold there.",
    each=("condensing_unit", "evaporator", "cooling_unit"),
    bad=_LOADED.replace("POWER", "420 W").replace("room: 12 °C}", "room: 12 °C, outdoors: 25 °C}"),
    good=_LOADED.replace("POWER", "420 W").replace("room: 12 °C}", "room: 12 °C, outdoors: 35 °C}"),
)
def rated_at_cooler_air(facts: Facts, machine: Node) -> Iterator[Said]:
    """A capacity is given at cooler air before the condenser, or in a warmer room, than here."""
    most, system = facts.job.limit("cooling.rating_margin"), facts.job.system
    rated = machine.find("capacity.at.outdoors")
    for unit in condensers_of(facts, machine) or [machine]:
        if rated is None or not isinstance(rated.value, Quantity):
            break
        try:
            design, place = air_at(facts, unit, "summer")
        except Open:
            continue
        if design > rated.value.si + most:
            at = f" in {place.key.replace('_', ' ')}" if place.kind else ""
            yield said(
                rated,
                f"{machine.key} is rated at {rated.written} before the condenser, the summer "
                f"design{at} is {place.written or show(design, 'temperature', system)}: it gives "
                "less",
                "write what it gives at this air, from the maker's table",
                place,
            )
    rated = machine.find("capacity.at.room")
    for room in rooms_of(facts, machine):
        held = room.find("climate.temperature")
        if rated is None or held is None or not isinstance(rated.value, Quantity):
            continue
        if isinstance(held.value, Quantity) and rated.value.si > held.value.si + most:
            yield said(
                rated,
                f"{machine.key} is rated at {rated.written} in the room, "
                f"{room.key.replace('_', ' ')} is held at {held.written}: it gives less",
                "write what it gives at this temperature, from the maker's table",
                held,
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
    why="A band is what the client initials; wider than the house's, it promises less than "
    "is usual.",
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
