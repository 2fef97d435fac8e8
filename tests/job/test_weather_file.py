"""A weather file beside the job: what it gives, where that came from, and what is wrong with it."""

from __future__ import annotations

import csv
import math
import subprocess
import sys
import zipfile
from calendar import monthrange
from pathlib import Path

import pytest
from CoolProp.HumidAirProp import HAPropsSI

from spec.compose.parts.workings import found_at
from spec.derive.sheets.surroundings import months, weather
from spec.job.record import recording
from spec.pipeline import Checked, check_file
from spec.quantity.vapor import saturation
from spec.report import shown_thing

HEAD = (
    "LOCATION,Penny Hollow,-,XYZ,Invented,000001,40.0,-80.0,-5.0,250.0",
    "DESIGN CONDITIONS,1,Invented,,Heating,1,-12.5,-10.0,-18.0,0.8,-11,-16,0.9,-9,10,0,9,0,3,270,"
    "Cooling,7,10.1,33.0,23.5,31.5,22.8,30,22,25,30,24,29,23,28,5,220,Extremes,10,9,8",
    "TYPICAL/EXTREME PERIODS,0",
    "GROUND TEMPERATURES,0",
    "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0",
    "COMMENTS 1,made for a test",
    "COMMENTS 2,",
    "DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31",
)
_DAYS = tuple(monthrange(2023, month)[1] for month in range(1, 13))


def warmth(month: int, hour: int) -> float:
    return 10.0 - 12.0 * math.cos((month - 1) * math.pi / 6) + (3.0 if 10 < hour < 19 else 0.0)


def rows(february: int = 28) -> list[str]:
    days = (*_DAYS[:1], february, *_DAYS[2:])
    return [
        f"2023,{month},{day},{hour},0,?9,{warmth(month, hour):.1f},0.0,{40 + hour},98000,0,0,0"
        for month, last in enumerate(days, 1)
        for day in range(1, last + 1)
        for hour in range(1, 25)
    ]


JOB = """scantling: 1
climate:
  weather: town.epw
surroundings: {outdoors: {from: climate}}
trades: {framing: {visits: {framing: {starts: 2026-11-02}}}}
"""


def job(folder: Path, text: str = JOB, *, epw: str | bytes | None = None) -> Checked:
    if epw is None:
        epw = "\r\n".join((*HEAD, *rows()))
    content = epw.encode() if isinstance(epw, str) else epw
    (folder / "town.epw").write_bytes(content)
    (folder / "job.yaml").write_text(text, encoding="utf-8")
    return check_file(folder / "job.yaml", shown_as="job.yaml")


def reading(found: Checked) -> list[str]:
    return [f"{f.place}: {f.message}" for f in found.job.findings if f.rule.startswith("reading.")]


def test_the_months_are_means_of_the_hours(tmp_path: Path) -> None:
    found = job(tmp_path)
    assert not reading(found)
    outdoors = found.job.find("outdoors")
    assert outdoors is not None
    for month, (temperature, humidity) in enumerate(months(found.facts, outdoors), 1):
        hours = [(round(warmth(month, hour), 1), (40 + hour) / 100) for hour in range(1, 25)]
        mean = sum(t for t, _ in hours) / 24
        pressure = sum(share * saturation(t) for t, share in hours) / 24
        assert temperature == pytest.approx(mean, abs=0.006)
        assert humidity * saturation(temperature) == pytest.approx(pressure, rel=1e-3)


def test_the_design_air_comes_from_the_head(tmp_path: Path) -> None:
    found = job(tmp_path)
    outdoors = found.job.find("outdoors")
    assert outdoors is not None
    summer, winter = (weather(found.facts, outdoors, s) for s in ("summer", "winter"))
    assert summer.temperature == 33.0
    wet = HAPropsSI("R", "T", 306.15, "Twb", 296.65, "P", 101325.0)
    assert summer.humidity == pytest.approx(wet, abs=0.003)
    assert winter.temperature == -12.5
    dry = HAPropsSI("R", "T", 260.65, "Tdp", 255.15, "P", 101325.0)
    assert winter.humidity == pytest.approx(dry, abs=0.003)


def test_one_percent_of_the_year_may_be_warmer(tmp_path: Path) -> None:
    found = job(tmp_path, JOB.replace("town.epw", "town.epw\n  exceeded: 1 %"))
    air = [found.job.find(f"climate.design.summer.{k}") for k in ("temperature", "wet_bulb")]
    assert [node.written for node in air if node is not None] == ["31.5 °C", "22.8 °C"]


def test_every_value_says_which_field_it_came_from(tmp_path: Path) -> None:
    found = job(tmp_path)
    summer = found.job.find("climate.design.summer.temperature")
    assert summer is not None
    assert found_at(summer) == "town.epw:2, field 24, dry bulb, warmer 0.4 % of the year"
    assert HEAD[1][summer.place.column - 1 :].startswith("33.0,")
    text = shown_thing(found, "climate")
    assert text is not None
    assert "[weather file, means of field 7, dry bulb, town.epw:9:" in text
    with recording() as read:
        summer.parent.si("temperature")  # type: ignore[union-attr]
    assert read == {summer.address, "climate.weather"}


def test_nothing_that_it_gives_is_asked_for(tmp_path: Path) -> None:
    found = job(tmp_path)
    asked = [f.address for f in found.findings if f.address.startswith("climate")]
    assert not asked


def test_what_the_job_writes_wins(tmp_path: Path) -> None:
    more = (
        "  source: a station of my own\n"
        "  design: {summer: {temperature: 30 °C}, winter: {open: lead}}\n"
        "  monthly: {temperature: 1 2 3 4 5 6 7 8 9 10 11 12 °C}\n"
    )
    found = job(tmp_path, JOB.replace("surroundings", f"{more}surroundings"))
    assert not reading(found)
    climate = found.job.find("climate")
    assert climate is not None
    assert climate.word("source") == "a station of my own"
    assert climate.si("design.summer.temperature") == 30.0
    assert climate.find("design.summer.wet_bulb") is None  # it belongs to another hour
    assert found.job.state("climate.design.winter") == "open"
    assert climate.quantity("monthly.temperature").values[0].si == 1.0
    assert climate.has("monthly.humidity")


def test_a_leap_year_is_a_year(tmp_path: Path) -> None:
    assert not reading(job(tmp_path, epw="\n".join((*HEAD, *rows(29)))))


def test_a_head_without_design_conditions_leaves_them_to_be_asked(tmp_path: Path) -> None:
    head = (HEAD[0], "DESIGN CONDITIONS,0", *HEAD[2:])
    found = job(tmp_path, epw="\n".join((*head, *rows())))
    assert not reading(found)
    assert "climate.design" in {f.address for f in found.findings}
    assert found.job.find("climate.monthly.humidity") is not None


def test_air_drier_than_the_cold_allows_keeps_its_temperature(tmp_path: Path) -> None:
    head = (HEAD[0], HEAD[1].replace("-12.5", "-20.5"), *HEAD[2:])
    found = job(tmp_path, epw="\n".join((*head, *rows())))
    assert found.job.find("climate.design.winter.temperature") is not None
    assert found.job.find("climate.design.winter.dew_point") is None


def _spoilt(line: int, old: str, new: str) -> str:
    lines = [*HEAD, *rows()]
    assert old in lines[line - 1]
    lines[line - 1] = lines[line - 1].replace(old, new, 1)
    return "\n".join(lines)


@pytest.mark.parametrize(
    ("epw", "at", "says"),
    [
        ("Date,Temp\n1,2\n", "town.epw:1:1", "does not begin with LOCATION"),
        (b"PK\x03\x04\xff\xfe\x00", "town.epw:1:1", "does not begin with LOCATION"),
        ("", "town.epw:1:1", "does not begin with LOCATION"),
        ("\n".join(HEAD[:7]), "town.epw:7:1", "no line DATA PERIODS"),
        ("\n".join((*HEAD, *rows()[:5000])), "town.epw:5008:1", "it has 5000 hours"),
        (_spoilt(9, "?9,-2.0", "?9,99.9"), "town.epw:9:17", "field 7, dry bulb, holds 99.9, the"),
        (_spoilt(9, "0.0,41,", "0.0,999,"), "town.epw:9:26", "field 9, relative humidity, holds"),
        (_spoilt(9, "0.0,41,", "0.0,,"), "town.epw:9:26", "holds nothing, which is no number"),
        (_spoilt(9, "?9,-2.0", "?9,nan"), "town.epw:9:17", "field 7, dry bulb, holds nan"),
        (_spoilt(9, "?9,-2.0", "?9,-80"), "town.epw:9:17", "-70 to 70 can be"),
        (_spoilt(9, "2023,1,1", "2023,13,1"), "town.epw:9:6", "field 2, month, holds 13"),
        (_spoilt(9, "2023,1,1", "2023,2,1"), "town.epw:8768:1", "January has 743 hours"),
        (_spoilt(2, ",33.0,", ",warm,"), "town.epw:2:108", "field 24, dry bulb, warmer 0.4 %"),
    ],
)
def test_what_is_wrong_with_a_file_is_said_at_its_place(
    tmp_path: Path, epw: str | bytes, at: str, says: str
) -> None:
    found = job(tmp_path, epw=epw)
    said = reading(found)
    assert len(said) == 1
    assert said[0].startswith(f"{at}: the weather file `town.epw` cannot be used: ")
    assert says in said[0]
    assert found.job.find("climate.monthly") is None


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("../town.epw", "lies outside the job's folder"),
        ("none.epw", "there is no file `none.epw` beside the job"),
        (".", "there is no file"),
    ],
)
def test_a_file_that_is_not_there_or_outside(tmp_path: Path, name: str, says: str) -> None:
    found = job(tmp_path, JOB.replace("town.epw", f'"{name}"'))
    (said,) = reading(found)
    assert said.startswith("job.yaml:3:") and says in said


def test_a_file_larger_than_any_weather_file(tmp_path: Path) -> None:
    found = job(tmp_path, epw=b"LOCATION," + b" " * 20_000_000)
    assert reading(found) == ["job.yaml:3:3: `town.epw` is larger than 20 MB"]


@pytest.mark.outside
def test_published_files(tmp_path: Path) -> None:
    """The three years that the package diyepw carries, against means made another way."""
    fetch = [sys.executable, "-m", "pip", "download", "--no-deps", "--quiet", "diyepw"]
    subprocess.run([*fetch, "--dest", str(tmp_path)], check=True)
    (wheel,) = tmp_path.glob("diyepw-*.whl")
    with zipfile.ZipFile(wheel) as archive:
        named = [name for name in archive.namelist() if name.endswith(".epw")]
        contents = [archive.read(name) for name in named]
    assert len(contents) >= 3
    for content in contents:
        found = job(tmp_path, epw=content)
        assert not reading(found)
        climate = found.job.find("climate")
        assert climate is not None
        temperatures = [v.si for v in climate.quantity("monthly.temperature").values]
        humidities = [v.si for v in climate.quantity("monthly.humidity").values]
        lines = list(csv.reader(content.decode("latin-1").splitlines()))
        for month in range(12):
            hours = [line for line in lines[8:] if int(line[1]) == month + 1]
            mean = sum(float(line[6]) for line in hours) / len(hours)
            assert temperatures[month] == pytest.approx(mean, abs=0.006)
            if mean < 5.0:
                continue  # below freezing, humidity over ice and over water differ
            # the dew point gives the vapor pressure without the humidity
            pressures = [
                HAPropsSI("P_w", "T", 330.0, "Tdp", float(line[7]) + 273.15, "P", 101325.0)
                for line in hours
            ]
            here = HAPropsSI("P_w", "T", mean + 273.15, "R", humidities[month], "P", 101325.0)
            assert here == pytest.approx(sum(pressures) / len(pressures), rel=0.03)
        summer, winter = (climate.si(f"design.{s}.temperature") for s in ("summer", "winter"))
        warmest = sorted(float(line[6]) for line in lines[8:])
        assert warmest[-1] - 6.0 < summer <= warmest[-1] + 3.0
        assert warmest[0] - 8.0 < winter <= warmest[88] + 6.0
        assert climate.si("design.summer.wet_bulb") < summer
