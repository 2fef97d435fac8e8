"""The drawings of both starter jobs, drawn once for all tests."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import pytest

from spec import files, pipeline
from spec.compose.blocks import Picture
from spec.compose.context import Reader, trades_with_work
from spec.compose.parts.drawings import drawings, room_pictures

JOBS = ("garden_store", "city_flat", "supper_club")


@dataclass(frozen=True)
class Drawn:
    """One picture of one order."""

    job: str
    trade: str
    picture: Picture

    def __str__(self) -> str:
        return f"{self.job}, {self.trade}: {self.picture.caption}"


@cache
def checked(job: str) -> pipeline.Checked:
    return pipeline.check_file(files.templates() / "jobs" / job / "job.yaml")


@cache
def reader(job: str, trade: str) -> Reader:
    known = checked(job)
    return Reader(known.facts, known.findings, trade)


@cache
def every_picture() -> tuple[Drawn, ...]:
    """All pictures of all orders and of the client's book, in both starter jobs."""
    found: list[Drawn] = []
    for job in JOBS:
        for trade in trades_with_work(checked(job).job):
            blocks = drawings(reader(job, trade))
            found += [Drawn(job, trade, b) for b in blocks if isinstance(b, Picture)]
        client = reader(job, "")
        for room in client.job.rooms:
            found += [Drawn(job, "client", p) for p in room_pictures(client, room)]
    return tuple(found)


@pytest.fixture(scope="session")
def pictures() -> tuple[Drawn, ...]:
    return every_picture()
