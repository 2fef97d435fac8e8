"""Heat through walls, ceilings and floors made of layers, framed or not.

Two results stand side by side: the parallel-path U of ASHRAE Handbook Fundamentals 2017
ch. 27 and the combined U of ISO 6946 (mean of an upper and a lower limit). Metal studs
are never plain parallel paths: `steel_framing` has those.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise, product
from typing import Literal, NamedTuple

from spec.derive.formulas.range import NotCovered, not_negative, positive, some, within

Direction = Literal["up", "horizontal", "down"]
"""Which way the heat flows: down through the ceiling of a cooled room under a hot attic."""

INSIDE_FILM: dict[Direction, float] = {"up": 0.10, "horizontal": 0.13, "down": 0.17}
"""[m²K/W] Surface resistance toward a room. ISO 6946:2017 table 7."""

OUTSIDE_FILM = 0.04
"""[m²K/W] Surface resistance toward outdoor air. ISO 6946:2017 table 7."""

_CAVITY: dict[Direction, tuple[tuple[float, float], ...]] = {
    # thickness [m], resistance [m²K/W] of an unventilated air layer
    "up": (
        (0.0, 0.0), (0.005, 0.11), (0.007, 0.13), (0.010, 0.15), (0.015, 0.16), (0.3, 0.16),
    ),
    "horizontal": (
        (0.0, 0.0), (0.005, 0.11), (0.007, 0.13), (0.010, 0.15), (0.015, 0.17), (0.025, 0.18),
        (0.3, 0.18),
    ),
    "down": (
        (0.0, 0.0), (0.005, 0.11), (0.007, 0.13), (0.010, 0.15), (0.015, 0.17), (0.025, 0.19),
        (0.050, 0.21), (0.100, 0.22), (0.3, 0.23),
    ),
}  # fmt: skip


class Layer(NamedTuple):
    """One layer of an assembly: what fills it, and the framing that bridges it, if any.

    resistance [m²K/W] of the field; bridge [m²K/W] resistance through the framing and share [-]
    of the area that the framing takes, 0 to below 1. Layers with the same word in `frame` are
    bridged by the same members, one behind the other; different words cross independently.
    """

    resistance: float
    bridge: float = 0.0
    share: float = 0.0
    frame: str = ""


class Transmittance(NamedTuple):
    """Heat through an assembly, films included.

    upper, lower [m²K/W]: limits of ISO 6946; resistance [m²K/W]: their mean; u_value [W/m²K]: its
    reciprocal; parallel_path [W/m²K]: ASHRAE's, which is 1/upper; uncertainty [-]: the greatest
    relative error of the mean; holds: False where upper/lower is above 1.5 and ISO 6946 asks for
    a numerical calculation.
    """

    upper: float
    lower: float
    resistance: float
    u_value: float
    parallel_path: float
    uncertainty: float
    holds: bool


def resistance(thickness: float, conductivity: float) -> float:
    """Thermal resistance of a solid layer.

    thickness [m], 0 or more; conductivity [W/mK], above 0 to 500. Returns [m²K/W].
    Raises OutOfRange. Source: ISO 6946, R = d/λ.

    >>> resistance(0.14, 0.035)
    4.0
    """
    not_negative(thickness, "thickness", "m")
    within(positive(conductivity, "conductivity", "W/mK"), 0.0, 500.0, "conductivity", "W/mK")
    return thickness / conductivity


def cavity_resistance(thickness: float, direction: Direction) -> float:
    """Thermal resistance of an unventilated air space between ordinary (not shiny) faces.

    thickness [m] along the heat flow, 0 to 0.3; direction: of the heat flow. Returns [m²K/W],
    interpolated. Raises OutOfRange. Source: ISO 6946:2007 table 2.

    >>> cavity_resistance(0.050, "horizontal")
    0.18
    """
    within(thickness, 0.0, 0.3, "air space", "m")
    table = _CAVITY[direction]
    for (low, r_low), (high, r_high) in pairwise(table):
        if thickness <= high:
            return r_low + (r_high - r_low) * (thickness - low) / (high - low)
    raise AssertionError("the table ends where the range does")


def transmittance(
    layers: Sequence[Layer], inside_film: float, outside_film: float
) -> Transmittance:
    """U of an assembly of homogeneous and framed layers, by both methods.

    layers: from either side; inside_film, outside_film [m²K/W], 0 or more. Returns
    `Transmittance`. Raises OutOfRange for no layers, a share outside 0 to below 1, framing without
    resistance, or one frame with two shares.
    Source: ISO 6946:2017 6.7.2 (2007: 6.2.2 to 6.2.5), upper and lower limit, their mean
    and the greatest relative error; ASHRAE Fundamentals 2017 ch. 27, parallel path.
    """
    some(layers, "layers")
    films = not_negative(inside_film, "inside film") + not_negative(outside_film, "outside film")
    frames = _frames(layers)
    upper = 1.0 / sum(
        share / positive(films + sum(_through(layer, bridged) for layer in layers), "resistance")
        for share, bridged in _paths(frames)
    )
    lower = films + sum(_isothermal(layer) for layer in layers)
    mean = (upper + lower) / 2.0
    return Transmittance(
        upper=upper,
        lower=lower,
        resistance=mean,
        u_value=1.0 / mean,
        parallel_path=1.0 / upper,
        uncertainty=(upper - lower) / (2.0 * mean),
        holds=upper <= 1.5 * lower,
    )


def framing_share(member: float, spacing: float, height: float = 1.0, plates: int = 0) -> float:
    """Share of a framed wall's area that is wood: studs, and plates top and bottom.

    member [m] face width of a stud or plate, above 0; spacing [m] center to center, more than the
    member, to 10; height [m] of the wall, more than all plates; plates: how many lie one over the
    other, top and bottom together, none where the members run through. Returns [-]: geometry only,
    without studs beside openings, which real walls have (house standards carry 25 % at 16 in and
    22 % at 24 in, from memory of ASHRAE).
    Raises OutOfRange. Source: geometry.

    >>> round(framing_share(0.0381, 0.4064, 2.4384, 3), 3)
    0.136
    """
    positive(member, "framing member", "m")
    if within(spacing, 0.0, 10.0, "spacing of the framing", "m") <= member:
        raise NotCovered("the framing is spaced closer than its members are wide")
    flat = plates * member / positive(height, "wall height", "m")
    if not 0.0 <= flat < 1.0:
        raise NotCovered("the plates are higher than the wall")
    return flat + (1.0 - flat) * member / spacing


def temperatures(
    resistances: Sequence[float], from_temperature: float, to_temperature: float
) -> tuple[float, ...]:
    """Temperature at every boundary between layers, steady, in the order given.

    resistances [m²K/W], n of them, films first and last, each 0 or more; from_temperature,
    to_temperature [°C] of the air on the first and last side, -60 to 100. Returns n + 1
    temperatures [°C], the two air temperatures included. Raises OutOfRange for no resistance.
    Source: ISO 13788:2012 cl. 6: temperature falls in step with resistance.
    """
    total = positive(
        sum(not_negative(r, "resistance", "m²K/W") for r in resistances), "resistance", "m²K/W"
    )
    within(from_temperature, -60.0, 100.0, "temperature", "°C")
    within(to_temperature, -60.0, 100.0, "temperature", "°C")
    passed, found = 0.0, [from_temperature]
    for r in resistances:
        passed += r
        found.append(from_temperature + (to_temperature - from_temperature) * passed / total)
    return tuple(found)


def sol_air_temperature(
    air: float, irradiance: float, absorptance: float, film: float = 0.059, sky: float = 0.0
) -> float:
    """Outdoor air temperature that would drive as much heat as air and sun together.

    air [°C], -40 to 60; irradiance [W/m²] on the surface, 0 to 1400; absorptance [-] of its color,
    0 to 1 (light .45, dark .9); film [m²K/W] outside, summer, above 0 (17 W/m²K); sky [K], 0 to 10:
    4 for a horizontal surface that radiates to a clear sky, 0 for a wall. Returns [°C]. Raises
    OutOfRange.
    Source: ASHRAE Fundamentals 2017 ch. 18, sol-air temperature.
    """
    within(air, -40.0, 60.0, "air temperature", "°C")
    within(irradiance, 0.0, 1400.0, "irradiance", "W/m²")
    within(absorptance, 0.0, 1.0, "absorptance of the surface")
    within(sky, 0.0, 10.0, "sky correction", "K")
    return air + absorptance * irradiance * positive(film, "outside film", "m²K/W") - sky


def _frames(layers: Sequence[Layer]) -> dict[str, float]:
    found: dict[str, float] = {}
    for layer in layers:
        not_negative(layer.resistance, "resistance of a layer", "m²K/W")
        if layer.share == 0.0:
            continue
        if not 0.0 < layer.share < 1.0:
            raise NotCovered(f"the framing takes {layer.share:.0%} of the area; below 100 % holds")
        positive(layer.bridge, "resistance through the framing", "m²K/W")
        if found.setdefault(layer.frame, layer.share) != layer.share:
            raise NotCovered("the same framing takes two different shares of the area")
    return found


def _paths(frames: dict[str, float]) -> list[tuple[float, frozenset[str]]]:
    """Every way straight through: its share of the area, and which frames it runs in."""
    paths = []
    for hits in product((False, True), repeat=len(frames)):
        share, bridged = 1.0, set()
        for (name, of_area), hit in zip(frames.items(), hits, strict=True):
            share *= of_area if hit else 1.0 - of_area
            if hit:
                bridged.add(name)
        paths.append((share, frozenset(bridged)))
    return paths


def _through(layer: Layer, bridged: frozenset[str]) -> float:
    return layer.bridge if layer.share and layer.frame in bridged else layer.resistance


def _isothermal(layer: Layer) -> float:
    if not layer.share:
        return layer.resistance
    field = positive(layer.resistance, "resistance of a framed layer", "m²K/W")
    return 1.0 / (layer.share / layer.bridge + (1.0 - layer.share) / field)
