"""Heat and moisture that the cooling unit has to take out of the room.

Everything is a `Load`: sensible and latent apart, positive when the room gains. Source of the
method: ASHRAE Handbook Refrigeration 2006 ch. 13, in later editions ch. 24, refrigerated-facility
loads (seen quoted, by section, not by equation number); moist air by `air`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

from spec.derive.formulas.air import Air
from spec.derive.formulas.constants import GRAVITY
from spec.derive.formulas.range import NotCovered, not_negative, positive, within

VAPORIZATION = 2_501_000.0
"""[J/kg] Heat of vaporization at 0 °C. ASHRAE Fundamentals 2017 ch. 1 eq. 29."""

VAPOR_HEAT = 1860.0
"""[J/kgK] Specific heat of water vapor. ASHRAE Fundamentals 2017 ch. 1 eq. 29."""

GLASS_HEAT = 750.0
"""[J/kgK] Specific heat of soda-lime glass. EN ISO 10456:2007 table 3."""

DAY = 24.0
"""[h]"""

DOOR_PROTECTION = {"none": 0.0, "air_curtain": 0.5, "strip_curtain": 0.9}
"""[-] Effectiveness of what hangs in a doorway: the safe end of what was measured. Jekel 2017; Pham
and Oliver 1983; both seen quoted."""


@dataclass(frozen=True, slots=True)
class Load:
    """A gain of the room: sensible [W], latent [W], and water [kg/s] that comes with the latent."""

    sensible: float
    latent: float = 0.0
    water: float = 0.0

    @property
    def total(self) -> float:
        """Sensible and latent together [W]."""
        return self.sensible + self.latent

    def __add__(self, other: Load) -> Load:
        return Load(
            self.sensible + other.sensible, self.latent + other.latent, self.water + other.water
        )

    def times(self, share: float) -> Load:
        """The same gain over a share of the time.

        share [-], 0 to 1. Returns `Load` averaged over the whole time. Raises OutOfRange.
        """
        within(share, 0.0, 1.0, "share of the time")
        return Load(self.sensible * share, self.latent * share, self.water * share)


class Doorway(NamedTuple):
    """Air exchanged through an open door by its own weight.

    while_open: `Load` while the door stands open; flow [m³/s] of air each way; density_factor
    [-] Fm.
    """

    while_open: Load
    flow: float
    density_factor: float


def transmission(area: float, u_value: float, beyond: float, room: float) -> Load:
    """Heat through one surface.

    area [m²], 0 or more; u_value [W/m²K], 0 to 10; beyond [°C] air, ground or sol-air temperature
    on the far side, -60 to 100; room [°C], -10 to 40. Returns a sensible `Load`, negative when the
    far side is colder. Raises OutOfRange.
    Source: ASHRAE Refrigeration 2006 ch. 13, transmission load.

    >>> transmission(10.0, 0.3, 32.0, 12.0).sensible
    60.0
    """
    not_negative(area, "area", "m²")
    within(u_value, 0.0, 10.0, "U-value", "W/m²K")
    within(beyond, -60.0, 100.0, "temperature beyond the surface", "°C")
    return Load(area * u_value * (beyond - _room(room)))


def infiltration(volume: float, changes_per_hour: float, beyond: Air, room: Air) -> Load:
    """Heat and moisture of air that leaks in and replaces room air.

    volume [m³] of the room, 0 or more; changes_per_hour [1/h], 0 to 20; beyond, room: `Air`, at one
    pressure. Returns `Load`. Raises OutOfRange.
    Source: mass of dry air in the room's volume times the difference of enthalpy, ASHRAE
    Refrigeration 2006 ch. 13, infiltration.
    """
    not_negative(volume, "room volume", "m³")
    within(changes_per_hour, 0.0, 20.0, "air changes", "1/h")
    return _exchange(volume * changes_per_hour / 3600.0 / room.volume, beyond, room)


def doorway(width: float, height: float, beyond: Air, room: Air) -> Doorway:
    """Air exchange through a doorway that stands open, established flow.

    width, height [m] clear, above 0 to 5; beyond, room: `Air` on the far side and in the cold room,
    at one pressure. Returns `Doorway`, for the whole time open: see
    `through_door`. Where the far side is the denser the flow turns round and the sign with it.
    Raises OutOfRange. Source: Gosney and Olama 1975, as in ASHRAE Refrigeration 2006 ch. 13; the
    volume flow is .221 A (1 - ρi/ρr)^½ (gH)^½ Fm, with ρ of moist air.
    """
    within(positive(width, "doorway width", "m"), 0.0, 5.0, "doorway width", "m")
    within(positive(height, "doorway height", "m"), 0.0, 5.0, "doorway height", "m")
    light, dense = sorted((beyond.density, room.density))
    factor = (2.0 / (1.0 + (dense / light) ** (1.0 / 3.0))) ** 1.5
    fall = ((1.0 - light / dense) * GRAVITY * height) ** 0.5
    flow = 0.221 * width * height * fall * factor
    # The handbook weighs the exchanged air, vapor included, at the room's density.
    return Doorway(_exchange(flow * room.density, beyond, room), flow, factor)


def through_door(exchange: Doorway, share: float, difference: float, protection: float) -> Load:
    """What a door that is used lets in, averaged over the day.

    exchange: of `doorway`; share [-] of the day that it is open, 0 to 1: `open_share`; difference
    [K] of temperature across it, 0 to 60; protection [-]: effectiveness of strips or curtain, 0 to
    1 (DOOR_PROTECTION). Returns `Load`. Raises OutOfRange.
    Source: ASHRAE Refrigeration 2006 ch. 13, q Dt Df (1 - E).
    """
    kept = 1.0 - within(protection, 0.0, 1.0, "effectiveness of strips or curtain")
    part = within(share, 0.0, 1.0, "share of the day that the door is open") * kept
    part *= flow_factor(difference)
    whole = exchange.while_open
    return Load(whole.sensible * part, whole.latent * part, whole.water * part)


def flow_factor(difference: float) -> float:
    """How much of the established flow comes about through a door that is used, not left open.

    difference [K] of temperature across the door, 0 to 60. Returns [-]: 1.1 up to 11 K, .8 above.
    Raises OutOfRange. Source: ASHRAE Refrigeration 2006 ch. 13, doorway flow factor.
    """
    return 1.1 if within(difference, 0.0, 60.0, "temperature difference", "K") <= 11.0 else 0.8


def open_share(passages: float, seconds_each: float, standing_open: float = 0.0) -> float:
    """Share of the day that a door is open.

    passages [1/day], 0 or more; seconds_each [s] from opening to shut, 0 to 600; standing_open
    [s/day], 0 or more. Returns [-], 0 to 1. Raises OutOfRange, also for more than a day.
    Source: ASHRAE Refrigeration 2006 ch. 13, doorway open-time factor.

    >>> open_share(8, 10.8)
    0.001
    """
    not_negative(passages, "door openings a day", "1/day")
    within(seconds_each, 0.0, 600.0, "time of one opening", "s")
    share = (passages * seconds_each + not_negative(standing_open, "time open", "s")) / 86_400.0
    return within(share, 0.0, 1.0, "share of the day that the door is open")


def person(room: float) -> Load:
    """Heat of one person at light work in a cold room, counted as sensible.

    room [°C], -10 to 30. Returns `Load`. Raises OutOfRange.
    Source: ASHRAE Refrigeration 2006 ch. 13, people, q = 272 - 6t (from memory; people newly in
    from warmth give more at first). The handbook does not part sensible from latent.

    >>> person(12.0).total
    200.0
    """
    return Load(272.0 - 6.0 * within(room, -10.0, 30.0, "room temperature", "°C"))


def running(power: float, hours_per_day: float) -> Load:
    """Electric power turned to heat in the room, averaged over the day: lights, fans, heaters.

    power [W], 0 or more; hours_per_day [h/day], 0 to 24. Returns `Load`. Raises OutOfRange.
    Source: conservation of energy.

    >>> running(120.0, 2.0).total
    10.0
    """
    not_negative(power, "power", "W")
    return Load(power * within(hours_per_day, 0.0, DAY, "hours a day", "h") / DAY)


def heat_of_bottles(
    glass: float, wine: float, arriving: float, room: float, wine_heat: float
) -> float:
    """Heat to take out of bottles that come in warm.

    glass, wine [kg] of all bottles, 0 or more; arriving, room [°C], -10 to 45; wine_heat [J/kgK],
    3900 to 4300. Returns [J], 0 for bottles that arrive cooler than the room. Raises OutOfRange.
    Source: m c ΔT, ASHRAE Refrigeration 2006 ch. 13, product load.
    """
    not_negative(glass, "mass of glass", "kg"), not_negative(wine, "mass of wine", "kg")
    within(arriving, -10.0, 45.0, "temperature on arrival", "°C")
    within(wine_heat, 3900.0, 4300.0, "specific heat of wine", "J/kgK")
    return max(0.0, (glass * GLASS_HEAT + wine * wine_heat) * (arriving - _room(room)))


def pull_down(heat: float, allowed: float) -> Load:
    """Mean power to take a heat out within the time allowed.

    heat [J], 0 or more; allowed [s], above 0. Returns `Load`. Raises OutOfRange.
    Source: ASHRAE Refrigeration 2006 ch. 13, product load, over time.
    """
    return Load(not_negative(heat, "heat", "J") / positive(allowed, "time allowed", "s"))


def pull_down_time(heat: float, capacity: float, other_loads: float) -> float:
    """How long the chosen unit takes to bring the wine down while it carries all else.

    heat [J], 0 or more; capacity [W], above 0; other_loads [W], 0 or more. Returns [s], running
    without a stop; infinite when nothing is left over. Raises OutOfRange.
    Source: conservation of energy; a bottle's core lags behind its air (hours, not days).
    """
    left = positive(capacity, "capacity", "W") - not_negative(other_loads, "other loads", "W")
    return not_negative(heat, "heat", "J") / left if left > 0.0 else float("inf")


def hold_time(
    heat_capacity: float, conductance: float, room: float, limit: float, beyond: float
) -> float:
    """How long the room keeps its wine when the cooling is off.

    heat_capacity [J/K] of wine, glass and what else must warm, above 0; conductance [W/K]: U A of
    all surfaces and the leaking air, above 0; room [°C] at the start; limit [°C] allowed; beyond
    [°C]; -10 to 45, limit at least room. Returns [s]; infinite where beyond is not above the limit.
    Raises OutOfRange. Source: one heat store behind one resistance, C/UA ln((Tb - T0)/(Tb - T1)).
    """
    positive(heat_capacity, "heat capacity", "J/K"), positive(conductance, "conductance", "W/K")
    within(limit, _room(room), 45.0, "temperature allowed", "°C")
    within(beyond, -10.0, 45.0, "temperature beyond", "°C")
    if beyond <= limit:
        return float("inf")
    return heat_capacity / conductance * math.log((beyond - room) / (beyond - limit))


def capacity_needed(average: float, safety: float, hours_per_day: float) -> float:
    """Capacity that carries a day's average load in the hours that the unit may run.

    average [W] over 24 h, 0 or more; safety [-], 0 to 0.5 (0.10 is usual); hours_per_day [h] of
    running, above 0 to 24 (16 to 18 is usual). Returns [W]. Raises OutOfRange.
    Source: ASHRAE Refrigeration 2006 ch. 13, safety factor; run time is common practice.

    >>> round(capacity_needed(100.0, 0.10, 16.0), 6)
    165.0
    """
    within(safety, 0.0, 0.5, "safety factor")
    hours = within(positive(hours_per_day, "hours of running", "h"), 0.0, DAY, "running time", "h")
    return not_negative(average, "average load", "W") * (1.0 + safety) * DAY / hours


def condensate_per_day(load: Load) -> float:
    """Water that has to leave the room each day to hold its humidity.

    load: averaged over the day. Returns [kg/day]; below 0 the room loses water, and dries.
    Raises OutOfRange for more than a kilogram a second. Source: conservation of mass.
    """
    return within(load.water, -1.0, 1.0, "water that comes in", "kg/s") * 86_400.0


def _exchange(mass_flow: float, beyond: Air, room: Air) -> Load:
    """Gain by a flow of dry air [kg/s] in and as much out; the parts sum to the enthalpy's."""
    if abs(beyond.pressure - room.pressure) > 1.0:
        raise NotCovered("air on the two sides of a door has one pressure; two were given")
    water = mass_flow * (beyond.humidity_ratio - room.humidity_ratio)
    total = mass_flow * (beyond.enthalpy - room.enthalpy)
    latent = water * (VAPORIZATION + VAPOR_HEAT * room.temperature)
    return Load(total - latent, latent, water)


def _room(value: float) -> float:
    return within(value, -10.0, 40.0, "room temperature", "°C")
