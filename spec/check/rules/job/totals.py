"""Control totals: sums that must agree with what they are sums of."""

from __future__ import annotations

import re
from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.finding import Level

_IN_SERIES = re.compile(r"^([A-Z]{1,3})([0-9]{1,3})$|^([A-Z]{1,3}[0-9]{1,3})([a-z])$")
_COUNTED = ("devices", "lights", "drivers")
_ENDINGS = (("y", "ies"), ("ch", "ches"), ("sh", "shes"), ("x", "xes"), ("", "s"))


@rule(
    "job.sizes-exceed-total",
    level=Level.ERROR,
    trades=("millwork",),
    why="Racks are drawn from these counts: magnums and halves are part of the total, not "
    "beside it.",
    bad="job: {asked_for: {bottles: 100, of_which: {magnum: 80, half: 40}}}",
    good="job: {asked_for: {bottles: 100, of_which: {magnum: 60, half: 40}}}",
)
def sizes_exceed_total(facts: Facts) -> Iterator[Said]:
    """The bottles asked for by size are more than all that are asked for."""
    asked = facts.job.find("job.asked_for")
    sizes = asked.find("of_which") if asked is not None else None
    if asked is None or sizes is None or not sizes.children:
        return
    counts = {size.key: sizes.count(size.key) for size in sizes.entries()}
    total = asked.count("bottles")
    if sum(counts.values()) > total:
        each = " and ".join(f"{count} {size}" for size, count in counts.items())
        yield said(
            sizes,
            f"{each} are {sum(counts.values())} bottles, but {total} are asked for in all",
            "raise the total, or ask for fewer of a size",
            asked.at("bottles"),
        )


@rule(
    "job.tally-lacks-kind",
    level=Level.ERROR,
    silence=True,
    trades=("electrical",),
    why="A kind that the tally does not count can be lost from the file without anybody noticing.",
    each=("room",),
    bad="""
rooms:
  tasting_room:
    tally: {receptacles: 1}
    walls_clockwise:
      TA: {devices: {RC1: {is: receptacle}, P1: {is: plate}}}
""",
    good="""
rooms:
  tasting_room:
    tally: {receptacles: 1, plates: 1}
    walls_clockwise:
      TA: {devices: {RC1: {is: receptacle}, P1: {is: plate}}}
""",
)
def tally_lacks_kind(facts: Facts, room: Node) -> Iterator[Said]:
    """Devices or lights of a kind stand in a room whose tally does not count that kind."""
    tally = room.find("tally")
    if tally is None or not tally.children:
        return
    there: dict[str, list[Node]] = {}
    for thing in facts.job.everything:
        if thing.room == room.key and thing.heading in _COUNTED and thing.kind != "blank":
            there.setdefault(thing.kind, []).append(thing)
    for kind, things in there.items():
        if not any(f"{kind.removesuffix(e)}{s}" in tally.children for e, s in _ENDINGS):
            plural = next(f"{kind.removesuffix(e)}{s}" for e, s in _ENDINGS if kind.endswith(e))
            count = sum(facts.places.how_many(thing) for thing in things)
            yield said(
                f"{tally.address}.{plural}",
                f"the tally of {room.key} does not count {plural}: there are {count} "
                f"({', '.join(t.key for t in things)})",
                f"write `{plural}: {count}`, or what it should be",
                *things,
            )


@rule(
    "job.last-mark-differs",
    level=Level.ERROR,
    trades=(),
    why="Marks are given out in turn and never again: the last one of each series is the control "
    "total of all that the job has, and the one that a lost line at the end would take away.",
    bad="""
job: {marks: [PM3]}
permits:
  PM1: {is: building_permit}
  PM2: {is: electrical_permit}
""",
    good="""
job: {marks: [PM2]}
permits:
  PM1: {is: building_permit}
  PM2: {is: electrical_permit}
""",
)
def last_mark_differs(facts: Facts) -> Iterator[Said]:
    """The last mark of a series is another than `job.marks` says, or it does not say."""
    at = facts.job.find("job.marks")
    if at is None or at.value is None:
        return
    written = {m[1] or m[3]: m[0] for mark in _words(at) if (m := _IN_SERIES.match(mark))}
    series = _series(facts)
    for letters in dict.fromkeys((*written, *series)):
        known = series.get(letters, ())
        last = known[-1] if known else ""
        wanted = written.get(letters, "")
        if wanted == last:
            continue
        ends = f"the last in the file is {last}" if last else f"the file has no {letters} at all"
        if not wanted:
            message = f"`job.marks` does not say where the marks {letters} end: {ends}"
            cure = f"add {last} to it"
        else:
            message = f"the marks {letters} go to {wanted}, but {ends}"
            cure = (
                f"write {last} in `job.marks`, where the series goes on"
                if facts.job.find(wanted) is not None
                else f"put {wanted} back (`{wanted}: {{not_applicable: why}}` where it went away), "
                "or correct `job.marks`"
            )
        yield said(at, message, cure, *([last] if last else []))


def _words(node: Node) -> tuple[str, ...]:
    return tuple(str(v) for v in node.value) if isinstance(node.value, tuple) else (node.written,)


def _series(facts: Facts) -> dict[str, tuple[str, ...]]:
    """The marks of each series in their order: numbers by size, letters by the alphabet."""
    found: dict[str, list[tuple[int, str, str]]] = {}
    for name in facts.job.names():
        match = _IN_SERIES.match(name)
        node = facts.job.thing(name)
        if match is None or node is None or node.parent is None or not _of_job(node):
            continue
        letters = match[1] or match[3]
        found.setdefault(letters, []).append((int(match[2] or 0), match[4] or "", name))
    return {letters: tuple(name for *_, name in sorted(marks)) for letters, marks in found.items()}


def _of_job(node: Node) -> bool:
    top = node
    while top.parent is not None:
        top = top.parent
    return top.find("scantling") is not None
