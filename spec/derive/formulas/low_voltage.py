"""Light strips and their supplies: load, drop along the strip and its cable, size of supply."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from spec.derive.formulas.range import not_negative, positive, within

HEADROOM = 0.20
"""[-] Part of a supply left unused; supply at least load/0.8. Common practice, from memory."""

CLASS_2 = 100.0
"""[VA] Most that a Class 2 supply of 20 to 60 V gives. NEC 2023 chapter 9 table 11(B), direct
current, seen quoted."""
CLASS_2_CURRENT = 5.0
"""[A] Most that a Class 2 supply of up to 20 V gives. The same table: 60 VA at 12 V."""


class StripRun(NamedTuple):
    """A strip on its cable.

    load [W]; current [A]; in_cable [V] and in_strip [V] lost; share [-] of the supply lost at the
    far end of the strip; arrives [V] there.
    """

    load: float
    current: float
    in_cable: float
    in_strip: float
    share: float
    arrives: float


def strip_load(length: float, watts_per_meter: float) -> float:
    """Power of a strip, or of all strips of a kind laid end to end.

    length [m], 0 or more; watts_per_meter [W/m], above 0 to 60. Returns [W]. Raises OutOfRange.
    Source: definition; a strip dims along its length, so the true load is a little lower.

    >>> strip_load(5.0, 7.2)
    36.0
    """
    within(positive(watts_per_meter, "strip power", "W/m"), 0.0, 60.0, "strip power", "W/m")
    return not_negative(length, "strip length", "m") * watts_per_meter


def strip_drop(current: float, length: float, loop_resistance: float) -> float:
    """Voltage lost along a strip that is fed at one end.

    current [A] at the fed end, 0 or more; length [m], 0 or more; loop_resistance [ohm/m] of both
    copper tracks together, 0 or more. Returns [V]: half of what the same current would lose if all
    of it went to the far end. Raises OutOfRange.
    Source: uniformly loaded line, ∫ r I (1 - x/L) dx = r L I / 2.
    """
    not_negative(current, "current", "A"), not_negative(length, "strip length", "m")
    return not_negative(loop_resistance, "resistance of the strip", "ohm/m") * length * current / 2


def loop_resistance(longest: float, watts_per_meter: float, voltage: float, share: float) -> float:
    """Resistance of both tracks of a strip, by length, from what its maker says of its longest run.

    longest [m] run from one feed, above 0; watts_per_meter [W/m], above 0 to 60; voltage [V], 5 to
    60; share [-] of the voltage lost at the end of that run, 0 to 0.5. Returns [ohm/m]. Raises
    OutOfRange. Source: `strip_drop` solved for the resistance, 2 share U² / (w L²).
    """
    positive(longest, "longest run", "m")
    within(share, 0.0, 0.5, "share lost at the end of the longest run")
    current = strip_load(longest, watts_per_meter) / _voltage(voltage)
    return 2.0 * share * voltage / (longest * current)


def run(
    length: float,
    watts_per_meter: float,
    voltage: float,
    *,
    loop_resistance: float,
    cable_length: float,
    cable_resistance: float,
    beside: float = 0.0,
) -> StripRun:
    """A strip fed at one end by a cable from its supply.

    length [m]; watts_per_meter [W/m]; voltage [V] of the supply, 5 to 60; loop_resistance [ohm/m]
    of the strip, both tracks (0 where the maker states a longest run instead); cable_length [m] one
    way; cable_resistance [ohm/m] of one conductor; beside [A]: what other strips draw through the
    same cable, 0 or more. Length, watts and voltage above 0. Returns `StripRun` with the current of
    this strip at full power. Raises OutOfRange, also where nothing would arrive.
    Source: `strip_drop`, and 2 r L I for the cable.
    """
    power = strip_load(length, watts_per_meter)
    current = power / _voltage(voltage)
    not_negative(cable_length, "cable length", "m")
    through = current + not_negative(beside, "current of other strips", "A")
    lost_before = 2.0 * not_negative(cable_resistance, "cable", "ohm/m") * cable_length * through
    lost_along = strip_drop(current, length, loop_resistance)
    lost = within(lost_before + lost_along, 0.0, voltage, "voltage lost on the way", "V")
    return StripRun(power, current, lost_before, lost_along, lost / voltage, voltage - lost)


def smallest_supply(load: float, headroom: float = HEADROOM) -> float:
    """Smallest supply that keeps its headroom.

    load [W], 0 or more; headroom [-] of the supply's rating, 0 to 0.6. Returns [W].
    Raises OutOfRange. Source: load/(1 - headroom), common practice.

    >>> round(smallest_supply(76.8), 6)
    96.0
    """
    within(headroom, 0.0, 0.6, "headroom of a supply")
    return not_negative(load, "load", "W") / (1.0 - headroom)


def choose_supply(
    load: float, ratings: Sequence[float], headroom: float = HEADROOM
) -> float | None:
    """The smallest supply of a range that carries a load with its headroom.

    load [W], 0 or more; ratings [W], any order; headroom [-], 0 to 0.6. Returns [W], or None where
    none of them is large enough. Raises OutOfRange. Source: `smallest_supply`.
    """
    needed = smallest_supply(load, headroom) * (1.0 - 1e-9)
    return min((rating for rating in ratings if rating >= needed), default=None)


def supply_input(load: float, efficiency: float) -> float:
    """Power that a supply draws from its circuit.

    load [W] at its output, 0 or more; efficiency [-], 0.5 to 1. Returns [W]; the difference is heat
    where the supply sits. Raises OutOfRange. Source: definition.
    """
    return not_negative(load, "load", "W") / within(efficiency, 0.5, 1.0, "efficiency")


def class_2_limit(voltage: float) -> float:
    """Most that one Class 2 supply may give.

    voltage [V] of direct current, 5 to 60. Returns [VA]. Raises OutOfRange.
    Source: NEC 2023 725.60 (725.121 before) and chapter 9 table 11(B), seen quoted: check the
    adopted edition.

    >>> class_2_limit(12.0), class_2_limit(24.0)
    (60.0, 100.0)
    """
    return CLASS_2_CURRENT * _voltage(voltage) if voltage <= 20.0 else CLASS_2


def smallest_section(
    current: float, length: float, voltage: float, share: float, resistivity: float = 0.0225e-6
) -> float:
    """Copper section of a low-voltage cable that loses at most a share of the supply.

    current [A], 0 or more; length [m] one way, 0 or more; voltage [V], 5 to 60; share [-], above 0
    to 0.2; resistivity [ohm m], above 0. Returns [m²]. Raises OutOfRange.
    Source: S = 2 ρ L I / (share U).
    """
    within(positive(share, "allowed voltage drop"), 0.0, 0.2, "allowed voltage drop")
    not_negative(current, "current", "A"), not_negative(length, "cable length", "m")
    positive(resistivity, "resistivity", "ohm m")
    return 2.0 * resistivity * length * current / (share * _voltage(voltage))


def _voltage(value: float) -> float:
    return within(value, 5.0, 60.0, "supply voltage", "V")
