"""A branch circuit: connected and continuous load, voltage drop, and the drop that is advised."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal, NamedTuple

from spec.derive.formulas.range import not_negative, positive, within

System = Literal["single_phase", "three_phase"]

CONTINUOUS = 1.25
"""[-] Weight of a load that runs three hours or more. NEC 2023 210.19(A)(1), 210.20(A)."""

COPPER_IEC = 0.0225e-6
"""[ohm m] Copper warm in use, 1.25 times that at 20 °C. IEC 60364-5-52:2009 annex G."""

REACTANCE_IEC = 0.08e-3
"""[ohm/m] Reactance of a cable where nothing better is known. IEC 60364-5-52:2009 annex G."""

ADVISED_DROP = {"nec_branch": 0.03, "nec_total": 0.05, "iec_lighting": 0.03, "iec_other": 0.05}
"""[-] NEC 2023 210.19(A) informational note; IEC 60364-5-52:2009 annex G, table G.52.1: advice."""

WORKING_SPACE = (0.762, 0.9144, 1.9812)
"""[m] Clear width, depth, height in front of a panelboard: 30 in, 36 in, 6.5 ft. NEC 110.26(A)."""


class CircuitLoad(NamedTuple):
    """What hangs on a circuit.

    connected [VA]; current [A] with all on; weighted [A]: continuous loads times 1.25, what breaker
    and conductor are held against; used [-]: weighted over the breaker; fits: used is 1 or less.
    """

    connected: float
    current: float
    weighted: float
    used: float
    fits: bool


class Drop(NamedTuple):
    """Voltage lost on the way.

    volts [V]; share [-] of the supply; arrives [V] at the far end.
    """

    volts: float
    share: float
    arrives: float


def current(
    power: float, voltage: float, power_factor: float = 1.0, system: System = "single_phase"
) -> float:
    """Current of a load.

    power [W], 0 or more; voltage [V] between the conductors that feed it, 5 to 1000; power_factor
    [-], 0.1 to 1; system: single_phase or three_phase. Returns [A]. Raises OutOfRange.
    Source: P = U I cos φ, √3 for three phases.

    >>> current(1200.0, 120.0)
    10.0
    """
    within(power_factor, 0.1, 1.0, "power factor")
    phases = math.sqrt(3.0) if system == "three_phase" else 1.0
    return not_negative(power, "power", "W") / (phases * _voltage(voltage) * power_factor)


def load(
    loads: Sequence[tuple[float, bool]],
    voltage: float,
    breaker: float,
    system: System = "single_phase",
) -> CircuitLoad:
    """Load of a circuit against its breaker.

    loads: apparent power [VA], 0 or more, and whether it is continuous (three hours or more), any
    number; voltage [V], 5 to 1000; breaker [A], above 0; system as in `current`. Returns
    `CircuitLoad`. Raises OutOfRange. Source: NEC 2023 210.19(A)(1), 210.20(A); for IEC jobs the
    same sum without weight is current against breaker (IEC 60364-4-43 433.1), which is `current`.

    >>> load([(1920.0, True)], 120.0, 20.0).weighted
    20.0
    """
    positive(breaker, "breaker", "A")
    whole = sum(not_negative(va, "load", "VA") for va, _ in loads)
    weighted = sum(va * (CONTINUOUS if continuous else 1.0) for va, continuous in loads)
    amperes = current(weighted, voltage, system=system)
    # 16 A continuous on 20 A just passes: a rounding of the last digit does not decide it.
    fits = amperes <= breaker * (1.0 + 1e-9)
    return CircuitLoad(
        whole, current(whole, voltage, system=system), amperes, amperes / breaker, fits
    )


def voltage_drop(
    amperes: float,
    length: float,
    resistance: float,
    voltage: float,
    *,
    power_factor: float = 1.0,
    reactance: float = 0.0,
    system: System = "single_phase",
) -> Drop:
    """Voltage drop of a load at the end of a cable.

    amperes [A], 0 or more; length [m] one way, 0 or more; resistance [ohm/m] of one conductor
    (`conductors.awg_resistance`, or COPPER_IEC over the section), above 0; voltage [V], 5 to 1000;
    power_factor [-] lagging, 0.1 to 1; reactance [ohm/m], 0 or more; system as in `current`, a
    three-phase voltage between lines. Returns `Drop`; the approximation is within 0.1 % of the
    supply for drops up to 5 %. Raises OutOfRange, also where nothing would arrive.
    Source: IEC 60364-5-52:2009 annex G, u = b (ρ L/S cos φ + λ L sin φ) I, b = 2 or 1 (√3 between
    lines); with power factor 1 the 2 K I L / cmil of American practice.
    """
    within(power_factor, 0.1, 1.0, "power factor")
    not_negative(amperes, "current", "A"), not_negative(length, "length of cable", "m")
    positive(resistance, "resistance of the conductor", "ohm/m")
    not_negative(reactance, "reactance of the cable", "ohm/m")
    ways = math.sqrt(3.0) if system == "three_phase" else 2.0
    along = resistance * power_factor + reactance * math.sqrt(1.0 - power_factor**2)
    volts = ways * amperes * length * along
    within(volts, 0.0, _voltage(voltage), "voltage lost in the cable", "V")
    return Drop(volts, volts / voltage, voltage - volts)


def coordinated(design: float, breaker: float, carries: float) -> bool:
    """Whether a breaker suits its load and guards its cable.

    design [A]: current of the load, 0 or more; breaker [A]: its rating, above 0; carries [A]: what
    the cable may carry as laid, above 0. Returns yes or no. Raises OutOfRange.
    Source: IEC 60364-4-43 433.1, Ib ≤ In ≤ Iz (a breaker of EN 60898 then trips in time).

    >>> coordinated(4.1, 10.0, 23.0)
    True
    """
    not_negative(design, "current of the load", "A"), positive(breaker, "breaker", "A")
    return design <= breaker <= positive(carries, "current that the cable carries", "A")


def longest_run(
    amperes: float, resistance: float, voltage: float, share: float, system: System = "single_phase"
) -> float:
    """Length of cable, one way, at which the drop reaches a share of the supply, power factor 1.

    amperes [A], above 0; resistance [ohm/m] of one conductor, above 0; voltage [V]; share [-],
    above 0 to 0.2; system as in `current`. Returns [m]. Raises OutOfRange.
    Source: `voltage_drop` solved for length.
    """
    within(positive(share, "allowed voltage drop"), 0.0, 0.2, "allowed voltage drop")
    positive(amperes, "current", "A"), positive(resistance, "resistance", "ohm/m")
    ways = math.sqrt(3.0) if system == "three_phase" else 2.0
    return share * _voltage(voltage) / (ways * amperes * resistance)


def _voltage(value: float) -> float:
    return within(value, 5.0, 1000.0, "supply voltage", "V")
