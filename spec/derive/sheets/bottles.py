"""Sizes of bottle of a job. Declares no figure."""

from __future__ import annotations

from spec.derive.formulas.storage import BOTTLES
from spec.derive.formulas.weights import WINE_DENSITY
from spec.job.job import Job
from spec.job.node import Node

_USUAL = ("standard", "single")


def sizes(job: Job) -> tuple[Node, ...]:
    """The sizes of bottle of the job and of the house standards."""
    house = job.house.group("bottles") if job.house is not None else ()
    return (*job.tree.group("bottles"), *house)


def bottle_named(job: Job, name: str) -> Node | None:
    """A size by its word."""
    return next((size for size in sizes(job) if size.key == name), None)


def default_bottle(job: Job) -> Node | None:
    """The size where nothing is said: the standard one, else the first of the house."""
    known = sizes(job)
    usual = (size for size in known if size.key in _USUAL)
    return next(usual, known[0] if known else None)


def case_holds(job: Job) -> int:
    """Bottles in a case, from the house standards; 12 where they say nothing."""
    if job.house is not None and job.house.find("case_holds") is not None:
        return job.house.count("case_holds")
    return 12


def parts_of(bottle: Node) -> tuple[float, float]:
    """Glass and wine of a full bottle [kg]; raises `Open` where its weight is not decided.

    A fill that is not written is that of its size.
    """
    usual = BOTTLES.get(bottle.key, BOTTLES["standard"])
    wine = bottle.si("fill", usual.fill) * WINE_DENSITY
    return max(bottle.si("full") - wine, 0.0), wine


def heat_capacity(job: Job, bottle: Node) -> float:
    """Heat capacity of a full bottle [J/K]; raises `Open`."""
    from spec.derive.formulas import cooling  # noqa: PLC0415 - with psychrolib

    glass, wine = parts_of(bottle)
    return glass * cooling.GLASS_HEAT + wine * job.limit("wine.heat_capacity")
