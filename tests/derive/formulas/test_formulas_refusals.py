"""Every formula refuses what is not a number, in plain words, and documents itself."""

from __future__ import annotations

import importlib
import inspect
import math
import pkgutil
from collections.abc import Callable
from typing import Any

import pytest

from spec.derive import formulas
from spec.derive.formulas import (
    air,
    arches,
    bins,
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
    steel_framing,
    storage,
    sun,
    takeoff,
    weights,
    wood,
)
from spec.derive.formulas.range import OutOfRange

SEA = 101_325.0
ROOM, HALL = air.state(12.8, 0.6, SEA), air.state(24.0, 0.5, SEA)
CALLS: list[tuple[Callable[..., Any], dict[str, Any]]] = [
    (air.pressure_at, {"elevation": 20.0}),
    (air.saturation_pressure, {"temperature": 20.0}),
    (air.vapor_pressure, {"temperature": 20.0, "humidity": 0.5}),
    (air.dew_point, {"temperature": 20.0, "humidity": 0.5}),
    (air.humidity_from_dew_point, {"temperature": 20.0, "dew_point": 10.0}),
    (air.humidity_from_wet_bulb, {"temperature": 20.0, "wet_bulb": 15.0, "pressure": SEA}),
    (air.wet_bulb, {"temperature": 20.0, "humidity": 0.5, "pressure": SEA}),
    (air.humidity_ratio, {"temperature": 20.0, "humidity": 0.5, "pressure": SEA}),
    (air.enthalpy, {"temperature": 20.0, "humidity": 0.5, "pressure": SEA}),
    (air.density, {"temperature": 20.0, "humidity": 0.5, "pressure": SEA}),
    (air.state, {"temperature": 20.0, "humidity": 0.5, "pressure": SEA}),
    (air.humidity_when_brought_to, {"temperature": 20.0, "humidity": 0.5, "new_temperature": 12.0}),
    (arches.arch, {"span": 1.2, "rise": 0.2}),
    (arches.rise_from_radius, {"span": 1.2, "radius": 1.0}),
    (arches.height_at, {"span": 1.2, "rise": 0.2, "from_middle": 0.3}),
    (arches.inner, {"span": 1.2, "rise": 0.2, "gap": 0.01}),
    (bins.square_bound, {"side": 0.3, "diameter": 0.08}),
    (bins.convex_bound, {"corners": [(0, 0), (1, 0), (0, 1)], "diameter": 0.08}),
    (bins.in_bin, {"corners": [(0, 0), (1, 0), (0, 1)], "diameter": 0.08}),
    (boxes.needs_own_support, {"weight": 20.0, "marked": 22.0}),
    (boxes.extension_ring, {"box_set_back": 0.01, "combustible": True}),
    (circuits.current, {"power": 100.0, "voltage": 120.0, "power_factor": 0.9}),
    (circuits.load, {"loads": [(100.0, True)], "voltage": 120.0, "breaker": 20.0}),
    (
        circuits.voltage_drop,
        {"amperes": 5.0, "length": 10.0, "resistance": 0.01, "voltage": 120.0, "reactance": 1e-4},
    ),
    (
        circuits.longest_run,
        {"amperes": 5.0, "resistance": 0.01, "voltage": 120.0, "share": 0.03},
    ),
    (circuits.coordinated, {"design": 4.0, "breaker": 10.0, "carries": 23.0}),
    (conductors.awg_resistance, {"size": 12, "temperature": 75.0}),
    (conductors.metric_resistance, {"section": 2.5e-6, "temperature": 20.0}),
    (conductors.ampacity, {"size": 12, "ambient": 30.0}),
    (conductors.metric_ampacity, {"section": 2.5e-6, "method": "C"}),
    (
        cooling.transmission,
        {"area": 10.0, "u_value": 0.3, "beyond": 30.0, "room": 12.0},
    ),
    (
        cooling.infiltration,
        {"volume": 30.0, "changes_per_hour": 0.5, "beyond": HALL, "room": ROOM},
    ),
    (cooling.doorway, {"width": 0.9, "height": 2.1, "beyond": HALL, "room": ROOM}),
    (
        cooling.through_door,
        {
            "exchange": cooling.doorway(0.9, 2.1, HALL, ROOM),
            "share": 0.01,
            "difference": 11.0,
            "protection": 0.0,
        },
    ),
    (cooling.flow_factor, {"difference": 11.0}),
    (cooling.open_share, {"passages": 8.0, "seconds_each": 20.0, "standing_open": 60.0}),
    (cooling.person, {"room": 12.0}),
    (cooling.running, {"power": 100.0, "hours_per_day": 2.0}),
    (cooling.heat_of_bottles, {"glass": 100.0, "wine": 100.0, "arriving": 20.0, "room": 12.0}),
    (cooling.pull_down, {"heat": 1e6, "allowed": 3600.0}),
    (cooling.pull_down_time, {"heat": 1e6, "capacity": 500.0, "other_loads": 100.0}),
    (
        cooling.hold_time,
        {"heat_capacity": 1e6, "conductance": 10.0, "room": 12.0, "limit": 16.0, "beyond": 24.0},
    ),
    (cooling.capacity_needed, {"average": 300.0, "safety": 0.1, "hours_per_day": 16.0}),
    (
        cooling.capacity,
        {"average": 300.0, "safety": 0.1, "hours_per_day": 16.0, "given": 700.0},
    ),
    (doors.rough_opening, {"across": [0.8], "upright": [2.0], "shim": 0.01, "head_shim": 0.01}),
    (doors.hinges, {"height": 2.0, "width": 0.8, "weight": 40.0, "each_carries": 30.0}),
    (doors.hinge_pull, {"width": 0.8, "weight": 40.0, "spread": 1.6}),
    (doors.leaf_width, {"opening": 1.0, "leaves": 2, "sides": 0.003, "meeting": 0.003}),
    (envelope.resistance, {"thickness": 0.1, "conductivity": 0.04}),
    (envelope.cavity_resistance, {"thickness": 0.03, "direction": "up"}),
    (
        envelope.transmittance,
        {"layers": [envelope.Layer(1.0)], "inside_film": 0.13, "outside_film": 0.04},
    ),
    (envelope.framing_share, {"member": 0.04, "spacing": 0.4, "height": 2.4, "plates": 3}),
    (
        envelope.temperatures,
        {"resistances": [0.1, 1.0], "from_temperature": 20.0, "to_temperature": 0.0},
    ),
    (envelope.sol_air_temperature, {"air": 30.0, "irradiance": 500.0, "absorptance": 0.5}),
    (
        glazing.surface_temperature,
        {"u_value": 1.0, "film": 0.13, "warm": 24.0, "cold": 12.0},
    ),
    (
        glazing.highest_dry_humidity,
        {"u_value": 1.0, "film": 0.13, "warm": 24.0, "cold": 12.0},
    ),
    (glazing.largest_dry_u, {"film": 0.13, "warm": 24.0, "humidity": 0.6, "cold": 12.0}),
    (
        glazing.sweat,
        {"u_value": 1.0, "film": 0.13, "warm": 24.0, "humidity": 0.6, "cold": 12.0},
    ),
    (glazing.solar_gain, {"area": 1.0, "gain_factor": 0.4, "irradiance": 500.0}),
    (ground.characteristic_dimension, {"area": 12.0, "exposed_perimeter": 8.0}),
    (ground.equivalent_thickness, {"wall": 0.3, "soil": 1.5, "resistance": 1.0}),
    (ground.slab, {"dimension": 4.0, "thickness": 0.6, "soil": 1.5}),
    (ground.basement_floor, {"dimension": 4.0, "thickness": 0.6, "soil": 1.5, "depth": 2.0}),
    (
        ground.basement_wall,
        {"depth": 2.0, "wall_resistance": 2.0, "floor_thickness": 0.6, "soil": 1.5},
    ),
    (insulating_glass.mixture, {"name": "argon", "filled": 0.9}),
    (insulating_glass.conductance, {"gap": insulating_glass.Gap(0.012), "difference": 15.0}),
    (ladder.lean, {"rail_height": 2.1, "ratio": 4.0}),
    (ladder.lean_by_rise, {"rail_height": 2.1, "rise_over_run": 4.0}),
    (
        ladder.clear_of_base,
        {"foot_out": 0.5, "stand_off": 0.1, "base_depth": 0.6, "upper_depth": 0.3},
    ),
    (ladder.push_on_rail, {"weight": 100.0, "foot_out": 0.5, "rail_height": 2.1}),
    (ladder.highest_reach, {"top_step": 1.2, "reach": 1.9}),
    (low_voltage.strip_load, {"length": 3.0, "watts_per_meter": 9.6}),
    (low_voltage.strip_drop, {"current": 2.0, "length": 5.0, "loop_resistance": 0.05}),
    (low_voltage.smallest_supply, {"load": 40.0, "headroom": 0.2}),
    (low_voltage.supply_input, {"load": 40.0, "efficiency": 0.85}),
    (
        low_voltage.smallest_section,
        {"current": 2.0, "length": 10.0, "voltage": 24.0, "share": 0.05},
    ),
    (moisture.saturation, {"temperature": 12.0}),
    (moisture.thickness_from_permeance, {"permeance": 1e-11}),
    (moisture.retarder_class, {"permeance": 1e-11}),
    (
        shelves.sag,
        {"span": 0.9, "depth": 0.3, "thickness": 0.02, "stiffness": 1e10, "line_load": 300.0},
    ),
    (shelves.check, {"at_once": 0.001, "span": 0.9, "limit": 144.0, "creep": 1.5}),
    (shelves.longest_span, {"thickness": 0.02, "stiffness": 1e10, "pressure": 1000.0}),
    (steel_framing.layer, {"nominal": 2.3, "depth": 0.0889, "spacing": 0.4064}),
    (storage.pitch, {"clear": 1.2, "count": 12.0}),
    (storage.how_many, {"clear": 1.2, "least_pitch": 0.1}),
    (storage.cell_play, {"spacing": 0.1, "divider": 0.02, "diameter": 0.078}),
    (storage.bottles_deep, {"depth": 0.66, "length": 0.3, "overhang": 0.0}),
    (storage.tilted, {"length": 0.3, "diameter": 0.08, "angle": 15.0}),
    (storage.corner_pitch, {"radius": 0.8, "columns": 7, "angle": 90.0}),
    (sun.position, {"latitude": 40.0, "month": 7, "hour": 12.0}),
    (sun.irradiance, {"latitude": 40.0, "month": 7, "hour": 12.0, "faces": 180.0, "slope": 90.0}),
    (sun.peak, {"latitude": 40.0, "faces": 180.0, "slope": 90.0}),
    (takeoff.with_waste, {"net": 10.0, "waste": 0.1}),
    (takeoff.area_in, {"net": 10.0, "waste": 0.1, "piece": 2.9}),
    (takeoff.rolls, {"net": 10.0, "waste": 0.1, "width": 1.0, "length": 10.0, "lap": 0.15}),
    (takeoff.tiles, {"net": 10.0, "waste": 0.1, "size": (0.3, 0.6), "joint": 0.003}),
    (takeoff.length_in, {"net": 10.0, "waste": 0.1, "stock": 3.0}),
    (takeoff.cut_from_stock, {"lengths": [1.0], "stock": 3.0, "kerf": 0.003}),
    (takeoff.coverage, {"net": 10.0, "waste": 0.1, "coats": 2, "per_liter": 10.0}),
    (weights.full_bottle, {"glass": 0.5, "fill": 0.00075, "density": 990.0}),
    (weights.line_load, {"mass": 100.0, "length": 1.0}),
    (weights.pressure, {"mass": 100.0, "area": 1.0}),
    (weights.on_floor, {"mass": 100.0, "area": 1.0, "allowable": 7000.0}),
    (weights.sheet, {"area": 1.0, "thickness": 0.01, "density": 700.0}),
    (weights.glass, {"area": 1.0, "panes": 0.01}),
    (weights.wood_density, {"specific_gravity": 0.68}),
    (
        weights.door_leaf,
        {"width": 0.8, "height": 2.0, "thickness": 0.05, "density": 700.0, "hardware": 2.0},
    ),
    (wood.coefficient, {"shrinkage": 7.0, "saturation": 30.0}),
    (wood.equilibrium_moisture, {"temperature": 12.0, "humidity": 0.6}),
    (
        wood.movement,
        {"width": 0.3, "name": "cherry", "grain": "radial", "dry": 8.0, "moist": 11.0},
    ),
    (wood.days_to_settle, {"thickness": 0.02}),
]
NUMBERS = [
    pytest.param(function, given, name, id=f"{function.__module__}.{function.__name__}.{name}")
    for function, given in CALLS
    for name, value in given.items()
    if isinstance(value, float)
]
MODULES = [
    importlib.import_module(f"{formulas.__name__}.{found.name}")
    for found in pkgutil.iter_modules(formulas.__path__)
]
PUBLIC = [
    pytest.param(thing, id=f"{module.__name__.rsplit('.', 1)[1]}.{name}")
    for module in MODULES
    for name, thing in vars(module).items()
    if inspect.isfunction(thing) and thing.__module__ == module.__name__ and name[0] != "_"
]


@pytest.mark.parametrize(("function", "given", "name"), NUMBERS)
@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_what_is_not_a_number_is_refused(
    function: Callable[..., Any], given: dict[str, Any], name: str, bad: float
) -> None:
    function(**given)  # the call as it stands is good
    with pytest.raises(OutOfRange) as refused:
        function(**{**given, name: bad})
    assert str(refused.value)


@pytest.mark.parametrize("function", PUBLIC)
def test_every_formula_says_units_result_errors_and_source(function: Callable[..., Any]) -> None:
    text = " ".join((inspect.getdoc(function) or "").split())
    assert text
    parameters = [p for p in inspect.signature(function).parameters.values() if p.name != "self"]
    for parameter in parameters:
        assert parameter.name in text, f"{parameter.name} is not explained"
    if any(p.annotation == "float" for p in parameters):
        assert "[" in text
    assert "Raises" in text
    if function.__module__.rsplit(".", 1)[1] != "range":
        assert "Returns" in text
        assert "Source" in text


def test_a_refusal_reads_like_a_sentence() -> None:
    with pytest.raises(OutOfRange) as refused:
        air.dew_point(20.0, 1.4)
    assert str(refused.value) == "the relative humidity is 1.4; this holds from 0 to 1"
    assert (refused.value.low, refused.value.high, refused.value.value) == (0.0, 1.0, 1.4)
    with pytest.raises(OutOfRange, match="the area is -1 m²; it has to be at least 0 m²"):
        takeoff.net_area(-1.0)
