"""Findings that no rule module declares: slips of reading, silences, links that lead nowhere."""

from __future__ import annotations

from typing import NamedTuple


class Family(NamedTuple):
    """Findings whose names begin or end alike (`reading.`, `.not-decided`), or one by its name."""

    part: str
    what: str
    why: str
    cure: str = ""

    @property
    def name(self) -> str:
        """Its name, with a star for what differs (`reading.*`)."""
        return "*" * self.part.startswith(".") + self.part + "*" * self.part.endswith(".")

    def holds(self, name: str) -> bool:
        """Whether a finding of this name belongs to it."""
        return name.startswith(self.part) or name.endswith(self.part)


FAMILIES = (
    Family(
        ".not-decided",
        "A decision of this subject that the job's stage needs, and of which the file says "
        "nothing.",
        "A silence is an omission; nobody can tell it from an answer.",
        "Write it, or mark it open (who decides, by when) or not applicable (why). The schema says "
        "who decides, which trades need it and before which stage.",
    ),
    Family(
        "reading.",
        "What is written in the file cannot be read as it was meant: a slip of typing, an unknown "
        "word or key, a value that is not what its place asks for. The message shows the line as "
        "written and as it should be.",
        "What cannot be read counts as open from there on, and holds the orders that rest on it; "
        "everything else goes on.",
    ),
    Family(
        "job.names-nothing",
        "A mark or word that is to name a thing names none in the job or the house standards.",
        "What is fed from, fixed to or made of nothing is built by nobody.",
    ),
    Family(
        "job.link-to-wrong-kind",
        "A mark or word names a thing of another kind than its place asks for.",
        "A light that is fed from a door has been mistyped.",
    ),
    Family(
        "job.name-used-twice",
        "Two things have one mark or small word.",
        "Whoever points at one of them points at both.",
    ),
    Family(
        "job.overrides-itself",
        "An override of what the job itself writes.",
        "One fact stands in one place; overrides are departures from the house standards.",
    ),
    Family(
        "job.placed-by-itself",
        "A thing whose place follows from another's, whose place follows from its own.",
        "Nobody can set out either of them.",
    ),
    Family(
        "job.follows-from-itself",
        "What is taken from another is taken back from the first: the air of a room, the level of "
        "a floor, a wall's other side, an open decision that waits for another.",
        "Each points at the other, and the fact itself stands nowhere.",
    ),
    Family(
        "electrical.feeds-itself",
        "A chain of feeds that comes back to where it began.",
        "Nothing in it has power.",
    ),
    Family(
        "documents.not-stated",
        "A decision that no order states to a trade which needs it.",
        "This is a gap of the documents, not of the job.",
    ),
    Family(
        "check.rule-failed",
        "A rule failed on this job and said nothing.",
        "This is a fault of the program; it hides no other finding.",
    ),
)
"""Every family, each with what it finds and why it matters."""


def family_of(name: str) -> Family | None:
    """The family of a finding that no rule module declares, or None."""
    return next((family for family in FAMILIES if family.holds(name)), None)
