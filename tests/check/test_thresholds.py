"""Every threshold of the house standards is read by somebody: in a starter or by a rule."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from spec import files
from spec.check.rule import rules
from spec.check.run import speak
from spec.compose import compose
from spec.derive.figure import Facts
from spec.job.job import Job
from spec.job.resolve import resolve
from spec.job.schema import root
from spec.pipeline import check_file
from spec.place import place
from spec.read import read_text

JOBS = files.templates() / "jobs"
STARTERS = ("garden_store", "city_flat", "supper_club")


UNSAID = """
surroundings: {outdoors: {summer: {temperature: 35 °C, humidity: 40 %}}}
finishes: {F1: {is: wood_floor}}
rooms:
  wine_room:
    use: wine_storage
    climate: {temperature: 12 °C, humidity: 60 %}
    taped: {to: finish}
    height: 8 ft
    finishes: {floor: F1}
    walls_clockwise:
      WA:
        length: 9 ft
        faces: outdoors
        openings: {N1: {is: window, center: wall, width: 30 in, bottom: 30 in, height: 40 in,
          faces_sun: yes, glazing: {panes: 2}}}
        lights: {LS1: {is: strip, pieces: [8 ft], watts: 3 W/ft, voltage: 24 V, fed_from: PS1}}
        drivers: {PS1: {is: driver, power: 60 W, voltage: 24 V, where: on the wall}}
      WB: {length: 6 ft}
      WC: {length: 9 ft}
      WD: {length: 6 ft}
    floor: {faces: outdoors}
"""
"""A job that leaves to the house what only a maker says."""


def named() -> set[str]:
    """The thresholds that the schema of the house standards has."""
    thresholds = root("house").below("thresholds")
    assert thresholds is not None
    return set(thresholds.schema["properties"])


def read_by_starters() -> None:
    for name in STARTERS:
        compose(check_file(JOBS / name / "job.yaml", shown_as="job.yaml"))


def read_where_nothing_is_said() -> None:
    job = resolve(read_text("scantling: 1" + UNSAID, "unsaid.yaml"))
    assert not job.findings
    list(Facts(job, place(job)).figures.all())


def read_by_examples() -> None:
    for declared in rules().values():
        for text in declared.example:
            job = resolve(read_text("scantling: 1\n" + text.strip("\n") + "\n", "example.yaml"))
            for _ in speak(declared, Facts(job, place(job))):
                pass


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> Iterator[set[str]]:
    """The names of the thresholds that anybody asks a job for meanwhile."""
    names: set[str] = set()
    threshold = Job.threshold

    def noting(job: Job, name: str) -> object:
        names.add(name)
        return threshold(job, name)

    monkeypatch.setattr(Job, "threshold", noting)
    yield names


def test_every_threshold_is_read(asked: set[str]) -> None:
    read_by_starters()
    read_by_examples()
    read_where_nothing_is_said()
    unread = sorted(named() - asked)
    assert not unread, f"nobody reads {unread}"
