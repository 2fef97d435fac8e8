"""What the compiler says about a job: a level, a place, what is wrong, what puts it right."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import NamedTuple


class Level(StrEnum):
    """The levels of SARIF 2.1.0 (OASIS), gravest first."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"

    @property
    def rank(self) -> int:
        """0 for the gravest level."""
        return _RANK[self]


_RANK = {Level.ERROR: 0, Level.WARNING: 1, Level.NOTE: 2}


class Place(NamedTuple):
    """A position in a file; line and column count from 1."""

    file: str
    line: int
    column: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


class Spot(NamedTuple):
    """An address in the job and the place in a file where it stands.

    A spot in a file that could not be read far enough has an empty address.
    """

    address: str
    place: Place


class Waived(NamedTuple):
    """Who accepted a finding, when, why, and until when (empty: for good)."""

    who: str
    when: str
    why: str
    until: str = ""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that is wrong, missing or open.

    `spots[0]` is where it is reported; the others are the second side of a conflict.
    `trades` are told of it. `gates` are held by it only where a document's own
    addresses are concerned; that is worked out in `spec.compose`, never here.
    """

    rule: str
    level: Level
    message: str
    cure: str
    spots: tuple[Spot, ...]
    trades: tuple[str, ...] = ()
    stage: str = ""
    waived: Waived | None = field(default=None)

    @property
    def address(self) -> str:
        """The address at which the finding is reported."""
        return self.spots[0].address

    @property
    def place(self) -> Place:
        """The file position at which the finding is reported."""
        return self.spots[0].place

    def sort_key(self) -> tuple[Place, int, str, str]:
        """Order of printing: by place, then gravity, then name and message."""
        return (self.place, self.level.rank, self.rule, self.message)
