"""What lies beyond each surface of a room, and the air there by season. Declares no figure."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from spec.derive.sheets.kinds import says
from spec.job.node import Node, Open

if TYPE_CHECKING:
    from spec.derive.figure import Facts

OUTDOORS, GROUND = "outdoors", "ground"


class Weather(NamedTuple):
    """Air at a season: temperature [°C], humidity [-], None where the job gives none."""

    temperature: float
    humidity: float | None

    def damp(self, address: str) -> float:
        """The humidity [-]; `Open` at the address where it is not given."""
        if self.humidity is None:
            raise Open(address)
        return self.humidity


def beyond(facts: Facts, surface: Node) -> Node:
    """The surrounding or room on the far side of a surface; raises `Open` where nobody says.

    What the surface says itself; else the wall or space as found that it lines; else, for one side
    of a partition, the room on its other side, the warmest where there are several.
    """
    job = facts.job
    if says(surface, "faces"):
        return _named(facts, surface, surface.word("faces"))
    if says(surface, "back_of"):
        other = job.thing(surface.word("back_of"))
        if other is not None:
            return _named(facts, surface, other.room)
    lined = as_found(facts, surface)
    if lined is not None and says(lined, "faces"):
        return _named(facts, lined, lined.word("faces"))
    if says(surface, "partition"):
        known = [_named(facts, surface, wall.room) for wall in across(facts, surface)]
        if known:
            return max(known, key=lambda room: weather(facts, room, "summer").temperature)
    raise Open(f"{surface.address}.faces")


def across(facts: Facts, surface: Node) -> tuple[Node, ...]:
    """The walls of other rooms on the other side of a wall's partition; raises `Open`.

    Where a partition has walls of more than two rooms, those that lie opposite in plan.
    """
    name = surface.word("partition")
    others = [w for w in facts.job.walls if w.room != surface.room and _partition(w) == name]
    if len({wall.room for wall in others}) < 2:
        return tuple(others)
    return tuple(wall for wall in others if _opposite(facts, surface, wall))


_SHARED = 0.01
"""[m] Two walls that lie side by side for less than this do not face each other."""


def _opposite(facts: Facts, one: Node, other: Node) -> bool:
    """Two walls of a partition look in opposite directions and overlap along it."""
    (x1, y1), (x2, y2) = facts.places.room(one.room).ends(one.key)
    (x3, y3), (x4, y4) = facts.places.room(other.room).ends(other.key)
    length = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
    if length < _SHARED:
        return False
    ux, uy = (x2 - x1) / length, (y2 - y1) / length
    start, end = ((x - x1) * ux + (y - y1) * uy for x, y in ((x4, y4), (x3, y3)))
    return bool(start < end and min(end, length) - max(start, 0.0) > _SHARED)


def _partition(wall: Node) -> str:
    leaf = wall.find("partition")
    return str(leaf.value) if leaf is not None and leaf.value is not None else ""


def _named(facts: Facts, surface: Node, name: str) -> Node:
    found = facts.job.thing(name)
    if found is None:
        raise Open(f"{surface.address}.faces")
    return found


def as_found(facts: Facts, surface: Node) -> Node | None:
    """The surface as found that a wall, ceiling, slope or floor lines; None where it lines none."""
    if not says(surface, "on"):
        return None
    named = facts.job.thing(surface.word("on"))
    if named is None:
        return None
    if named.kind == "as_found_wall":
        if _is_slope(surface):
            space = named.parent.parent if named.parent is not None else None
            return space.find(f"ceiling.slopes.{named.key}") if space is not None else None
        return named
    return named.find(surface.key)


def _is_slope(surface: Node) -> bool:
    return surface.parent is not None and surface.parent.key == "slopes"


def outside(facts: Facts, place: Node) -> bool:
    """A surrounding is the open air, or has the same air by the job's own words."""
    seen: set[str] = set()
    node: Node | None = place
    while node is not None and node.address not in seen:
        if node.key == OUTDOORS or says(node, "from"):
            return True
        seen.add(node.address)
        node = facts.job.thing(node.word("same_as")) if says(node, "same_as") else None
    return False


def weather(facts: Facts, place: Node, season: str) -> Weather:
    """The air of a surrounding or a room in `summer` or `winter`; raises `Open`."""
    return _weather(facts, place, season, frozenset())


def _weather(facts: Facts, place: Node, season: str, seen: frozenset[str]) -> Weather:
    if place.address in seen:
        raise Open(f"{place.address}.same_as")
    seen |= {place.address}
    source = place
    if place.kind == "room":
        source = place.at("climate")
        if not says(source, season) and says(source, "temperature"):
            return _air(facts, source)
    if says(source, season):
        return _air(facts, source.at(season))
    if says(source, "from"):
        source.word("from")
        climate = facts.job.find("climate")
        if climate is None:
            raise Open(f"climate.design.{season}")
        return _air(facts, climate.at(f"design.{season}"))
    if says(source, "same_as"):
        other = facts.job.thing(source.word("same_as"))
        if other is None:
            raise Open(f"{source.address}.same_as")
        return _weather(facts, other, season, seen)
    raise Open(f"{source.address}.{season}")


def _air(facts: Facts, season: Node) -> Weather:
    temperature = season.si("temperature")
    if says(season, "humidity"):
        return Weather(temperature, season.si("humidity"))
    if says(season, "dew_point"):
        from spec.derive.formulas.air import humidity_from_dew_point  # noqa: PLC0415

        return Weather(temperature, humidity_from_dew_point(temperature, season.si("dew_point")))
    if says(season, "wet_bulb"):
        from spec.derive.formulas.air import humidity_from_wet_bulb, pressure_at  # noqa: PLC0415

        pressure = pressure_at(elevation(facts))
        wet_bulb = season.si("wet_bulb")
        return Weather(temperature, humidity_from_wet_bulb(temperature, wet_bulb, pressure))
    return Weather(temperature, None)


def months(facts: Facts, place: Node) -> tuple[tuple[float, float], ...]:
    """Twelve monthly means of (temperature [°C], humidity [-]) of a surrounding or room.

    Open air has the climate's months. Any other place runs from its winter to its summer and back
    in step with the monthly temperature outdoors. Raises `Open`.
    """
    climate = facts.job.find("climate")
    if climate is None:
        raise Open("climate.monthly")
    series = climate.quantity("monthly.temperature")
    temperatures = [value.si for value in getattr(series, "values", ())]
    if len(temperatures) != 12:
        raise Open(climate.at("monthly.temperature").address)
    if outside(facts, place):
        damp = [value.si for value in getattr(climate.quantity("monthly.humidity"), "values", ())]
        if len(damp) != 12:
            raise Open(climate.at("monthly.humidity").address)
        return tuple(zip(temperatures, damp, strict=True))
    winter, summer = weather(facts, place, "winter"), weather(facts, place, "summer")
    low, high = min(temperatures), max(temperatures)
    found = []
    for outdoors in temperatures:
        share = (outdoors - low) / (high - low) if high > low else 0.5
        found.append(
            (
                winter.temperature + share * (summer.temperature - winter.temperature),
                _between(winter.damp(place.address), summer.damp(place.address), share),
            )
        )
    return tuple(found)


def _between(low: float, high: float, share: float) -> float:
    return low + share * (high - low)


def elevation(facts: Facts) -> float:
    """Height of the site above the sea [m]; sea level where the job says nothing of it."""
    site = facts.job.find("job.site")
    return site.si("elevation", 0.0) if site is not None else 0.0
