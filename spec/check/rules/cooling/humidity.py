"""The humidity that is promised, against the dry air of a heated house in winter."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.check.worked import known
from spec.derive.sheets import kinds
from spec.derive.sheets.winter import air_from
from spec.finding import Level
from spec.quantity import show

_DRY = """
surroundings:
  hall: {summer: {temperature: 24 °C, humidity: 50 %}, winter: {temperature: 21 °C, humidity: 20 %}}
rooms:
  wine_room:
    use: wine_storage
    climate: {temperature: 12 °C, humidity: 60 %, band: {humidity: 5 %}, humidifier: HUMIDIFIER}
    walls_clockwise: {WA: {faces: hall, openings: {D1: {is: door}}}}
    cooling: {kind: split_wall}
"""


@rule(
    "cooling.humidity-below-band",
    level=Level.WARNING,
    trades=("refrigeration",),
    why="The air of a heated house in February is drier than any cork likes, and a cooling machine "
    "adds no water to it.",
    source="ASHRAE Handbook Fundamentals 2017 ch. 1, moist air",
    each=("room",),
    bad=_DRY.replace("HUMIDIFIER", "none"),
    good=_DRY.replace("HUMIDIFIER", "in the supply air"),
)
def humidity_below_band(facts: Facts, room: Node) -> Iterator[Said]:
    """In winter a cooled room without a humidifier settles below the humidity that is promised."""
    if not kinds.is_cooled(room) or kinds.says(room, "climate.humidifier"):
        return
    settles = known(facts, "cooling.winter_humidity", room)
    band = room.si("climate.band.humidity", 0.0)
    least = room.si("climate.humidity") - band
    if settles is None or settles >= least - 0.005:
        return
    system = facts.job.system
    beyond = next(air_from(facts, room))
    yield said(
        room.at("climate.humidity"),
        f"in winter the air of the house brings {room.key.replace('_', ' ')} to "
        f"{show(settles, 'percent', system)}; {show(least, 'percent', system)} is promised",
        "plan a humidifier, promise less, or waive it with the client's name",
        beyond,
    )
