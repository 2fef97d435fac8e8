"""Each formula holds over the range that its docstring promises, ends included, and no further."""

from __future__ import annotations

import inspect
import math
import re
from collections.abc import Callable
from typing import Any

import pytest

from spec.derive.formulas import (
    air,
    arches,
    boxes,
    circuits,
    conductors,
    cooling,
    doors,
    envelope,
    glazing,
    ground,
    insulating_glass,
    ladder,
    low_voltage,
    moisture,
    shelves,
    storage,
    sun,
    takeoff,
    weights,
    wood,
)
from spec.derive.formulas.range import NotCovered, OutOfRange, not_negative, positive, some, within
from tests.derive.formulas.calls import CALLS

# What the docstring says, word for word, of a parameter; and what else the call needs for both
# ends to be good, where the usual call does not.
PROMISED: list[tuple[Callable[..., Any], str, str, dict[str, Any]]] = [
    (air.pressure_at, "elevation", "-500 to 5000", {}),
    (air.saturation_pressure, "temperature", "-40 to 80", {}),
    (air.vapor_pressure, "temperature", "-40 to 80", {}),
    (air.vapor_pressure, "humidity", "0 to 1", {}),
    (air.dew_point, "temperature", "-40 to 80", {}),
    (air.dew_point, "humidity", "above 0 to 1", {}),
    (air.humidity_from_dew_point, "temperature", "-40 to 80", {"dew_point": -40.0}),
    (air.wet_bulb, "temperature", "-40 to 80", {}),
    (air.wet_bulb, "humidity", "0 to 1", {}),
    (air.wet_bulb, "pressure", "50000 to 110000", {}),
    (air.humidity_ratio, "temperature", "-40 to 80", {}),
    (air.humidity_ratio, "humidity", "0 to 1", {}),
    (air.humidity_ratio, "pressure", "50000 to 110000", {}),
    (air.humidity_when_brought_to, "new_temperature", "-40 to 80", {}),
    (arches.arch, "span", "above 0", {"rise": 1e-4}),
    (arches.inner, "gap", "0 or more", {}),
    (boxes.needs_own_support, "weight", "0 or more", {}),
    (boxes.needs_own_support, "marked", "above 0", {}),
    (boxes.extension_ring, "box_set_back", "0 to 0.15", {}),
    (circuits.current, "power", "0 or more", {}),
    (circuits.current, "voltage", "5 to 1000", {}),
    (circuits.current, "power_factor", "0.1 to 1", {}),
    (circuits.load, "breaker", "above 0", {}),
    (circuits.voltage_drop, "amperes", "0 or more", {}),
    (circuits.voltage_drop, "length", "0 or more", {}),
    (circuits.voltage_drop, "voltage", "5 to 1000", {"amperes": 0.1}),
    (circuits.voltage_drop, "power_factor", "0.1 to 1", {}),
    (circuits.voltage_drop, "reactance", "0 or more", {}),
    (circuits.coordinated, "design", "0 or more", {}),
    (circuits.longest_run, "share", "above 0 to 0.2", {}),
    (conductors.awg_diameter, "size", "-3 (4/0) to 40", {}),
    (conductors.awg_resistance, "temperature", "-40 to 105", {}),
    (conductors.metric_resistance, "temperature", "-40 to 105", {}),
    (conductors.ampacity, "ambient", "-40 to 70", {"column": 90}),
    (conductors.ampacity, "loaded", "1 to 20", {}),
    (cooling.transmission, "area", "0 or more", {}),
    (cooling.transmission, "u_value", "0 to 10", {}),
    (cooling.transmission, "beyond", "-60 to 100", {}),
    (cooling.transmission, "room", "-10 to 40", {}),
    (cooling.infiltration, "volume", "0 or more", {}),
    (cooling.infiltration, "changes_per_hour", "0 to 20", {}),
    (cooling.doorway, "width", "above 0 to 5", {}),
    (cooling.doorway, "height", "above 0 to 5", {}),
    (cooling.through_door, "share", "0 to 1", {}),
    (cooling.through_door, "difference", "0 to 60", {}),
    (cooling.through_door, "protection", "0 to 1", {}),
    (cooling.flow_factor, "difference", "0 to 60", {}),
    (cooling.open_share, "passages", "0 or more", {}),
    (cooling.open_share, "seconds_each", "0 to 600", {}),
    (cooling.open_share, "standing_open", "0 or more", {}),
    (cooling.person, "room", "-10 to 30", {}),
    (cooling.running, "power", "0 or more", {}),
    (cooling.running, "hours_per_day", "0 to 24", {}),
    (cooling.heat_of_bottles, "arriving", "-10 to 45", {}),
    (cooling.heat_of_bottles, "wine_heat", "3900 to 4300", {}),
    (cooling.hold_time, "beyond", "-10 to 45", {}),
    (cooling.hold_time, "limit", "-10 to 45", {"room": -10.0}),
    (cooling.capacity_needed, "safety", "0 to 0.5", {}),
    (cooling.capacity_needed, "hours_per_day", "above 0 to 24", {}),
    (envelope.resistance, "thickness", "0 or more", {}),
    (envelope.resistance, "conductivity", "above 0 to 500", {}),
    (envelope.cavity_resistance, "thickness", "0 to 0.3", {}),
    (envelope.transmittance, "inside_film", "0 or more", {}),
    (envelope.framing_share, "spacing", "to 10", {"member": 1e-4}),
    (envelope.temperatures, "from_temperature", "-60 to 100", {}),
    (envelope.temperatures, "to_temperature", "-60 to 100", {}),
    (envelope.sol_air_temperature, "sky", "0 to 10", {}),
    (envelope.sol_air_temperature, "air", "-40 to 60", {}),
    (envelope.sol_air_temperature, "irradiance", "0 to 1400", {}),
    (envelope.sol_air_temperature, "absorptance", "0 to 1", {}),
    (glazing.surface_temperature, "warm", "-40 to 80", {"cold": -40.0}),
    (glazing.largest_dry_u, "humidity", "above 0 to 1", {}),
    (glazing.edge_u, "middle", "above 0", {}),
    (glazing.edge_u, "psi", "0 to 0.5", {}),
    (glazing.metal_frame_u, "thermal_break", "0 for none, to 0.2", {}),
    (glazing.solar_gain, "area", "0 or more", {}),
    (glazing.solar_gain, "gain_factor", "0 to 1", {}),
    (glazing.solar_gain, "irradiance", "0 to 1400", {}),
    (ground.equivalent_thickness, "wall", "0 to 2", {}),
    (ground.equivalent_thickness, "soil", "0.2 to 5", {}),
    (ground.basement_floor, "depth", "0 to 10", {}),
    (ground.basement_floor, "dimension", "above 0", {}),
    (ground.basement_floor, "soil", "0.2 to 5", {}),
    (ground.basement_wall, "depth", "above 0 to 10", {}),
    (ground.wall_thickness, "resistance", "0 or more", {}),
    (insulating_glass.single_u_value, "pane", "0.001 to 0.1", {}),
    (insulating_glass.single_u_value, "emissivity", "0.01 to 1", {}),
    (insulating_glass.conductance, "difference", "above 0 to 60", {}),
    (insulating_glass.mixture, "filled", "0 to 1", {}),
    (ladder.lean, "rail_height", "above 0 to 6", {}),
    (ladder.lean, "ratio", "2 to 10", {}),
    (doors.hinge_count, "every", "above 0", {}),
    (ladder.push_on_rail, "weight", "above 0 to 250", {}),
    (low_voltage.strip_load, "length", "0 or more", {}),
    (low_voltage.strip_load, "watts_per_meter", "above 0 to 60", {}),
    (low_voltage.strip_drop, "current", "0 or more", {}),
    (low_voltage.smallest_supply, "headroom", "0 to 0.6", {}),
    (low_voltage.supply_input, "efficiency", "0.5 to 1", {}),
    (low_voltage.smallest_section, "voltage", "5 to 60", {}),
    (low_voltage.smallest_section, "share", "above 0 to 0.2", {}),
    (moisture.saturation, "temperature", "-40 to 80", {}),
    (shelves.sag, "line_load", "0 or more", {}),
    (shelves.sag, "depth", "above 0", {}),
    (shelves.longest_span, "limit", "50 to 2000", {}),
    (shelves.longest_span, "creep", "1 to 3", {}),
    (storage.bottles_deep, "depth", "0 or more", {}),
    (storage.tilted, "angle", "0 to 90", {}),
    (storage.corner_pitch, "angle", "above 0 to 180", {}),
    (sun.allowance, "faces", "0 to 360", {}),
    (sun.position, "latitude", "-66 to 66", {}),
    (sun.position, "month", "1 to 12", {}),
    (sun.position, "hour", "0 to 24", {}),
    (sun.irradiance, "faces", "0 to 360", {}),
    (sun.irradiance, "slope", "0 flat to 90", {}),
    (takeoff.with_waste, "net", "0 or more", {}),
    (takeoff.with_waste, "waste", "0 to 1", {}),
    (takeoff.tiles, "joint", "0 to 0.02", {}),
    (weights.sheet, "area", "0 or more", {}),
    (weights.sheet, "thickness", "0 or more", {}),
    (weights.sheet, "density", "above 0 to 20000", {}),
    (weights.glass, "panes", "above 0 to 0.1", {}),
    (weights.wood_density, "specific_gravity", "0.1 to 1.3", {}),
    (weights.door_leaf, "thickness", "to 0.2", {}),
    (weights.door_leaf, "hardware", "0 or more", {}),
    (wood.coefficient, "shrinkage", "1 to 15", {}),
    (wood.coefficient, "saturation", "20 to 30", {}),
    (wood.equilibrium_moisture, "temperature", "-1.5 to 71.5", {}),
    (wood.equilibrium_moisture, "humidity", "0.01 to 0.95", {}),
    (wood.movement, "width", "0 or more", {}),
    (wood.movement, "dry", "6 to 14", {}),
    (wood.movement, "moist", "6 to 14", {}),
]
USUAL = dict(CALLS) | {conductors.awg_diameter: {}}
CASES = [
    pytest.param(
        function, name, words, also, id=f"{function.__module__}.{function.__name__}.{name}"
    )
    for function, name, words, also in PROMISED
]


def ends(words: str) -> tuple[float, float, bool]:
    """Lowest and highest of a range in words, and whether the lowest itself is out."""
    found = [float(n) for n in re.findall(r"(?<![/\d.])-?\d+(?:\.\d+)?(?![/\d])", words)]
    if "or more" in words or words == "above 0":
        return 0.0, math.inf, words == "above 0"
    low, high = found if len(found) == 2 else (0.0, *found)
    return low, high, words.startswith(("above", "to"))


@pytest.mark.parametrize(("function", "name", "words", "also"), CASES)
def test_a_formula_holds_as_far_as_its_docstring_says(
    function: Callable[..., Any], name: str, words: str, also: dict[str, Any]
) -> None:
    text = " ".join((inspect.getdoc(function) or "").split())
    assert re.search(rf"\b{name}\b", text)
    assert words in text
    low, high, above = ends(words)
    given = {**USUAL[function], **also}
    # what is a count in life may be one more or less
    counts = isinstance(given.get(name), int) or function is conductors.awg_diameter

    def step(end: float) -> float:
        wide = high - low if math.isfinite(high) else 1.0
        return 1 if counts else 0.02 * min(1.0, wide, abs(end) or 1.0)

    def call(value: float) -> None:
        function(**{**given, name: value})

    if above:
        call(low + 1e-3 * min(high, 1.0))
        with pytest.raises(OutOfRange):
            call(low)
    else:
        call(low)
    with pytest.raises(OutOfRange):
        call(low - step(low))
    if math.isfinite(high):
        call(high)
        with pytest.raises(OutOfRange) as refused:
            call(high + step(high))
        # what the refusal names is the range of the docstring, and what was given
        assert (refused.value.low, refused.value.high) == (low, high)
        assert refused.value.value == high + step(high)


@pytest.mark.parametrize("value", [1e-3, 0.05, 1.0, 7.0])
def test_what_is_above_zero_passes_and_comes_back(value: float) -> None:
    assert positive(value, "size") == not_negative(value, "size") == value
    assert within(value, value, value, "size") == value  # both ends belong to the range
    for refuses in (positive, not_negative):
        with pytest.raises(OutOfRange, match="has to be") as refused:
            refuses(-value, "size", "m")
        assert (refused.value.low, refused.value.high) == (0.0, math.inf)
    for outside in (value * 0.99, value * 1.01):
        with pytest.raises(OutOfRange, match="this holds from"):
            within(outside, value, value, "size")


def test_zero_is_not_negative_and_not_positive() -> None:
    assert not_negative(0.0, "size") == 0.0
    with pytest.raises(OutOfRange, match="the size is 0 m; it has to be more than 0 m"):
        positive(0.0, "size", "m")


def test_none_are_too_few_and_one_is_enough() -> None:
    assert some([0.0], "parts") == [0.0]
    with pytest.raises(NotCovered, match="there are no parts to reckon with") as refused:
        some([], "parts")
    assert (refused.value.low, refused.value.high) == (0.0, math.inf)
