"""Moist air: pressure with elevation, saturation, dew point, humidity ratio, enthalpy, density.

psychrolib does the work, in SI. Source of all of it: ASHRAE Handbook Fundamentals 2017,
chapter 1; the equation stands at each function. Relative humidity is a fraction here.
"""

from __future__ import annotations

from typing import NamedTuple

import psychrolib

from spec.derive.formulas.range import OutOfRange, positive, within

psychrolib.SetUnitSystem(psychrolib.SI)

COLDEST, WARMEST = -40.0, 80.0
"""[°C] Dry-bulb temperatures that rooms, attics and site weather can have."""


class Air(NamedTuple):
    """Moist air at a temperature, humidity and pressure.

    temperature [°C] dry bulb; humidity [-] relative, 0 to 1; pressure [Pa];
    dew_point [°C] (below 0 °C the frost point); vapor_pressure [Pa];
    humidity_ratio [kg water/kg dry air]; enthalpy [J/kg dry air], zero for dry air at 0 °C;
    volume [m³/kg dry air]; density [kg moist air/m³].
    """

    temperature: float
    humidity: float
    pressure: float
    dew_point: float
    vapor_pressure: float
    humidity_ratio: float
    enthalpy: float
    volume: float
    density: float


def pressure_at(elevation: float) -> float:
    """Pressure of the standard atmosphere.

    elevation [m] above sea level, -500 to 5000. Returns [Pa]. Raises OutOfRange.
    Source: ASHRAE Fundamentals 2017 ch. 1 eq. 3.

    >>> round(pressure_at(0.0))
    101325
    """
    within(elevation, -500.0, 5000.0, "elevation", "m")
    return float(psychrolib.GetStandardAtmPressure(elevation))


def saturation_pressure(temperature: float) -> float:
    """Pressure of saturated vapor, over ice below 0 °C and over water above.

    temperature [°C], -40 to 80. Returns [Pa]. Raises OutOfRange.
    Source: ASHRAE Fundamentals 2017 ch. 1 eq. 5 and 6.
    """
    _temperature(temperature)
    return float(psychrolib.GetSatVapPres(temperature))


def vapor_pressure(temperature: float, humidity: float) -> float:
    """Partial pressure of the water vapor in air.

    temperature [°C], -40 to 80; humidity [-] relative, 0 to 1. Returns [Pa]. Raises OutOfRange.
    Source: ASHRAE Fundamentals 2017 ch. 1 eq. 12 and 22.
    """
    return _humidity(humidity) * saturation_pressure(temperature)


def dew_point(temperature: float, humidity: float) -> float:
    """Temperature at which a surface in this air begins to sweat; the same at any elevation.

    temperature [°C], -40 to 80; humidity [-] relative, above 0 to 1. Returns [°C], at most the
    temperature; below 0 °C it is the frost point. Raises OutOfRange, also for air so dry that
    its dew point lies under -100 °C.
    Source: ASHRAE Fundamentals 2017 ch. 1 eq. 5 and 6 solved for temperature.
    """
    _temperature(temperature)
    positive(_humidity(humidity), "relative humidity")
    if vapor_pressure(temperature, humidity) <= psychrolib.GetSatVapPres(-99.9):
        raise OutOfRange("relative humidity", humidity, 0.001, 1.0, "")
    return min(temperature, float(psychrolib.GetTDewPointFromRelHum(temperature, humidity)))


def humidity_from_dew_point(temperature: float, dew_point: float) -> float:
    """Relative humidity of air with a known dew point.

    temperature [°C], -40 to 80; dew_point [°C], -40 up to the temperature. Returns [-].
    Raises OutOfRange. Source: ASHRAE Fundamentals 2017 ch. 1 eq. 22, 36.
    """
    within(dew_point, COLDEST, _temperature(temperature), "dew point", "°C")
    return saturation_pressure(dew_point) / saturation_pressure(temperature)


def humidity_from_wet_bulb(temperature: float, wet_bulb: float, pressure: float) -> float:
    """Relative humidity of air from a sling psychrometer's two readings.

    temperature [°C], -40 to 80; wet_bulb [°C], -40 up to the temperature; pressure [Pa], 50000 to
    110000. Returns [-]. Raises OutOfRange, also where the pair is drier than dry air.
    Source: ASHRAE Fundamentals 2017 ch. 1 eq. 33 and 35.
    """
    within(wet_bulb, COLDEST, _temperature(temperature), "wet-bulb temperature", "°C")
    _pressure(pressure)
    # psychrolib answers a hair above 1 at saturation, and clamps drier-than-dry pairs to 1e-7.
    found = float(psychrolib.GetRelHumFromTWetBulb(temperature, wet_bulb, pressure))
    driest = float(psychrolib.GetTWetBulbFromRelHum(temperature, 0.0, pressure))
    within(wet_bulb, driest, temperature, "wet-bulb temperature", "°C")
    return min(found, 1.0)


def wet_bulb(temperature: float, humidity: float, pressure: float) -> float:
    """Wet-bulb temperature, as a condenser in the shade of a wet wall would see it.

    temperature [°C], -40 to 80; humidity [-], 0 to 1; pressure [Pa], 50000 to 110000.
    Returns [°C]. Raises OutOfRange. Source: ASHRAE Fundamentals 2017 ch. 1 eq. 33 and 35.
    """
    _temperature(temperature), _humidity(humidity), _pressure(pressure)
    return float(psychrolib.GetTWetBulbFromRelHum(temperature, humidity, pressure))


def humidity_ratio(temperature: float, humidity: float, pressure: float) -> float:
    """Water carried by each kilogram of dry air.

    temperature [°C], -40 to 80; humidity [-], 0 to 1; pressure [Pa], 50000 to 110000.
    Returns [kg/kg]. Raises OutOfRange, also where the vapor's share of the pressure is above .9.
    Source: ASHRAE Fundamentals 2017 ch. 1 eq. 20.
    """
    vapor = vapor_pressure(temperature, humidity)
    within(vapor, 0.0, 0.9 * _pressure(pressure), "vapor pressure", "Pa")
    return float(psychrolib.GetHumRatioFromVapPres(vapor, pressure))


def enthalpy(temperature: float, humidity: float, pressure: float) -> float:
    """Enthalpy of moist air by mass of dry air, zero for dry air at 0 °C.

    temperature [°C], -40 to 80; humidity [-], 0 to 1; pressure [Pa], 50000 to 110000.
    Returns [J/kg]. Raises OutOfRange. Source: ASHRAE Fundamentals 2017 ch. 1 eq. 30.
    """
    ratio = humidity_ratio(temperature, humidity, pressure)
    return float(psychrolib.GetMoistAirEnthalpy(temperature, ratio))


def density(temperature: float, humidity: float, pressure: float) -> float:
    """Mass of moist air, its vapor included, in a cubic meter.

    temperature [°C], -40 to 80; humidity [-], 0 to 1; pressure [Pa], 50000 to 110000.
    Returns [kg/m³]. Raises OutOfRange. Source: ASHRAE Fundamentals 2017 ch. 1 eq. 11 and 26.
    """
    ratio = humidity_ratio(temperature, humidity, pressure)
    return float(psychrolib.GetMoistAirDensity(temperature, ratio, pressure))


def state(temperature: float, humidity: float, pressure: float) -> Air:
    """Everything about air at once.

    temperature [°C], -40 to 80; humidity [-], above 0 to 1; pressure [Pa], 50000 to 110000.
    Returns an `Air`. Raises OutOfRange.
    Source: ASHRAE Fundamentals 2017 ch. 1 eq. 5, 6, 20, 26, 30; as the functions above.
    """
    ratio = humidity_ratio(temperature, humidity, pressure)
    return Air(
        temperature=temperature,
        humidity=humidity,
        pressure=pressure,
        dew_point=dew_point(temperature, humidity),
        vapor_pressure=vapor_pressure(temperature, humidity),
        humidity_ratio=ratio,
        enthalpy=enthalpy(temperature, humidity, pressure),
        volume=float(psychrolib.GetMoistAirVolume(temperature, ratio, pressure)),
        density=density(temperature, humidity, pressure),
    )


def humidity_when_brought_to(temperature: float, humidity: float, new_temperature: float) -> float:
    """Relative humidity of air that is warmed or cooled without gaining or losing water.

    temperature, new_temperature [°C], -40 to 80; humidity [-], 0 to 1. Returns [-]; above 1 means
    that water falls out: a room cooled below the dew point of the air that leaks into it, or,
    well below 1, winter air that dries a room. Raises OutOfRange.
    Source: ASHRAE Fundamentals 2017 ch. 1 eq. 22.
    """
    return vapor_pressure(temperature, humidity) / saturation_pressure(new_temperature)


def _temperature(value: float) -> float:
    return within(value, COLDEST, WARMEST, "air temperature", "°C")


def _humidity(value: float) -> float:
    return within(value, 0.0, 1.0, "relative humidity")


def _pressure(value: float) -> float:
    return within(value, 50_000.0, 110_000.0, "air pressure", "Pa")
