"""Copper conductors: size, resistance, current they may carry. American and metric.

NEC is NFPA 70:2023. Its values here were seen quoted by others, or are from memory where that is
said: a document that prints one adds "check the adopted edition".
"""

from __future__ import annotations

import math
from typing import Literal, TypeVar

from spec.derive.formulas.constants import INCH
from spec.derive.formulas.range import NotCovered, within

Column = Literal[60, 75, 90]
"""[°C] Insulation or terminal temperature: the column of NEC table 310.16."""

_AMPACITY: dict[int, tuple[float, float, float]] = {
    18: (0.0, 0.0, 14.0), 16: (0.0, 0.0, 18.0), 14: (15.0, 20.0, 25.0), 12: (20.0, 25.0, 30.0),
    10: (30.0, 35.0, 40.0), 8: (40.0, 50.0, 55.0), 6: (55.0, 65.0, 75.0), 4: (70.0, 85.0, 95.0),
    3: (85.0, 100.0, 115.0), 2: (95.0, 115.0, 130.0), 1: (110.0, 130.0, 145.0),
}  # fmt: skip
"""[A] AWG: ampacity in the 60, 75 and 90 °C columns, copper, at most three conductors, 30 °C."""

_SMALL = {14: 15.0, 12: 20.0, 10: 30.0}
"""[A] AWG: largest breaker on a small copper conductor, NEC 240.4(D)."""

STANDARD_BREAKERS = (
    15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 70.0, 80.0, 90.0, 100.0, 110.0, 125.0,
    150.0, 175.0, 200.0,
)  # fmt: skip
"""[A] NEC 240.6(A), to 200 A, seen quoted."""

_AMBIENT: dict[Column, tuple[tuple[float, float], ...]] = {
    60: ((10, 1.29), (15, 1.22), (20, 1.15), (25, 1.08), (30, 1.0), (35, 0.91), (40, 0.82),
         (45, 0.71), (50, 0.58), (55, 0.41)),
    75: ((10, 1.20), (15, 1.15), (20, 1.11), (25, 1.05), (30, 1.0), (35, 0.94), (40, 0.88),
         (45, 0.82), (50, 0.75), (55, 0.67), (60, 0.58), (65, 0.47), (70, 0.33)),
    90: ((10, 1.15), (15, 1.12), (20, 1.08), (25, 1.04), (30, 1.0), (35, 0.96), (40, 0.91),
         (45, 0.87), (50, 0.82), (55, 0.76), (60, 0.71), (65, 0.65), (70, 0.58)),
}  # fmt: skip
"""Up to [°C]: factor. NEC table 310.15(B)(1)(1), seen quoted in IRC 2021 table E3705.2."""

_METRIC: dict[float, tuple[float, float]] = {
    # section [mm²]: resistance [ohm/km] at 20 °C, class 1 and 2; class 5 flexible
    0.5: (36.0, 39.0), 0.75: (24.5, 26.0), 1.0: (18.1, 19.5), 1.5: (12.1, 13.3), 2.5: (7.41, 7.98),
    4.0: (4.61, 4.95), 6.0: (3.08, 3.30), 10.0: (1.83, 1.91), 16.0: (1.15, 1.21),
}  # fmt: skip
"""IEC 60228:2004 tables 1, 2 (plain copper) and 3, seen quoted."""

Method = Literal["A1", "A2", "B1", "B2", "C"]
"""How a cable is laid, IEC 60364-5-52 table B.52.1: A in an insulated wall, B in conduit on or
in a wall, C clipped to a wall; 1 single cores, 2 a cable."""

_CARRIES: dict[float, dict[Method, float]] = {
    1.5: {"A1": 14.5, "A2": 14.0, "B1": 17.5, "B2": 16.5, "C": 19.5},
    2.5: {"A1": 19.5, "A2": 18.5, "B1": 24.0, "B2": 23.0, "C": 27.0},
    4.0: {"A1": 26.0, "A2": 25.0, "B1": 32.0, "B2": 30.0, "C": 36.0},
    6.0: {"A1": 34.0, "A2": 32.0, "B1": 41.0, "B2": 38.0, "C": 46.0},
    10.0: {"A1": 46.0, "A2": 43.0, "B1": 57.0, "B2": 52.0, "C": 63.0},
}
"""[A] IEC 60364-5-52:2009 table B.52.2, PVC, copper, two loaded conductors, 30 °C, seen quoted."""

TEMPERATURE_COEFFICIENT = 0.00393
"""[1/K] of copper's resistance, at 20 °C. IEC 60028."""

STRANDED = 1.02
"""[-] Resistance of stranded over solid wire of one size. NEC chapter 9 table 8, from memory."""

_MIL = INCH / 1000.0
_RESISTIVITY = 10.371 * (math.pi / 4.0 * _MIL**2) / (12 * INCH)
"""[ohm m] Copper at 20 °C, from 10.371 ohm circular mil per foot."""

_Row = TypeVar("_Row")


def awg_diameter(size: int) -> float:
    """Diameter of a solid wire.

    size [AWG], -3 (4/0) to 40. Returns [m]. Raises OutOfRange.
    Source: ASTM B258, d = .005 in x 92^((36 - n)/39).

    >>> round(awg_diameter(12) * 1000, 3)
    2.053
    """
    within(size, -3, 40, "wire size", "AWG")
    return 0.005 * INCH * math.exp(math.log(92.0) * (36 - size) / 39)


def awg_section(size: int) -> float:
    """Copper section of a wire.

    size [AWG], -3 (4/0) to 40. Returns [m²]. Raises OutOfRange. Source: as `awg_diameter`.
    """
    return math.pi / 4.0 * awg_diameter(size) ** 2


def awg_resistance(size: int, temperature: float = 75.0, stranded: bool = False) -> float:
    """Resistance of one conductor of American size, by length.

    size [AWG], -3 to 40; temperature [°C] of the copper, -40 to 105; stranded: 2 % more. Returns
    [ohm/m]. Raises OutOfRange. Source: 10.371 ohm cmil/ft at 20 °C, α = .00393; agrees with NEC
    2023 chapter 9 table 8 within .4 %.
    """
    at_20 = _RESISTIVITY / awg_section(size)
    return at_20 * _warmer(temperature) * (STRANDED if stranded else 1.0)


def metric_resistance(section: float, temperature: float = 20.0, flexible: bool = False) -> float:
    """Greatest resistance of one conductor of a standard metric size, by length.

    section [m²] (1.5 mm² is 1.5e-6), one of IEC 60228 from .5 to 16 mm²; temperature [°C] of the
    copper, -40 to 105; flexible: class 5. Returns [ohm/m]. Raises OutOfRange, NotCovered.
    Source: IEC 60228:2004 tables 1 to 3; α = .00393.
    """
    per_km = _metric(section, _METRIC)[1 if flexible else 0]
    return per_km / 1000.0 * _warmer(temperature)


def ampacity(size: int, column: Column = 60, ambient: float = 30.0, loaded: int = 3) -> float:
    """Current that an American copper conductor may carry all day.

    size [AWG], 14 to 1; column [°C]: 60 for NM cable and for terminals up to 100 A unless marked;
    ambient [°C] around the wire, -40 to 70 (an attic is not 30; below 10 as at 10); loaded:
    current-carrying conductors in one cable or conduit, 1 to 20. Returns [A]. Raises OutOfRange,
    NotCovered. Source: NEC 2023 table 310.16, 310.15(B), table 310.15(C)(1), 110.14(C), 334.80.

    >>> ampacity(12), ampacity(12, 75)
    (20.0, 25.0)
    """
    place: int = (60, 75, 90).index(column)
    base = _AMPACITY.get(size, (0.0, 0.0, 0.0))[place]
    if not base:
        raise NotCovered(f"no ampacity at {column} °C is known for {size} AWG copper")
    within(ambient, -40.0, 70.0, "air around the wire", "°C")
    for up_to, factor in _AMBIENT[column]:
        if ambient <= up_to:
            return base * factor * _bundled(loaded)
    raise NotCovered(f"wire for {column} °C may not run through air of {ambient:g} °C")


def largest_breaker(size: int, column: Column = 60) -> float:
    """Largest breaker that protects an American copper conductor.

    size [AWG], 14 to 1; column [°C] as in `ampacity`. Returns [A]: the next standard size
    at or above the ampacity, and 15, 20, 30 A for 14, 12, 10 AWG. Motors and cooling units follow
    their plate instead. Raises NotCovered. Source: NEC 2023 240.4(B), 240.4(D), 240.6(A), 240.4(G).

    >>> largest_breaker(14), largest_breaker(12), largest_breaker(10)
    (15.0, 20.0, 30.0)
    """
    carries = ampacity(size, column)
    if size in _SMALL:
        return _SMALL[size]
    return next(breaker for breaker in STANDARD_BREAKERS if breaker >= carries)


def metric_ampacity(section: float, method: Method) -> float:
    """Current that a metric PVC copper cable with two loaded conductors may carry all day.

    section [m²], one of 1.5 to 10 mm²; method: how it is laid. Returns [A] in air of 30 °C, one
    circuit alone. Raises NotCovered. Source: IEC 60364-5-52:2009 table B.52.2, seen quoted: check
    the national edition.
    """
    row = _metric(section, _CARRIES)
    if method not in row:
        raise NotCovered(f"no way of laying a cable is called {method}")
    return row[method]


def _warmer(temperature: float) -> float:
    within(temperature, -40.0, 105.0, "temperature of the copper", "°C")
    return 1.0 + TEMPERATURE_COEFFICIENT * (temperature - 20.0)


def _bundled(loaded: int) -> float:
    within(loaded, 1, 20, "loaded conductors together")
    return 1.0 if loaded <= 3 else 0.8 if loaded <= 6 else 0.7 if loaded <= 9 else 0.5


def _metric(section: float, table: dict[float, _Row]) -> _Row:
    for size, row in table.items():
        if abs(section * 1e6 - size) < 1e-6 * size:
            return row
    sizes = ", ".join(f"{size:g}" for size in table)
    raise NotCovered(f"{section * 1e6:g} mm² is no size in the table; {sizes} mm² are")
