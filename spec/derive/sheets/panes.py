"""The glass of an opening: its panes and gaps, and the U-value that follows from them."""

from __future__ import annotations

import re
from typing import NamedTuple

from spec.derive.figure import Facts, Worked, figure
from spec.derive.formulas import insulating_glass as formulas
from spec.derive.formulas.insulating_glass import INSIDE, OUTSIDE, UNCOATED, Gap
from spec.derive.sheets import kinds
from spec.job.job import Job
from spec.job.node import Node

PANE = 0.006
"""[m] A pane whose thickness nobody wrote: 6 mm (1/4 in)."""
FILLED = 0.9
"""[-] Of a gap with gas. The nominal filling of EN 1279-3, from memory."""
_COATED = ("low-e", "low e", "low_e", "coat")
_FACE = re.compile(r"\b[1-8]\b")
_SOURCE = "EN 673, seen quoted; upright, between 23 and 8 W/m²K of film"
_FORMULA = "(1/h_e + R_gaps + d/λ + 1/h_i); R_gaps of gas and radiation in all gaps"


class _Bounds(NamedTuple):
    """What nobody wrote of a glass.

    gas, and the share filled [-]; widths [m] that a gap may have; emissivities [-]: of a coated
    face, of one of which nothing is said, and of a single pane that may be coated.
    """

    gas: str
    filled: float
    widths: tuple[float, ...]
    coated: float
    unsaid: float
    single: float


_BEST = _Bounds("krypton", 1.0, (0.008, 0.010, 0.012, 0.014, 0.016), 0.02, 0.02, 0.1)
_WORST = _Bounds("air", 0.8, (0.006,), 0.2, UNCOATED, UNCOATED)


def glazings(opening: Node) -> list[Node]:
    """The glass of an opening: of its leaf, and of side lights and transom that have their own."""
    found = (opening.find(path) for path in ("glazing", "side_lights.glazing", "transom.glazing"))
    return [node for node in found if node is not None and node.children]


def in_openings(job: Job) -> list[Node]:
    """All glass that is written at an opening, with panes and gas to reckon with."""
    return [
        glass
        for opening in job.things("door", "window", "glass_front")
        if opening.heading == "openings"
        for glass in glazings(opening)
        if (kinds.says(glass, "panes") or kinds.says(glass, "from_room_outward"))
        and not _evacuated(glass)
    ]


def _evacuated(glass: Node) -> bool:
    """Vacuum glass: heat passes at its edge and its pillars, so its maker's U-value alone holds."""
    said = [layer.find("material") for layer in _layers(glass)] + [glass.find("gas")]
    return any(leaf is not None and leaf.value == "vacuum" for leaf in said)


def coatings(glass: Node) -> int | None:
    """How many faces carry a low-emissivity coating; None where nothing says it."""
    layers = [f"from_room_outward.{layer.key}.coating" for layer in _layers(glass)]
    said = [path for path in layers if kinds.says(glass, path)]
    said = said or [path for path in ("coating",) if kinds.says(glass, path)]
    if said:
        return sum(max(1, len(_FACE.findall(glass.text(path)))) for path in said)
    product = glass.find("product")
    name = str(product.value).lower() if product is not None else ""
    if any(sign in name for sign in _COATED):
        return 1
    return None if glass.find("coating") is None else 0


def glass_u(facts: Facts, glass: Node) -> float:
    """U in the middle of a glass: as written, else by its panes."""
    if kinds.says(glass, "u_value") or _evacuated(glass):
        return glass.si("u_value")
    return facts.figures.value("openings.glass_u", glass)


def _layers(glass: Node) -> tuple[Node, ...]:
    return glass.group("from_room_outward")


def _material(layer: Node) -> str:
    leaf = layer.find("material")
    return str(leaf.value) if leaf is not None else ""


def _gaps(glass: Node) -> list[tuple[float | None, str | None]]:
    """Width [m] and gas of each gap, None where it is not written."""
    if _layers(glass):
        spaces = [layer for layer in _layers(glass) if "glass" not in _material(layer)]
        return [(space.si("thickness"), space.word("material")) for space in spaces]
    gas = glass.word("gas") if kinds.says(glass, "gas") else None
    return [(None, gas)] * (glass.count("panes") - 1)


def _panes(glass: Node) -> list[float]:
    """Thicknesses of the panes [m]."""
    written = [layer for layer in _layers(glass) if "glass" in _material(layer)]
    return [layer.si("thickness") for layer in written] or [PANE] * glass.count("panes")


def _worked(glass: Node, bounds: _Bounds, factor: float = 1.0) -> Worked:
    """U of a glass times a factor; what nobody wrote is as the bounds say."""
    panes, gaps, coats = _panes(glass), _gaps(glass), coatings(glass)
    solid = sum(panes) / formulas.CONDUCTIVITY
    inside, between = INSIDE, 0.0
    if gaps:
        u = min(
            formulas.u_value(
                panes, [_gap(n, width, gap, coats, bounds) for n, gap in enumerate(gaps)]
            )
            for width in bounds.widths
        )
        between = 1.0 / u - 1.0 / OUTSIDE - 1.0 / INSIDE - solid
    else:
        u = formulas.single_u_value(sum(panes), UNCOATED if coats == 0 else bounds.single)
        inside = 1.0 / (1.0 / u - 1.0 / OUTSIDE - solid)
    given = (
        ("h_e", OUTSIDE, "u_value"),
        ("h_i", inside, "u_value"),
        ("R_gaps", between, "r_value"),
        ("d", sum(panes), "length"),
        ("λ", formulas.CONDUCTIVITY, "conductivity"),
    )
    return Worked(factor * u, given=given)


def _gap(
    number: int,
    width: float,
    written: tuple[float | None, str | None],
    coats: int | None,
    bounds: _Bounds,
) -> Gap:
    wide, gas = written
    face = bounds.unsaid if coats is None else bounds.coated if number < coats else UNCOATED
    return Gap(wide or width, gas or bounds.gas, bounds.filled, (face, UNCOATED))


@figure(
    "openings.glass_u",
    title="U-value of the glass by its panes",
    dimension="u_value",
    formula=f"1 / {_FORMULA}",
    source=_SOURCE,
    holds="what is not written is taken so: panes of 6 mm (1/4 in), air, no coating, gap and "
    "emissivity of the house standards",
    per=in_openings,
    trades=("glazing", "doors"),
)
def by_panes(facts: Facts, glass: Node) -> Worked:
    """U in the middle of the glass by panes, gaps, gas and coating: used where none is written."""
    gap, coat = facts.job.limit("glazing.gap"), facts.job.limit("glazing.emissivity")
    single = coat if coatings(glass) else UNCOATED
    found = _worked(glass, _Bounds("air", FILLED, (gap,), coat, UNCOATED, single))
    used = "the written one is used" if kinds.says(glass, "u_value") else "none is written"
    return Worked(found.value, given=found.given, remark=used)


def _held(job: Job) -> list[Node]:
    return [glass for glass in in_openings(job) if kinds.says(glass, "u_value")]


@figure(
    "openings.glass_least_u",
    title="Least U-value that such glass can have",
    dimension="u_value",
    formula=f"0.9 / {_FORMULA}",
    source=f"{_SOURCE}; a tenth for makers' conditions",
    holds="the best of gas, gap and coating that the job does not rule out; no vacuum",
    per=_held,
)
def least(facts: Facts, glass: Node) -> Worked:
    """What no glass of so many panes falls below."""
    return _worked(glass, _BEST, 0.9)


@figure(
    "openings.glass_most_u",
    title="Most U-value that such glass can have",
    dimension="u_value",
    formula=f"1.15 / {_FORMULA}",
    source=f"{_SOURCE}; 15 % for makers' conditions",
    holds="the worst of gas, gap and coating that the job does not rule out",
    per=_held,
)
def most(facts: Facts, glass: Node) -> Worked:
    """What no glass of so many panes goes above."""
    return _worked(glass, _WORST, 1.15)
