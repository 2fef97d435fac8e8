"""Sun on an outside wall or glass, when the job states no irradiance: a clear day's peak.

Source of all of it: the ASHRAE clear-sky model, Handbook Fundamentals 1997 to 2005 ch. 30 (A, B and
C from memory of its table; later editions need measured optical depths of each place).
"""

from __future__ import annotations

import math
from typing import NamedTuple

from spec.derive.formulas.range import within

_DECLINATION = (-20.0, -10.8, 0.0, 11.6, 20.0, 23.45, 20.6, 12.3, 0.0, -10.5, -19.8, -23.45)
_A = (1230, 1215, 1186, 1136, 1104, 1088, 1085, 1107, 1151, 1192, 1221, 1233)
_B = (0.142, 0.144, 0.156, 0.180, 0.196, 0.205, 0.207, 0.201, 0.177, 0.160, 0.149, 0.142)
_C = (0.058, 0.060, 0.071, 0.097, 0.121, 0.134, 0.136, 0.122, 0.092, 0.073, 0.063, 0.057)
"""On the 21st of each month: declination [degrees], A [W/m²], B [-], C [-]."""

GROUND = 0.2
"""[-] Part of the light that lawn or gravel sends back."""


ALLOWANCE = {"north": 0.0, "east": 5.0, "south": 3.0, "west": 5.0, "roof": 11.0}
"""[K] What the sun on a dark outside face adds, over the day, to the difference of temperature
across it, north of the equator. ASHRAE Refrigeration 2006 ch. 13, allowance for sun effect, from
memory."""


def allowance(faces: float | None, *, roof: bool = False, south: bool = False) -> float:
    """What the sun adds to the difference of temperature across an opaque surface, over the day.

    faces [degrees] from north, clockwise, 0 to 360, None where nobody knows: the sunniest wall;
    roof: whether it is one, however it slopes; south: whether the place lies south of the equator.
    Returns [K], between the four quarters interpolated. Raises OutOfRange. Source: ALLOWANCE.

    >>> allowance(270.0), allowance(225.0), allowance(None, roof=True)
    (5.0, 4.0, 11.0)
    """
    if roof:
        return ALLOWANCE["roof"]
    if faces is None:
        return max(value for name, value in ALLOWANCE.items() if name != "roof")
    turned = within(faces, 0.0, 360.0, "direction of the surface", "degrees")
    if south:
        turned = (180.0 - turned) % 360.0
    quarters = [ALLOWANCE[name] for name in ("north", "east", "south", "west", "north")]
    number, past = divmod(turned, 90.0)
    first, second = quarters[int(number) % 4], quarters[int(number) % 4 + 1]
    return first + (second - first) * past / 90.0


class Sun(NamedTuple):
    """Where the sun stands.

    altitude [degrees] above the horizon; azimuth [degrees] from north, clockwise.
    """

    altitude: float
    azimuth: float


class Peak(NamedTuple):
    """The brightest hour of a clear year on a surface.

    irradiance [W/m²]; month, 1 to 12; hour [h] of solar time.
    """

    irradiance: float
    month: int
    hour: float


def position(latitude: float, month: int, hour: float) -> Sun:
    """Where the sun stands on the 21st of a month.

    latitude [degrees], -66 to 66, south negative; month, 1 to 12; hour [h] of solar time, 0 to 24.
    Returns `Sun`. Raises OutOfRange. Source: spherical geometry, as Fundamentals 2005 ch. 31.

    >>> round(position(40.0, 7, 12.0).altitude, 1)
    70.6
    """
    place = math.radians(within(latitude, -66.0, 66.0, "latitude", "degrees"))
    tilt = math.radians(_DECLINATION[int(within(month, 1, 12, "month")) - 1])
    turn = math.radians(15.0 * (within(hour, 0.0, 24.0, "hour of the day", "h") - 12.0))
    east = -math.cos(tilt) * math.sin(turn)
    north = math.sin(tilt) * math.cos(place) - math.cos(tilt) * math.sin(place) * math.cos(turn)
    up = math.sin(tilt) * math.sin(place) + math.cos(tilt) * math.cos(place) * math.cos(turn)
    altitude = math.degrees(math.asin(max(-1.0, min(1.0, up))))
    return Sun(altitude, math.degrees(math.atan2(east, north)) % 360.0)


def irradiance(
    latitude: float, month: int, hour: float, *, faces: float, slope: float = 90.0
) -> float:
    """Clear-sky irradiance on a surface: direct, diffuse and from the ground.

    latitude [degrees], month, hour [h]: as in `position`; faces [degrees] from north, clockwise, 0
    to 360: where the surface looks; slope [degrees] from level, 0 flat to 90 upright. Returns
    [W/m²], 0 at night. Raises OutOfRange. Source: ASHRAE Fundamentals 2005 ch. 30, clear sky.
    """
    sun = position(latitude, month, hour)
    look = math.radians(within(faces, 0.0, 360.0, "direction of the surface", "degrees"))
    lean = math.radians(within(slope, 0.0, 90.0, "slope of the surface", "degrees"))
    if sun.altitude <= 0.0:
        return 0.0
    high, around = math.radians(sun.altitude), math.radians(sun.azimuth)
    direct = _A[month - 1] * math.exp(-_B[month - 1] / math.sin(high))
    facing = math.cos(high) * math.cos(around - look) * math.sin(lean) + math.sin(high) * math.cos(
        lean
    )
    diffuse = _C[month - 1] * direct * (1.0 + math.cos(lean)) / 2.0
    back = direct * (_C[month - 1] + math.sin(high)) * GROUND * (1.0 - math.cos(lean)) / 2.0
    return max(0.0, facing) * direct + diffuse + back


def peak(latitude: float, faces: float, slope: float = 90.0) -> Peak:
    """The brightest hour of a clear year on a surface: the default where a job states none.

    latitude [degrees], -66 to 66; faces [degrees] from north, 0 to 360; slope [degrees], 0 to 90.
    Returns `Peak`, to the half hour. Raises OutOfRange. Source: `irradiance`.
    """
    return max(
        (
            Peak(
                irradiance(latitude, month, half / 2.0, faces=faces, slope=slope), month, half / 2.0
            )
            for month in range(1, 13)
            for half in range(8, 41)
        ),
        key=lambda found: found.irradiance,
    )
