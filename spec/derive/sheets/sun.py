"""The sun on cooled rooms: on walls and roofs toward the open air, and through their glass."""

from __future__ import annotations

import math

from spec.derive.figure import Facts, Part, Worked, figure
from spec.derive.formulas import sun as formulas
from spec.derive.formulas.envelope import sol_air_temperature
from spec.derive.sheets import build_up, kinds
from spec.derive.sheets.glass import glass_of
from spec.derive.sheets.surroundings import OUTDOORS, as_found, beyond
from spec.job.node import Node, Open
from spec.place import Room

_DARK = 0.9
"""[-] Absorptance of a dark wall, the safe side. ASHRAE Handbook Fundamentals ch. 18."""
_SKY = 4.0
"""[K] What a level roof loses to a clear sky. ASHRAE Handbook Fundamentals ch. 18."""
_LATITUDE = 40.0
"""[degrees] Where the job does not say where its site lies."""


def open_to_sky(facts: Facts, surface: Node) -> bool:
    """A surface toward the open air itself; under a loft that only has its air there is no sun."""
    if surface.key == "floor":
        return False
    place = beyond(facts, surface)
    return place.key == OUTDOORS or kinds.says(place, "from")


def warmed(facts: Facts, surface: Node, air: float) -> float:
    """What drives heat through a surface [°C]: the air beyond, with the sun on it."""
    stated = _stated(facts, surface)
    level = surface.key == "ceiling"
    if stated is not None:
        return sol_air_temperature(air, stated, _DARK, sky=_SKY if level else 0.0)
    if not open_to_sky(facts, surface):
        return air
    roof = surface.kind != "wall"
    faces = None if roof else looks(facts, surface)
    return air + formulas.allowance(faces, roof=roof, south=_latitude(facts) < 0.0)


def _stated(facts: Facts, surface: Node) -> float | None:
    """The irradiance that the job states for a surface [W/m²]."""
    climate = facts.job.find("climate")
    path = f"sun.{surface.key}"
    return climate.si(path) if climate is not None and kinds.says(climate, path) else None


def _latitude(facts: Facts) -> float:
    site = facts.job.find("job.site")
    if site is None or not kinds.says(site, "latitude"):
        return _LATITUDE
    return site.number("latitude")


def looks(facts: Facts, wall: Node) -> float | None:
    """Where the outside of a wall looks [degrees from north, clockwise]; None where none says."""
    try:
        site = facts.job.find("job.site")
        north = facts.job.thing(site.word("north", "")) if site is not None else None
        if north is None:
            return None
        room = facts.places.room(wall.room)
        heading = _heading_of_north(facts, wall.room, north)
        return None if heading is None else (heading - _heading(room, wall.key)) % 360.0
    except Open:
        return None


def _heading_of_north(facts: Facts, room: str, north: Node) -> float | None:
    """Which way the wall to the north runs in the plan of a room [degrees], or None."""
    for wall in facts.job.walls:
        if wall.room == room and (wall is north or as_found(facts, wall) is north):
            return _heading(facts.places.room(room), wall.key)
    there = next((w for w in facts.job.walls if w is north or as_found(facts, w) is north), None)
    for wall in facts.job.walls:
        if there is None or wall.room != room:
            continue
        for other in facts.job.walls:
            if other.room == there.room and _shared(facts, wall, other):
                theirs = facts.places.room(there.room)
                turn = _heading(facts.places.room(room), wall.key) - _heading(theirs, other.key)
                return _heading(theirs, there.key) + turn - 180.0
    return None


def _shared(facts: Facts, one: Node, other: Node) -> bool:
    """Two walls are the two sides of one."""
    written = facts.places.written_wall
    if written(one) is written(other):
        return True
    return kinds.says(one, "partition") and one.word("partition") == other.word("partition", "")


def _heading(room: Room, wall: str) -> float:
    (ax, ay), (bx, by) = room.ends(wall)
    return math.degrees(math.atan2(by - ay, bx - ax))


@figure(
    "cooling.sun",
    title="Sun through glass",
    dimension="heat_flow",
    formula="sum over glass of (A x SHGC x E); E in W/m² in the worst hour",
    source="ASHRAE Handbook Fundamentals 2017 ch. 15; E where none is stated: the brightest hour "
    "of a clear year, ASHRAE clear sky, Handbook Fundamentals 2005 ch. 30",
    holds="the worst hour for all 24; shades not counted; by the latitude of the site, 40° where "
    "none is written, on the sunniest side where none looks north",
    per=kinds.cooled_rooms,
    trades=("refrigeration", "glazing"),
)
def through_glass(facts: Facts, room: Node) -> Worked:
    """Heat of the sun through the glass of a room's outside walls."""
    from spec.derive.formulas import glazing  # noqa: PLC0415 - with psychrolib

    parts = []
    for wall in room.group("walls_clockwise"):
        if not wall.known:
            continue
        glazed = [o for o in build_up.openings(facts, wall) if _sunlit(o)]
        if not glazed or not open_to_sky(facts, wall):
            continue
        bright = _on_glass(facts, wall)
        for opening in glazed:
            for light in glass_of(facts, opening):
                share = _share(facts, light.glass)
                heat = glazing.solar_gain(light.area, share, bright)
                given = (
                    ("A", light.area, "area"),
                    ("SHGC", share, "number"),
                    ("E", bright, "W/m²"),
                )
                name = f"{opening.key} {light.called}".strip()
                parts.append(Part(name, heat, light.glass.address, given))
    whole = sum(part.value for part in parts)
    return Worked(whole, tuple(parts), remark="" if parts else "no glass that the sun reaches")


def _sunlit(opening: Node) -> bool:
    if opening.kind not in ("door", "window", "glass_front") or not is_glazed(opening):
        return False
    return opening.word("faces_sun", "yes") not in ("no", "False")


def is_glazed(opening: Node) -> bool:
    """Glass is written in an opening; what the sun does there comes through the glass."""
    return any(
        kinds.says(opening, path) for path in ("glazing", "side_lights.glazing", "transom.glazing")
    )


def _on_glass(facts: Facts, wall: Node) -> float:
    stated = _stated(facts, wall)
    if stated is not None:
        return stated
    faces, latitude = looks(facts, wall), _latitude(facts)
    all_round = (0.0, 90.0, 180.0, 270.0) if faces is None else (faces,)
    return max(formulas.peak(latitude, side).irradiance for side in all_round)


def _share(facts: Facts, glass: Node) -> float:
    return glass.number("shgc") if kinds.says(glass, "shgc") else facts.job.limit("glazing.shgc")
