"""Conductors as a job writes them: size, resistance, what they carry. Declares no figure."""

from __future__ import annotations

import re
from typing import NamedTuple

from spec.derive.formulas import circuits, conductors
from spec.derive.formulas.range import NotCovered
from spec.derive.sheets.dividing import over
from spec.job.job import Job
from spec.job.node import Node
from spec.quantity import Quantity

_GAUGE = re.compile(r"^\s*(\d{1,2}(?:/0)?)\s*AWG", re.IGNORECASE)


class Wire(NamedTuple):
    """A copper conductor: section [m²], American gauge where it was written as one."""

    section: float
    gauge: int | None


def wire(node: Node, key: str) -> Wire:
    """The conductor under a key; raises `Open`."""
    value = node.quantity(key)
    if not isinstance(value, Quantity):
        raise NotCovered(f"`{node.text(key)}` is no size of conductor")
    if "alumin" in value.written.lower():
        raise NotCovered("aluminum conductors are not in the tables")
    found = _GAUGE.match(value.written)
    return Wire(value.si, _number(found[1]) if found else None)


def _number(text: str) -> int:
    return 1 - int(text[0]) if text.endswith("/0") else int(text)


def resistance(job: Job, node: Node, key: str) -> float:
    """Resistance of one conductor, warm in use [ohm/m]; American by gauge, else by IEC."""
    found = wire(node, key)
    if found.gauge is not None:
        return conductors.awg_resistance(found.gauge)
    return over(circuits.COPPER_IEC, found.section, "section of the conductor", "m²")


def largest_breaker(found: Wire) -> float:
    """Largest breaker that protects a conductor [A].

    American sizes by NEC 240.4; metric ones by the next standard rating at or under what a cable in
    an insulated wall carries (IEC 60364-5-52 method A2, the least).
    """
    if found.gauge is not None:
        return conductors.largest_breaker(found.gauge)
    carries = conductors.metric_ampacity(found.section, "A2")
    return max((rated for rated in _IEC_BREAKERS if rated <= carries), default=0.0)


def carries(found: Wire) -> float:
    """Current that a conductor may carry all day [A].

    American sizes by the 60 °C column of NEC table 310.16, as terminals up to 100 A take it unless
    marked (110.14(C)); metric ones as `largest_breaker`.
    """
    if found.gauge is not None:
        return conductors.ampacity(found.gauge)
    return conductors.metric_ampacity(found.section, "A2")


_IEC_BREAKERS = (6.0, 10.0, 13.0, 16.0, 20.0, 25.0, 32.0, 40.0, 50.0, 63.0)
"""[A] Rated currents of IEC 60898-1 circuit breakers in common use."""
