"""What a cooled room is held at: within what wine stands, machines hold and formulas cover."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.derive.figure import definitions
from spec.derive.sheets import kinds
from spec.derive.sheets.surroundings import beyond, weather
from spec.finding import Level
from spec.job.node import Open
from spec.quantity import Quantity, show

_ROOM = """
surroundings: {hall: {summer: {temperature: 24 °C, humidity: 50 %}}}
rooms:
  wine_room:
    use: wine_storage
    climate: {temperature: HELD, humidity: DAMP}
    use_pattern: {people: 1, hours: 1 h/day}
    loading: {bottles: 100, arriving_at: ARRIVING, cooled_within: 48 h}
    walls_clockwise: {WA: {faces: hall}}
"""
_HEAT_AND_MOISTURE = ("cooling.", "envelope.", "openings.")
"""How the names of the figures of heat and moisture begin."""
_GOOD = _ROOM.replace("HELD", "13 °C").replace("DAMP", "60 %").replace("ARRIVING", "20 °C")


@rule(
    "cooling.set-point-out-of-range",
    level=Level.ERROR,
    trades=("refrigeration",),
    why="A temperature at which no wine is kept is a slip of the hand, and every figure of the "
    "room follows it.",
    bad=_GOOD.replace("13 °C", "155 °F"),
    good=_GOOD,
)
def set_point_out_of_range(facts: Facts) -> Iterator[Said]:
    """A cooled room is to be held warmer or colder than the house knows wine to be kept."""
    yield from _outside(facts, "climate.temperature", "wine.temperature", "is to be held at")


@rule(
    "cooling.humidity-out-of-range",
    level=Level.ERROR,
    trades=("refrigeration",),
    why="Below it corks dry and leak, above it labels and wood mold.",
    bad=_GOOD.replace("60 %", "6 %"),
    good=_GOOD,
)
def humidity_out_of_range(facts: Facts) -> Iterator[Said]:
    """A cooled room is to be held drier or damper than the house knows wine to be kept."""
    yield from _outside(facts, "climate.humidity", "wine.humidity", "is to be held at")


@rule(
    "cooling.arrival-out-of-range",
    level=Level.ERROR,
    trades=("refrigeration",),
    why="Wine that arrives frozen or boiled is no load to reckon with; the number is wrong.",
    bad=_GOOD.replace("20 °C", "200 °F"),
    good=_GOOD,
)
def arrival_out_of_range(facts: Facts) -> Iterator[Said]:
    """A delivery is to arrive at a temperature that no wine stands."""
    yield from _outside(facts, "loading.arriving_at", "wine.arriving", "takes deliveries at")


def _outside(facts: Facts, path: str, threshold: str, words: str) -> Iterator[Said]:
    low, high = facts.job.limits(threshold)
    for room in kinds.cooled_rooms(facts.job):
        at = room.find(path)
        if at is None or not isinstance(at.value, Quantity) or low <= at.value.si <= high:
            continue
        system, of = facts.job.system, at.value.dimension
        yield said(
            at,
            f"{room.key.replace('_', ' ')} {words} {at.written}; the house knows wine from "
            f"{show(low, of, system)} to {show(high, of, system)}",
            "correct the number or its unit, or override the house's range with the reason",
            room,
        )


@rule(
    "cooling.nothing-to-cool",
    level=Level.ERROR,
    trades=("refrigeration",),
    why="A room that is to be warmer than all that surrounds it needs heat; a machine that cools "
    "does nothing there.",
    bad=_GOOD.replace("24 °C", "12 °C"),
    good=_GOOD,
)
def nothing_to_cool(facts: Facts) -> Iterator[Said]:
    """A cooled room is to be held no cooler than the warmest summer air round it."""
    for room in kinds.cooled_rooms(facts.job):
        around = _warmest(facts, room)
        held = room.find("climate.temperature")
        if around is None or held is None or not isinstance(held.value, Quantity):
            continue
        warmest, place = around
        if held.value.si >= warmest:
            yield said(
                held,
                f"{room.key.replace('_', ' ')} is to be held at {held.written}; the warmest air "
                f"round it in summer, {place.key.replace('_', ' ')}, has "
                f"{show(warmest, 'temperature', facts.job.system)}",
                "correct the number or its unit; a room that is only warmed needs no cooling",
                place,
            )


def _warmest(facts: Facts, room: Node) -> tuple[float, Node] | None:
    """The warmest summer air beyond a room's surfaces; None while one of them is not known."""
    found = []
    for surface in kinds.surfaces_of(room):
        try:
            place = beyond(facts, surface)
            found.append((weather(facts, place, "summer").temperature, place))
        except Open:
            return None
    return max(found, key=lambda pair: pair[0], default=None)


@rule(
    "cooling.out-of-range",
    level=Level.WARNING,
    trades=("refrigeration",),
    why="A number outside the range of a formula is mostly a slip, and all that rests on the "
    "figure is not held against anything.",
    bad=_GOOD.replace("13 °C", "155 °F"),
    good=_GOOD,
)
def out_of_range(facts: Facts) -> Iterator[Said]:
    """A figure of heat or moisture cannot be worked out: a number lies outside its formula."""
    told: set[tuple[str, str]] = set()
    for name, definition in definitions().items():
        if not name.startswith(_HEAT_AND_MOISTURE):
            continue
        for thing in definition.per(facts.job):
            found = facts.figures.get(name, thing)
            if found.out_of_range and (thing.address, found.refused) not in told:
                told.add((thing.address, found.refused))
                title = f"{definition.title[:1].lower()}{definition.title[1:]}"
                yield said(
                    thing,
                    f"the {title} of {thing.key.replace('_', ' ')} is not worked out: "
                    f"{found.refused}",
                    "correct the number that it rests on",
                )
