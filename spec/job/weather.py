"""A weather file that a job names, read when the job is: it serves where the job writes nothing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path, PurePath
from typing import TYPE_CHECKING

from spec.finding import Finding, Level, Place, Spot
from spec.job import paths
from spec.job.raw import Raw

if TYPE_CHECKING:
    from spec.read.weather import Field, Weather

ORIGIN = "weather file, "
"""How the origin of a value begins that a weather file gives; then stands which field."""
LINK = "climate.weather"
"""The decision through which such a value came."""
_SHARES = ("0.4 %", "1 %")


def taken_over(tree: Raw, folder: Path | None) -> Iterator[Finding]:
    """Put the months and the design air of the weather file into a job's raw values.

    What the job writes itself, or inherits, or marks as open, stays. Only called once inheritance
    is settled. A file that is not there, outside or too large is reported with all other files
    that a job names (`spec.job.paths`).
    """
    climate = tree.map().get("climate")
    named = climate.map().get("weather") if climate is not None else None
    if climate is None or named is None or not isinstance(named.value, str) or folder is None:
        return
    path = paths.usable(folder, named.value)
    if path is None:
        return
    from spec.read.weather import NoWeather, read_weather  # noqa: PLC0415 - few jobs have one

    shown_as = str(PurePath(named.place.file).parent / named.value)
    try:
        weather = read_weather(path.read_bytes(), shown_as)
    except OSError as error:
        message = f"the weather file `{named.value}` cannot be read: {error.strerror}"
        yield _error(message, "see that it may be read", named.place)
        return
    except NoWeather as error:
        message = f"the weather file `{named.value}` cannot be used: {error.message}"
        yield _error(message, error.cure, Place(shown_as, error.line, error.column))
        return
    _fill(climate, weather, climate.text("exceeded") or _SHARES[0])


def _fill(climate: Raw, weather: Weather, share: str) -> None:
    rows, place = climate.map(), weather.rows
    _put(rows, "source", weather.station, "LOCATION", Place(place.file, 1, 1))
    monthly = rows.setdefault("monthly", Raw({}, place, place, origin=f"{ORIGIN}by month"))
    if monthly.state is None:
        means = " ".join(f"{value:.2f}" for value in weather.temperatures)
        what = "means of field 7, dry bulb"
        _put(monthly.map(), "temperature", f"{means} °C", what, place)
        means = " ".join(f"{100.0 * value:.2f}" for value in weather.humidities)
        what = "of the mean vapor pressure by fields 7 and 9, dry bulb and relative humidity"
        _put(monthly.map(), "humidity", f"{means} %", what, place)
    known = weather.design
    summer = _season(
        known,
        temperature=f"dry bulb, warmer {share} of the year",
        wet_bulb=f"wet bulb with it, {share}",
    )
    winter = _season(
        known,
        temperature="dry bulb, colder 0.4 % of the year",
        dew_point="dew point, drier 0.4 % of the year",
    )
    if not summer and not winter:
        return
    design = rows.setdefault("design", Raw({}, place, place, origin=f"{ORIGIN}design conditions"))
    if design.state is not None:
        return
    for season, air in (("summer", summer), ("winter", winter)):
        # One hour's air belongs together: where the job says a part of it, it says all of it.
        if not air or season in design.map():
            continue
        first = next(iter(air.values()))[1].place
        design.map()[season] = below = Raw({}, first, first, origin=f"{ORIGIN}design conditions")
        for key, (what, field) in air.items():
            text = f"field {field.number}, {what}"
            _put(below.map(), key, f"{field.value:g} °C", text, field.place)


def _season(known: Mapping[str, Field], **keys: str) -> dict[str, tuple[str, Field]]:
    """The air of a season; nothing where its temperature is not given.

    Air that would be wetter than it can be at its temperature keeps its temperature only.
    """
    air = {key: (what, known[what]) for key, what in keys.items() if what in known}
    if "temperature" not in air:
        return {}
    dry_bulb = air["temperature"][1].value
    return {key: said for key, said in air.items() if said[1].value <= dry_bulb}


def _put(rows: dict[str, Raw], key: str, text: str, what: str, place: Place) -> None:
    rows.setdefault(key, Raw(text, place, place, origin=ORIGIN + what, through=LINK))


def _error(message: str, cure: str, place: Place) -> Finding:
    return Finding("reading.weather-file", Level.ERROR, message, cure, (Spot(LINK, place),))
