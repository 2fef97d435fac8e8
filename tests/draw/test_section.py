"""The cut through a surface: its layers where they are, its curves on their scales."""

from __future__ import annotations

from itertools import pairwise

import pytest

from spec.derive.formulas.moisture import Layer, Month
from spec.derive.formulas.section import Section, Slab, section
from spec.draw.scene import Circle, Label, Polygon, Polyline
from spec.draw.section import section as drawn

SLABS = (
    Slab("chipboard", 0.019, Layer(0.150, 0.95)),
    Slab("membrane", 0.0, Layer(1e-9, 2.0)),
    Slab("wool", 0.16, Layer(4.0, 0.16)),
    Slab("chipboard", 0.019, Layer(0.150, 1.90)),
)
WET, DRY = Month(20.0, 0.5, -5.0, 0.8), Month(13.0, 0.6, 20.0, 0.5)


def cut(month: Month) -> Section:
    return section(SLABS, (0.25, 0.04), month)


def test_layers_stand_where_they_are_and_a_sheet_is_a_line() -> None:
    scene = drawn(cut(DRY), "metric")
    bands = [s for s in scene.shapes if isinstance(s, Polygon)]
    widths = [max(x for x, _ in b.points) - min(x for x, _ in b.points) for b in bands]
    assert widths == pytest.approx([19.0, 160.0, 19.0] * 2)
    sheets = [s for s in scene.shapes if isinstance(s, Polyline) and s.pen == "cut"]
    assert [x for sheet in sheets for x, _ in sheet.points] == pytest.approx([19.0] * 4)


def test_a_mark_where_vapor_condenses_and_none_in_a_dry_month() -> None:
    (mark,) = (s for s in drawn(cut(WET), "metric").shapes if isinstance(s, Circle))
    assert mark.center[0] == pytest.approx(179.0)
    assert not any(isinstance(s, Circle) for s in drawn(cut(DRY), "metric").shapes)


def test_curves_keep_within_their_fields_and_vapor_below_saturation() -> None:
    scene = drawn(cut(WET), "imperial")
    bands = [s for s in scene.shapes if isinstance(s, Polygon)]
    low, high = (f(y for b in bands for _, y in b.points) for f in (min, max))
    curves = [s for s in scene.shapes if isinstance(s, Polyline) and len(s.points) > 4]
    temperature, saturation, vapor = (c.points for c in curves)
    assert all(low - 1e-6 <= y <= high + 1e-6 for c in curves for _, y in c.points)
    assert all(v <= s + 1e-6 for (_, v), (_, s) in zip(vapor, saturation, strict=True))
    assert min(y for _, y in temperature) > max(y for _, y in saturation)


@pytest.mark.parametrize(("system", "unit"), [("imperial", "°F"), ("metric", "°C")])
def test_the_scale_is_even_in_the_units_of_the_job(system: str, unit: str) -> None:
    texts = [s.text for s in drawn(cut(WET), system).shapes if isinstance(s, Label)]
    ticks = [float(t.removesuffix(unit)) for t in texts if t.endswith(unit) and "\n" not in t]
    steps = {round(b - a, 9) for a, b in pairwise(ticks)}
    assert len(ticks) >= 3 and len(steps) == 1
