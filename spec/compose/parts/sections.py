"""Cuts through the surfaces of cooled rooms in their worst months: a drawing and its numbers."""

from __future__ import annotations

from calendar import month_name
from collections.abc import Iterator, Sequence

from spec.compose.blocks import Block, Picture, Row, Table
from spec.compose.context import Reader
from spec.derive.figure import Figure
from spec.derive.formulas.section import Section
from spec.derive.sheets.moisture import worst_month
from spec.draw.section import section
from spec.quantity import show

OF = "envelope.condensate"
"""The figure beside which the cuts stand."""


def sections(reader: Reader, figures: Sequence[Figure]) -> Iterator[Block]:
    """One cut for all surfaces that are alike; none where the figure has no value.

    All have their numbers; drawn are those in which water condenses, else the one nearest to it.
    """
    alike: dict[Section, list[Figure]] = {}
    for figure in figures:
        surface = reader.job.find(figure.thing)
        if surface is not None and figure.value is not None:
            alike.setdefault(worst_month(reader.facts, surface), []).append(figure)
    nearest = min(map(_reserve, alike), default=0.0)
    for cut, of in alike.items():
        if _wet(cut) or _reserve(cut) == nearest:
            yield _drawn(reader, cut, of)
        yield _numbers(reader, cut, of)


def _wet(cut: Section) -> int:
    return sum(1 for station in cut.stations if station.condensing > 0.0)


def _reserve(cut: Section) -> float:
    """The least share by which saturation lies over the vapor pressure."""
    return min(1.0 - face.pressure / face.saturation for face in cut.faces)


def _drawn(reader: Reader, cut: Section, figures: Sequence[Figure]) -> Picture:
    month = month_name[cut.number + 1]
    things = ", ".join(figure.thing for figure in figures)
    cites = frozenset(figure.address for figure in figures)
    caption = f"{things}: cut in {month}, its worst month; the room at the left"
    wet = _wet(cut)
    alt = f"{caption}: {len(cut.slabs)} layers; the vapor pressure " + (
        f"meets saturation at {wet} place(s)." if wet else "stays below saturation."
    )
    return Picture(section(cut, reader.job.system, cites), caption, alt, cites)


def _numbers(reader: Reader, cut: Section, figures: Sequence[Figure]) -> Table:
    month = month_name[cut.number + 1]
    things = ", ".join(figure.thing for figure in figures)
    return Table(
        f"{things}: the faces of the layers in {month}, its worst month, from the room outward",
        ("Behind", "From the room", "Vapor thickness", "Temperature", "Saturation", "Vapor"),
        tuple(_row(reader, cut, n) for n in range(len(cut.faces))),
        (2.2, 1.1, 1.1, 1.1, 1, 1),
    )


def _row(reader: Reader, cut: Section, number: int) -> Row:
    face, system = cut.faces[number], reader.job.system
    behind = f"{number} {cut.slabs[number - 1].name}" if number else "the room's air"
    return Row(
        (
            behind,
            show(face.at, "length", system),
            f"{face.depth:.4g} m",
            show(face.temperature, "temperature", system),
            f"{face.saturation:.0f} Pa",
            f"{face.pressure:.0f} Pa" + (", condenses" if face.condensing > 0.0 else ""),
        )
    )
