"""Sweat on glass, frames, door leaves and sealed walls; the U of a door or side light.

The inner surface on the warm side of anything thin follows from its U; it stays dry
while it is warmer than the dew point of the air beside it.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from spec.derive.formulas import air
from spec.derive.formulas.range import NotCovered, not_negative, positive, within

Pane = tuple[float, float]
"""An area [m²] and its U [W/m²K]."""


class Sweat(NamedTuple):
    """Whether a surface stays dry, and what would make it dry.

    surface [°C] temperature of the warm-side surface; dew_point [°C] of the warm air; margin [K]:
    surface less dew point; dry: margin is above zero; highest_humidity [-] of the warm air at which
    it just stays dry; u_that_would_do [W/m²K]: the largest U that stays dry in this air (infinite
    where anything would do, 0 where nothing can).
    """

    surface: float
    dew_point: float
    margin: float
    dry: bool
    highest_humidity: float
    u_that_would_do: float


def surface_temperature(u_value: float, film: float, warm: float, cold: float) -> float:
    """Temperature of the surface that faces the warm side.

    u_value [W/m²K] with films, above 0, at most 1/film; film [m²K/W] on the warm side, above 0
    (0.13 upright and free, 0.25 behind things); warm, cold [°C] air, -40 to 80, warm at least cold.
    Returns [°C]. Raises OutOfRange. Source: ISO 13788:2012, temperature factor f = 1 - U Rsi.

    >>> round(surface_temperature(1.0, 0.13, 24.0, 12.0), 2)
    22.44
    """
    positive(film, "film on the warm side", "m²K/W")
    within(positive(u_value, "U-value", "W/m²K"), 0.0, 1.0 / film, "U-value", "W/m²K")
    within(warm, -40.0, 80.0, "warm air", "°C")
    within(cold, -40.0, warm, "cold air", "°C")
    return warm - u_value * film * (warm - cold)


def highest_dry_humidity(u_value: float, film: float, warm: float, cold: float) -> float:
    """Highest relative humidity of the warm air at which the surface stays dry.

    u_value [W/m²K]; film [m²K/W]; warm, cold [°C]: as in `surface_temperature`. Returns [-], 0 to
    1. Raises OutOfRange. Source: saturation pressure at the surface over that of the air, ASHRAE
    Fundamentals 2017 ch. 1 eq. 22.
    """
    surface = surface_temperature(u_value, film, warm, cold)
    return air.saturation_pressure(surface) / air.saturation_pressure(warm)


def largest_dry_u(film: float, warm: float, humidity: float, cold: float) -> float:
    """Largest U whose warm surface still stays above the dew point of the warm air.

    film [m²K/W], above 0; warm, cold [°C]; humidity [-] of the warm air, above 0 to 1. Returns
    [W/m²K]: infinite where the cold air is above the dew point, 0 in saturated air, never
    more than 1/film otherwise. Raises OutOfRange. Source: `surface_temperature` solved for U.
    """
    positive(film, "film on the warm side", "m²K/W")
    within(cold, -40.0, within(warm, -40.0, 80.0, "warm air", "°C"), "cold air", "°C")
    dew = air.dew_point(warm, humidity)
    if cold > dew:
        return float("inf")
    return (warm - dew) / (film * (warm - cold)) if dew < warm else 0.0


def sweat(u_value: float, film: float, warm: float, humidity: float, cold: float) -> Sweat:
    """Whether the warm-side surface sweats.

    u_value [W/m²K]; film [m²K/W]; warm, cold [°C]; humidity [-] of the warm air: as in the
    functions above. Returns `Sweat`. Raises OutOfRange. Source: as the functions above.
    """
    surface = surface_temperature(u_value, film, warm, cold)
    dew = air.dew_point(warm, humidity)
    return Sweat(
        surface=surface,
        dew_point=dew,
        margin=surface - dew,
        dry=surface > dew,
        highest_humidity=highest_dry_humidity(u_value, film, warm, cold),
        u_that_would_do=largest_dry_u(film, warm, humidity, cold),
    )


def assembled_u(
    glass: Sequence[Pane], frame: Sequence[Pane], edges: Sequence[tuple[float, float]]
) -> float:
    """U of a door, window or side light from its glass, frame and glass edge.

    glass, frame: areas [m²] and U [W/m²K], at least one of them; edges: visible lengths of glass
    edge [m] and their linear transmittance [W/mK] by spacer and frame. Returns [W/m²K].
    Raises OutOfRange. Source: ISO 10077-1, Uw.
    """
    faces = [*glass, *frame]
    area = sum(not_negative(a, "area", "m²") for a, _ in faces)
    if not area > 0.0:
        raise NotCovered("a door or window needs glass or a frame")
    heat = sum(a * positive(u, "U-value", "W/m²K") for a, u in faces)
    for length, psi in edges:
        not_negative(length, "glass edge", "m")
        heat += length * within(psi, 0.0, 0.5, "edge transmittance", "W/mK")
    return heat / area


EDGE: dict[str, dict[str, tuple[float, float]]] = {
    # spacer: frame: (uncoated glass, low-emissivity glass) [W/mK]
    "aluminum": {
        "wood": (0.06, 0.08), "metal_with_break": (0.08, 0.11), "metal": (0.02, 0.05),
    },
    "warm_edge": {
        "wood": (0.05, 0.06), "metal_with_break": (0.06, 0.08), "metal": (0.01, 0.04),
    },
}  # fmt: skip
"""[W/mK] Linear transmittance of a glass edge. ISO 10077-1:2006 tables E.1 and E.2, from memory."""


def edge_transmittance(spacer: str, frame: str, coated: bool) -> float:
    """Linear transmittance of a glass edge.

    spacer: aluminum or warm_edge; frame: wood, metal_with_break or metal; coated: whether a face
    carries a low-emissivity coating. Returns [W/mK]. Raises NotCovered for other words.
    Source: ISO 10077-1:2006 tables E.1 and E.2 (values from memory: check the adopted edition).
    """
    try:
        return EDGE[spacer][frame][1 if coated else 0]
    except KeyError:
        raise NotCovered(f"no edge transmittance is known for {spacer} in {frame}") from None


EDGE_BAND = 0.0635
"""[m] How far the edge of a glass reaches from its frame, 2 1/2 in. NFRC 100; ASHRAE Handbook
Fundamentals ch. 15."""

METAL_FRAME = ((0.0, 5.9), (0.004, 4.0), (0.012, 3.4), (0.020, 3.0), (0.036, 2.6))
"""Thermal break [m]: U of a metal frame [W/m²K], the upper line. ISO 10077-1 annex D, from memory:
check the adopted edition."""


def edge_u(middle: float, psi: float) -> float:
    """U of the glass beside its frame, as the mean of a band of 63.5 mm.

    middle [W/m²K]: U in the middle of the glass, above 0; psi [W/mK]: `edge_transmittance`, 0 to
    0.5. Returns [W/m²K]. Raises OutOfRange. Source: Ψ laid wholly to the glass, the safe side, over
    the band of NFRC 100; the line of the frame itself is colder still.
    """
    positive(middle, "U-value", "W/m²K")
    return middle + within(psi, 0.0, 0.5, "edge transmittance", "W/mK") / EDGE_BAND


def metal_frame_u(thermal_break: float) -> float:
    """U of a metal frame by the width of its thermal break.

    thermal_break [m], 0 for none, to 0.2. Returns [W/m²K], interpolated, no less than at 36 mm.
    Raises OutOfRange. Source: METAL_FRAME.

    >>> metal_frame_u(0.0), round(metal_frame_u(0.016), 2)
    (5.9, 3.2)
    """
    wide = within(thermal_break, 0.0, 0.2, "thermal break", "m")
    for (low, u_low), (high, u_high) in pairwise(METAL_FRAME):
        if wide <= high:
            return u_low + (u_high - u_low) * (wide - low) / (high - low)
    return METAL_FRAME[-1][1]


def solar_gain(area: float, gain_factor: float, irradiance: float) -> float:
    """Sun's heat through glass.

    area [m²], 0 or more; gain_factor [-] SHGC, g, shades included, 0 to 1; irradiance [W/m²] on
    the glass, 0 to 1400. Returns [W]. Raises OutOfRange.
    Source: ASHRAE Fundamentals 2017 ch. 15, q = A SHGC E.
    """
    within(gain_factor, 0.0, 1.0, "solar heat gain factor")
    within(irradiance, 0.0, 1400.0, "irradiance", "W/m²")
    return not_negative(area, "glass area", "m²") * gain_factor * irradiance
